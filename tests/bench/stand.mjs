// `node tests/bench/stand.mjs`: processor seconds of a surface of the stand through 150 to 40,000 counts in R, with mgcv and
// with gstat, beside the stage of `analyse` that joins the counts and looks for places and causes on a log of 100,000
// records. Not the same work: a surface names no place, no cause and no chance. Needs the built command. Prints a table
// in Markdown; asserts nothing. A program that is not there is said.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { writeCounts } from "./invented-counts.mjs";
import { MANIFEST, writeShapefile, writeSoilMap } from "./invented-log.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const root = dirname(dirname(here));
const folder = join(root, "out", "bench", "size-100000");
mkdirSync(folder, { recursive: true });
if (!existsSync(join(folder, "planting.prj"))) {
  writeShapefile(join(folder, "planting"), 100_000);
  writeSoilMap(join(folder, "soil.geojson"), 100_000);
}
process.stdout.write(
  "| counts | ours: places and causes | R: mgcv, a smooth | R: gstat, kriging |\n|---|---|---|---|\n",
);
for (const counts of [150, 2_500, 10_000, 40_000]) {
  const csv = join(folder, `counts-${counts}.csv`);
  writeCounts(csv, 100_000, counts);
  const inR = spawnSync("Rscript", [join(here, "stand.R"), csv], { encoding: "utf8" });
  const other = inR.status === 0 ? JSON.parse(inR.stdout.trim().split("\n").at(-1)) : null;
  const shown = (package_) => (other ? (other[package_] ?? "not installed") : "R failed or is not installed");
  process.stdout.write(
    `| ${counts.toLocaleString("en-US")} | ${ours(counts)} | ${shown("mgcv")} | ${shown("gstat")} |\n`,
  );
}

/** Processor seconds of the causes stage, as the command tells them. */
function ours(counts) {
  const manifest = join(folder, `field-${counts}.json`);
  const layers = {
    plantingLog: "planting.shp",
    soilZones: "soil.geojson",
    standCounts: `counts-${counts}.csv`,
  };
  const files = Object.fromEntries(Object.entries(layers).map(([layer, file]) => [layer, { file }]));
  writeFileSync(manifest, JSON.stringify({ name: `Invented, ${counts} counts`, ...files, ...MANIFEST }));
  const words = ["analyse", manifest, "--out", join(root, "out", "bench", "results"), "--timings"];
  const child = spawnSync(process.execPath, [join(root, "dist/src/cli/main.js"), ...words], {
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  return /^ {2}causes +(\S+)$/m.exec(child.stderr)?.[1] ?? "failed";
}
