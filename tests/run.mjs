// `npm test`: sets up what is missing, then lint, unused code, types, build and every test; ends with one line of counts.
// `npm run test:full` (argument --full) runs the longer tests instead,
// `npm run studies` (argument --studies) those with every simulated study whole.
import { spawn } from "node:child_process";
import { join } from "node:path";
import {
  buildWhereStale,
  installChromium,
  installOracles,
  installPackages,
  requireNode,
  root,
  runStep,
} from "../.ci/set-up.mjs";

const studies = process.argv.includes("--studies");
const full = studies || process.argv.includes("--full");
const counts = { passed: 0, failed: 0, skipped: 0 };

requireNode();
if (!installPackages()) {
  process.stderr.write("npm ci failed: see its message above.\n");
  finish(1);
}
const chromium = installChromium();
if (!chromium) finish(1);
if (full) installOracles();

if (!full) {
  step("lint", () => runStep("npm", ["run", "--silent", "lint"]) === 0);
  step("unused code", () => runStep("npm", ["run", "--silent", "unused"]) === 0);
  step("types", () => runStep("npm", ["run", "--silent", "types"]) === 0);
}
step("build", buildWhereStale);
await runVitest();
finish(0);

/** One check that passes or fails as a whole. */
function step(name, check) {
  process.stdout.write(`\n== ${name}\n`);
  if (check()) {
    process.stdout.write(`${name}: passed\n`);
    counts.passed++;
  } else {
    process.stdout.write(`${name}: FAILED\n`);
    counts.failed++;
  }
}

/** Runs vitest, shows its output and adds the counts of its closing line. */
async function runVitest() {
  process.stdout.write(`\n== tests${full ? ", the longer ones" : ""}\n`);
  const env = { ...process.env, TZ: "UTC", EVENSTAND_CHROMIUM: chromium };
  if (full) env.EVENSTAND_FULL = "1";
  if (studies) env.EVENSTAND_STUDIES = "1";
  const program = join(root, "node_modules", "vitest", "vitest.mjs");
  const child = spawn(process.execPath, [program, "run"], {
    cwd: root,
    env,
    stdio: ["ignore", "pipe", "inherit"],
  });
  let tail = "";
  child.stdout.setEncoding("utf8");
  child.stdout.on("data", (text) => {
    process.stdout.write(text);
    tail = (tail + text).slice(-2000);
  });
  const code = await new Promise((resolve) => child.on("close", resolve));
  const found = [...tail.matchAll(/^(\d+) passed, (\d+) failed(?:, (\d+) skipped)?$/gm)].at(-1);
  if (found) {
    counts.passed += Number(found[1]);
    counts.failed += Number(found[2]);
    counts.skipped += Number(found[3] ?? 0);
  }
  // No closing line, or a bad end that no test accounts for, is a failure of its own.
  if (!found || (code !== 0 && Number(found[2]) === 0)) counts.failed++;
}

function finish(extraFailures) {
  counts.failed += extraFailures;
  const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : "";
  process.stdout.write(`\n${counts.passed} passed, ${counts.failed} failed${skipped}\n`);
  process.exit(counts.failed > 0 ? 1 : 0);
}
