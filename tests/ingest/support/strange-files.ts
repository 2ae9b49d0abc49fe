/** Files and manifests that keep their grammar but not their sense, by the thousand: what a reader has to expect. */
import { zipSync } from "fflate";
import { expect } from "vitest";
import { isEvenstandError } from "../../../src/errors.ts";
import { toLonLat } from "../../../src/ingest/index.ts";
import type { InputFile, RawLayer } from "../../../src/ingest/layer.ts";
import { parseManifestText } from "../../../src/manifest/manifest.ts";
import { expectToAddUp, outcomeOf, randomFrom } from "./fuzz.ts";
import { fixtures } from "./fuzz-fixtures.ts";
import { WGS84_PRJ } from "./shapefile-bytes.ts";

type Random = (below: number) => number;

export const STRATEGIES = [
  "json tree",
  "dbf header",
  "zip field",
  "encoding",
  "prj grammar",
  "manifest",
] as const;
export type Strategy = (typeof STRATEGIES)[number];

export interface StrangeTally {
  cases: number;
  accepted: Record<Strategy, number>;
  refused: Record<Strategy, number>;
}

const ODD_LEAVES: readonly unknown[] = [
  null,
  true,
  false,
  0,
  -0,
  -1,
  1e308,
  -1e308,
  5e-324,
  2 ** 53,
  "",
  " ",
  "NaN",
  "1e999",
  "\u0000",
  "\u202E",
  "é",
  "x".repeat(300),
  [],
  {},
  [[]],
  { toString: 1 },
  { __proto__: null },
  "2026-04-24",
  "Point",
  "Feature",
  "EPSG:4326",
];

/** A tree of small depth out of odd leaves and of names the formats know. */
function tree(random: Random, depth: number): unknown {
  const names = [
    "type",
    "features",
    "geometry",
    "coordinates",
    "properties",
    "crs",
    "bbox",
    "id",
    "name",
    "a",
    "",
  ];
  const kind = depth === 0 ? 0 : random(4);
  if (kind < 2) return ODD_LEAVES[random(ODD_LEAVES.length)];
  const size = random(4);
  if (kind === 2) return Array.from({ length: size }, () => tree(random, depth - 1));
  return Object.fromEntries(
    Array.from({ length: size }, () => [names[random(names.length)]!, tree(random, depth - 1)]),
  );
}

/** Puts a tree in place of one part of a value, anywhere inside. */
function withGraft(value: unknown, random: Random): unknown {
  if (typeof value !== "object" || value === null || random(5) === 0) return tree(random, 3);
  const keys = Object.keys(value);
  if (keys.length === 0) return tree(random, 3);
  const key = keys[random(keys.length)]!;
  const copy: Record<string, unknown> | unknown[] = Array.isArray(value) ? [...value] : { ...value };
  const roll = random(8);
  if (roll === 0 && !Array.isArray(copy)) delete copy[key];
  else (copy as Record<string, unknown>)[key] = withGraft((value as Record<string, unknown>)[key], random);
  return copy;
}

const whole = new Map(fixtures().map((fixture) => [fixture.name, fixture]));
const copyOf = (name: string): InputFile[] =>
  whole.get(name)!.files.map((file) => ({ name: file.name, bytes: file.bytes.slice() }));
const encode = (text: string) => new TextEncoder().encode(text);
const decode = (bytes: Uint8Array) => new TextDecoder().decode(bytes);

function strangeJson(random: Random): InputFile[] {
  const [file] = copyOf("collection");
  let value: unknown = JSON.parse(decode(file!.bytes));
  for (let graft = random(3); graft >= 0; graft--) value = withGraft(value, random);
  return [{ name: "log.geojson", bytes: encode(JSON.stringify(value)) }];
}

/** Header and descriptors: counts, lengths, types, decimals. */
function strangeDbf(random: Random): InputFile[] {
  const files = copyOf("points");
  const dbf = files.find(({ name }) => name.endsWith(".dbf"))!.bytes;
  const types = "CNFLDMIBGPT@O+YVX01\u0000";
  for (let change = random(3); change >= 0; change--) {
    const field = 32 * (1 + random(3));
    const place = [random(32), field + random(32), field + 11, field + 16, field + 17][random(5)]!;
    if (place < dbf.length)
      dbf[place] = place % 32 === 11 && place >= 32 ? types.charCodeAt(random(types.length)) : random(256);
  }
  return files;
}

