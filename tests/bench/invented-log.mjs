// An invented log of a square field for the benchmarks, and its soil map: waves of fixed form, the same each time.
import { closeSync, openSync, writeFileSync, writeSync } from "node:fs";

const ROW_UNITS = 24;
const SPACING_M = 0.762;
const STEP_M = 4.8;
const METRES_PER_DEGREE = 111_075;
const EAST_PER_DEGREE = METRES_PER_DEGREE * Math.cos((42 * Math.PI) / 180);

/** Number columns of the log beside its time: name, letters wide, decimals. */
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
  ["PASS", 5, 0],
];

export const MANIFEST = {
  planter: { rowUnits: ROW_UNITS, rowSpacing: "30 in" },
  targets: { seedingDepth: "2.0 in", population: "34000 seeds/ac", downForceMargin: ["60 lbf", "160 lbf"] },
};

/** Moments of a pass on a field of so many records, which is about square. */
function momentsPerPass(records) {
  return Math.ceil(Math.sqrt((Math.ceil(records / ROW_UNITS) * ROW_UNITS * SPACING_M) / STEP_M));
}

/** Extent of the field of so many records, m: east and north of its first corner. */
export function fieldSize(records) {
  const perPass = momentsPerPass(records);
  return {
    width: Math.ceil(Math.ceil(records / ROW_UNITS) / perPass) * ROW_UNITS * SPACING_M,
    height: perPass * STEP_M,
  };
}

/** Degrees of a place of the field, m from its first corner. */
export function toDegrees(east, north) {
  return [-93.6 + east / EAST_PER_DEGREE, 42 + north / METRES_PER_DEGREE];
}

/** Row unit that is pressed lighter than its bar in the fields of a season, and how much, lb. */
const LIGHT_UNIT = 5;
const LIGHTER = 50;

/**
 * Record of a bar of 24 row units logged every two seconds: place, time and the numbers of COLUMNS as text. Fields of a
 * season differ: number 0 is the field of all other benchmarks.
 */
function rowOf(record, perPass, field) {
  const unit = (record % ROW_UNITS) + 1;
  const moment = Math.floor(record / ROW_UNITS);
  const pass = Math.floor(moment / perPass);
  const along = (moment % perPass) * STEP_M;
  const forth = pass % 2 === 0;
  const north = forth ? along : (perPass - 1) * STEP_M - along;
  const across = (unit - (ROW_UNITS + 1) / 2) * SPACING_M * (forth ? 1 : -1);
  const east = (pass + 0.5) * ROW_UNITS * SPACING_M + across;
  const wave =
    Math.sin(moment * 0.37 + unit + field * 0.71) +
    Math.sin(along / 23 + pass * 1.7) +
    Math.sin(record * 2.3);
  const miss = 1.5 + 0.3 * Math.sin(moment * 1.3 + unit * 2.1);
  const lighter = field > 0 && unit === LIGHT_UNIT ? LIGHTER : 0;
  const values = [5.3 + 0.05 * wave, 1.95 + 0.1 * wave, 2, 115 + 12 * wave - lighter, 210 - 9 * wave];
  values.push(33500 + 200 * wave, 34000, 99.2 - miss, miss, unit, pass + 1);
  return {
    lon: (-93.6 + (east + 1500 * (field % 40)) / EAST_PER_DEGREE).toFixed(7),
    lat: (42 + (north + 1500 * Math.floor(field / 40)) / METRES_PER_DEGREE).toFixed(7),
    time: new Date(Date.UTC(2026, 3, 24 + (field % 20), 14) + (moment * 2 + pass * 30) * 1000)
      .toISOString()
      .slice(0, 19),
    numbers: values.map((value, index) => value.toFixed(COLUMNS[index][2])),
  };
}

/** Writes `head`, a line a record and `tail`, some thousand records at a time. */
function writeLines(path, records, head, lineOf, tail, field = 0) {
  const perPass = momentsPerPass(records);
  const file = openSync(path, "w");
  writeSync(file, head);
  for (let from = 0; from < records; from += 10_000) {
    const count = Math.min(10_000, records - from);
    const lines = Array.from({ length: count }, (_, k) => lineOf(rowOf(from + k, perPass, field), from + k));
    writeSync(file, lines.join(""), null, "latin1");
  }
  writeSync(file, tail);
  closeSync(file);
}

/** @param field number of the field in a season */
export function writeGeoJson(path, records, field = 0) {
  const lineOf = ({ time, lon, lat, numbers }, record) => {
    const values = numbers.map((value, index) => `"${COLUMNS[index][0]}":${value}`);
    const end = record < records - 1 ? ",\n" : "\n";
    return `{"type":"Feature","properties":{"TIME":"${time}",${values.join(",")}},"geometry":{"type":"Point","coordinates":[${lon},${lat}]}}${end}`;
  };
  writeLines(path, records, '{"type":"FeatureCollection","features":[\n', lineOf, "]}\n", field);
}

