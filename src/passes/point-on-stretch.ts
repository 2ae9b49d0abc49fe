/** Where on the stretch that a record tells of its logged position lies: at its start, in its middle, at its end. */
import { turnBetween } from "../numerics/angles.ts";
import { median } from "../numerics/descriptive.ts";
import type { Field } from "../vocabulary/field.ts";
import type { Moments } from "./moments.ts";
import type { PassCuts } from "./pass-cuts.ts";
import type { Passes } from "./passes.ts";
import type { Track } from "./track.ts";

type PointAt = NonNullable<Passes["pointAt"]>;

/**
 * By the logged distances where they vary enough to tell, else by how the ends of neighbouring passes lie to each
 * other; the middle where neither tells. Polygons lie where they were planted.
 */
export function pointOnStretch(
  field: Field,
  moments: Moments,
  track: Track,
  cuts: PassCuts,
  barWidthM: number,
): PointAt {
  if (field.log.footprints) return "middle";
  return byDistances(field, moments, track) ?? byTurns(track, cuts, barWidthM) ?? "middle";
}

/** Distances differ enough where one answer is better than another by this share of the way (our judgement). */
const TELLING_SHARE = 0.01;

/**
 * The step from one moment to the next equals the earlier distance where the position is the start, the mean of both
 * in the middle, the later one at the end. The middle where no answer fits better by a tenth; null where the distances
 * do not vary.
 */
function byDistances(field: Field, moments: Moments, track: Track): PointAt | null {
  const distance = field.log.values.distance;
  if (!distance) return null;
  const starts = new Set(track.stretchStart);
  const errors = { start: 0, middle: 0, end: 0 };
  let way = 0;
  const at = (place: number): number =>
    distance[moments.groups.records[moments.groups.start[track.moment[place]!]!]!]!;
  for (let place = 1; place < track.length; place++) {
    const earlier = at(place - 1);
    const later = at(place);
    if (starts.has(place) || !(earlier >= 0) || !(later >= 0)) continue;
    const step = Math.hypot(track.stepX[place]!, track.stepY[place]!);
    errors.start += Math.abs(step - earlier);
    errors.middle += Math.abs(step - (earlier + later) / 2);
    errors.end += Math.abs(step - later);
    way += step;
  }
  const better = errors.end < errors.start ? "end" : "start";
  if (errors[better] < 0.9 * errors.middle) return better;
  return Math.abs(errors.start - errors.end) > TELLING_SHARE * way ? "middle" : null;
}

/** Turns at each end of the field at least. */
const FEWEST_TURNS = 2;
/** Mean offset of the ends, in steps, from which the position is no middle (our judgement). */
const OFF_MIDDLE = 0.6;
/** ... and beyond which it is not the step that sets the ends apart (our judgement). */
const TOO_FAR_OFF = 1.5;

/**
 * Passes driven up and down end on the same line. Where positions are starts of their stretches, the last position of
 * a pass falls one step short of the first one of the next; where they are ends, it lies one step beyond. A slanting
 * edge moves both ways of turning against each other: the mean of both is taken. Null where there are too few turns.
 */
function byTurns(track: Track, cuts: PassCuts, barWidthM: number): PointAt | null {
  const ends = new Map<number, number>();
  const begins = new Map<number, number>();
  for (let place = 0; place < track.length; place++) {
    const pass = cuts.pass[place]!;
    if (!begins.has(pass)) begins.set(pass, place);
    ends.set(pass, place);
  }
  // Turns at either end of the field, told apart by the heading that led to the first of them.
  const offsets: [number[], number[]] = [[], []];
  let first: number | null = null;
  for (let pass = 1; pass < cuts.count; pass++) {
    const [end, begin] = [ends.get(pass)!, begins.get(pass + 1)!];
    const heading = track.headingDeg[end]!;
    if (Math.abs(turnBetween(heading, track.headingDeg[begin]!)) < 165) continue;
    const [sine, cosine] = [Math.sin((heading * Math.PI) / 180), Math.cos((heading * Math.PI) / 180)];
    const [east, north] = [track.x[begin]! - track.x[end]!, track.y[begin]! - track.y[end]!];
    const aside = Math.abs(east * cosine - north * sine);
    if (aside > 1.5 * barWidthM || aside < 0.5 * barWidthM) continue;
    const step = stepNear(track, end);
    if (!(step > 0)) continue;
    const along = (east * sine + north * cosine) / step;
    first ??= heading;
    offsets[Math.abs(turnBetween(heading, first)) < 90 ? 0 : 1].push(along);
  }
  if (offsets.some((list) => list.length < FEWEST_TURNS)) return null;
  const off = (median(Float64Array.from(offsets[0])) + median(Float64Array.from(offsets[1]))) / 2;
  if (Math.abs(off) < OFF_MIDDLE || Math.abs(off) > TOO_FAR_OFF) return null;
  return off > 0 ? "start" : "end";
}

/** Median of a few steps before a place, m. */
function stepNear(track: Track, place: number): number {
  const steps: number[] = [];
  for (let at = place; at > Math.max(0, place - 5); at--) {
    steps.push(Math.hypot(track.stepX[at]!, track.stepY[at]!));
  }
  return steps.length > 0 ? median(Float64Array.from(steps)) : 0;
}
