/** The ground that was planted, painted from the footprints of the records. */
import { turnBetween } from "../numerics/angles.ts";
import { CoverageGrid } from "../numerics/coverage-grid.ts";
import { quantileInPlace } from "../numerics/quantile.ts";
import { partOf } from "../recognise/part-of-bar.ts";
import type { Field, LocalPolygon } from "../vocabulary/field.ts";
import type { Passes } from "./passes.ts";
import { groupBy } from "./record-groups.ts";

/** Raster for areas, m; coarser only where a field would need more squares than {@link MOST_SQUARES}. */
export const FINE_STEP_M = 0.25;
export const MOST_SQUARES = 30_000_000;
/** Raster for outlines, m. */
const OUTLINE_STEP_M = 1;
const MOST_OUTLINE_SQUARES = 2_000_000;
/** Records further apart than this (and a quarter of their way) are not joined, m (our judgement). */
const LARGEST_SEAM_M = 0.5;

/**
 * Middle of the ground a record stands for: half its way back (or ahead) from the logged position where that is
 * the end (or start) of the stretch, and its offset to the right.
 * @returns local metres
 */
export function footprintCentre(field: Field, passes: Passes, record: number): [number, number] {
  const heading = (passes.headingDeg[record]! * Math.PI) / 180;
  const ahead = pointShiftM(passes, record);
  const right = passes.offsetM[record]!;
  return [
    field.log.x[record]! + ahead * Math.sin(heading) + right * Math.cos(heading),
    field.log.y[record]! + ahead * Math.cos(heading) - right * Math.sin(heading),
  ];
}

/** Area planted at least once, m2, on a raster of 0.25 m: ground planted twice counts once. */
export function coveredAreaM2(field: Field, passes: Passes): number {
  return paint(field, passes, FINE_STEP_M, MOST_SQUARES, 0)?.area() ?? 0;
}

/**
 * Outline of the planted ground, for a field without a boundary: outer rings counter-clockwise, holes
 * clockwise. Strips left out that are narrower than a bar are closed; parts smaller than a square of the
 * bar are dropped; lines are straightened within half the raster (0.5 m, more on very large fields).
 */
export function fieldOutline(field: Field, passes: Passes): LocalPolygon[] {
  const known = outlines.get(passes);
  if (known?.field === field) return known.outline;
  const outline = outlineOf(field, passes);
  outlines.set(passes, { field, outline });
  return outline;
}

/** What was drawn before: the end rows are told by it, then the ground is. */
const outlines = new WeakMap<Passes, { field: Field; outline: LocalPolygon[] }>();

function outlineOf(field: Field, passes: Passes): LocalPolygon[] {
  const bar = barWidth(passes);
  const gapM = bar / 2;
  const grid = paint(field, passes, OUTLINE_STEP_M, MOST_OUTLINE_SQUARES, gapM + OUTLINE_STEP_M);
  if (!grid) return [];
  grid.closeGaps(Math.max(1, Math.ceil(gapM / grid.stepM)));
  return grid.trace(0.75 * grid.stepM, bar * bar);
}

/** A moment in fifty may be wider by a fault: two moments of one time, a wrong width (our judgement). */
const FULL_BAR = 0.98;

/** Width of the bar as the records show it: that of the records of one moment together, where the bar is full, m. */
export function barWidth(passes: Passes): number {
  const sums = new Float64Array(passes.momentCount);
  for (let record = 0; record < passes.passOf.length; record++) {
    if (passes.passOf[record] !== 0) sums[passes.momentOf[record]!]! += passes.widthM[record]!;
  }
  const planted = sums.filter((sum) => sum > 0);
  return planted.length > 0 ? quantileInPlace(planted, FULL_BAR) : 0;
}

/** An empty raster over the planted ground and the further points, with a margin; null where nothing is planted. */
export function gridOver(
  field: Field,
  passes: Passes,
  finestStepM: number,
  mostSquares: number,
  marginM: number,
  further: Iterable<readonly [number, number]> = [],
): CoverageGrid | null {
  let { minX, minY, maxX, maxY } = boxOfRecords(field, passes);
  forEachFootprint(field, passes, (_, [outer]) => {
    for (const [x, y] of outer!) {
      minX = Math.min(minX, x);
      maxX = Math.max(maxX, x);
      minY = Math.min(minY, y);
      maxY = Math.max(maxY, y);
    }
  });
  if (!(maxX > minX)) return null;
  for (const [x, y] of further) {
    minX = Math.min(minX, x);
    maxX = Math.max(maxX, x);
    minY = Math.min(minY, y);
    maxY = Math.max(maxY, y);
  }
  const boxM2 = (maxX - minX + 2 * marginM) * (maxY - minY + 2 * marginM);
  const stepM = Math.max(finestStepM, Math.sqrt(boxM2 / mostSquares));
  return new CoverageGrid(minX - marginM, minY - marginM, maxX + marginM, maxY + marginM, stepM);
}

/** Box round the ground of the planted records, a log of polygons apart. */
function boxOfRecords({ log }: Field, { passOf, distanceM, widthM, offsetM }: Passes) {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (let record = 0; record < log.recordCount; record++) {
    if (passOf[record] === 0) continue;
    const reach = distanceM[record]! + widthM[record]! / 2 + Math.abs(offsetM[record]!);
    minX = Math.min(minX, log.x[record]! - reach);
    maxX = Math.max(maxX, log.x[record]! + reach);
    minY = Math.min(minY, log.y[record]! - reach);
    maxY = Math.max(maxY, log.y[record]! + reach);
  }
  return { minX, minY, maxX, maxY };
}

