// `node tests/bench/ingest.mjs`: processor time and memory of reading an invented log of 1,000,000 records and 12
// columns as a shapefile and as GeoJSON, against touching every byte once, against the `shapefile` library with
// an object a record, and against R's sf. Needs the built command (`npm run build:command`). Prints; asserts nothing.
// `-- 200000` names another size.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { writeGeoJson, writeShapefile } from "./invented-log.mjs";

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
/** Runs each way of reading in a process of its own and prints what it took. */
function compare(records) {
  const folder = join(root, "out", "bench", "ingest");
  mkdirSync(folder, { recursive: true });
  const shp = join(folder, `${records}.shp`);
  const geojson = join(folder, `${records}.geojson`);
  if (!existsSync(shp.replace(/shp$/, "prj"))) writeShapefile(join(folder, String(records)), records);
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
  const inR = { shapefile: runR(shp), geoJson: runR(geojson) };
  process.stdout.write(`${"".padEnd(34)}${"CPU s".padStart(8)}${"peak MiB".padStart(10)}\n`);
  process.stdout.write(
    `${"an empty process".padEnd(34)}${bare.cpu.toFixed(2).padStart(8)}${bare.peak.toFixed(0).padStart(10)}\n`,
  );
  for (const [title, { cpu, peak }] of runs)
    process.stdout.write(`${title.padEnd(34)}${cpu.toFixed(2).padStart(8)}${peak.toFixed(0).padStart(10)}\n`);
  for (const [title, seconds] of [
    ["shapefile: sf in R", inR.shapefile],
    ["GeoJSON: sf in R", inR.geoJson],
  ])
    process.stdout.write(
      `${title.padEnd(34)}${seconds === null ? "not installed" : seconds.toFixed(2).padStart(8)}\n`,
    );
  const [touch, ours, touchJson, oursJson, library] = runs.map(([, figures]) => figures.cpu);
  const ratios = [
    `our reader / touching every byte: shapefile ${(ours / touch).toFixed(1)}, GeoJSON ${(oursJson / touchJson).toFixed(1)}`,
    ...(inR.shapefile === null
      ? ["sf in R / our reader: not installed (r-base-core, r-cran-sf)"]
      : [
          `sf in R / our reader: shapefile ${(inR.shapefile / ours).toFixed(1)}, GeoJSON ${(inR.geoJson / oursJson).toFixed(1)}`,
        ]),
    ...(library === undefined ? [] : [`library / our reader: ${(library / ours).toFixed(1)}`]),
  ];
  process.stdout.write(`${ratios.join("; ")}\n`);
}

/** Processor seconds of `sf::st_read` on the file, null where R or sf is missing. */
function runR(file) {
  const script =
    "t <- proc.time(); x <- sf::st_read(commandArgs(TRUE)[1], quiet = TRUE); s <- proc.time() - t; cat(s[['user.self']] + s[['sys.self']])";
  const child = spawnSync("Rscript", ["-e", script, file], { encoding: "utf8" });
  return child.status === 0 ? Number(child.stdout) : null;
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
    const { fileInPieces } = await import(join(root, "dist/src/cli/files/file-pieces.js"));
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
    const { fileInPieces } = await import(join(root, "dist/src/cli/files/file-pieces.js"));
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

const [mode, path] = process.argv[2] === "--measure" ? process.argv.slice(3) : [];
if (mode) await measure(mode, path);
else compare(Number(process.argv.slice(2).find((word) => /^\d+$/.test(word)) ?? 1_000_000));
