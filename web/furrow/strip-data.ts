/** One pass as a long section: its pieces in order along it, the moments of the bar, soils and marked stretches. */
import type { Finding } from "../../src/findings/findings-document.ts";
import { insideFinding } from "../model/pass-choice.ts";
import type { Ground, ValueName } from "../protocol/ground.ts";

/** A moment is marked where at least this share of its pieces lies in the finding. */
const LEAST_SHARE_INSIDE = 0.25;

/** The bar at one moment: the pieces of all row units, and the means over them. */
export interface Moment {
  alongM: number;
  lengthM: number;
  /** Indices of its pieces in the ground, by row unit. */
  pieces: number[];
  zone: number;
  speed: number | null;
}

export interface Run {
  fromM: number;
  toM: number;
}

export interface ZoneRun extends Run {
  zone: number;
}

export interface Strip {
  pass: number;
  moments: Moment[];
  fromM: number;
  toM: number;
  zones: ZoneRun[];
  /** Stretches that lie in the selected finding; none for a finding of single row units. */
  marked: Run[];
  /** Row units the selected finding names. */
  rowUnits: number[];
}

/** @param finding marks its stretches and row units; null marks none. Null where the pass has no pieces. */
export function stripOf(ground: Ground, pass: number, finding: Finding | null): Strip | null {
  const byMoment = new Map<number, number[]>();
  for (let i = 0; i < ground.count; i++) {
    if (ground.pass[i] !== pass) continue;
    const key = Math.round(ground.alongM[i]! * 10);
    const list = byMoment.get(key);
    if (list) list.push(i);
    else byMoment.set(key, [i]);
  }
  if (byMoment.size === 0) return null;
  const moments = [...byMoment.values()]
    .map((pieces) => momentOf(ground, pieces))
    .sort((a, b) => a.alongM - b.alongM);
  fillLengths(moments);
  const first = moments[0]!;
  const last = moments[moments.length - 1]!;
  return {
    pass,
    moments,
    fromM: first.alongM - first.lengthM / 2,
    toM: last.alongM + last.lengthM / 2,
    zones: zoneRuns(moments),
    marked: finding && finding.where.rowUnits.length === 0 ? markedRuns(ground, moments, finding) : [],
    rowUnits: finding?.where.rowUnits ?? [],
  };
}

/** The strip cut down to the marked stretch with some ordinary ground on both sides. */
export function aroundMarked(strip: Strip): Strip {
  const first = strip.marked[0];
  const last = strip.marked[strip.marked.length - 1];
  if (!first || !last) return strip;
  const margin = Math.max((last.toM - first.fromM) * 0.4, 25);
  const fromM = Math.max(strip.fromM, first.fromM - margin);
  const toM = Math.min(strip.toM, last.toM + margin);
  return {
    ...strip,
    fromM,
    toM,
    moments: strip.moments.filter((moment) => moment.alongM >= fromM && moment.alongM <= toM),
    zones: strip.zones
      .filter((run) => run.toM > fromM && run.fromM < toM)
      .map((run) => ({ ...run, fromM: Math.max(run.fromM, fromM), toM: Math.min(run.toM, toM) })),
  };
}

/** Mean of a variable over the pieces of a moment; null where none has a value. */
export function momentMean(ground: Ground, moment: Moment, name: ValueName): number | null {
  const values = ground.values[name];
  if (!values) return null;
  let sum = 0;
  let n = 0;
  for (const i of moment.pieces) {
    if (Number.isNaN(values[i]!)) continue;
    sum += values[i]!;
    n++;
  }
  return n === 0 ? null : sum / n;
}

function momentOf(ground: Ground, pieces: number[]): Moment {
  pieces.sort((a, b) => ground.rowUnit[a]! - ground.rowUnit[b]!);
  const votes = new Map<number, number>();
  for (const i of pieces) votes.set(ground.zone[i]!, (votes.get(ground.zone[i]!) ?? 0) + 1);
  const zone = [...votes].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0]![0];
  const moment: Moment = { alongM: ground.alongM[pieces[0]!]!, lengthM: 0, pieces, zone, speed: null };
  moment.speed = momentMean(ground, moment, "speed");
  return moment;
}

/** A moment reaches half way to its neighbours. */
function fillLengths(moments: Moment[]): void {
  for (let k = 0; k < moments.length; k++) {
    const before = moments[k - 1]?.alongM;
    const after = moments[k + 1]?.alongM;
    const here = moments[k]!.alongM;
    const reach = [before === undefined ? null : here - before, after === undefined ? null : after - here];
    const known = reach.filter((value): value is number => value !== null);
    moments[k]!.lengthM = known.length === 0 ? 1 : Math.min(...known);
  }
}

function zoneRuns(moments: Moment[]): ZoneRun[] {
  const runs: ZoneRun[] = [];
  for (const moment of moments) {
    const fromM = moment.alongM - moment.lengthM / 2;
    const toM = moment.alongM + moment.lengthM / 2;
    const last = runs[runs.length - 1];
    if (last && last.zone === moment.zone) last.toM = toM;
    else runs.push({ zone: moment.zone, fromM: last ? last.toM : fromM, toM });
  }
  return runs;
}

function markedRuns(ground: Ground, moments: Moment[], finding: Finding): Run[] {
  const runs: Run[] = [];
  const inside = insideFinding(
    ground,
    finding,
    moments.flatMap((moment) => moment.pieces),
  );
  let open: Run | null = null;
  for (const moment of moments) {
    const hits = moment.pieces.filter((i) => inside.has(i)).length;
    const enough = hits > 0 && hits >= LEAST_SHARE_INSIDE * moment.pieces.length;
    const toM = moment.alongM + moment.lengthM / 2;
    if (enough && open) open.toM = toM;
    else if (enough) {
      open = { fromM: moment.alongM - moment.lengthM / 2, toM };
      runs.push(open);
    } else if (open && moment.alongM - open.toM > 2 * moment.lengthM) open = null;
  }
  return runs;
}