function paint(
  field: Field,
  passes: Passes,
  finestStepM: number,
  mostSquares: number,
  marginM: number,
): CoverageGrid | null {
  const grid = gridOver(field, passes, finestStepM, mostSquares, marginM);
  if (grid) paintSweeps(field, passes, grid);
  return grid;
}

/** Paints what the bar sweeps, or the polygons of a log of polygons. */
function paintSweeps(field: Field, passes: Passes, grid: CoverageGrid): void {
  if (field.log.footprints) {
    forEachFootprint(field, passes, (_, rings) =>
      grid.forEachRun(rings, (from, to) => grid.mask.fill(1, from, to)),
    );
  } else forEachSweep(field, passes, (_, corners) => grid.paintQuad(corners));
}

/** Visits the polygons of the planted records of a log of polygons. */
export function forEachFootprint(
  field: Field,
  passes: Passes,
  visit: (record: number, rings: LocalPolygon) => void,
): void {
  field.log.footprints?.forEach((polygons, record) => {
    if (passes.passOf[record] === 0 || passes.widthM[record] === 0) return;
    for (const rings of polygons) visit(record, rings);
  });
}

/** Visits the four corners of the ground of a record in order round it, local metres: x, y, x, y ... in an array that is used again. */
export type VisitSweep = (record: number, corners: Float64Array) => void;

/**
 * Visits what the bar sweeps: each record's ground reaches from the front edge of the record before it (of the
 * same row unit or section) to its own, so that curves are covered without wedges between the records.
 */
export function forEachSweep(field: Field, passes: Passes, visit: VisitSweep): void {
  const { start, records } = groupBy(passes.momentOf, passes.momentCount);
  const beside = sideOnBar(field, passes);
  // Record before of each part of the bar, the part that is not known first.
  const previous: number[] = [];
  // The records of a moment share their heading, and so do those of the moment before.
  const [own, former] = [new Direction(), new Direction()];
  // Rear left, rear right, front right, front left; and the rear as the record before would have it.
  const corners = new Float64Array(8);
  const joined = new Float64Array(4);
  const edge = new Float64Array(4);
  for (let at = 0; at < passes.momentCount; at++) {
    for (let index = start[at]!; index < start[at + 1]!; index++) {
      const record = records[index]!;
      if (passes.passOf[record] === 0) continue;
      const half = passes.distanceM[record]! / 2;
      const unit = 1 + (beside ? beside(record, index - start[at]!) : 0);
      const before = previous[unit] ?? -1;
      own.turnTo(passes.headingDeg[record]!);
      edgeOf(field, passes, record, record, -half, own, corners);
      if (before >= 0 && passes.passOf[before] === passes.passOf[record]) {
        former.turnTo(passes.headingDeg[before]!);
        edgeOf(field, passes, before, record, passes.distanceM[before]! / 2, former, joined);
        const gap = Math.sqrt((joined[0]! - corners[0]!) ** 2 + (joined[1]! - corners[1]!) ** 2);
        const turn = Math.abs(turnBetween(passes.headingDeg[before]!, passes.headingDeg[record]!));
        const reach = (turn * Math.PI * passes.widthM[record]!) / 180;
        if (gap <= 0.5 * half + LARGEST_SEAM_M + reach && turn < 45) {
          for (let k = 0; k < 4; k++) corners[k] = joined[k]!;
        }
      }
      edgeOf(field, passes, record, record, half, own, edge);
      corners[4] = edge[2]!;
      corners[5] = edge[3]!;
      corners[6] = edge[0]!;
      corners[7] = edge[1]!;
      visit(record, corners);
      previous[unit] = record;
    }
  }
}

/** Sine and cosine of a heading, worked out when it changes. */
class Direction {
  headingDeg = 0;
  sine = 0;
  cosine = 1;

  turnTo(headingDeg: number): void {
    if (headingDeg === this.headingDeg) return;
    const heading = (headingDeg * Math.PI) / 180;
    this.headingDeg = headingDeg;
    this.sine = Math.sin(heading);
    this.cosine = Math.cos(heading);
  }
}

/** What tells the row units or sections of one moment apart: their number, else their place in it; null for whole bars. */
function sideOnBar(
  { log }: Field,
  { rowUnitOf }: Passes,
): ((record: number, place: number) => number) | null {
  if (log.layout === "bar") return null;
  if (log.layout === "row-unit") return (record) => rowUnitOf[record]!;
  const part = partOf(log);
  return part ? (record) => part[record]! : (_, place) => place;
}

/**
 * Left and right end of the edge across the ground of `place`, as wide and as far aside as that of `record`: x, y, x, y.
 * @param direction the heading at `place`
 */
function edgeOf(
  field: Field,
  passes: Passes,
  place: number,
  record: number,
  aheadM: number,
  { sine, cosine }: Direction,
  edge: Float64Array,
): void {
  const ahead = aheadM + pointShiftM(passes, place);
  const x = field.log.x[place]! + ahead * sine;
  const y = field.log.y[place]! + ahead * cosine;
  const left = passes.offsetM[record]! - passes.widthM[record]! / 2;
  const right = passes.offsetM[record]! + passes.widthM[record]! / 2;
  edge[0] = x + left * cosine;
  edge[1] = y - left * sine;
  edge[2] = x + right * cosine;
  edge[3] = y - right * sine;
}

/** Way from the logged position to the middle of the stretch the record tells of, m along the heading. */
function pointShiftM(passes: Passes, record: number): number {
  const share = passes.pointAt === "end" ? -0.5 : passes.pointAt === "start" ? 0.5 : 0;
  return share * passes.distanceM[record]!;
}
