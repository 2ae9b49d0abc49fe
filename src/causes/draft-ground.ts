/** Ground planted twice and ground left out -> drafts, where they are large enough to be worth a look. */
import { FACTORS, type Factor } from "../cells/predicted-loss.ts";
import { CoverageGrid, signedArea } from "../numerics/coverage-grid.ts";
import { footprintCentre } from "../passes/covered-ground.ts";
import type { GroundBalance } from "../passes/ground-balance.ts";
import type { Passes } from "../passes/passes.ts";
import type { Cause } from "../vocabulary/causes.ts";
import type { Field, LocalPolygon } from "../vocabulary/field.ts";
import type { Draft } from "./draft.ts";
import { nameCause } from "./evidence/attribution.ts";

/**
 * Share of the field planted twice, or left out, from which the width of the bar or the positions are in doubt rather
 * than the planting (our judgement).
 */
export const DOUBTFUL_SHARE = 0.25;
/** Raster on which records are looked up in a part, m. */
const LOOK_UP_STEP_M = 1;

/** True where so much of the field comes out as planted twice or left out that neither can be right. */
export function isBalanceInDoubt(balance: GroundBalance): boolean {
  const { plantedM2, overlapM2, skippedM2 } = balance;
  const wholeM2 = plantedM2 + skippedM2;
  return Math.max(overlapM2, skippedM2) > DOUBTFUL_SHARE * wholeM2;
}

/**
 * One draft for all parts planted twice, one for all parts left out; none where the balance is in doubt. Without a
 * boundary nobody knows whether ground left out belongs to the field: it is measured, not reported.
 */
export function draftGround(field: Field, passes: Passes, balance: GroundBalance): Draft[] {
  if (isBalanceInDoubt(balance)) return [];
  const drafts: Draft[] = [];
  if (balance.overlap.length > 0) drafts.push(draftOf("planted-twice", balance.overlap, field, passes));
  if (balance.insideBoundary && balance.skipped.length > 0)
    drafts.push(draftOf("not-planted", balance.skipped, field, passes));
  return drafts;
}

function draftOf(cause: Cause, polygons: LocalPolygon[], field: Field, passes: Passes): Draft {
  const inside = cause === "planted-twice" ? recordsIn(polygons, field, passes) : null;
  const touched = new Set<number>();
  inside?.forEach((isInside, record) => {
    if (isInside) touched.add(passes.passOf[record]!);
  });
  return {
    ...nameCause(new Map([[cause, 1]])),
    kind: "area",
    basis: "predicted",
    detail: null,
    pValue: null,
    polygons,
    areaM2: polygons.flat().reduce((sum, ring) => sum + signedArea(ring), 0),
    inside: inside ?? new Uint8Array(passes.passOf.length),
    passes: [...touched].sort((a, b) => a - b),
    rowUnits: [],
    soilZones: [],
    ground: "fit",
    predicted: Object.fromEntries(FACTORS.map((factor) => [factor, 0])) as Record<Factor, number>,
    deficit: null,
    spots: [],
    digs: [],
    departure: null,
  };
}

/** 1 for records whose ground has its middle in the polygons. */
function recordsIn(polygons: readonly LocalPolygon[], field: Field, passes: Passes): Uint8Array {
  const points = polygons.flat(2);
  const range = (axis: 0 | 1): [number, number] =>
    points.reduce<[number, number]>(
      ([least, most], point) => [Math.min(least, point[axis]), Math.max(most, point[axis])],
      [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
    );
  const [[minX, maxX], [minY, maxY]] = [range(0), range(1)];
  const grid = new CoverageGrid(minX, minY, maxX, maxY, LOOK_UP_STEP_M);
  for (const rings of polygons) grid.forEachRun(rings, (from, to) => grid.mask.fill(1, from, to));
  return Uint8Array.from(passes.passOf, (pass, record) => {
    if (pass === 0) return 0;
    const [x, y] = footprintCentre(field, passes, record);
    const square = grid.squareAt(x, y);
    return square < 0 ? 0 : grid.mask[square]!;
  });
}
