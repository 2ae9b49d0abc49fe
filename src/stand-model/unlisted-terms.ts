/**
 * Places that nothing in the log points to, as terms: discs and strips along the passes, laid over the whole field. Their prior
 * is shared out over all of them before any is dropped: that is the price of looking everywhere.
 */
import type { Cells } from "../cells/cells.ts";
import { PointBins } from "../numerics/point-bins.ts";
import { type PassLayout, positionAlong } from "../places/pass-layout.ts";
import { type GroundShares, groundFinder, overAllPoints, type PointsOnGround } from "./ground-shares.ts";
import type { Points } from "./points.ts";
import { optionsOf, SHORTFALL_SLABS, type Term } from "./terms.ts";

/** A shape of ground. */
export interface Shape {
  family: "disc" | "strip";
  label: string;
  /** Cells inside, ascending. */
  cells: Int32Array;
}

/** Radii of the discs, metres (our judgement: the sizes of patches that a grower can act on). */
const DISC_RADII_M = [20, 28, 40, 55, 75, 100] as const;
/** Discs of one radius lie this share of it apart. */
const DISC_SPACING = 0.5;
/** Strips: passes side by side, and lengths along them, m; infinite for whole passes. */
const STRIPS: readonly { passes: number; lengthsM: readonly number[] }[] = [
  { passes: 1, lengthsM: [Number.POSITIVE_INFINITY, 200] },
  { passes: 2, lengthsM: [Number.POSITIVE_INFINITY, 100, 200, 360] },
  { passes: 4, lengthsM: [Number.POSITIVE_INFINITY, 100, 200, 360] },
  { passes: 6, lengthsM: [Number.POSITIVE_INFINITY] },
  { passes: 8, lengthsM: [Number.POSITIVE_INFINITY, 100, 200] },
];
const STRIP_SPACING = 0.35;
/** A place with more than this share of the points is no place but a part of the field, which the contrasts test. */
const LARGEST_SHARE = 0.45;
/** Points that a shape has to hold, by their shares of ground. */
const FEWEST_POINTS = 1.5;

/** Prior probability of each of three such places, and how discs and strips share it (our judgement). */
const SLOTS = 3;
const INCLUSION = 0.35 / SLOTS;
const FAMILY_SHARE = { disc: 0.75, strip: 0.25 } as const;

/** A shape with the points that lie on it. */
export interface PlaceShape extends Shape {
  on: PointsOnGround;
}

/** All shapes with the points that lie on them; shapes that hold the same points are kept once. */
export function placeShapes(
  cells: Cells,
  layout: PassLayout,
  shares: GroundShares,
  points: Points,
): PlaceShape[] {
  const kept = new Map<string, PlaceShape>();
  const pointsOn = groundFinder(shares, cells.count);
  const keep = (shape: Shape): void => {
    const on = pointsOn(shape.cells);
    const sum = on.share.reduce((total, value) => total + value, 0);
    if (sum < FEWEST_POINTS || sum > LARGEST_SHARE * points.count) return;
    let key = "";
    on.share.forEach((value, k) => {
      if (value > 0.06) key += `${on.point[k]}:${Math.round(8 * value)} `;
    });
    if (!kept.has(key)) kept.set(key, { ...shape, on });
  };
  forEachDisc(cells, keep);
  forEachStrip(cells, layout, keep);
  return [...kept.values()];
}

/**
 * Three slots over the chosen columns. Every size of a family has the same part of its prior, shared by the shapes of that size:
 * small shapes are many, and would else hold nearly all of it.
 * @param all the shapes before they were screened
 */
