// `npm run bench`: processor time of each stage of `evenstand analyse`, on the sample field and on larger
// invented logs, then reading (ingest.mjs) and comparing (comparison.mjs) against other programs.
// `npm run bench -- 100000 500000` names the sizes (records). Prints; asserts nothing.
import { spawnSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { buildWhereStale, installPackages, requireNode, root } from "../../.ci/set-up.mjs";
import { MANIFEST, writeCsv } from "./invented-log.mjs";

const RUNS = 3;
const sizes = process.argv
  .slice(2)
  .map(Number)
  .filter((size) => Number.isInteger(size) && size > 0);

requireNode();
if (!installPackages() || !buildWhereStale()) process.exit(1);

measure("sample field Larkspur Draw", join(root, "sample-data", "larkspur-draw"));
for (const size of sizes.length > 0 ? sizes : [100_000, 500_000]) {
  measure(`invented log of ${size.toLocaleString("en-US")} records`, writeLargeField(size));
}

// What other programs take for the same work on this machine; a line says so where one is not installed.
for (const script of ["ingest.mjs", "comparison.mjs"]) {
  process.stdout.write("\n");
  const size = sizes.length > 0 ? [String(Math.max(...sizes))] : [];
  spawnSync(process.execPath, [join(root, "tests", "bench", script), ...size], { stdio: "inherit" });
}

/** Runs the analysis a few times and prints the median of each stage. */
function measure(title, field) {
  const command = join(root, "dist/src/cli/main.js");
  const out = join(root, "out", "bench", "results");
  const seconds = new Map();
  for (let i = 0; i < RUNS; i++) {
    const started = performance.now();
    const run = spawnSync(process.execPath, [command, "analyse", field, "--out", out, "--timings"], {
      encoding: "utf8",
    });
    if (run.status !== 0) {
      process.stdout.write(`${title}: failed\n${run.stderr}\n`);
      process.exitCode = 1;
      return;
    }
    const rows = [...run.stderr.matchAll(/^ {2}(\S+) +(\d+\.\d+)$/gm)].map((row) => [row[1], Number(row[2])]);
    rows.push(["elapsed", (performance.now() - started) / 1000]);
    for (const [stage, value] of rows) seconds.set(stage, [...(seconds.get(stage) ?? []), value]);
  }
  process.stdout.write(
    `\n${title} (median of ${RUNS} runs, s; elapsed is wall time, the rest processor time)\n`,
  );
  for (const [stage, values] of seconds) {
    process.stdout.write(
      `  ${stage.padEnd(12)}${values
        .sort((a, b) => a - b)
        [RUNS >> 1].toFixed(2)
        .padStart(8)}\n`,
    );
  }
}

/** An invented field, its log as CSV. */
function writeLargeField(records) {
  const folder = join(root, "out", "bench", String(records));
  mkdirSync(folder, { recursive: true });
  writeCsv(join(folder, "planting.csv"), records);
  const manifest = {
    name: `Invented, ${records} records`,
    plantingLog: { file: "planting.csv" },
    ...MANIFEST,
  };
  writeFileSync(join(folder, "field.json"), JSON.stringify(manifest));
  return folder;
}
