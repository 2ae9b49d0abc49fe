/** Cuts the way of the bar into passes: runs along one line. */
import { headingOf, turnBetween } from "../numerics/angles.ts";
import type { Track } from "./track.ts";

/** A change of direction from here on is a corner or a turn, degrees (our judgement). */
const CORNER_DEG = 45;
/** A change of direction from here on is a turn round, degrees (our judgement). */
const TURN_ROUND_DEG = 135;
/** A planter may back up this far and go on on its line, m; at least twice the bar is allowed (our judgement). */
const BACKING_M = 30;
/** The line of a stretch is read over this way at its end, m. */
const LINE_REACH_M = 20;
/** Direction before and behind a corner is read this far from it, m; at least three quarters of the bar. */
const CORNER_REACH_M = 10;

export interface PassCuts {
  /** Pass 1..n of each place of the track. */
  pass: Int32Array;
  /** Way from the start of the pass, m, lifted stretches included. */
  alongM: Float64Array;
  count: number;
  /** True when planting that goes on beside its line in the same direction was left in its pass. */
  keptSideSteps: boolean;
}

export interface CutSettings {
  barWidthM: number;
  /** Log's pass code of each place, -1 where none; null to leave the log's number aside. */
  logPass: Int32Array | null;
  /** Code of the machine of each place, -1 unknown; null where the log names none. */
  machine: Int32Array | null;
  hasClockTime: boolean;
}

/** Planting that goes on further aside than so many bars is no side step of the same pass (our judgement). */
const FARTHEST_ASIDE_BARS = 2.5;

type Join = "resume" | "turn" | "aside" | "elsewhere";

/**
 * Cuts a track into passes. After a gap the pass goes on when the direction changes by less than 45 degrees and
 * planting resumes within half a bar of the line; within a stretch it is cut where the direction changes by
 * 45 degrees or more over about three quarters of a bar on either side.
 *
 * Another machine starts another pass. Planting that resumes beside the line in the same direction does, too, but for one case:
 * without clock times, and in a field planted back and forth, the log shows no turn, and loggers count such a
 * restart to the running pass. It stays there unless the log's own number changes, or it lies more than two and a
 * half bars aside.
 */
export function cutPasses(track: Track, settings: CutSettings): PassCuts {
  const starts = new Set(track.stretchStart);
  const joins = track.stretchStart.slice(1).map((place) => joinAt(track, starts, place, settings.barWidthM));
  const aside = joins.filter((join) => join.kind === "aside").length;
  const rounds = joins.filter((join) => Math.abs(join.turnDeg) >= TURN_ROUND_DEG).length;
  const keepSideSteps = !settings.hasClockTime && aside > 0 && rounds >= 3 * aside;
  const pass = new Int32Array(track.length);
  const alongM = new Float64Array(track.length);
  let count = 0;
  let runStart = 0;
  let keptSideSteps = false;
  const way = new Float64Array(track.length);
  const closeRun = (end: number): void => {
    const cuts = [runStart, ...cornersWithin(track, way, runStart, end, settings.barWidthM), end];
    for (let piece = 0; piece + 1 < cuts.length; piece++) {
      count++;
      numberRun(pass, alongM, way, cuts[piece]!, cuts[piece + 1]!, count);
    }
    runStart = end;
  };
  let stretch = 1;
  for (let place = 1; place < track.length; place++) {
    const step = Math.hypot(track.stepX[place]!, track.stepY[place]!);
    way[place] = way[place - 1]! + step;
    if (track.stretchStart[stretch] !== place) continue;
    const join = joins[stretch - 1]!;
    stretch++;
    const log = settings.logPass;
    const renumbered = log !== null && log[place] !== log[place - 1] && log[place]! >= 0;
    const { machine } = settings;
    const isOther = machine !== null && machine[place] !== machine[place - 1];
    const stays =
      !isOther && (join.kind === "resume" || (join.kind === "aside" && keepSideSteps && !renumbered));
    if (stays) {
      // Backing up on the line goes back along it, so that places keep their distance from the start.
      if (join.kind === "resume" && join.alongM < 0) way[place] = way[place - 1]! + join.alongM;
      keptSideSteps ||= join.kind === "aside";
    } else closeRun(place);
  }
  if (track.length > 0) closeRun(track.length);
  return { pass, alongM, count, keptSideSteps };
}

