// `node tests/bench/comparison.mjs`: the same invented log of 1,000,000 row-unit records on 144 soil polygons read,
// reprojected, joined, put into tables and cells by Evenstand and by what people would use instead, in turn: R with sf,
// data.table and spdep, DuckDB, GDAL with SQLite, the shapefile library with turf. Their figures are compared. Needs the
// built command. Prints a table in Markdown; asserts nothing. `-- 200000` names another size. A program that is not there
// is said. DuckDB is installed into a folder of its own under out/ where the package registry has it.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { MANIFEST, writeCsv, writeShapefile, writeSoilMap } from "./invented-log.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const root = dirname(dirname(here));
const bench = join(root, "out", "bench");
const DUCKDB = "@duckdb/node-api";
const DUCKDB_VERSION = "1.5.6-r.1";
/** An object a record, or R's copies of all columns, do not fit into memory for much more. */
const MOST_FOR_OBJECTS = 2_000_000;
const STAGES = ["read", "reproject", "passes", "join", "group", "cells"];

const records = Number(process.argv.slice(2).find((word) => /^\d+$/.test(word)) ?? 1_000_000);
const folder = join(bench, `size-${records}`);
const log = join(folder, "planting");
const soil = join(folder, "soil.geojson");
const csv = join(folder, "planting.csv");
prepare();

const results = (name) => join(folder, `groups-${name}.csv`);
const script = (name) => join(here, `comparison-${name}.mjs`);
const node = (name, words) => [process.execPath, ["--max-old-space-size=6000", script(name), ...words]];
const duckdb = duckdbFolder();
const works = [
  [
    "every byte read once (the floor)",
    "touch",
    [process.execPath, [join(here, "ingest.mjs"), "--measure", "touch", `${log}.shp`]],
  ],
  ["Evenstand", "ours", node("ours", [folder, results("ours")])],
  [
    "R: sf, data.table, spdep",
    "r",
    missingR() ?? ["Rscript", [join(here, "comparison.R"), `${log}.shp`, soil, results("r")]],
  ],
  [
    "DuckDB on one thread (CSV, degrees)",
    "duckdb",
    duckdb ? node("duckdb", [csv, soil, results("duckdb"), duckdb, DUCKDB]) : `${DUCKDB} is not to be had`,
  ],
  [
    "GDAL, SQLite with SpatiaLite",
    "gdal",
    isThere("ogr2ogr") ? node("gdal", [`${log}.shp`, soil, results("gdal")]) : "not installed (gdal-bin)",
  ],
  ["shapefile and turf", "turf", tooLarge() ?? node("turf", [`${log}.shp`, soil, results("turf")])],
];
print(
  `${records.toLocaleString("en-US")} row-unit records on 144 soil polygons, processor seconds by stage\n`,
);
print(`| program | ${STAGES.join(" | ")} | CPU s | wall s | peak MiB | CPU / ours |`);
print(`|---|${"---|".repeat(STAGES.length + 4)}`);
const measured = new Map();
for (const [title, name, command] of works) {
  const answer = typeof command === "string" ? command : measure(...command);
  if (typeof answer === "string") {
    print(`| ${title} | ${answer} |${" |".repeat(STAGES.length + 3)}`);
    continue;
  }
  measured.set(name, answer);
  const ours = measured.get("ours");
  const cells = STAGES.map((stage) => figure(answer.seconds[stage], 2));
  const ratio = ours ? (answer.cpu / ours.cpu).toFixed(name === "touch" ? 3 : 1) : "";
  print(
    `| ${title} | ${cells.join(" | ")} | ${figure(answer.cpu, 2)} | ${answer.wall.toFixed(1)} | ${figure(answer.peak, 0)} | ${ratio} |`,
  );
}
const [floor, ours] = [measured.get("touch"), measured.get("ours")];
if (floor && ours)
  print(`\nEvenstand / floor: ${(ours.cpu / floor.cpu).toFixed(1)} (both with the start of Node.js)`);
for (const name of ["r", "duckdb", "gdal", "turf"]) if (measured.has(name)) print(agreement(name));

