// `npm run bench`: processor time of each stage of `evenstand analyse`, on the sample field and on larger
// invented logs. `npm run bench -- 100000 500000` names the sizes (records). Prints; asserts nothing.
import { spawnSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { buildWhereStale, installPackages, requireNode, root } from "../../.ci/set-up.mjs";

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

/** A field of 24 row units logged every two seconds, its figures waves of fixed form: the same each time. */
function writeLargeField(records) {
  const folder = join(root, "out", "bench", String(records));
  mkdirSync(folder, { recursive: true });
  const [rowUnits, spacingM, stepM] = [24, 0.762, 4.8];
  const moments = Math.ceil(records / rowUnits);
  const perPass = Math.ceil(Math.sqrt((moments * rowUnits * spacingM) / stepM));
  const metresPerDegree = 111_075;
  const eastPerDegree = metresPerDegree * Math.cos((42 * Math.PI) / 180);
  const lines = ["TIME,LON,LAT,ROW_UNIT,SPEED_MPH,DEPTH_IN,MARGIN_LBF,POP_AC,SINGUL_PCT,MISS_PCT"];
  for (let moment = 0; moment < moments; moment++) {
    const pass = Math.floor(moment / perPass);
    const along = (moment % perPass) * stepM;
    const forth = pass % 2 === 0;
    const north = forth ? along : (perPass - 1) * stepM - along;
    const time = new Date(Date.UTC(2026, 3, 24, 14) + (moment * 2 + pass * 30) * 1000).toISOString();
    for (let unit = 1; unit <= rowUnits; unit++) {
      const across = (unit - (rowUnits + 1) / 2) * spacingM * (forth ? 1 : -1);
      const east = (pass + 0.5) * rowUnits * spacingM + across;
      const wave = Math.sin(moment * 0.37 + unit) + Math.sin(along / 23 + pass * 1.7);
      const miss = 1.5 + 0.3 * Math.sin(moment * 1.3 + unit * 2.1);
      lines.push(
        [
          time,
          (-93.6 + east / eastPerDegree).toFixed(7),
          (42 + north / metresPerDegree).toFixed(7),
          unit,
          (5.3 + 0.05 * wave).toFixed(2),
          (1.95 + 0.1 * wave).toFixed(2),
          (115 + 12 * wave).toFixed(1),
          (33500 + 200 * wave).toFixed(0),
          (99.2 - miss).toFixed(2),
          miss.toFixed(2),
        ].join(","),
      );
    }
  }
  writeFileSync(join(folder, "planting.csv"), `${lines.join("\n")}\n`);
  const manifest = {
    name: `Invented, ${records} records`,
    plantingLog: { file: "planting.csv" },
    planter: { rowUnits, rowSpacing: "30 in" },
    targets: { seedingDepth: "2.0 in", population: "34000 seeds/ac", downForceMargin: ["60 lbf", "160 lbf"] },
  };
  writeFileSync(join(folder, "field.json"), JSON.stringify(manifest));
  return folder;
}