/** One of the numbers of a local or central header, set to what it may not be. */
function strangeZip(random: Random): InputFile[] {
  const entries = Object.fromEntries(copyOf("points").map(({ name, bytes }) => [`a/${name}`, bytes]));
  const bytes = zipSync(entries, { level: random(2) === 0 ? 0 : 6 });
  const headers: { at: number; size: number }[] = [];
  for (let at = 0; at + 4 <= bytes.length; at++) {
    if (bytes[at] !== 0x50 || bytes[at + 1] !== 0x4b) continue;
    if (bytes[at + 2] === 1 && bytes[at + 3] === 2) headers.push({ at, size: 46 });
    else if (bytes[at + 2] === 3 && bytes[at + 3] === 4) headers.push({ at, size: 30 });
    else if (bytes[at + 2] === 5 && bytes[at + 3] === 6) headers.push({ at, size: 22 });
  }
  for (let change = random(2); change >= 0; change--) {
    const { at, size } = headers[random(headers.length)]!;
    const place = at + 4 + random(size - 4);
    bytes[place] = [0, 1, 0xff, 0x7f, random(256)][random(5)]!;
  }
  return [{ name: "log.zip", bytes }];
}

const CODE_PAGES = [
  "UTF-8",
  "65001",
  "utf-16",
  "1252",
  "LDID/87",
  "LDID/999",
  "GB18030",
  "\u0000",
  "x".repeat(500),
  "ISO-2022-KR",
  "0",
  "-1",
  "é",
];

/** Text in another encoding than it says, with and without marks of order. */
function strangeEncoding(random: Random): InputFile[] {
  if (random(2) === 0) {
    const files = copyOf("points").filter(({ name }) => !name.endsWith(".cpg"));
    const dbf = files.find(({ name }) => name.endsWith(".dbf"))!.bytes;
    dbf[29] = random(256);
    for (let change = 0; change < 4; change++) dbf[dbf.length - 2 - random(600)] = 128 + random(128);
    const page = CODE_PAGES[random(CODE_PAGES.length)]!;
    return [...files, { name: files[0]!.name.replace(/\.\w+$/, ".cpg"), bytes: encode(page) }];
  }
  const name = ["collection", "comma", "semicolon", "lines"][random(4)]!;
  const [file] = copyOf(name);
  const text = decode(file!.bytes);
  const wide = (big: boolean) => {
    const bytes = new Uint8Array(2 + text.length * 2);
    const view = new DataView(bytes.buffer);
    view.setUint16(0, 0xfeff, !big);
    for (let at = 0; at < text.length; at++) view.setUint16(2 + at * 2, text.charCodeAt(at), !big);
    return bytes;
  };
  const marked = encode(`\uFEFF${text}`);
  const broken = encode(text);
  broken[random(broken.length)] = 128 + random(128);
  const latin = Uint8Array.from(text.replaceAll("a", "é"), (letter) => letter.charCodeAt(0));
  return [{ name: file!.name, bytes: [wide(true), wide(false), marked, broken, latin][random(5)]! }];
}

/** The grammar of WKT kept or broken: parameters without numbers, units of nothing, brackets left out. */
function strangePrj(random: Random): InputFile[] {
  const files = copyOf("points").filter(({ name }) => !name.endsWith(".prj"));
  const values = ["0", "x", "", "1e308", "-93", "0.9996", '"a"', "NaN", "..", "-", "500000", "[1]"];
  const value = () => values[random(values.length)]!;
  const projections = [
    "Transverse_Mercator",
    "Lambert_Conformal_Conic",
    "Mercator_Auxiliary_Sphere",
    "Albers",
    "Nothing",
    "",
    "Krovak",
    "Stereographic",
  ];
  const names = [
    "central_meridian",
    "false_easting",
    "false_northing",
    "scale_factor",
    "latitude_of_origin",
    "standard_parallel_1",
    "standard_parallel_2",
    "azimuth",
  ];
  const parameters = Array.from(
    { length: random(6) },
    () => `PARAMETER["${names[random(names.length)]}",${value()}]`,
  );
  const projected = `PROJCS["p",${WGS84_PRJ.trim()},PROJECTION["${projections[random(projections.length)]}"]${parameters.map((one) => `,${one}`).join("")},UNIT["m",${value()}]]`;
  let text = random(3) === 0 ? WGS84_PRJ : projected;
  if (random(2) === 0) {
    const at = random(text.length);
    text =
      text.slice(0, at) + ["", "[", "]", '"', ",", "GEOGCS[", "é"][random(7)] + text.slice(at + random(6));
  }
  return [...files, { name: files[0]!.name.replace(/\.\w+$/, ".prj"), bytes: encode(text) }];
}

