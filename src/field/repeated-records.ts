/** Records that stand in the file twice: pieces of a log that were put together more than once. */
import type { RawColumn, RawLayer } from "../ingest/layer.ts";
import type { NoteBook } from "../ingest/note-book.ts";
import { recordNumber } from "../ingest/record-number.ts";

/** Why a record that stands in the file twice is left out. */
export const REPEATED = "repeats an earlier record exactly; the record is left out";

/** More repeats than this share right behind their original are sections at the position of the bar (our judgement). */
const MOST_REPEATS_IN_PLACE = 1 / 3;

/**
 * The kept records without those that repeat an earlier one in position and every column. Where a third of the
 * log repeats the record right before, the records are parts of the bar that nothing tells apart: they stay.
 * @param kept record numbers, 0-based, in the order of the file
 */
export function withoutRepeats(layer: RawLayer, kept: Int32Array, notes: NoteBook): Int32Array {
  const original = originals(layer, kept);
  let repeats = 0;
  let inPlace = 0;
  let first = -1;
  for (let place = 0; place < kept.length; place++) {
    if (original[place] === place) continue;
    repeats += 1;
    if (first < 0) first = kept[place]!;
    if (same(layer, kept[place]!, kept[place - 1]!)) inPlace += 1;
  }
  if (repeats === 0) return kept;
  const areParts = inPlace > MOST_REPEATS_IN_PLACE * kept.length;
  notes.add({
    reason: areParts
      ? "is the same as the record before it, as for parts of the bar that share its position; taken as such"
      : REPEATED,
    effect: areParts ? "assumed" : "left out",
    record: recordNumber(layer, first),
    count: repeats,
  });
  return areParts ? kept : kept.filter((_, place) => original[place] === place);
}

/** Place of the first record equal to each one; its own place where there is none before it. */
function originals(layer: RawLayer, kept: Int32Array): Int32Array {
  const hash = hashes(layer, kept);
  const slots = new Int32Array(2 ** Math.ceil(Math.log2(2 * kept.length + 2))).fill(-1);
  const original = new Int32Array(kept.length);
  for (let place = 0; place < kept.length; place++) {
    let slot = hash[place]! & (slots.length - 1);
    for (;;) {
      const other = slots[slot]!;
      if (other < 0) {
        slots[slot] = place;
        original[place] = place;
        break;
      }
      if (hash[other] === hash[place] && same(layer, kept[other]!, kept[place]!)) {
        original[place] = other;
        break;
      }
      slot = (slot + 1) & (slots.length - 1);
    }
  }
  return original;
}

/** One 32-bit hash a record, over its position and all columns. */
function hashes(layer: RawLayer, kept: Int32Array): Int32Array {
  const hash = new Int32Array(kept.length);
  const mix = (place: number, bits: number) => {
    const mixed = Math.imul(hash[place]! ^ bits, 0x9e3779b1);
    hash[place] = mixed ^ (mixed >>> 15);
  };
  const mixNumbers = (values: Float64Array) => {
    const halves = new Int32Array(values.buffer, values.byteOffset, 2 * values.length);
    for (let place = 0; place < kept.length; place++) {
      mix(place, halves[2 * kept[place]!]!);
      mix(place, halves[2 * kept[place]! + 1]!);
    }
  };
  mixNumbers(layer.x);
  mixNumbers(layer.y);
  for (const column of layer.columns) {
    if (column.kind === "number") mixNumbers(column.values);
    else for (let place = 0; place < kept.length; place++) mix(place, column.codes[kept[place]!]!);
  }
  return hash;
}

function same(layer: RawLayer, one: number, other: number): boolean {
  return (
    layer.x[one] === layer.x[other] &&
    layer.y[one] === layer.y[other] &&
    layer.columns.every((column) => sameIn(column, one, other))
  );
}

function sameIn(column: RawColumn, one: number, other: number): boolean {
  return column.kind === "number"
    ? Object.is(column.values[one], column.values[other])
    : column.codes[one] === column.codes[other];
}
