/** Damaged files by the thousand: fixtures whose content is known, ways to damage them, and what must hold of the outcome. */
import { gzipSync, zipSync } from "fflate";
import { expect } from "vitest";
import { FileUnusableError } from "../../../src/errors.ts";
import { type InputFile, type RawLayer, readLayer } from "../../../src/ingest/index.ts";
import { valuesOf } from "./layers.ts";
import { type Shape, shapeBytes, tableBytes, viewOf, WGS84_PRJ } from "./shapefile-bytes.ts";

/** Bytes [begin, end) of a file that hold one value of one record and nothing else. */
export interface ValueSpan {
  file: number;
  begin: number;
  end: number;
  /** 0-based. */
  record: number;
}

export interface Fixture {
  name: string;
  files: InputFile[];
  /** Records in the file; null where only the readers know. */
  records: number | null;
  /** Where the values stand; none in packed files. */
  values: ValueSpan[];
}

/** Pseudo-random numbers from a seed (xorshift32, G. Marsaglia 2003), 0 <= value < below. */
export function randomFrom(seed: number): (below: number) => number {
  let state = seed | 0 || 1;
  return (below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % below;
  };
}

const RECORDS = 60;
const depthOf = (record: number) => (1.5 + (record % 7) / 8).toFixed(3);
const lotOf = (record: number) =>
  `lot ${String.fromCharCode(65 + (record % 5))}${record % 3 === 0 ? "ß" : ""}`;
const longitudeOf = (record: number) => -93 + record / 1024;
const latitudeOf = (record: number) => 42 + record / 2048;

function shapefileFixture(name: string, geometry: "point" | "polygon", withIndex: boolean): Fixture {
  const shapes = Array.from({ length: RECORDS }, (_, record): Shape => {
    const [x, y] = [longitudeOf(record), latitudeOf(record)];
    if (geometry === "point") return { type: 1, x, y };
    const size = 1 / 4096;
    return {
      type: 5,
      parts: [
        [
          [x, y],
          [x, y + size],
          [x + size, y + size],
          [x + size, y],
          [x, y],
        ],
      ],
    };
  });
  const { shp, shx } = shapeBytes(shapes);
  const columns = [
    { name: "DEPTH_IN", type: "N", length: 9, decimals: 3 },
    { name: "LOT", type: "C", length: 10 },
    { name: "DAY", type: "D", length: 8 },
    { name: "WORKING", type: "L", length: 1 },
    { name: "UNIT", type: "I", length: 4 },
  ];
  const rows = shapes.map((_, record) => {
    const unit = new Uint8Array(4);
    viewOf(unit).setInt32(0, record % 24, true);
    return [
      depthOf(record),
      lotOf(record),
      `202604${10 + (record % 20)}`,
      record % 9 === 0 ? "F" : "T",
      unit,
    ];
  });
  const dbf = tableBytes(columns, rows);
  const firstRow = viewOf(dbf).getUint16(8, true);
  const rowLength = viewOf(dbf).getUint16(10, true);
  const values: ValueSpan[] = [];
  let at = 100;
  for (let record = 0; record < RECORDS; record++) {
    const content = geometry === "point" ? 20 : 44 + 4 + 16 * 5;
    const coordinates = geometry === "point" ? 4 : 48;
    values.push({ file: 0, begin: at + 8 + coordinates, end: at + 8 + content, record });
    values.push({
      file: 1,
      begin: firstRow + record * rowLength + 1,
      end: firstRow + (record + 1) * rowLength,
      record,
    });
    at += 8 + content;
  }
  const files = [
    { name: "log.shp", bytes: shp },
    { name: "log.dbf", bytes: dbf },
    { name: "log.prj", bytes: new TextEncoder().encode(WGS84_PRJ) },
    { name: "log.cpg", bytes: new TextEncoder().encode("UTF-8") },
    ...(withIndex ? [{ name: "log.shx", bytes: shx }] : []),
  ];
  return { name, files, records: RECORDS, values };
}

