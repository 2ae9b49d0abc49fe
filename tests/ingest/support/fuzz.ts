/** Damaged files by the thousand: ways to damage them, and what must hold of the outcome. */
import { expect } from "vitest";
import { FileUnusableError } from "../../../src/errors.ts";
import { type InputFile, type RawLayer, readLayer } from "../../../src/ingest/index.ts";
import type { Fixture } from "./fuzz-fixtures.ts";
import { valuesOf } from "./layers.ts";

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
    const started = process.cpuUsage();
    const layer = await outcomeOf(
      damaged.files,
      reader,
      fixture.records === null ? "anything" : "any",
      label,
    );
    const { user, system } = process.cpuUsage(started);
    const took = (user + system) / 1000;
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

/** The layer, null where the file is refused with a reason; anything else that is thrown fails. */
export async function outcomeOf(
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
export function expectToAddUp(layer: RawLayer, label: string): void {
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
