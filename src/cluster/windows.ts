/**
 * Free candidates for the score scan: places of simple shape, laid without a look at the planting log.
 * Discs find patches; strips along the passes find what a machine does; whole passes and the ends of many
 * passes find what a pass or a turn does. Sizes are our judgement: about the sizes of patches and blocks
 * that a grower can act on.
 */
import type { PassLayout } from "./pass-layout.ts";
import { positionAlong } from "./pass-layout.ts";
import type { Candidate } from "./score-scan.ts";

/** Points (counted spots) or cells. */
export interface ScanPoints {
  /** Local metres. */
  x: Float64Array;
  y: Float64Array;
  /** Our pass number, 0 where the point lies on no pass. */
  pass: Int32Array;
  /** Distance along the pass, metres. */
  alongM: Float64Array;
}

/** Radii of the discs, metres. */
const DISC_RADII_M = [20, 32, 45, 65, 90] as const;

/** Strips: how many passes side by side, and the lengths along them, metres; infinite for whole passes. */
const STRIP_SHAPES: readonly { passes: number; lengthsM: readonly number[] }[] = [
  { passes: 1, lengthsM: [Number.POSITIVE_INFINITY, 120, 300, 600] },
  { passes: 2, lengthsM: [Number.POSITIVE_INFINITY, 96, 192, 360] },
  { passes: 3, lengthsM: [Number.POSITIVE_INFINITY] },
  { passes: 4, lengthsM: [Number.POSITIVE_INFINITY, 96, 192, 360] },
  { passes: 6, lengthsM: [Number.POSITIVE_INFINITY] },
  { passes: 8, lengthsM: [Number.POSITIVE_INFINITY, 96, 192] },
  { passes: 12, lengthsM: [Number.POSITIVE_INFINITY, 48] },
  { passes: 20, lengthsM: [48] },
  { passes: 36, lengthsM: [48] },
];

/** Centres of discs of one radius and starts of strips of one length lie at least this share of it apart. */
const SPACING_SHARE = 0.3;
/** A place with more than this share of the points leaves nothing to compare it with. */
const LARGEST_SHARE = 0.5;

/**
 * Lays out the free candidates: every set of at least two points (and at most half of them) that one of the
 * shapes takes in, once.
 * @returns candidates in a fixed order; members ascending.
 */
export function freeCandidates(points: ScanPoints, layout: PassLayout): Candidate[] {
  const kept = new Map<string, Candidate>();
  const keep = (members: number[], label: string): void => {
    if (members.length < 2 || members.length > LARGEST_SHARE * points.x.length) return;
    members.sort((a, b) => a - b);
    const key = members.join();
    if (!kept.has(key)) kept.set(key, { family: "free", members: Int32Array.from(members), label });
  };
  for (const radiusM of DISC_RADII_M) addDiscs(points, radiusM, keep);
  for (let block = 0; block < layout.axisDeg.length; block++) addStrips(points, layout, block, keep);
  return [...kept.values()];
}

type Keep = (members: number[], label: string) => void;

function addDiscs(points: ScanPoints, radiusM: number, keep: Keep): void {
  const count = points.x.length;
  const gap = (SPACING_SHARE * radiusM) ** 2;
  const centres: number[] = [];
  for (let i = 0; i < count; i++) {
    if (centres.some((centre) => squaredDistance(points, i, centre) < gap)) continue;
    centres.push(i);
    const members: number[] = [];
    for (let other = 0; other < count; other++) {
      if (squaredDistance(points, i, other) <= radiusM ** 2) members.push(other);
    }
    keep(members, `disc of ${radiusM} m`);
  }
}

function squaredDistance(points: ScanPoints, a: number, b: number): number {
  return (points.x[a]! - points.x[b]!) ** 2 + (points.y[a]! - points.y[b]!) ** 2;
}

function addStrips(points: ScanPoints, layout: PassLayout, block: number, keep: Keep): void {
  const axis = layout.axisDeg[block]!;
  const byRank = new Map<number, number[]>();
  for (let i = 0; i < points.pass.length; i++) {
    const pass = points.pass[i]!;
    if (pass === 0 || layout.block[pass] !== block) continue;
    const rank = layout.rank[pass]!;
    const list = byRank.get(rank);
    if (list) list.push(i);
    else byRank.set(rank, [i]);
  }
  const ranks = [...byRank.keys()].sort((a, b) => a - b);
  const onAxis = (i: number): number => positionAlong(points.x[i]!, points.y[i]!, axis);
  for (const { passes, lengthsM } of STRIP_SHAPES) {
    for (const first of ranks) {
      const run = ranks.filter((rank) => rank >= first && rank < first + passes);
      // A run that ends at the block's edge is the same as a narrower one, which has its own turn.
      if (passes > 1 && run.at(-1)! === first) continue;
      const inRun = run.flatMap((rank) => byRank.get(rank)!);
      // One pass is followed along its own line, bends and all; several need a common direction.
      const onePass = inRun.every((i) => points.pass[i] === points.pass[inRun[0]!]);
      const position = onePass ? (i: number): number => points.alongM[i]! : onAxis;
      for (const lengthM of lengthsM) addAlong(inRun, position, lengthM, passes, keep);
    }
  }
}

function addAlong(
  inRun: readonly number[],
  position: (i: number) => number,
  lengthM: number,
  passes: number,
  keep: Keep,
): void {
  const shape = passes === 1 ? "pass" : `${passes} passes`;
  if (lengthM === Number.POSITIVE_INFINITY) {
    keep([...inRun], shape);
    return;
  }
  const sorted = inRun.map((i) => ({ i, at: position(i) })).sort((a, b) => a.at - b.at || a.i - b.i);
  let lastStart = Number.NEGATIVE_INFINITY;
  for (let first = 0; first < sorted.length; first++) {
    const from = sorted[first]!.at;
    if (from - lastStart < SPACING_SHARE * lengthM) continue;
    lastStart = from;
    const members: number[] = [];
    for (let k = first; k < sorted.length && sorted[k]!.at <= from + lengthM; k++) members.push(sorted[k]!.i);
    keep(members, `${shape} x ${lengthM} m`);
  }
}
