/**
 * Which ground each count may have been made on. A position read in the hand is off by metres, so the rows beneath a count
 * are a distribution: every record near it gets the share that its rows have in the counted ones, by a normal error of
 * position along and across the rows. A count that names its row unit has that row's records alone.
 */
import type { Field } from "../field/field.ts";
import { median } from "../numerics/descriptive.ts";
import { footprintCentre } from "../passes/covered-ground.ts";
import type { Passes } from "../passes/passes.ts";
import { POSITION_ERROR_M, type Spots } from "../stand/spots.ts";
import { quickNormalCdf } from "./normal-table.ts";

export interface Exposure {
  /** Records of spot s are `record[start[s]..start[s + 1])` with shares that sum to 1 (none where the log is far away). */
  start: Int32Array;
  record: Int32Array;
  share: Float64Array;
  /** Row units on the bar; 0 where neither the manifest nor the log tells. */
  rowUnits: number;
  /** Share of row unit r (1-based) in spot s at `rowShare[s * rowUnits + r - 1]`; sums to 1 over the rows. */
  rowShare: Float64Array;
  /** 1 for spots whose row unit the count itself names. */
  named: Uint8Array;
}

const BIN_M = 10;
/** Records further than this beyond the counted rows have no share worth the work, in SD of the position. */
const REACH_SD = 3;
const USUAL_ROW_SPACING_M = 0.762;

/** Works out the shares of all spots. */
export function exposureOf(
  field: Field,
  passes: Passes,
  spots: Spots,
  positionErrorM = POSITION_ERROR_M,
): Exposure {
  const spacingM = field.planter.rowSpacingM ?? USUAL_ROW_SPACING_M;
  const rowUnits = rowUnitCountOf(field, passes, spacingM);
  const counts = field.standCounts!;
  const moved = passes.distanceM.filter((value) => value > 0);
  const stepM = moved.length > 0 ? median(moved) : 5;
  const near = recordsNear(field, passes, spots, reachOf(counts, stepM, spacingM, positionErrorM));
  const bar = barCentres(field, passes, near.all);
  const start = new Int32Array(spots.count + 1);
  const record: number[] = [];
  const share: number[] = [];
  const rowShare = new Float64Array(spots.count * rowUnits);
  const named = new Uint8Array(spots.count);
  for (let s = 0; s < spots.count; s++) {
    const source = spots.source[s]!;
    const row = counts.rowUnit[source]!;
    named[s] = row > 0 ? 1 : 0;
    const rowsCounted = Number.isNaN(counts.rowsCounted[source]!) ? 1 : counts.rowsCounted[source]!;
    const lengthM = Number.isNaN(counts.rowLengthM[source]!) ? 0 : counts.rowLengthM[source]!;
    const halfLengthM = (lengthM + stepM) / 2;
    const from = record.length;
    let total = 0;
    for (const i of near.about(s)) {
      const heading = (passes.headingDeg[i]! * Math.PI) / 180;
      const [sine, cosine] = [Math.sin(heading), Math.cos(heading)];
      const [x, y] = near.centre(i);
      const dx = spots.x[s]! - x;
      const dy = spots.y[s]! - y;
      const along = dx * sine + dy * cosine;
      const across = dx * cosine - dy * sine;
      const alongShare =
        quickNormalCdf((halfLengthM - along) / positionErrorM) -
        quickNormalCdf((-halfLengthM - along) / positionErrorM);
      if (alongShare < 1e-4) continue;
      const widthM = passes.widthM[i]! || spacingM;
      const unit = passes.rowUnitOf[i]!;
      // Rows that the record stands for, by their place on the bar.
      const first = unit > 0 ? unit : firstRow(bar.lateralOf(i), widthM, spacingM, rowUnits);
      const rows = unit > 0 ? 1 : Math.max(1, Math.round(widthM / spacingM));
      let own = 0;
      for (let k = 0; k < rows; k++) {
        const number = first + k;
        if (row > 0 && rowUnits > 0 && number !== row) continue;
        const rowAt = unit > 0 ? 0 : -widthM / 2 + (k + 0.5) * (widthM / rows);
        const half = widthM / rows / 2;
        let acrossShare = 0;
        if (row > 0) {
          acrossShare = 1e-3 + spread(across - rowAt, half, positionErrorM);
        } else {
          for (let c = 0; c < rowsCounted; c++) {
            const offset = (c - (rowsCounted - 1) / 2) * spacingM;
            acrossShare += spread(across + offset - rowAt, half, positionErrorM);
          }
        }
        const weight = alongShare * acrossShare;
        own += weight;
        if (number >= 1 && number <= rowUnits) rowShare[s * rowUnits + number - 1]! += weight;
      }
      if (own < 1e-5) continue;
      record.push(i);
      share.push(own);
      total += own;
    }
    for (let k = from; k < share.length; k++) share[k]! /= total;
    normaliseRows(rowShare, s, rowUnits);
    start[s + 1] = record.length;
  }
  return {
    start,
    record: Int32Array.from(record),
    share: Float64Array.from(share),
    rowUnits,
    rowShare,
    named,
  };
}

/** Share of a normal error that lands within half a width of a line at a distance. */
function spread(distanceM: number, halfM: number, errorM: number): number {
  return quickNormalCdf((halfM - distanceM) / errorM) - quickNormalCdf((-halfM - distanceM) / errorM);
}

