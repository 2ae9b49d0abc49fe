/** Records -> cells: pieces of a pass about 12 m long, as wide as the bar. */
import { depthSteps } from "../compare/depth-spread.ts";
import { THRESHOLDS } from "../compare/thresholds.ts";
import { isMeasuredDepth } from "../field/depth-source.ts";
import { quantileInPlace } from "../numerics/quantile.ts";
import { footprintCentre } from "../passes/covered-ground.ts";
import type { Passes } from "../passes/passes.ts";
import type { Field } from "../vocabulary/field.ts";
import { PLANTING_VARIABLES } from "../vocabulary/variables.ts";
import type { Cells } from "./cells.ts";
import { largestZone, zoneSharesOf } from "./zone-shares.ts";

/** Length of a cell along the pass, m: short against the places looked for, long against one record. */
export const CELL_LENGTH_M = 12;

/**
 * Builds the cells of a field. Records on no pass are left out; a record marked as not working too.
 * @returns cells sorted by pass and piece, plus `cellOf`: the cell of each record, -1 where none.
 */
export function makeCells(
  field: Field,
  passes: Passes,
  zoneOfRecord: Int32Array,
): { cells: Cells; cellOf: Int32Array } {
  const recordCount = field.log.recordCount;
  const working = field.log.values.working;
  const firstCellOfPass = new Int32Array(passes.passes.length + 2);
  const piecesOfPass = new Int32Array(passes.passes.length + 1);
  for (let i = 0; i < recordCount; i++) {
    const pass = passes.passOf[i]!;
    if (pass === 0) continue;
    const piece = Math.max(0, Math.floor(passes.alongM[i]! / CELL_LENGTH_M));
    if (piece + 1 > piecesOfPass[pass]!) piecesOfPass[pass] = piece + 1;
  }
  for (let pass = 1; pass < piecesOfPass.length; pass++) {
    firstCellOfPass[pass + 1] = firstCellOfPass[pass]! + piecesOfPass[pass]!;
  }
  const slotCount = firstCellOfPass[piecesOfPass.length]!;
  const slotOf = new Int32Array(recordCount).fill(-1);
  const slotRecords = new Int32Array(slotCount);
  for (let i = 0; i < recordCount; i++) {
    const pass = passes.passOf[i]!;
    if (pass === 0 || working?.[i] === 0) continue;
    const slot = firstCellOfPass[pass]! + Math.max(0, Math.floor(passes.alongM[i]! / CELL_LENGTH_M));
    slotOf[i] = slot;
    slotRecords[slot]!++;
  }
  // Empty pieces (lifted stretches) are dropped.
  const cellOfSlot = new Int32Array(slotCount).fill(-1);
  let count = 0;
  for (let slot = 0; slot < slotCount; slot++) if (slotRecords[slot]! > 0) cellOfSlot[slot] = count++;
  const cellOf = new Int32Array(recordCount).fill(-1);
  for (let i = 0; i < recordCount; i++) if (slotOf[i]! >= 0) cellOf[i] = cellOfSlot[slotOf[i]!]!;

  const cells: Cells = {
    count,
    pass: new Int32Array(count),
    piece: new Int32Array(count),
    x: new Float64Array(count),
    y: new Float64Array(count),
    areaM2: new Float64Array(count),
    headingDeg: new Float64Array(count),
    zone: new Int32Array(count).fill(-1),
    mean: {},
    depthSdMm: null,
    marginP10N: null,
    noLoadShare: null,
    records: new Int32Array(count),
  };
  for (let pass = 1; pass < piecesOfPass.length; pass++) {
    for (let piece = 0; piece < piecesOfPass[pass]!; piece++) {
      const cell = cellOfSlot[firstCellOfPass[pass]! + piece]!;
      if (cell >= 0) {
        cells.pass[cell] = pass;
        cells.piece[cell] = piece;
      }
    }
  }
  fillPlaces(cells, cellOf, field, passes);
  cells.zoneShares = zoneSharesOf(cellOf, zoneOfRecord, count, field.soilZones?.names.length ?? 0);
  cells.zone = largestZone(cells.zoneShares);
  for (const variable of PLANTING_VARIABLES) {
    const values = field.log.values[variable];
    if (values) cells.mean[variable] = meanByCell(values, cellOf, count);
  }
  const depth = field.log.values.seedingDepth;
  // A setting that is changed along the way is no spread of the seed.
  if (depth && isMeasuredDepth(field.log.depthSource))
    cells.depthSdMm = spreadByCell(depth, cellOf, passes, cells);
  const margin = field.log.values.downForceMargin;
  if (margin) fillMarginTails(cells, margin, cellOf);
  return { cells, cellOf };
}

