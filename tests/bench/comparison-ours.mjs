// What `comparison.mjs` measures of Evenstand: reading, reprojecting, joining, the tables and the cells of the field in a folder.
// Needs the built command. Writes the rows of pass by soil zone to the file named second; prints processor seconds by stage.
import { writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { Stages } from "./stages.mjs";

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const [folder, results] = process.argv.slice(2);
const module = (path) => import(join(root, "dist/src", path));
const { openCommandField } = await module("cli/files/field-of-command.js");
const { loadField } = await module("field/load.js");
const { findPasses } = await module("passes/find-passes.js");
const { joinSoilZones } = await module("compare/soil-join.js");
const { compareAll } = await module("compare/tables/tables.js");
const { makeCells } = await module("cells/make-cells.js");
const { cellNeighbours } = await module("cells/neighbours.js");
const { getisOrdGStar, localMoran } = await module("places/local-statistics.js");

const stages = new Stages();
const io = { workingFolder: folder, environment: {}, out() {}, err() {} };
const field = await stages.run("read", async () => {
  const { manifest, files } = await openCommandField(folder, false, io);
  return loadField(manifest, files.open);
});
const passes = await stages.run("passes", () => findPasses(field, { tellHeadlands: false }));
const zones = await stages.run("join", () => joinSoilZones(field, new Uint8Array(field.log.recordCount)));
const rows = await stages.run("group", () => compareAll(field, passes, zones));
await stages.run("cells", () => {
  const { cells } = makeCells(field, passes, zones);
  const neighbours = cellNeighbours(cells, 24 * 0.762);
  const depth = cells.mean.seedingDepth;
  return [getisOrdGStar(depth, neighbours), localMoran(depth, neighbours)];
});
stages.print();

/** Column of the log, and what one of its units is in ours. */
const COLUMNS = {
  speed: ["SPEED_MPH", 0.44704],
  seedingDepth: ["DEPTH_IN", 25.4],
  downForceMargin: ["MARGIN_LB", 4.4482216152605],
  downForce: ["DOWNF_LB", 4.4482216152605],
  population: ["POP_AC", 2.471053814671653],
  singulation: ["SINGUL", 0.01],
  misses: ["MISS_PCT", 0.01],
};
const lines = rows.flatMap(({ pass, soilZone, rowUnit, variable, records, mean, sd, p10, p50, p90 }) => {
  if (pass === null || soilZone === null || rowUnit !== null || !COLUMNS[variable]) return [];
  const [name, unit] = COLUMNS[variable];
  return [
    [
      pass,
      soilZone.replace(",", ";"),
      name,
      records,
      ...[mean, sd, p10, p50, p90].map((value) => value / unit),
    ].join(","),
  ];
});
writeFileSync(results, `${lines.join("\n")}\n`);