/** Text put together from pieces, remembering where the values of each record stand. */
class MarkedText {
  readonly #pieces: Uint8Array[] = [];
  readonly values: ValueSpan[] = [];
  #length = 0;
  add(text: string): this {
    const bytes = new TextEncoder().encode(text);
    this.#pieces.push(bytes);
    this.#length += bytes.length;
    return this;
  }
  value(text: string, record: number): this {
    const begin = this.#length;
    this.add(text);
    this.values.push({ file: 0, begin, end: this.#length, record });
    return this;
  }
  bytes(): Uint8Array {
    const whole = new Uint8Array(this.#length);
    let at = 0;
    for (const piece of this.#pieces) {
      whole.set(piece, at);
      at += piece.length;
    }
    return whole;
  }
}

function jsonFixture(name: string, form: "collection" | "lines"): Fixture {
  const text = new MarkedText();
  if (form === "collection") text.add('{"type":"FeatureCollection","features":[\n');
  for (let record = 0; record < RECORDS; record++) {
    if (record > 0) text.add(form === "collection" ? ",\n" : "\n");
    text.add('{"type":"Feature","properties":{"DEPTH_IN":').value(depthOf(record), record);
    text.add(',"LOT":"').value(lotOf(record), record);
    text.add('","UNIT":').value(String(record % 24), record);
    text.add('},"geometry":{"type":"Point","coordinates":[').value(String(longitudeOf(record)), record);
    text
      .add(",")
      .value(String(latitudeOf(record)), record)
      .add("]}}");
  }
  if (form === "collection") text.add("\n]}");
  const file = form === "collection" ? "log.geojson" : "log.ndjson";
  return { name, files: [{ name: file, bytes: text.bytes() }], records: RECORDS, values: text.values };
}

function csvFixture(name: string, delimiter: "," | ";"): Fixture {
  const number = (text: string) => (delimiter === ";" ? text.replace(".", ",") : text);
  const text = new MarkedText().add(["lon", "lat", "DEPTH_IN", "LOT"].join(delimiter)).add("\r\n");
  for (let record = 0; record < RECORDS; record++) {
    text.value(number(longitudeOf(record).toFixed(7)), record).add(delimiter);
    text.value(number(latitudeOf(record).toFixed(7)), record).add(delimiter);
    text.value(number(depthOf(record)), record).add(delimiter);
    text.add('"').value(lotOf(record), record).add('"\r\n');
  }
  return {
    name,
    files: [{ name: "log.csv", bytes: text.bytes() }],
    records: RECORDS,
    values: text.values,
  };
}

export function fixtures(): Fixture[] {
  const points = shapefileFixture("points", "point", true);
  const json = jsonFixture("collection", "collection");
  const entries = Object.fromEntries(points.files.map(({ name, bytes }) => [`day/${name}`, bytes]));
  return [
    points,
    shapefileFixture("points without an index", "point", false),
    shapefileFixture("polygons", "polygon", true),
    json,
    jsonFixture("lines", "lines"),
    csvFixture("comma", ","),
    csvFixture("semicolon", ";"),
    { name: "zip", files: [{ name: "log.zip", bytes: zipSync(entries) }], records: RECORDS, values: [] },
    {
      name: "gzip",
      files: [{ name: "log.geojson.gz", bytes: gzipSync(json.files[0]!.bytes) }],
      records: RECORDS,
      values: [],
    },
  ];
}

export type Damage =
  | "value flip"
  | "flip"
  | "flips"
  | "cut"
  | "insert"
  | "remove"
  | "overwrite"
  | "part missing";
export const DAMAGES: readonly Damage[] = [
  "value flip",
  "flip",
  "flips",
  "cut",
  "insert",
  "remove",
  "overwrite",
  "part missing",
];

export interface Damaged {
  files: InputFile[];
  /** Record whose value was hit, where only a value was. */
  record: number | null;
}

/** A damaged copy of the fixture; null where the damage does not apply to it. */
export function damage(fixture: Fixture, kind: Damage, random: (below: number) => number): Damaged | null {
  const files = fixture.files.map(({ name, bytes }) => ({ name, bytes: bytes.slice() }));
  if (kind === "value flip") {
    const span = fixture.values[random(fixture.values.length || 1)];
    if (!span) return null;
    flip(files[span.file]!.bytes, span.begin + random(span.end - span.begin), random);
    return { files, record: span.record };
  }
  if (kind === "part missing") {
    if (files.length === 1) return null;
    files.splice(random(files.length), 1);
    return { files, record: null };
  }
  const file = files[random(files.length)]!;
  const { bytes } = file;
  const at = random(bytes.length);
  const length = 1 + random(Math.min(64, bytes.length - at));
  if (kind === "flip") flip(bytes, at, random);
  else if (kind === "flips")
    for (let i = 2 + random(30); i > 0; i--) flip(bytes, random(bytes.length), random);
  else if (kind === "cut") file.bytes = bytes.slice(0, at);
  else if (kind === "remove") file.bytes = joined(bytes.subarray(0, at), bytes.subarray(at + length));
  else if (kind === "insert") {
    const filler = Uint8Array.from({ length }, () => random(256));
    file.bytes = joined(bytes.subarray(0, at), filler, bytes.subarray(at));
  } else {
    const odd = [0x00, 0xff, 0x7f, 0x22, 0x7b, 0x5b];
    bytes.fill(odd[random(odd.length)]!, at, at + length);
  }
  return { files, record: null };
}

function flip(bytes: Uint8Array, at: number, random: (below: number) => number): void {
  bytes[at] = bytes[at]! ^ (1 << random(8));
}

function joined(...parts: Uint8Array[]): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/** Values of each record as text, by its number in the file: what a reader makes of an undamaged file. */
export function recordsOf(layer: RawLayer): Map<number, string> {
  const columns = layer.columns.map(({ name }) => ({ name, values: valuesOf(layer, name) }));
  const records = new Map<number, string>();
  for (let record = 0; record < layer.recordCount; record++) {
    const cells = columns
      .filter(({ values }) => values[record] !== null)
      .map(({ name, values }) => `${name}=${values[record]}`)
      .sort();
    const place = `${layer.x[record]?.toFixed(9)} ${layer.y[record]?.toFixed(9)}`;
    records.set(layer.fileRecord?.[record] ?? record + 1, [place, ...cells].join("|"));
  }
  return records;
}

export interface Tally {
  cases: number;
  accepted: number;
  slowestMs: number;
  valueFlips: number;
  /** Value flips that were accepted with all other records as they were. */
  valueFlipsIntact: number;
}

const LONGEST_MS = 5000;

/**
 * Reads damaged copies of the fixtures and checks each outcome: a layer that adds up or a refusal, in time.
 * @throws the assertion that failed, with the seed of its case
 */
export async function runFuzz(sources: readonly Fixture[], cases: number, seed: number): Promise<Tally> {
  const whole = new Map<string, Map<number, string>>();
  for (const fixture of sources) {
    if (fixture.records === null) continue;
    const layer = await readLayer(fixture.files, { role: "plantingLog", expect: "any" });
    expect(layer.recordCount, fixture.name).toBe(fixture.records);
    whole.set(fixture.name, recordsOf(layer));
  }
  const tally: Tally = { cases: 0, accepted: 0, slowestMs: 0, valueFlips: 0, valueFlipsIntact: 0 };
  for (let number = 0; tally.cases < cases; number++) {
    const random = randomFrom(seed + number * 7919);
    for (let i = 0; i < 8; i++) random(2);
    const fixture = sources[random(sources.length)]!;
    const kind = DAMAGES[random(DAMAGES.length)]!;
    const damaged = damage(fixture, kind, random);
    if (!damaged) continue;
    tally.cases++;
    const reader = random(2) === 0 ? "fast" : "library";
    const label = `${kind} of ${fixture.name}, ${reader} reader, case ${number}`;
    const started = performance.now();
    const layer = await outcomeOf(
      damaged.files,
      reader,
      fixture.records === null ? "anything" : "any",
      label,
    );
    const took = performance.now() - started;
    expect(took, label).toBeLessThan(LONGEST_MS);
    tally.slowestMs = Math.max(tally.slowestMs, took);
    if (layer) {
      tally.accepted++;
      if (fixture.records !== null) expect(layer.recordCount, label).toBeGreaterThan(0);
      expectToAddUp(layer, label);
      if (kind === "flip" || kind === "value flip") expectAllCounted(layer, fixture, damaged, label);
    }
    if (kind !== "value flip") continue;
    tally.valueFlips++;
    if (layer && othersAreIntact(layer, whole.get(fixture.name)!, damaged.record! + 1))
      tally.valueFlipsIntact++;
  }
  return tally;
}

async function outcomeOf(
  files: InputFile[],
  reader: "fast" | "library",
  expectedGeometry: "any" | "anything",
  label: string,
): Promise<RawLayer | null> {
  try {
    return await readLayer(files, { role: "plantingLog", expect: expectedGeometry, reader });
  } catch (error) {
    if (!(error instanceof FileUnusableError))
      throw new Error(`${label}: ${String(error)}`, { cause: error });
    expect(error.message.length, label).toBeGreaterThan(20);
    return null;
  }
}

/** Every column is as long as the layer says, positions are whole or missing, records are numbered within the file. */
function expectToAddUp(layer: RawLayer, label: string): void {
  const { recordCount, recordsInFile = recordCount, fileRecord } = layer;
  const lengths = layer.columns.map((column) =>
    column.kind === "number" ? column.values.length : column.codes.length,
  );
  expect([layer.x.length, layer.y.length, ...lengths], label).toEqual(
    new Array(lengths.length + 2).fill(recordCount),
  );
  if (layer.polygons) expect(layer.polygons.length, label).toBe(recordCount);
  expect(recordsInFile, label).toBeGreaterThanOrEqual(recordCount);
  for (let record = 0; record < recordCount; record++) {
    const [x, y] = [layer.x[record]!, layer.y[record]!];
    if (Number.isFinite(x) !== Number.isFinite(y) || (!Number.isNaN(x) && !Number.isFinite(x)))
      throw new Error(`${label}: record ${record} lies at ${x}, ${y}`);
    const number = fileRecord?.[record] ?? record + 1;
    const before = record === 0 ? 0 : (fileRecord?.[record - 1] ?? record);
    if (number <= before || number > recordsInFile)
      throw new Error(`${label}: record ${record} is number ${number}`);
  }
  const leftOut = recordsInFile - recordCount;
  const noted = layer.notes
    .filter(({ effect, field }) => effect === "left out" && field === null)
    .reduce((sum, { count }) => sum + count, 0);
  expect(noted, `${label}: records left out are noted`).toBeGreaterThanOrEqual(leftOut);
}

/** A flipped bit removes no record and makes none, but for the ends of lines and what the header counts. */
function expectAllCounted(layer: RawLayer, fixture: Fixture, { files }: Damaged, label: string): void {
  const counted = layer.recordsInFile ?? layer.recordCount;
  if (fixture.files[0]!.name.endsWith(".csv") && files[0]) {
    const text = new TextDecoder("windows-1252").decode(files[0]!.bytes);
    const lines = text.split(/\r\n|\r|\n/).filter((line) => line.trim() !== "").length;
    // Within quotes a line may end without ending the row.
    expect(Math.abs(counted - (lines - 1)), label).toBeLessThanOrEqual(1);
    return;
  }
  if (fixture.records === null) return;
  const cut = layer.notes.some(({ effect, reason }) => effect === "left out" && /rest|ends/.test(reason));
  if (!cut) expect(counted, label).toBeGreaterThanOrEqual(fixture.records);
}

function othersAreIntact(layer: RawLayer, whole: Map<number, string>, hit: number): boolean {
  const records = recordsOf(layer);
  for (const [number, content] of whole) {
    if (number !== hit && records.get(number) !== content) return false;
  }
  return true;
}