function fillPlaces(cells: Cells, cellOf: Int32Array, field: Field, passes: Passes): void {
  const sine = new Float64Array(cells.count);
  const cosine = new Float64Array(cells.count);
  for (let i = 0; i < cellOf.length; i++) {
    const cell = cellOf[i]!;
    if (cell < 0) continue;
    const heading = (passes.headingDeg[i]! * Math.PI) / 180;
    const [x, y] = footprintCentre(field, passes, i);
    cells.x[cell]! += x;
    cells.y[cell]! += y;
    sine[cell]! += Math.sin(heading);
    cosine[cell]! += Math.cos(heading);
    cells.areaM2[cell]! += passes.distanceM[i]! * passes.widthM[i]!;
    cells.records[cell]!++;
  }
  for (let cell = 0; cell < cells.count; cell++) {
    cells.x[cell]! /= cells.records[cell]!;
    cells.y[cell]! /= cells.records[cell]!;
    cells.headingDeg[cell] = ((Math.atan2(sine[cell]!, cosine[cell]!) * 180) / Math.PI + 360) % 360;
  }
}

/** Mean of the present values by cell; NaN where a cell has none. */
function meanByCell(values: Float64Array, cellOf: Int32Array, count: number): Float64Array {
  const sum = new Float64Array(count);
  const n = new Int32Array(count);
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (cellOf[i]! < 0 || Number.isNaN(value)) continue;
    sum[cellOf[i]!]! += value;
    n[cellOf[i]!]!++;
  }
  for (let cell = 0; cell < count; cell++) sum[cell] = n[cell]! > 0 ? sum[cell]! / n[cell]! : Number.NaN;
  return sum;
}

/**
 * Spread of depth along the row by cell, mm. One cell holds few steps, so a cell and the pieces before and
 * after it on its pass are pooled.
 */
function spreadByCell(depth: Float64Array, cellOf: Int32Array, passes: Passes, cells: Cells): Float64Array {
  const { halfSquares, steps } = depthSteps(depth, cellOf, passes, cells.count);
  const sd = new Float64Array(cells.count).fill(Number.NaN);
  for (let cell = 0; cell < cells.count; cell++) {
    let sum = 0;
    let n = 0;
    for (let other = Math.max(0, cell - 1); other <= Math.min(cells.count - 1, cell + 1); other++) {
      if (cells.pass[other] !== cells.pass[cell]) continue;
      sum += halfSquares[other]!;
      n += steps[other]!;
    }
    if (n >= 4) sd[cell] = Math.sqrt(sum / n);
  }
  return sd;
}

function fillMarginTails(cells: Cells, margin: Float64Array, cellOf: Int32Array): void {
  const counts = new Int32Array(cells.count + 1);
  for (let i = 0; i < margin.length; i++)
    if (cellOf[i]! >= 0 && !Number.isNaN(margin[i]!)) counts[cellOf[i]! + 1]!++;
  for (let cell = 0; cell < cells.count; cell++) counts[cell + 1]! += counts[cell]!;
  const sorted = new Float64Array(counts[cells.count]!);
  const next = counts.slice();
  for (let i = 0; i < margin.length; i++) {
    if (cellOf[i]! >= 0 && !Number.isNaN(margin[i]!)) sorted[next[cellOf[i]!]!++] = margin[i]!;
  }
  const p10 = new Float64Array(cells.count).fill(Number.NaN);
  const noLoad = new Float64Array(cells.count).fill(Number.NaN);
  for (let cell = 0; cell < cells.count; cell++) {
    const group = sorted.subarray(counts[cell]!, counts[cell + 1]!);
    if (group.length === 0) continue;
    let without = 0;
    for (const value of group) if (value <= THRESHOLDS.noLoad.value) without++;
    noLoad[cell] = without / group.length;
    p10[cell] = quantileInPlace(group, 0.1);
  }
  cells.marginP10N = p10;
  cells.noLoadShare = noLoad;
}
