/** How far apart neighbouring passes lie: the width of the bar as the planter was driven. */
import Flatbush from "flatbush";
import { median } from "../numerics/descriptive.ts";
import type { Track } from "./track.ts";

export interface PassSpacing {
  /** Median distance between the middles of neighbouring passes, m. */
  spacingM: number;
  /** True where enough places agree with it for it to be the width of the bar. */
  isSettled: boolean;
}

/** Places from which the neighbours are measured. */
const SAMPLED_PLACES = 800;
/** The track is cut into at most about so many lines for it. */
const MOST_LINES = 60_000;
/** Passes further apart than this are no neighbours, m: wider than any bar. */
const FARTHEST_M = 60;
/** Nearer than this lies the pass itself, planted over or jittering, m. */
const NEAREST_M = 0.6;
/** Neighbours run the same way or the opposite one within this, degrees (our judgement). */
const PARALLEL_DEG = 15;
/** Spacings within this share of the median agree with it; so many of them settle it (our judgement). */
const AGREES = 0.12;
const SETTLED_SHARE = 0.5;
const FEWEST_PLACES = 20;

/**
 * Distance to the neighbouring passes on either side, across the heading, at places spread over the track. The mean of
 * both sides is taken, which a position beside the middle of the bar does not change. Null where no passes lie side by side.
 */
export function passSpacing(track: Track): PassSpacing | null {
  const lines = linesOf(track);
  if (lines.length === 0) return null;
  const index = new Flatbush(lines.length);
  const ends = (line: number): [number, number, number, number] => {
    const [from, to] = [lines[line]!.from, lines[line]!.to];
    return [track.x[from]!, track.y[from]!, track.x[to]!, track.y[to]!];
  };
  for (let line = 0; line < lines.length; line++) {
    const [ax, ay, bx, by] = ends(line);
    index.add(Math.min(ax, bx), Math.min(ay, by), Math.max(ax, bx), Math.max(ay, by));
  }
  index.finish();
  const both: number[] = [];
  const single: number[] = [];
  const stride = Math.max(1, Math.floor(track.length / SAMPLED_PLACES));
  for (let place = stride >> 1; place < track.length; place += stride) {
    const heading = (track.headingDeg[place]! * Math.PI) / 180;
    const [sine, cosine] = [Math.sin(heading), Math.cos(heading)];
    const [x, y] = [track.x[place]!, track.y[place]!];
    let [left, right] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
    const [reachX, reachY] = [Math.abs(cosine) * FARTHEST_M, Math.abs(sine) * FARTHEST_M];
    for (const line of index.search(x - reachX, y - reachY, x + reachX, y + reachY)) {
      const [ax, ay, bx, by] = ends(line);
      const across = crossing(ax - x, ay - y, bx - x, by - y, sine, cosine);
      if (across >= NEAREST_M && across < right) right = across;
      else if (across <= -NEAREST_M && -across < left) left = -across;
    }
    const [nearer, farther] = left < right ? [left, right] : [right, left];
    if (farther <= FARTHEST_M) both.push((nearer + farther) / 2);
    if (nearer <= FARTHEST_M) single.push(nearer);
  }
  const spacings = Float64Array.from(both.length >= 0.3 * single.length ? both : single);
  if (spacings.length === 0) return null;
  const spacingM = median(spacings);
  const agreeing = spacings.filter((spacing) => Math.abs(spacing / spacingM - 1) <= AGREES).length;
  return {
    spacingM,
    isSettled: spacings.length >= FEWEST_PLACES && agreeing >= SETTLED_SHARE * spacings.length,
  };
}

/** Lines between places of one stretch; on a long track each spans several places. */
function linesOf(track: Track): { from: number; to: number }[] {
  const span = Math.max(1, Math.ceil(track.length / MOST_LINES));
  const lines: { from: number; to: number }[] = [];
  for (let stretch = 0; stretch < track.stretchStart.length; stretch++) {
    const start = track.stretchStart[stretch]!;
    const end = (track.stretchStart[stretch + 1] ?? track.length) - 1;
    for (let from = start; from < end; from += span) lines.push({ from, to: Math.min(end, from + span) });
  }
  return lines;
}

/**
 * Where a line meets the axis across a heading through the origin, m to the right; NaN where it does not, or runs
 * across itself.
 */
function crossing(ax: number, ay: number, bx: number, by: number, sine: number, cosine: number): number {
  const [alongA, alongB] = [ax * sine + ay * cosine, bx * sine + by * cosine];
  if (alongA > 0 === alongB > 0 || alongA === alongB) return Number.NaN;
  const [acrossA, acrossB] = [ax * cosine - ay * sine, bx * cosine - by * sine];
  const slope = Math.abs((acrossB - acrossA) / (alongB - alongA));
  if (slope > Math.tan((PARALLEL_DEG * Math.PI) / 180)) return Number.NaN;
  return acrossA + ((acrossB - acrossA) * -alongA) / (alongB - alongA);
}
