// `node tests/bench/page.mjs [records]`: the page against the command line on a large invented log. Prints; asserts nothing.
import { spawn } from "node:child_process";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { buildWhereStale, installChromium, root } from "../../.ci/set-up.mjs";
import { commandSeconds, largeField, pageFigures } from "./page-measure.mjs";

const records = Number(process.argv[2] ?? 1_000_000);
const executablePath = installChromium();
if (!executablePath || !buildWhereStale()) process.exit(1);
const command = join(root, "dist/src/cli/main.js");
const field = largeField(join(root, "out", "bench", `page-${records}`), records);
const lineSeconds = commandSeconds(command, field, join(root, "out", "bench", "results"));
const server = spawn(process.execPath, [command, "open"], { stdio: ["ignore", "pipe", "ignore"] });
const address = await new Promise((resolve) => {
  server.stdout.on("data", (text) => resolve(String(text).trim()));
});
const browser = await chromium.launch({
  executablePath,
  args: ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"],
});
try {
  const { mapSeconds, wholeSeconds, memoryMiB, panningMs } = await pageFigures(browser, address, field);
  const of = (seconds) =>
    `${seconds.toFixed(1)} s, ${(seconds / lineSeconds).toFixed(2)} times the command line`;
  process.stdout.write(
    `${records.toLocaleString("en-US")} records\n` +
      `  command line, analyse       ${lineSeconds.toFixed(1)} s\n` +
      `  page, files to field drawn  ${of(mapSeconds)} (at most 2.5)\n` +
      `  page, files to the ledger   ${of(wholeSeconds)}\n` +
      `  page, largest memory        ${memoryMiB?.toFixed(0) ?? "not known"} MiB (at most 1536)\n` +
      `  longest script in panning   ${panningMs.toFixed(0)} ms (at most 50)\n`,
  );
} finally {
  await browser.close();
  server.kill();
}
