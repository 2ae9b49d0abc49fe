/** What the planter did to the ground: planted once, planted twice or more, left out. */
import { CoverageGrid, signedArea } from "../numerics/coverage-grid.ts";
import type { Field, LocalPolygon } from "../vocabulary/field.ts";
import { PLANTING_VARIABLES } from "../vocabulary/variables.ts";
import {
  barWidth,
  FINE_STEP_M,
  forEachFootprint,
  forEachSweep,
  gridOver,
  MOST_SQUARES,
} from "./covered-ground.ts";
import type { Passes } from "./passes.ts";

export interface GroundBalance {
  /** Planted at least once, m2. */
  plantedM2: number;
  /** Of it planted by two passes or more, m2. */
  overlapM2: number;
  /** Not planted inside the outline, m2. */
  skippedM2: number;
  /** Ground inside the outline, m2. */
  outlineM2: number;
  /** Planted inside the outline by records with a reading of how well it was planted, m2. */
  judgedM2: number;
  /** Whether the outline is the field's boundary; else it is drawn from the planted ground itself, and gaps up to a bar wide count as inside. */
  insideBoundary: boolean;
  /** Parts planted twice and parts left out that are large enough to be more than the edge of a pass. */
  overlap: LocalPolygon[];
  skipped: LocalPolygon[];
}

/** A part counts as a place from this size (our judgement). */
export const SMALLEST_PART_M2 = 500;
/** ... and from this share of the bar in width (our judgement). */
export const NARROWEST_PART_BARS = 0.5;
/** Raster of the parts, m. */
export const PART_STEP_M = 1;

/**
 * Areas on a raster of 0.25 m (coarser only on very large fields). Ground that one pass sweeps more than once, as on
 * the inside of a curve, counts as planted once.
 * @param outline the field's boundary, or the outline of the planted ground
 */
export function groundBalance(field: Field, passes: Passes, outline: readonly LocalPolygon[]): GroundBalance {
  const grid = gridOver(field, passes, FINE_STEP_M, MOST_SQUARES, 0, outline.flat(2));
  const insideBoundary = field.boundary !== null;
  if (!grid) {
    const none = { plantedM2: 0, overlapM2: 0, skippedM2: 0, outlineM2: 0, judgedM2: 0 };
    return { ...none, insideBoundary, overlap: [], skipped: [] };
  }
  const { values } = field.log;
  const readings = PLANTING_VARIABLES.flatMap((variable) => values[variable] ?? []);
  const hasReading = (record: number): boolean => {
    for (const column of readings) if (!Number.isNaN(column[record]!)) return true;
    return false;
  };
  const lastPass = new (passes.passes.length > 65_535 ? Uint32Array : Uint16Array)(grid.mask.length);
  const state = grid.mask;
  forEachGround(grid, field, passes, hasReading, (pass, isRead) => {
    const read = isRead ? READ : 0;
    return (from, to) => {
      for (let square = from; square < to; square++) {
        const last = lastPass[square]!;
        state[square]! |= read;
        if (last === pass) continue;
        state[square]! |= last === 0 ? PLANTED : PLANTED | TWICE;
        lastPass[square] = pass;
      }
    };
  });
  for (const rings of outline) {
    grid.forEachRun(rings, (from, to) => {
      for (let square = from; square < to; square++) {
        if (state[square] === 0) state[square] = SKIPPED;
        state[square]! |= INSIDE;
      }
    });
  }
  const counted = countOf(state);
  const squareM2 = grid.stepM * grid.stepM;
  const bar = barWidth(passes);
  const parts = (flag: number): LocalPolygon[] =>
    counted(flag) === 0 ? [] : largeParts(coarseParts(grid, flag), bar);
  return {
    plantedM2: counted(PLANTED) * squareM2,
    overlapM2: counted(TWICE) * squareM2,
    skippedM2: counted(SKIPPED) * squareM2,
    outlineM2: counted(INSIDE) * squareM2,
    judgedM2: counted(INSIDE | READ) * squareM2,
    insideBoundary,
    overlap: parts(TWICE),
    skipped: parts(SKIPPED),
  };
}

const PLANTED = 1;
const TWICE = 2;
const SKIPPED = 4;
const READ = 8;
const INSIDE = 16;

/** Counts the squares of each state in one go; gives the number of those that carry all of some flags. */
function countOf(state: Uint8Array): (flags: number) => number {
  const byState = new Float64Array(2 * INSIDE);
  // Long runs of squares are alike: four at a time where they are.
  const words = new Uint32Array(state.buffer, state.byteOffset, state.length >> 2);
  for (let word = 0; word < words.length; ) {
    const first = words[word]!;
    let end = word + 1;
    while (end < words.length && words[end] === first) end++;
    for (let byte = 0; byte < 32; byte += 8) byState[(first >>> byte) & 0xff]! += end - word;
    word = end;
  }
  for (let square = 4 * words.length; square < state.length; square++) byState[state[square]!]!++;
  return (flags) => byState.reduce((sum, count, one) => ((one & flags) === flags ? sum + count : sum), 0);
}