function numberRun(
  pass: Int32Array,
  alongM: Float64Array,
  way: Float64Array,
  from: number,
  to: number,
  number: number,
): void {
  let start = way[from]!;
  for (let place = from; place < to; place++) start = Math.min(start, way[place]!);
  for (let place = from; place < to; place++) {
    pass[place] = number;
    alongM[place] = way[place]! - start;
  }
}

/** How a stretch follows the one before it: in the same line, after a turn, or beside it in the same direction. */
function joinAt(
  track: Track,
  starts: ReadonlySet<number>,
  place: number,
  barWidthM: number,
): { kind: Join; turnDeg: number; alongM: number } {
  const before = lineDirection(track, starts, place - 1, -1);
  const behind = lineDirection(track, starts, place, 1);
  const turnDeg = turnBetween(before, behind);
  const east = track.x[place]! - track.x[place - 1]!;
  const north = track.y[place]! - track.y[place - 1]!;
  const [alongM, offBefore] = project(east, north, before);
  const [, offBehind] = project(east, north, behind);
  if (Math.abs(turnDeg) >= CORNER_DEG) return { kind: "turn", turnDeg, alongM };
  const off = Math.min(Math.abs(offBefore), Math.abs(offBehind));
  const tolerance = Math.min(
    Math.max(0.5 * barWidthM, 2) + 0.02 * Math.abs(alongM),
    Math.max(0.75 * barWidthM, 2),
  );
  const resumes = off <= tolerance && alongM >= -Math.max(BACKING_M, 2 * barWidthM);
  const isFar = off > FARTHEST_ASIDE_BARS * barWidthM;
  return { kind: resumes ? "resume" : isFar ? "elsewhere" : "aside", turnDeg, alongM };
}

/** Direction of the line at a place, read over the stretch before (-1) or behind (1) it. */
function lineDirection(track: Track, starts: ReadonlySet<number>, place: number, side: -1 | 1): number {
  let east = 0;
  let north = 0;
  let at = place;
  while (Math.hypot(east, north) < LINE_REACH_M) {
    // The step of a place leads to it: going back it is the place's own, going ahead the next one's.
    const step = side === -1 ? at : at + 1;
    if (step >= track.length || starts.has(step)) break;
    east += track.stepX[step]!;
    north += track.stepY[step]!;
    at += side;
  }
  const direction = headingOf(east, north);
  return Math.hypot(east, north) < 1 || Number.isNaN(direction) ? track.headingDeg[place]! : direction;
}

/** Parts of a way along a heading and to its right, m. */
function project(east: number, north: number, headingDeg: number): [number, number] {
  const heading = (headingDeg * Math.PI) / 180;
  const sine = Math.sin(heading);
  const cosine = Math.cos(heading);
  return [east * sine + north * cosine, east * cosine - north * sine];
}

/** Places within a run where a corner is rounded; a corner at the very end of a run is none. */
function cornersWithin(
  track: Track,
  way: Float64Array,
  from: number,
  to: number,
  barWidthM: number,
): number[] {
  const reach = Math.max(CORNER_REACH_M, 0.75 * barWidthM);
  const cuts: number[] = [];
  let back = from;
  let ahead = from;
  let best = 0;
  let firstBest = -1;
  let lastBest = -1;
  const settle = (): void => {
    if (best > 0) {
      const cut = (firstBest + lastBest + 1) >> 1;
      const previous = cuts.at(-1) ?? from;
      const room = Math.min(way[cut]! - way[previous]!, way[to - 1]! - way[cut]!);
      if (room >= reach / 2) cuts.push(cut);
    }
    best = 0;
  };
  for (let place = from; place < to; place++) {
    while (back < place && way[place]! - way[back]! > reach) back++;
    while (ahead < to - 1 && (ahead < place || way[ahead]! - way[place]! < reach)) ahead++;
    const turn = Math.abs(turnBetween(track.headingDeg[back]!, track.headingDeg[ahead]!));
    if (turn < CORNER_DEG) {
      settle();
      continue;
    }
    if (turn > best + 1) firstBest = place;
    if (turn > best - 1) lastBest = place;
    best = Math.max(best, turn);
  }
  settle();
  return cuts;
}
