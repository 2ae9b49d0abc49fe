/**
 * Memory of the command on files made to exhaust it: each is inspected in a process of its own, which may take 1 GiB at
 * most and 60 s of processor time, and has to end with a result, a question or a message. Needs the built command.
 */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync, zipSync } from "fflate";
import { afterAll, expect, it } from "vitest";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { shapeBytes, tableBytes } from "./support/shapefile-bytes.ts";

const MOST_MIB = 1024;
const MOST_SECONDS = 60;
const LONGEST_WAIT_MS = 500_000;
const RUNNER = fileURLToPath(new URL("./support/inspect-measured.mjs", import.meta.url));
/** 0 fine, 2 unusable input, 3 a question to answer; 1 would be a fault of ours. */
const ACCEPTED_CODES = [0, 2, 3];

const folder = temporaryFolder();
const MIB = 1 << 20;
const text = (content: string): Uint8Array => new TextEncoder().encode(content);
const filled = (bytes: number, character: string): Uint8Array =>
  new Uint8Array(bytes).fill(character.charCodeAt(0));

/** A point feature with properties. */
const feature = (properties: string, coordinates = "[-93.6,42]"): string =>
  `{"type":"Feature","properties":{${properties}},"geometry":{"type":"Point","coordinates":${coordinates}}}`;
const collection = (features: readonly string[]): string =>
  `{"type":"FeatureCollection","features":[${features.join(",")}]}`;
const times = <T>(count: number, make: (k: number) => T): T[] =>
  Array.from({ length: count }, (_, k) => make(k));

/** A ring of a million corners about a place, as [longitude, latitude]. */
function millionCorners(): [number, number][] {
  const count = 1_000_000;
  const ring = times(count, (k): [number, number] => {
    const angle = (2 * Math.PI * k) / count;
    const reach = 0.01 + 0.0001 * Math.sin(5000 * angle);
    return [-93.6 + reach * Math.cos(angle), 42 + reach * Math.sin(angle)];
  });
  return [...ring, ring[0]!];
}

/** A table whose columns are one letter wide: eight times its size in numbers. */
function narrowTable(columns: number, rows: number): Uint8Array {
  const named = times(columns, (k) => ({ name: `C${k}`, type: "N", length: 1 }));
  const head = tableBytes(named, []);
  const header = head.slice(0, new DataView(head.buffer).getUint16(8, true));
  new DataView(header.buffer).setUint32(4, rows, true);
  const bytes = new Uint8Array(header.length + rows * (columns + 1) + 1).fill(0x31);
  bytes.set(header);
  for (let row = 0; row < rows; row++) bytes[header.length + row * (columns + 1)] = 0x20;
  bytes[bytes.length - 1] = 26;
  return bytes;
}

/** Null shapes, 12 bytes each. */
function nullShapes(count: number): Uint8Array {
  const bytes = new Uint8Array(100 + 12 * count);
  const view = new DataView(bytes.buffer);
  view.setInt32(0, 9994, false);
  view.setInt32(24, bytes.length / 2, false);
  view.setInt32(28, 1000, true);
  view.setInt32(32, 1, true);
  for (let k = 0; k < count; k++) {
    view.setInt32(100 + 12 * k, k + 1, false);
    view.setInt32(104 + 12 * k, 2, false);
  }
  return bytes;
}

/** A log of points to damage. */
function soundLog(): string {
  return collection(
    times(100_000, (k) =>
      feature(
        `"ROW":${(k % 24) + 1},"DEPTH_IN":${(1.9 + (k % 30) / 100).toFixed(2)}`,
        `[${-93.6 + k * 1e-6},42]`,
      ),
    ),
  );
}

function flipped(bytes: Uint8Array): Uint8Array {
  const damaged = bytes.slice();
  for (let at = 97; at < damaged.length; at += 1009) damaged[at]! ^= 1 << (at % 8);
  return damaged;
}