/** A raster of 1 m of the ground that mostly carries the flag. */
function coarseParts(grid: CoverageGrid, flag: number): CoverageGrid {
  const factor = Math.max(1, Math.round(PART_STEP_M / grid.stepM));
  const { columns, rows, mask } = grid;
  // The raster keeps one empty square beyond its box on every side.
  const coarse = new CoverageGrid(
    grid.minX,
    grid.minY,
    grid.minX + columns * grid.stepM,
    grid.minY + rows * grid.stepM,
    factor * grid.stepM,
  );
  // Four squares at a time: few carry the flag.
  const words = new Uint32Array(mask.buffer, mask.byteOffset, mask.length >> 2);
  const flags = flag * 0x01010101;
  const tell = (square: number): void => {
    if ((mask[square]! & flag) === 0) return;
    const row = Math.floor(square / columns);
    const column = square - row * columns;
    coarse.mask[(Math.floor(row / factor) + 1) * coarse.columns + Math.floor(column / factor) + 1]!++;
  };
  for (let word = 0; word < words.length; word++) {
    if ((words[word]! & flags) === 0) continue;
    for (let square = 4 * word; square < 4 * word + 4; square++) tell(square);
  }
  for (let square = 4 * words.length; square < mask.length; square++) tell(square);
  const half = (factor * factor) / 2;
  for (let place = 0; place < coarse.mask.length; place++) {
    coarse.mask[place] = coarse.mask[place]! >= half ? 1 : 0;
  }
  return coarse;
}

/** Neighbouring row units whose ground meets within this are painted as one, m: less than half a square of the raster. */
const SAME_EDGE_M = 0.1;

/** Visits runs of squares of a grid: the mask's places from the first included to the last, which is not. */
type VisitRun = (from: number, to: number) => void;

/**
 * Paints the ground of each pass on a grid: the polygons of a log of polygons, else what the bar sweeps.
 * @param brush what to do with the runs of one piece of ground, by its pass and whether it has a reading
 */
export function forEachGround(
  grid: CoverageGrid,
  field: Field,
  passes: Passes,
  hasReading: (record: number) => boolean,
  brush: (pass: number, isRead: boolean) => VisitRun,
): void {
  if (field.log.footprints) {
    forEachFootprint(field, passes, (record, rings) =>
      grid.forEachRun(rings, brush(passes.passOf[record]!, hasReading(record))),
    );
  } else {
    forEachBarSweep(field, passes, hasReading, (pass, isRead, corners) =>
      grid.forEachRunOfQuad(corners, brush(pass, isRead)),
    );
  }
}

/** As {@link forEachSweep}, neighbouring row units of one moment taken together, which is many times quicker. */
function forEachBarSweep(
  field: Field,
  passes: Passes,
  hasReading: (record: number) => boolean,
  visit: (pass: number, isRead: boolean, corners: Float64Array) => void,
): void {
  const pending = new Float64Array(8);
  let isPending = false;
  let isRead = false;
  let pass = 0;
  let moment = -1;
  forEachSweep(field, passes, (record, corners) => {
    const read = hasReading(record);
    if (
      isPending &&
      passes.momentOf[record] === moment &&
      read === isRead &&
      passes.passOf[record] === pass
    ) {
      if (meet(pending, 2, corners, 0) && meet(pending, 4, corners, 6)) {
        for (let k = 2; k < 6; k++) pending[k] = corners[k]!;
        return;
      }
      if (meet(pending, 0, corners, 2) && meet(pending, 6, corners, 4)) {
        for (const k of OTHER_SIDE) pending[k] = corners[k]!;
        return;
      }
    }
    if (isPending) visit(pass, isRead, pending);
    pending.set(corners);
    isPending = true;
    isRead = read;
    pass = passes.passOf[record]!;
    moment = passes.momentOf[record]!;
  });
  if (isPending) visit(pass, isRead, pending);
}

/** Places of the corners on the left of a figure. */
const OTHER_SIDE = [0, 1, 6, 7] as const;

/** Whether two corners lie within {@link SAME_EDGE_M} of each other, each by the place of its x in its array. */
function meet(a: Float64Array, atA: number, b: Float64Array, atB: number): boolean {
  return Math.abs(a[atA]! - b[atB]!) <= SAME_EDGE_M && Math.abs(a[atA + 1]! - b[atB + 1]!) <= SAME_EDGE_M;
}

/** Outlines of the parts at least half a bar wide and of the smallest size, largest first. */
export function largeParts(coarse: CoverageGrid, bar: number): LocalPolygon[] {
  if (!coarse.mask.includes(1)) return [];
  coarse.removeThinParts(Math.max(1, Math.round((NARROWEST_PART_BARS * bar) / 2 / coarse.stepM)));
  return coarse
    .trace(0.75 * coarse.stepM, SMALLEST_PART_M2)
    .sort((a, b) => signedArea(b[0]!) - signedArea(a[0]!));
}
