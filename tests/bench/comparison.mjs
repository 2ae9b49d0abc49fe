// `node tests/bench/comparison.mjs`: processor time of reading, reprojecting, joining, grouping and cells of an invented log
// of 1,000,000 row-unit records on 144 soil polygons, against R with sf, data.table and spdep on the same files in the
// same run. Needs the built command. Prints; asserts nothing. `-- 200000` names another size.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { MANIFEST, writeShapefile, writeSoilMap } from "./invented-log.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const root = dirname(dirname(here));
const RUNS = 3;

function compare(records) {
  const folder = join(root, "out", "bench", `soil-${records}`);
  mkdirSync(folder, { recursive: true });
  const log = join(folder, "planting");
  const soil = join(folder, "soil.geojson");
  if (!existsSync(`${log}.prj`)) writeShapefile(log, records);
  if (!existsSync(soil)) writeSoilMap(soil, records);
  const manifest = {
    name: `Invented, ${records} records`,
    plantingLog: { file: "planting.shp" },
    soilZones: { file: "soil.geojson" },
    ...MANIFEST,
  };
  writeFileSync(join(folder, "field.json"), JSON.stringify(manifest));
  const ours = median(
    Array.from({ length: RUNS }, () =>
      answerOf(process.execPath, [fileURLToPath(import.meta.url), "--measure", folder]),
    ),
  );
  const oracle = hasR() ? answerOf("Rscript", [join(here, "comparison.R"), `${log}.shp`, soil]) : null;
  const out = (line) => process.stdout.write(`${line}\n`);
  out(`${records.toLocaleString("en-US")} row-unit records on 144 soil polygons, processor seconds`);
  out(`${"".padEnd(12)}${"ours".padStart(8)}${"R".padStart(8)}`);
  const stages = ["read", "reproject", "join", "group", "cells"];
  const figure = (value) => (value === undefined ? "-" : value.toFixed(2)).padStart(8);
  for (const stage of stages) out(`${stage.padEnd(12)}${figure(ours[stage])}${figure(oracle?.[stage])}`);
  const sum = (answer) => stages.reduce((total, stage) => total + (answer[stage] ?? 0), 0);
  out(`${"together".padEnd(12)}${figure(sum(ours))}${figure(oracle ? sum(oracle) : undefined)}`);
  out(
    "(ours reprojects while reading; its largest stage beside these, finding the passes, which R is given as a",
  );
  out(`column of the log, took ${ours.passes.toFixed(2)})`);
  if (!oracle)
    out(
      "R with sf, data.table and spdep: not installed (r-base-core, r-cran-sf, r-cran-data.table, r-cran-spdep)",
    );
  else {
    out(
      `R / ours: ${(sum(oracle) / sum(ours)).toFixed(1)}; with the passes found by ours ${(sum(oracle) / (sum(ours) + ours.passes)).toFixed(1)}`,
    );
  }
}

function hasR() {
  const test = "for (p in c('sf', 'data.table', 'spdep')) stopifnot(requireNamespace(p, quietly = TRUE))";
  return spawnSync("Rscript", ["-e", test]).status === 0;
}

function answerOf(program, words) {
  const child = spawnSync(program, words, { encoding: "utf8", maxBuffer: 1 << 24 });
  if (child.status !== 0) throw new Error(child.stderr);
  return JSON.parse(child.stdout.trim().split("\n").at(-1));
}

/** The run with the median sum. */
function median(answers) {
  const sum = (answer) => Object.values(answer).reduce((total, value) => total + value, 0);
  return answers.sort((a, b) => sum(a) - sum(b))[answers.length >> 1];
}

async function measure(folder) {
  const module = (path) => import(join(root, "dist/src", path));
  const { openCommandField } = await module("cli/field-of-command.js");
  const { loadField } = await module("field/load.js");
  const { findPasses } = await module("passes/find-passes.js");
  const { joinSoilZones } = await module("compare/soil-join.js");
  const { compareAll } = await module("compare/tables.js");
  const { makeCells } = await module("cluster/make-cells.js");
  const { cellNeighbours } = await module("cluster/neighbours.js");
  const { getisOrdGStar, localMoran } = await module("cluster/local-statistics.js");
  const io = { workingFolder: folder, environment: {}, out() {}, err() {} };
  const seconds = {};
  const stage = async (name, work) => {
    const before = process.cpuUsage();
    const result = await work();
    const { user, system } = process.cpuUsage(before);
    seconds[name] = (user + system) / 1e6;
    return result;
  };
  const field = await stage("read", async () => {
    const { manifest, files } = await openCommandField(folder, false, io);
    return loadField(manifest, files.open);
  });
  const passes = await stage("passes", () => findPasses(field));
  const several = new Uint8Array(field.log.recordCount);
  const zones = await stage("join", () => joinSoilZones(field, several));
  await stage("group", () => compareAll(field, passes, zones));
  await stage("cells", () => {
    const { cells } = makeCells(field, passes, zones);
    const neighbours = cellNeighbours(cells, 24 * 0.762);
    const depth = cells.mean.seedingDepth;
    return [getisOrdGStar(depth, neighbours), localMoran(depth, neighbours)];
  });
  process.stdout.write(JSON.stringify(seconds));
}

if (process.argv[2] === "--measure") await measure(process.argv[3]);
else compare(Number(process.argv.slice(2).find((word) => /^\d+$/.test(word)) ?? 1_000_000));