function normaliseRows(rowShare: Float64Array, s: number, rowUnits: number): void {
  let sum = 0;
  for (let r = 0; r < rowUnits; r++) sum += rowShare[s * rowUnits + r]!;
  if (sum > 0) for (let r = 0; r < rowUnits; r++) rowShare[s * rowUnits + r]! /= sum;
}

/** Number of the leftmost row of a record that stands for several, from its place on the bar. */
function firstRow(lateralM: number, widthM: number, spacingM: number, rowUnits: number): number {
  if (rowUnits === 0) return 0;
  const middle = lateralM / spacingM + (rowUnits + 1) / 2;
  return Math.round(middle - widthM / spacingM / 2 + 0.5);
}

/** Row units by the manifest, else by the log's numbers, else by the width of the bar. */
function rowUnitCountOf(field: Field, passes: Passes, spacingM: number): number {
  if (field.planter.rowUnits) return field.planter.rowUnits;
  if (passes.rowUnitCount > 0) return passes.rowUnitCount;
  const widths = new Float64Array(passes.instantCount);
  for (let i = 0; i < passes.passOf.length; i++)
    if (passes.passOf[i] !== 0) widths[passes.instantOf[i]!]! += passes.widthM[i]!;
  const present = widths.filter((width) => width > 0);
  return present.length > 0 ? Math.round(median(present) / spacingM) : 0;
}

function reachOf(
  counts: NonNullable<Field["standCounts"]>,
  stepM: number,
  spacingM: number,
  positionErrorM: number,
): number {
  let longest = 0;
  for (let s = 0; s < counts.spotCount; s++) {
    const rows = Number.isNaN(counts.rowsCounted[s]!) ? 1 : counts.rowsCounted[s]!;
    const length = Number.isNaN(counts.rowLengthM[s]!) ? 0 : counts.rowLengthM[s]!;
    longest = Math.max(longest, Math.hypot((length + stepM) / 2, (rows * spacingM) / 2));
  }
  return longest + REACH_SD * positionErrorM;
}

interface NearRecords {
  /** Every record in a bin that a spot may reach, ascending. */
  all: readonly number[];
  about: (spot: number) => readonly number[];
  centre: (record: number) => [number, number];
}

/** Bins of 10 m that some spot may reach, with the records in them; the rest of the log is passed over once. */
function recordsNear(field: Field, passes: Passes, spots: Spots, reachM: number): NearRecords {
  const key = (x: number, y: number): number => Math.floor(x / BIN_M) * 1_000_003 + Math.floor(y / BIN_M);
  const bins = new Map<number, number[]>();
  const widest = passes.widthM.reduce((most, width) => Math.max(most, width), 0);
  const reach = reachM + widest / 2;
  const binsOf = (s: number): number[] => {
    const keys: number[] = [];
    for (let x = spots.x[s]! - reach; x < spots.x[s]! + reach + BIN_M; x += BIN_M)
      for (let y = spots.y[s]! - reach; y < spots.y[s]! + reach + BIN_M; y += BIN_M) keys.push(key(x, y));
    return [...new Set(keys)];
  };
  for (let s = 0; s < spots.count; s++) for (const bin of binsOf(s)) bins.set(bin, []);
  const centres = new Map<number, [number, number]>();
  const all: number[] = [];
  for (let i = 0; i < passes.passOf.length; i++) {
    if (passes.passOf[i] === 0) continue;
    const centre = footprintCentre(field, passes, i);
    const bin = bins.get(key(centre[0], centre[1]));
    if (!bin) continue;
    bin.push(i);
    all.push(i);
    centres.set(i, centre);
  }
  return {
    all,
    about: (s) => binsOf(s).flatMap((bin) => bins.get(bin)!),
    centre: (i) => centres.get(i)!,
  };
}

/** Where a record lies on the bar of its moment, m to the right of the bar's middle. */
function barCentres(
  field: Field,
  passes: Passes,
  records: readonly number[],
): { lateralOf: (record: number) => number } {
  const sums = new Map<number, { x: number; y: number; width: number }>();
  const touched = new Uint8Array(passes.instantCount);
  for (const i of records) touched[passes.instantOf[i]!] = 1;
  // A bar is wider than the reach of a count: all records of its moment tell where its middle is.
  for (let i = 0; i < passes.passOf.length; i++) {
    if (passes.passOf[i] === 0 || touched[passes.instantOf[i]!] === 0) continue;
    const [x, y] = footprintCentre(field, passes, i);
    const width = passes.widthM[i]! || 1;
    const sum = sums.get(passes.instantOf[i]!) ?? { x: 0, y: 0, width: 0 };
    sum.x += x * width;
    sum.y += y * width;
    sum.width += width;
    sums.set(passes.instantOf[i]!, sum);
  }
  return {
    lateralOf: (i) => {
      const sum = sums.get(passes.instantOf[i]!)!;
      const [x, y] = footprintCentre(field, passes, i);
      const heading = (passes.headingDeg[i]! * Math.PI) / 180;
      return (x - sum.x / sum.width) * Math.cos(heading) - (y - sum.y / sum.width) * Math.sin(heading);
    },
  };
}
