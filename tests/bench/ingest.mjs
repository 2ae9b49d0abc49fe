// `node tests/bench/ingest.mjs`: processor time and memory of reading an invented log of 1,000,000 records and 12
// columns as a shapefile and as GeoJSON, against touching every byte once and against the `shapefile` library with
// an object a record. Needs the built command (`npm run build:command`). Prints; asserts nothing.
// `-- 200000` names another size.
import { spawnSync } from "node:child_process";
import { closeSync, existsSync, mkdirSync, openSync, readFileSync, statSync, writeSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
/** Runs each way of reading in a process of its own and prints what it took. */
function compare(records) {
  const folder = join(root, "out", "bench", "ingest");
  mkdirSync(folder, { recursive: true });
  const shp = join(folder, `${records}.shp`);
  const geojson = join(folder, `${records}.geojson`);
  if (!existsSync(shp)) writeShapefile(folder, records);
  if (!existsSync(geojson)) writeGeoJson(geojson, records);
  const megabytes = (statSync(shp).size + statSync(shp.replace(/shp$/, "dbf")).size) / 2 ** 20;
  process.stdout.write(
    `${records.toLocaleString("en-US")} records, 12 columns; shapefile ${megabytes.toFixed(0)} MiB, GeoJSON ${(statSync(geojson).size / 2 ** 20).toFixed(0)} MiB\n`,
  );
  const bare = run("nothing", shp);
  const runs = [
    ["shapefile: touch every byte", run("touch", shp)],
    ["shapefile: our reader", run("ours", shp)],
    ["GeoJSON: touch every byte", run("touch", geojson)],
    ["GeoJSON: our reader", run("ours", geojson)],
  ];
  // An object a record does not fit into memory for much more.
  if (records <= MOST_FOR_LIBRARY) runs.push(["shapefile: library and objects", run("library", shp)]);
  process.stdout.write(`${"".padEnd(34)}${"CPU s".padStart(8)}${"peak MiB".padStart(10)}\n`);
  process.stdout.write(
    `${"an empty process".padEnd(34)}${bare.cpu.toFixed(2).padStart(8)}${bare.peak.toFixed(0).padStart(10)}\n`,
  );
  for (const [title, { cpu, peak }] of runs)
    process.stdout.write(`${title.padEnd(34)}${cpu.toFixed(2).padStart(8)}${peak.toFixed(0).padStart(10)}\n`);
  const [touch, ours, touchJson, oursJson, library] = runs.map(([, figures]) => figures.cpu);
  const ratios = [
    `our reader / touching every byte: shapefile ${(ours / touch).toFixed(1)}, GeoJSON ${(oursJson / touchJson).toFixed(1)}`,
    ...(library === undefined ? [] : [`library / our reader: ${(library / ours).toFixed(1)}`]),
  ];
  process.stdout.write(`${ratios.join("; ")}\n`);
}

/** Processor seconds within the reading (median of three processes) and the largest peak of memory. */
function run(way, file) {
  const figures = Array.from({ length: way === "library" ? 1 : 3 }, () => {
    const child = spawnSync(
      process.execPath,
      ["--max-old-space-size=6000", fileURLToPath(import.meta.url), "--measure", way, file],
      { encoding: "utf8" },
    );
    if (child.status !== 0) throw new Error(child.stderr);
    return JSON.parse(child.stdout);
  });
  const seconds = figures.map(({ cpu }) => cpu).sort((a, b) => a - b);
  return { cpu: seconds[seconds.length >> 1], peak: Math.max(...figures.map(({ peak }) => peak)) };
}

async function measure(way, file) {
  const parts = file.endsWith(".shp") ? [file, file.replace(/shp$/, "dbf")] : [file];
  const reading = await prepare(way, parts);
  const before = process.cpuUsage();
  const result = await reading();
  const { user, system } = process.cpuUsage(before);
  const peak = process.resourceUsage().maxRSS / 1024;
  process.stdout.write(JSON.stringify({ cpu: (user + system) / 1e6, peak, result }));
}

/** Loads what the way needs, so that loading it is not measured. */
async function prepare(way, parts) {
  if (way === "ours") {
    const { readLayer } = await import(join(root, "dist/src/ingest/index.js"));
    const { fileInPieces } = await import(join(root, "dist/src/cli/file-pieces.js"));
    const files = parts.map((path) => fileInPieces(path, path));
    return async () => {
      const layer = await readLayer(files, { role: "plantingLog", expect: "point", crs: "EPSG:4326" });
      return [layer.recordCount, layer.columns.length];
    };
  }
  if (way === "library") {
    const { open } = await import("shapefile");
    return async () => {
      const source = await open(readFileSync(parts[0]), readFileSync(parts[1]));
      const features = [];
      for (let one = await source.read(); !one.done; one = await source.read()) features.push(one.value);
      return features.length;
    };
  }
  if (way === "touch") {
    const { fileInPieces } = await import(join(root, "dist/src/cli/file-pieces.js"));
    return async () => {
      let sum = 0;
      for (const path of parts) {
        const file = fileInPieces(path, path);
        for (let at = 0; at < file.size; at += 4 << 20) {
          const bytes = file.read(at, Math.min(4 << 20, file.size - at));
          for (let index = 0; index < bytes.length; index++) sum = (sum + bytes[index]) | 0;
        }
      }
      return sum;
    };
  }
  return async () => 0;
}

const MOST_FOR_LIBRARY = 2_000_000;

const COLUMNS = [
  ["SPEED_MPH", 6, 2],
  ["DEPTH_IN", 6, 3],
  ["TGT_DEPTH", 5, 2],
  ["MARGIN_LB", 7, 1],
  ["DOWNF_LB", 7, 1],
  ["POP_AC", 7, 0],
  ["TGT_POP", 7, 0],
  ["SINGUL", 6, 2],
  ["MISS_PCT", 6, 2],
  ["ROW_UNIT", 3, 0],
  ["HEADING", 7, 2],
];

/** Eleven numbers and a time of waves with fixed form: the same each time. */
function rowOf(record) {
  const unit = (record % 24) + 1;
  const moment = Math.floor(record / 24);
  const wave = Math.sin(moment * 0.37 + unit);
  const miss = 1.5 + 0.3 * wave;
  const numbers = [5.3 + wave / 20, 1.95 + wave / 10, 2, 115 + 12 * wave, 210 - 9 * wave, 33500 + 200 * wave];
  numbers.push(34000, 99.2 - miss, miss, unit, (moment * 7) % 360);
  const time = new Date(Date.UTC(2026, 3, 24, 14) + moment * 2000).toISOString().slice(0, 19);
  return {
    x: -93.6 + (moment % 700) / 1e4,
    y: 42 + (unit + 24 * Math.floor(moment / 700)) / 1e5,
    numbers,
    time,
  };
}

function writeShapefile(folder, records) {
  const shp = Buffer.alloc(100 + 28 * records);
  shp.writeInt32BE(9994, 0);
  shp.writeInt32BE(shp.length / 2, 24);
  shp.writeInt32LE(1000, 28);
  shp.writeInt32LE(1, 32);
  const fields = [
    ["TIME", "C", 19, 0],
    ...COLUMNS.map(([name, length, decimals]) => [name, "N", length, decimals]),
  ];
  const rowLength = fields.reduce((sum, [, , length]) => sum + length, 1);
  const header = Buffer.alloc(32 + 32 * fields.length + 1);
  header[0] = 3;
  header.writeUInt32LE(records, 4);
  header.writeUInt16LE(header.length, 8);
  header.writeUInt16LE(rowLength, 10);
  for (const [index, [name, type, length, decimals]] of fields.entries()) {
    header.write(name, 32 + 32 * index, "latin1");
    header.write(type, 43 + 32 * index, "latin1");
    header[48 + 32 * index] = length;
    header[49 + 32 * index] = decimals;
  }
  header[header.length - 1] = 13;
  const dbf = openSync(join(folder, `${records}.dbf`), "w");
  writeSync(dbf, header);
  let rows = [];
  for (let record = 0; record < records; record++) {
    const { x, y, numbers, time } = rowOf(record);
    const at = 100 + 28 * record;
    shp.writeInt32BE(record + 1, at);
    shp.writeInt32BE(10, at + 4);
    shp.writeInt32LE(1, at + 8);
    shp.writeDoubleLE(x, at + 12);
    shp.writeDoubleLE(y, at + 20);
    const cells = numbers.map((value, index) => value.toFixed(COLUMNS[index][2]).padStart(COLUMNS[index][1]));
    rows.push(` ${time}${cells.join("")}`);
    if (rows.length === 10_000 || record === records - 1) {
      writeSync(dbf, rows.join(""), null, "latin1");
      rows = [];
    }
  }
  writeSync(dbf, Buffer.of(26));
  closeSync(dbf);
  const file = openSync(join(folder, `${records}.shp`), "w");
  writeSync(file, shp);
  closeSync(file);
}

function writeGeoJson(path, records) {
  const file = openSync(path, "w");
  writeSync(file, '{"type":"FeatureCollection","features":[\n');
  let lines = [];
  for (let record = 0; record < records; record++) {
    const { x, y, numbers, time } = rowOf(record);
    const values = numbers.map(
      (value, index) => `"${COLUMNS[index][0]}":${value.toFixed(COLUMNS[index][2])}`,
    );
    lines.push(
      `{"type":"Feature","properties":{"TIME":"${time}",${values.join(",")}},"geometry":{"type":"Point","coordinates":[${x.toFixed(7)},${y.toFixed(7)}]}}${record < records - 1 ? ",\n" : "\n]}\n"}`,
    );
    if (lines.length === 10_000 || record === records - 1) {
      writeSync(file, lines.join(""));
      lines = [];
    }
  }
  closeSync(file);
}

const [mode, path] = process.argv[2] === "--measure" ? process.argv.slice(3) : [];
if (mode) await measure(mode, path);
else compare(Number(process.argv.slice(2).find((word) => /^\d+$/.test(word)) ?? 1_000_000));