const CASES: Record<string, () => [name: string, bytes: Uint8Array][]> = {
  "zip of zeros, 1000 to 1": () => [["bomb.zip", zipSync({ "log.geojson": new Uint8Array(600 * MIB) })]],
  "zip just below the free size": () => [["bomb.zip", zipSync({ "log.geojson": filled(127 * MIB, "[") })]],
  "zip of many large texts": () => [
    ["bomb.zip", zipSync(Object.fromEntries(times(4, (k) => [`${k}.csv`, filled(31 * MIB, ",")])))],
  ],
  "zip of a zip": () => [
    ["bomb.zip", zipSync({ "inner.zip": zipSync({ "log.csv": filled(200 * MIB, "a") }) })],
  ],
  "zip of one-letter columns": () => [
    [
      "bomb.zip",
      zipSync({ "log.shp": nullShapes(480_000), "log.dbf": narrowTable(250, 480_000) }, { level: 1 }),
    ],
  ],
  "gzip of zeros": () => [["log.geojson.gz", gzipSync(new Uint8Array(600 * MIB))]],
  "gzip just below the free size": () => [
    ["log.geojson.gz", gzipSync(text(collection(times(1_200_000, () => feature("")))))],
  ],
  "a million properties, each of another name": () => [
    [
      "log.geojson",
      text(collection(times(1000, (k) => feature(times(1000, (p) => `"p${k}_${p}":1`).join(","))))),
    ],
  ],
  "a hundred thousand features, each with a property of its own": () => [
    ["log.geojson", text(collection(times(100_000, (k) => feature(`"p${k}":1`))))],
  ],
  "one-letter columns beside each other": () => [
    ["log.shp", nullShapes(400_000)],
    ["log.dbf", narrowTable(250, 400_000)],
  ],
  "CSV of a hundred thousand columns": () => [
    [
      "log.csv",
      text(
        `lon,lat,${times(100_000, (k) => `c${k}`).join(",")}\n${times(500, () => `-93.6,42${",1".repeat(100_000)}`).join("\n")}`,
      ),
    ],
  ],
  "CSV of one line": () => [["log.csv", filled(200 * MIB, "7")]],
  "CSV of a quote that never ends": () => [["log.csv", text(`lon,lat,note\n1,2,"${"a,\n".repeat(4 * MIB)}`)]],
  "a ring of a million corners": () => [
    [
      "soil.geojson",
      text(
        JSON.stringify({
          type: "FeatureCollection",
          features: [
            {
              type: "Feature",
              properties: { MUNAME: "Loam" },
              geometry: { type: "Polygon", coordinates: [millionCorners()] },
            },
          ],
        }),
      ),
    ],
  ],
  "a ring of a million corners in a shapefile": () => {
    const { shp, shx } = shapeBytes([{ type: 5, parts: [millionCorners()] }]);
    return [
      ["soil.shp", shp],
      ["soil.shx", shx],
      ["soil.dbf", tableBytes([{ name: "MUNAME", type: "C", length: 8 }], [["Loam"]])],
    ];
  },
  "JSON ten million deep": () => [
    [
      "log.geojson",
      text(
        `{"type":"FeatureCollection","features":[${feature(`"a":${"[".repeat(1e7)}${"]".repeat(1e7)}`)}]}`,
      ),
    ],
  ],
  "JSON deep and never closed": () => [
    ["log.geojson", text(`{"type":"FeatureCollection","features":[${'{"a":'.repeat(4e6)}`)],
  ],
  "one feature of 120 MiB": () => [
    ["log.geojson", text(collection([feature(`"a":"${"x".repeat(120 * MIB)}"`)]))],
  ],
  "a log cut short": () => [["log.geojson", text(soundLog()).slice(0, 9_000_000)]],
  "a log with flipped bits": () => [["log.geojson", flipped(text(soundLog()))]],
  "shapes with flipped bits": () => [
    ["log.shp", flipped(nullShapes(500_000))],
    ["log.dbf", flipped(narrowTable(12, 500_000))],
  ],
  "a shape that declares two thousand million points": () => {
    const shp = nullShapes(1000);
    const view = new DataView(shp.buffer);
    view.setInt32(104, 0x7ffffff0, false);
    view.setInt32(108, 5, true);
    return [["log.shp", shp]];
  },
  "a table that declares four thousand million rows": () => {
    const dbf = narrowTable(20, 1000);
    new DataView(dbf.buffer).setUint32(4, 0xffffffff, true);
    return [
      ["log.shp", nullShapes(1000)],
      ["log.dbf", dbf],
    ];
  },
  "noise behind a name": () => {
    const noise = new Uint8Array(64 * MIB);
    for (let at = 0, block = 0; at < noise.length; at += 32, block++)
      noise.set(createHash("sha256").update(String(block)).digest(), at);
    return [["log.zip", noise]];
  },
};

const peaks: [string, number][] = [];
afterAll(() => {
  const lines = peaks.map(([name, peak]) => `${Math.round(peak).toString().padStart(5)} MiB  ${name}`);
  process.stdout.write(`largest memory of the process\n${lines.join("\n")}\n`);
});

it.each(Object.keys(CASES))(`within 1 GiB: %s`, (name) => {
  const home = join(folder, String(Object.keys(CASES).indexOf(name)));
  mkdirSync(home);
  const files = CASES[name]!();
  for (const [file, bytes] of files) writeFileSync(join(home, file), bytes);
  const child = spawnSync(process.execPath, [RUNNER, join(home, files[0]![0])], {
    encoding: "utf8",
    cwd: dirname(RUNNER),
    timeout: LONGEST_WAIT_MS,
  });
  expect(child.status, child.stderr.slice(-2000)).toBe(0);
  const result = JSON.parse(child.stdout) as {
    code: number;
    message: string;
    peakMiB: number;
    seconds: number;
  };
  peaks.push([
    `${name}: ${result.seconds.toFixed(1)} s, code ${result.code}, ${result.message}`,
    result.peakMiB,
  ]);
  expect(ACCEPTED_CODES, result.message).toContain(result.code);
  if (result.code !== 0) expect(result.message).not.toBe("");
  expect(result.peakMiB).toBeLessThanOrEqual(MOST_MIB);
  expect(result.seconds).toBeLessThanOrEqual(MOST_SECONDS);
});