/** The log as CSV with longitude and latitude, for programs that read no shapefile. */
export function writeCsv(path, records) {
  const names = ["TIME", "LON", "LAT", ...COLUMNS.map(([name]) => name)];
  const lineOf = ({ time, lon, lat, numbers }) => `${[time, lon, lat, ...numbers].join(",")}\n`;
  writeLines(path, records, `${names.join(",")}\n`, lineOf, "");
}

/** Writes PATH.shp, PATH.shx, PATH.dbf and PATH.prj. */
export function writeShapefile(path, records) {
  const shp = Buffer.alloc(100 + 28 * records);
  const shx = Buffer.alloc(100 + 8 * records);
  const bounds = [Infinity, Infinity, -Infinity, -Infinity];
  const fields = [
    ["TIME", "C", 19, 0],
    ...COLUMNS.map(([name, length, decimals]) => [name, "N", length, decimals]),
  ];
  const header = Buffer.alloc(32 + 32 * fields.length + 1);
  header[0] = 3;
  header.writeUInt32LE(records, 4);
  header.writeUInt16LE(header.length, 8);
  header.writeUInt16LE(
    fields.reduce((sum, [, , length]) => sum + length, 1),
    10,
  );
  for (const [index, [name, type, length, decimals]] of fields.entries()) {
    header.write(name, 32 + 32 * index, "latin1");
    header.write(type, 43 + 32 * index, "latin1");
    header[48 + 32 * index] = length;
    header[49 + 32 * index] = decimals;
  }
  header[header.length - 1] = 13;
  const lineOf = ({ lon, lat, time, numbers }, record) => {
    const [x, y] = [Number(lon), Number(lat)];
    const at = 100 + 28 * record;
    shp.writeInt32BE(record + 1, at);
    shp.writeInt32BE(10, at + 4);
    shp.writeInt32LE(1, at + 8);
    shp.writeDoubleLE(x, at + 12);
    shp.writeDoubleLE(y, at + 20);
    shx.writeInt32BE(at / 2, 100 + 8 * record);
    shx.writeInt32BE(10, 104 + 8 * record);
    bounds[0] = Math.min(bounds[0], x);
    bounds[1] = Math.min(bounds[1], y);
    bounds[2] = Math.max(bounds[2], x);
    bounds[3] = Math.max(bounds[3], y);
    return ` ${time}${numbers.map((value, index) => value.padStart(COLUMNS[index][1])).join("")}`;
  };
  writeLines(`${path}.dbf`, records, header, lineOf, Buffer.of(26));
  for (const [name, bytes] of [
    ["shp", shp],
    ["shx", shx],
  ]) {
    bytes.writeInt32BE(9994, 0);
    bytes.writeInt32BE(bytes.length / 2, 24);
    bytes.writeInt32LE(1000, 28);
    bytes.writeInt32LE(1, 32);
    for (const [index, bound] of bounds.entries()) bytes.writeDoubleLE(bound, 36 + 8 * index);
    writeFileSync(`${path}.${name}`, bytes);
  }
  writeFileSync(
    `${path}.prj`,
    'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]',
  );
}

const SOILS = ["Loam 1", "Silt loam 2", "Clay loam 3", "Sandy loam 4", "Loam 5", "Silt loam 6"];

/**
 * Writes a soil map of `side` x `side` polygons over the field of so many records, as GeoJSON: borders of `steps`
 * edges each that wander, shared to the digit; polygons far apart belong to one of six soils times four slopes.
 */
export function writeSoilMap(path, records, side = 12, steps = 61) {
  const { width, height } = fieldSize(records);
  const outer = (place) => place === 0 || place === side;
  // Position in cells; the borders wander by up to a fifth of a cell, the outer ones lie 5 % outside the field.
  const point = (column, row) => {
    const u = column + (outer(column) ? 0 : 0.2 * Math.sin(row * 5.1 + column) + 0.02 * Math.sin(row * 71));
    const v = row + (outer(row) ? 0 : 0.2 * Math.sin(column * 4.7 + row) + 0.02 * Math.sin(column * 67));
    const east = (-0.05 + (1.1 * u) / side) * width;
    const north = (-0.05 + (1.1 * v) / side) * height;
    return toDegrees(east, north).map((degrees) => Number(degrees.toFixed(8)));
  };
  const border = (from, to) =>
    Array.from({ length: steps }, (_, k) =>
      point(from[0] + ((to[0] - from[0]) * k) / steps, from[1] + ((to[1] - from[1]) * k) / steps),
    );
  const features = [];
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      const corners = [
        [column, row],
        [column + 1, row],
        [column + 1, row + 1],
        [column, row + 1],
      ];
      const ring = corners.flatMap((corner, k) => border(corner, corners[(k + 1) % 4]));
      const soil = `${SOILS[(column + 2 * row) % 6]}, slope ${"ABCD"[(column * row) % 4]}`;
      features.push({
        type: "Feature",
        properties: { MUNAME: soil },
        geometry: { type: "Polygon", coordinates: [[...ring, ring[0]]] },
      });
    }
  }
  writeFileSync(path, `${JSON.stringify({ type: "FeatureCollection", features })}\n`);
}
