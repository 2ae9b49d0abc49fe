// `node tests/bench/size.mjs`: processor time, wall time and peak memory of the command by size: start-up, stand counts
// from 150 to 40,000, records from 100,000 to 1,000,000 on 144 soil polygons. Needs the built command. Prints a table in
// Markdown; asserts nothing. `-- 100000 10000000` names other sizes (records).
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { writeCounts } from "./invented-counts.mjs";
import { MANIFEST, writeShapefile, writeSoilMap } from "./invented-log.mjs";

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const command = join(root, "dist/src/cli/main.js");
const bench = join(root, "out", "bench");
/** Written by the process itself as it ends: its processor seconds and its largest memory. */
const PEAK = `process.on("exit", () => { const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage(); process.stderr.write("used " + (userCPUTime + systemCPUTime) / 1e6 + " " + maxRSS / 1024 + "\\n"); });`;
const COUNTS = [150, 600, 2_500, 10_000, 40_000];
const COUNTED_RECORDS = 100_000;
/** Runs of a row, of which the middle one by processor time is shown; one of a large log, or of all with --once. */
const RUNS = process.argv.includes("--once") ? 1 : 3;

const asked = process.argv
  .slice(2)
  .map(Number)
  .filter((size) => Number.isInteger(size) && size > 0);
const sizes = asked.length > 0 ? asked : [100_000, 1_000_000];

print("| work | CPU s | of it causes | wall s | peak MiB |");
print("|---|---|---|---|---|");
row("an empty Node.js process", ["-e", "0"]);
row("`evenstand --help`", [command, "--help"]);
row("`inspect` of a small CSV file", [command, "inspect", smallCsv()]);
analyse("sample field, 120 counts", join(root, "sample-data", "larkspur-draw"), RUNS);
for (const counts of [0, ...COUNTS]) {
  const title = `${number(COUNTED_RECORDS)} records, ${counts === 0 ? "no counts" : `${number(counts)} counts`}`;
  analyse(title, field(COUNTED_RECORDS, counts), RUNS);
}
for (const records of sizes.filter((size) => size !== COUNTED_RECORDS))
  for (const counts of [0, 150, 2_500])
    analyse(
      `${number(records)} records, ${counts === 0 ? "no counts" : `${number(counts)} counts`}`,
      field(records, counts),
      1,
    );

function analyse(title, path, runs) {
  row(
    `\`analyse\`: ${title}`,
    [command, "analyse", path, "--out", join(bench, "results"), "--timings"],
    runs,
  );
}

/** Measures one command line and prints its row. */
function row(title, words, runs = RUNS) {
  const measured = [];
  for (let k = 0; k < runs; k++) {
    const started = performance.now();
    const child = spawnSync(
      process.execPath,
      ["--import", `data:text/javascript,${encodeURIComponent(PEAK)}`, ...words],
      {
        encoding: "utf8",
        maxBuffer: 1 << 28,
      },
    );
    const used = /^used (\S+) (\S+)$/m.exec(child.stderr);
    if (child.status !== 0 || !used) {
      print(`| ${title} | failed: ${child.stderr.trim().split("\n")[0]} | | | |`);
      process.exitCode = 1;
      return;
    }
    measured.push({
      cpu: Number(used[1]),
      peak: Number(used[2]),
      causes: /^ {2}causes +(\S+)$/m.exec(child.stderr)?.[1] ?? "",
      wall: (performance.now() - started) / 1000,
    });
  }
  const { cpu, peak, causes, wall } = measured.sort((a, b) => a.cpu - b.cpu)[runs >> 1];
  print(`| ${title} | ${cpu.toFixed(2)} | ${causes} | ${wall.toFixed(1)} | ${peak.toFixed(0)} |`);
}

/** An invented field on disk, made once. */
function field(records, counts) {
  const folder = join(bench, `size-${records}`);
  mkdirSync(folder, { recursive: true });
  if (!existsSync(join(folder, "planting.prj"))) {
    writeShapefile(join(folder, "planting"), records);
    writeSoilMap(join(folder, "soil.geojson"), records);
  }
  if (counts > 0) writeCounts(join(folder, `counts-${counts}.csv`), records, counts);
  const manifest = join(folder, `field-${counts}.json`);
  writeFileSync(
    manifest,
    JSON.stringify({
      name: `Invented, ${records} records, ${counts} counts`,
      plantingLog: { file: "planting.shp" },
      soilZones: { file: "soil.geojson" },
      ...(counts > 0 ? { standCounts: { file: `counts-${counts}.csv` } } : {}),
      ...MANIFEST,
    }),
  );
  return manifest;
}

function smallCsv() {
  const path = join(bench, "small.csv");
  mkdirSync(bench, { recursive: true });
  writeCounts(path, COUNTED_RECORDS, 20);
  return path;
}

function number(value) {
  return value.toLocaleString("en-US");
}

function print(line) {
  process.stdout.write(`${line}\n`);
}
