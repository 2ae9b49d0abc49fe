// The work of `comparison.mjs` by an object a record: the libraries `shapefile` and proj4, turf's point in polygon behind
// an index of boxes, plain JavaScript for the groups. Usage: node comparison-turf.mjs log.shp soil.geojson results.csv
import { readFileSync, writeFileSync } from "node:fs";
import { booleanPointInPolygon } from "@turf/turf";
import Flatbush from "flatbush";
import proj4 from "proj4";
import { open } from "shapefile";
import { VARIABLES } from "./comparison-variables.mjs";
import { Stages } from "./stages.mjs";

const [log, soil, results] = process.argv.slice(2);
const stages = new Stages();
const features = await stages.run("read", async () => {
  const source = await open(readFileSync(log), readFileSync(log.replace(/shp$/, "dbf")));
  const read = [];
  for (let one = await source.read(); !one.done; one = await source.read()) read.push(one.value);
  return read;
});
const zones = JSON.parse(readFileSync(soil, "utf8")).features;
await stages.run("reproject", () => {
  const { forward } = proj4("EPSG:4326", "+proj=utm +zone=15 +datum=WGS84 +units=m +no_defs");
  for (const { geometry } of features) geometry.coordinates = forward(geometry.coordinates);
  for (const { geometry } of zones)
    geometry.coordinates = geometry.coordinates.map((ring) => ring.map(forward));
});
await stages.run("join", () => {
  const index = new Flatbush(zones.length);
  for (const { geometry } of zones) {
    const [x, y] = [0, 1].map((axis) => geometry.coordinates[0].map((point) => point[axis]));
    index.add(Math.min(...x), Math.min(...y), Math.max(...x), Math.max(...y));
  }
  index.finish();
  for (const feature of features) {
    const [x, y] = feature.geometry.coordinates;
    const found = index.search(x, y, x, y).sort((a, b) => a - b);
    const zone = found.find((candidate) => booleanPointInPolygon(feature, zones[candidate]));
    feature.properties.zone = zone === undefined ? null : zones[zone].properties.MUNAME;
  }
});
const lines = [];
await stages.run("group", () => {
  const groups = new Map();
  for (const { properties } of features) {
    if (properties.zone === null) continue;
    const key = `${properties.PASS},${properties.zone.replace(",", ";")}`;
    if (!groups.has(key)) groups.set(key, []);
    groups.get(key).push(properties);
  }
  for (const [key, group] of groups) {
    for (const name of VARIABLES) {
      const sorted = Float64Array.from(group, (properties) => properties[name]).sort();
      const mean = sorted.reduce((sum, value) => sum + value, 0) / sorted.length;
      const squares = sorted.reduce((sum, value) => sum + (value - mean) ** 2, 0);
      const quantile = (probability) => {
        const rank = (sorted.length - 1) * probability;
        const below = Math.floor(rank);
        return sorted[below] + (rank - below) * ((sorted[below + 1] ?? sorted[below]) - sorted[below]);
      };
      lines.push(
        [
          key,
          name,
          sorted.length,
          mean,
          Math.sqrt(squares / (sorted.length - 1)),
          ...[0.1, 0.5, 0.9].map(quantile),
        ].join(","),
      );
    }
  }
});
await stages.run("cells", () => {
  const start = new Map();
  for (const { properties, geometry } of features)
    start.set(properties.PASS, Math.min(start.get(properties.PASS) ?? Infinity, geometry.coordinates[1]));
  const cells = new Map();
  for (const { properties, geometry } of features) {
    const key = `${properties.PASS} ${Math.floor((geometry.coordinates[1] - start.get(properties.PASS)) / 12)}`;
    const cell = cells.get(key) ?? { count: 0, sums: VARIABLES.map(() => 0) };
    cell.count++;
    VARIABLES.forEach((name, k) => {
      cell.sums[k] += properties[name];
    });
    cells.set(key, cell);
  }
  return [...cells.values()].map(({ count, sums }) => sums.map((sum) => sum / count));
});
writeFileSync(results, `${lines.join("\n")}\n`);
stages.print();