/** Runs a command line: its processor time, wall time and largest memory by GNU time where it is installed. */
function measure(program, words) {
  const own = join(folder, "used.txt");
  const isTimed = isThere("time");
  const started = performance.now();
  const child = isTimed
    ? spawnSync("/usr/bin/time", ["-f", "%U %S %M", "-o", own, program, ...words], {
        encoding: "utf8",
        maxBuffer: 1 << 28,
      })
    : spawnSync(program, words, { encoding: "utf8", maxBuffer: 1 << 28 });
  const wall = (performance.now() - started) / 1000;
  if (child.status !== 0) return `failed: ${child.stderr.trim().split("\n").at(-1)?.slice(0, 120)}`;
  const seconds = JSON.parse(child.stdout.trim().split("\n").at(-1));
  const [user, system, kilobytes] = isTimed
    ? readFileSync(own, "utf8").trim().split("\n").at(-1).split(" ").map(Number)
    : [Object.values(seconds).reduce((sum, value) => sum + value, 0), 0, Number.NaN];
  return { seconds, wall, cpu: user + system, peak: kilobytes / 1024 };
}

/** How far another program's figures of pass by soil zone agree with ours. */
function agreement(name) {
  const mine = figuresOf("ours");
  const others = figuresOf(name);
  let same = 0;
  let elsewhere = 0;
  let largest = 0;
  for (const [key, figures] of mine) {
    const other = others.get(key) ?? [0];
    elsewhere += Math.abs(figures[0] - other[0]);
    if (other[0] !== figures[0]) continue;
    same++;
    // A group of one record has no spread.
    for (let k = 1; k < figures.length; k++)
      if (figures[0] > 1) largest = Math.max(largest, Math.abs(figures[k] - other[k]) / Math.abs(figures[1]));
  }
  for (const [key, [count]] of others) if (!mine.has(key)) elsewhere += count;
  const variables = new Set([...mine.keys()].map((key) => key.split(",").at(-1))).size;
  return `- ${name}: ${same / variables} of ${mine.size / variables} groups of pass by soil zone hold the same number of records, and there mean, SD, 10th, 50th and 90th percentile of ${variables} columns differ by at most ${largest.toExponential(0)} of the mean; ${elsewhere / variables / 2} records stand in another group`;
}

function figuresOf(name) {
  const lines = readFileSync(results(name), "utf8").trim().split("\n");
  return new Map(
    lines
      .map((line) => line.replaceAll('"', "").trim().split(","))
      // A first line of names.
      .filter((parts) => Number.isFinite(Number(parts[0])))
      .map(([pass, zone, variable, ...figures]) => [`${pass},${zone},${variable}`, figures.map(Number)]),
  );
}

function prepare() {
  mkdirSync(folder, { recursive: true });
  if (!existsSync(`${log}.prj`)) writeShapefile(log, records);
  if (!existsSync(soil)) writeSoilMap(soil, records);
  if (!existsSync(csv)) writeCsv(csv, records);
  const manifest = {
    name: `Invented, ${records} records`,
    plantingLog: { file: "planting.shp" },
    soilZones: { file: "soil.geojson" },
    ...MANIFEST,
  };
  writeFileSync(join(folder, "field.json"), JSON.stringify(manifest));
}

function isThere(program) {
  return spawnSync("sh", ["-c", `command -v ${program === "time" ? "/usr/bin/time" : program}`]).status === 0;
}

function missingR() {
  if (records > MOST_FOR_OBJECTS) return "left out: takes more memory than is worth trying";
  const test = "for (p in c('sf', 'data.table', 'spdep')) stopifnot(requireNamespace(p, quietly = TRUE))";
  return spawnSync("Rscript", ["-e", test]).status === 0
    ? null
    : "not installed (r-base-core, r-cran-sf, r-cran-data.table, r-cran-spdep)";
}

function tooLarge() {
  return records > MOST_FOR_OBJECTS ? "left out: takes more memory than is worth trying" : null;
}

/** Folder with the package, installed there where it is missing; null where that fails. */
function duckdbFolder() {
  const own = join(bench, "duckdb");
  if (existsSync(join(own, "node_modules", DUCKDB))) return own;
  mkdirSync(own, { recursive: true });
  writeFileSync(join(own, "package.json"), "{}");
  const words = [
    "install",
    "--prefix",
    own,
    "--no-save",
    "--no-audit",
    "--no-fund",
    `${DUCKDB}@${DUCKDB_VERSION}`,
  ];
  return spawnSync("npm", words, { shell: process.platform === "win32" }).status === 0 ? own : null;
}

function figure(value, decimals) {
  return value === undefined || Number.isNaN(value) ? "" : value.toFixed(decimals);
}

function print(line) {
  process.stdout.write(`${line}\n`);
}