const MAKERS: Record<Exclude<Strategy, "manifest">, (random: Random) => InputFile[]> = {
  "json tree": strangeJson,
  "dbf header": strangeDbf,
  "zip field": strangeZip,
  encoding: strangeEncoding,
  "prj grammar": strangePrj,
};

const MANIFEST = {
  schema: "evenstand/field/1",
  name: "Invented",
  season: 2026,
  planted: "2026-04-24",
  plantingLog: {
    file: "log.geojson",
    columns: { seedingDepth: { column: "D", unit: "in", source: "sensed" } },
    crs: "EPSG:32615",
  },
  soilZones: { file: "soil.geojson", zone: "texture" },
  planter: {
    rowUnits: 24,
    rowSpacing: "30 in",
    rowUnitWeight: "165 lbf",
    wings: [[1, 8]],
    depthSensedRows: "all",
  },
  targets: {
    seedingDepth: "2 in",
    population: "34000 seeds/ac",
    downForceMargin: ["60 lbf", "160 lbf"],
    speed: "5 mi/h",
  },
  prices: { grain: "4.5 USD/bu", seed: "3.75 USD/1000", expectedYield: "200 bu/ac" },
  prescription: { smallestMargin: "60 lbf", largestStep: "40 lbf", last: { clay: "100 lbf" } },
};
const ODD_QUANTITIES = [
  "1e308 in",
  "-1 in",
  "0 in",
  "in",
  "2",
  "2 furlong",
  "2 in in",
  "９ in",
  "1,2,3 in",
  "NaN in",
  "Infinity lbf",
  "1e-320 m",
];

/** Every quantity that comes out of a manifest is a number that can be. */
function outcomeOfManifest(random: Random, label: string): boolean {
  let value: unknown = MANIFEST;
  for (let graft = random(3); graft >= 0; graft--) value = withGraft(value, random);
  let text = JSON.stringify(value) ?? "null";
  if (random(3) === 0)
    text = text.replace(
      /"\d[\d.]* (?:in|lbf|mi\/h|seeds\/ac|bu\/ac)"/,
      JSON.stringify(ODD_QUANTITIES[random(ODD_QUANTITIES.length)]),
    );
  if (random(6) === 0) text = text.slice(0, random(text.length));
  try {
    const manifest = parseManifestText(text);
    expect(JSON.stringify(manifest), label).not.toContain("[object Object]");
    return true;
  } catch (error) {
    if (!isEvenstandError(error)) throw new Error(`${label}: ${String(error)} for ${text}`, { cause: error });
    expect(error.message, label).not.toMatch(/\[object Object\]|undefined/);
    expect(error.message.length, label).toBeGreaterThan(15);
    return false;
  }
}

/** Records without a position, or fewer of them than the file has, are told in a note. */
function expectNothingInSilence(layer: RawLayer, label: string): void {
  const placed = layer.x.filter((value) => Number.isFinite(value)).length;
  const inFile = layer.recordsInFile ?? layer.recordCount;
  if (placed < inFile && layer.geometry !== "none") expect(layer.notes.length, label).toBeGreaterThan(0);
  for (const note of layer.notes)
    expect(`${note.reason}${note.value}`, label).not.toContain("[object Object]");
  if (layer.crs.definition === null) return;
  const first = layer.x.findIndex((value) => Number.isFinite(value));
  if (first >= 0) toLonLat(layer.crs)(layer.x[first]!, layer.y[first]!);
}

/** Makes `cases` strange files and manifests and checks what comes of each. */
export async function runStrangeFiles(cases: number, seed: number): Promise<StrangeTally> {
  const zero = () => Object.fromEntries(STRATEGIES.map((name) => [name, 0])) as Record<Strategy, number>;
  const tally: StrangeTally = { cases: 0, accepted: zero(), refused: zero() };
  for (let number = 0; number < cases; number++) {
    const random = randomFrom(seed + number * 7919);
    for (let i = 0; i < 8; i++) random(2);
    const strategy = STRATEGIES[number % STRATEGIES.length]!;
    const label = `${strategy}, case ${number} of seed ${seed}`;
    tally.cases++;
    let accepted: boolean;
    if (strategy === "manifest") accepted = outcomeOfManifest(random, label);
    else {
      const files = MAKERS[strategy](random);
      const layer = await outcomeOf(files, random(2) === 0 ? "fast" : "library", "any", label);
      if (layer) {
        expectToAddUp(layer, label);
        expectNothingInSilence(layer, label);
      }
      accepted = layer !== null;
    }
    tally[accepted ? "accepted" : "refused"][strategy]++;
  }
  return tally;
}
