/**
 * Which ground each count may have been made on. A position read in the hand is off by metres, so the rows beneath a count
 * are a distribution: every record near it gets the share that its rows have in the counted ones, by a normal error of
 * position along and across the rows. A count that names its row unit has that row's records alone.
 */
import { median } from "../numerics/descriptive.ts";
import { PointBins } from "../numerics/point-bins.ts";
import { footprintCentre } from "../passes/covered-ground.ts";
import type { Passes } from "../passes/passes.ts";
import { POSITION_ERROR_M, type Spots } from "../stand/spots.ts";
import type { Field } from "../vocabulary/field.ts";
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
  const bar = barCentres(passes, near);
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
    near.forEachAbout(s, (i) => {
      const dx = spots.x[s]! - near.x[i]!;
      const dy = spots.y[s]! - near.y[i]!;
      const along = dx * near.sine[i]! + dy * near.cosine[i]!;
      const across = dx * near.cosine[i]! - dy * near.sine[i]!;
      const alongShare =
        quickNormalCdf((halfLengthM - along) / positionErrorM) -
        quickNormalCdf((-halfLengthM - along) / positionErrorM);
      if (alongShare < 1e-4) return;
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
      if (own < 1e-5) return;
      record.push(i);
      share.push(own);
      total += own;
    });
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
  const widths = new Float64Array(passes.momentCount);
  for (let i = 0; i < passes.passOf.length; i++)
    if (passes.passOf[i] !== 0) widths[passes.momentOf[i]!]! += passes.widthM[i]!;
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

/** Middles and headings of the records that a spot may reach, and the bins that hold them. */
interface NearRecords {
  x: Float64Array;
  y: Float64Array;
  sine: Float64Array;
  cosine: Float64Array;
  /** Visits every record in a bin that the spot may reach. */
  forEachAbout: (spot: number, visit: (record: number) => void) => void;
}

/** The rest of the log is passed over once. */
function recordsNear(field: Field, passes: Passes, spots: Spots, reachM: number): NearRecords {
  const widest = passes.widthM.reduce((most, width) => Math.max(most, width), 0);
  const reach = reachM + widest / 2;
  // Whole bins, so that a shift of the field does not change how many of them a count looks into.
  const acrossM = (Math.ceil((2 * reach + BIN_M) / BIN_M) - 1) * BIN_M;
  const isOnPass = (record: number): boolean => passes.passOf[record] !== 0;
  const count = passes.passOf.length;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const sine = new Float64Array(count);
  const cosine = new Float64Array(count);
  for (let record = 0; record < count; record++) {
    if (!isOnPass(record)) continue;
    [x[record], y[record]] = footprintCentre(field, passes, record);
    const heading = (passes.headingDeg[record]! * Math.PI) / 180;
    sine[record] = Math.sin(heading);
    cosine[record] = Math.cos(heading);
  }
  const bins = new PointBins(x, y, BIN_M, isOnPass);
  return {
    x,
    y,
    sine,
    cosine,
    forEachAbout(spot, visit) {
      const [minX, minY] = [spots.x[spot]! - reach, spots.y[spot]! - reach];
      bins.forEachAbout(minX, minY, minX + acrossM, minY + acrossM, visit);
    },
  };
}

/** Where records lie on the bar of their moment, m to the right of the bar's middle. */
function barCentres(passes: Passes, near: NearRecords): { lateralOf: (record: number) => number } {
  const sumX = new Float64Array(passes.momentCount);
  const sumY = new Float64Array(passes.momentCount);
  const sumWidth = new Float64Array(passes.momentCount);
  // A bar is wider than the reach of a count: all records of its moment tell where its middle is.
  for (let i = 0; i < passes.passOf.length; i++) {
    if (passes.passOf[i] === 0) continue;
    const width = passes.widthM[i]! || 1;
    const at = passes.momentOf[i]!;
    sumX[at]! += near.x[i]! * width;
    sumY[at]! += near.y[i]! * width;
    sumWidth[at]! += width;
  }
  return {
    lateralOf: (i) => {
      const at = passes.momentOf[i]!;
      return (
        (near.x[i]! - sumX[at]! / sumWidth[at]!) * near.cosine[i]! -
        (near.y[i]! - sumY[at]! / sumWidth[at]!) * near.sine[i]!
      );
    },
  };
}