export function placeTerms(
  chosen: readonly PlaceShape[],
  all: readonly PlaceShape[],
  cellCount: number,
  pointCount: number,
): Term[] {
  const ofSize = new Map<string, number>();
  const sizes = { disc: new Set<string>(), strip: new Set<string>() };
  for (const { family, label } of all) {
    ofSize.set(label, (ofSize.get(label) ?? 0) + 1);
    sizes[family].add(label);
  }
  const options = chosen.flatMap(({ family, label, cells, on }) => {
    const inside = new Float64Array(cellCount);
    for (const cell of cells) inside[cell] = 1;
    return optionsOf(
      { points: overAllPoints(on, pointCount), cells: inside },
      "place",
      FAMILY_SHARE[family] / sizes[family].size / ofSize.get(label)!,
      SHORTFALL_SLABS,
      label,
    );
  });
  if (options.length === 0) return [];
  return Array.from({ length: SLOTS }, (_, slot) => ({
    kind: "unlisted" as const,
    name: `${slot}`,
    inclusion: INCLUSION,
    options,
  }));
}

function forEachDisc(cells: Cells, visit: (shape: Shape) => void): void {
  const [minX, maxX] = rangeOf(cells.x);
  const [minY, maxY] = rangeOf(cells.y);
  const bins = new PointBins(cells.x, cells.y, DISC_RADII_M[0]);
  for (const radiusM of DISC_RADII_M) {
    const step = DISC_SPACING * radiusM;
    for (let y = minY; y <= maxY + step; y += step) {
      for (let x = minX; x <= maxX + step; x += step) {
        const inside: number[] = [];
        bins.forEachAbout(x - radiusM, y - radiusM, x + radiusM, y + radiusM, (cell) => {
          if ((cells.x[cell]! - x) ** 2 + (cells.y[cell]! - y) ** 2 <= radiusM ** 2) inside.push(cell);
        });
        if (inside.length > 0)
          visit({ family: "disc", label: `disc of ${radiusM} m`, cells: Int32Array.from(inside).sort() });
      }
    }
  }
}

function forEachStrip(cells: Cells, layout: PassLayout, visit: (shape: Shape) => void): void {
  layout.axisDeg.forEach((axis, block) => {
    const byRank = new Map<number, number[]>();
    for (let cell = 0; cell < cells.count; cell++) {
      const pass = cells.pass[cell]!;
      if (layout.block[pass] !== block) continue;
      const list = byRank.get(layout.rank[pass]!);
      if (list) list.push(cell);
      else byRank.set(layout.rank[pass]!, [cell]);
    }
    const ranks = [...byRank.keys()].sort((a, b) => a - b);
    for (const { passes, lengthsM } of STRIPS) {
      const stride = Math.max(1, Math.floor(passes / 2));
      for (let k = 0; k < ranks.length; k += stride) {
        const run = ranks.filter((rank) => rank >= ranks[k]! && rank < ranks[k]! + passes);
        if (run.length < passes) continue;
        const inRun = run.flatMap((rank) => byRank.get(rank)!);
        for (const lengthM of lengthsM) {
          const whole = lengthM === Number.POSITIVE_INFINITY;
          for (const members of alongRun(cells, inRun, axis, lengthM))
            visit({
              family: "strip",
              label: whole ? `${passes} passes` : `${passes} passes x ${lengthM} m`,
              cells: Int32Array.from(members).sort(),
            });
        }
      }
    }
  });
}

function alongRun(cells: Cells, inRun: readonly number[], axisDeg: number, lengthM: number): number[][] {
  if (lengthM === Number.POSITIVE_INFINITY) return [[...inRun]];
  const at = inRun.map((cell) => positionAlong(cells.x[cell]!, cells.y[cell]!, axisDeg));
  const [first, last] = rangeOf(at);
  const sets: number[][] = [];
  for (let from = first; from < last - lengthM / 2; from += STRIP_SPACING * lengthM) {
    const members = inRun.filter((_, k) => at[k]! >= from && at[k]! <= from + lengthM);
    if (members.length > 0 && members.length < inRun.length) sets.push(members);
  }
  return sets;
}

function rangeOf(values: ArrayLike<number>): [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < values.length; i++) {
    low = Math.min(low, values[i]!);
    high = Math.max(high, values[i]!);
  }
  return [low, high];
}
