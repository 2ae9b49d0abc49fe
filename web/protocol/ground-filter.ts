/** Which pieces of the planted ground the map shows: by pass, row unit, soil zone, day and speed. */
import type { Ground } from "./ground.ts";

export interface Filter {
  pass: number | null;
  rowUnit: number | null;
  /** Index of the soil zone. */
  zone: number | null;
  /** Planting date of the pass, YYYY-MM-DD. */
  day: string | null;
  /** Index of the band of speed. */
  speedBand: number | null;
}

export const NO_FILTER: Readonly<Filter> = {
  pass: null,
  rowUnit: null,
  zone: null,
  day: null,
  speedBand: null,
};

export function isFiltered(filter: Filter): boolean {
  return Object.values(filter).some((value) => value !== null);
}

export interface Shown {
  /** 1 for each piece that is shown. */
  mask: Uint8Array;
  count: number;
}

/** Row units or passes that are shown alone beside what is filtered; null for all. */
export interface Isolated {
  rowUnits: ReadonlySet<number> | null;
  passes: ReadonlySet<number> | null;
}

/** @returns null where nothing is left out. */
export function shownPieces(
  ground: Ground,
  filter: Filter,
  dayOfPass: ReadonlyMap<number, string | null>,
  speedBands: readonly SpeedBand[],
  isolated: Isolated | null = null,
): Shown | null {
  if (!isFiltered(filter) && !isolated) return null;
  const { pass, rowUnit, zone, day } = filter;
  const band = filter.speedBand === null ? null : (speedBands[filter.speedBand] ?? null);
  const speed = ground.values.speed;
  const ofDay = new Set([...dayOfPass].filter(([, date]) => date === day).map(([number]) => number));
  const mask = new Uint8Array(ground.count);
  let count = 0;
  for (let i = 0; i < ground.count; i++) {
    if (isolated?.rowUnits && !isolated.rowUnits.has(ground.rowUnit[i]!)) continue;
    if (isolated?.passes && !isolated.passes.has(ground.pass[i]!)) continue;
    if (pass !== null && ground.pass[i] !== pass) continue;
    if (rowUnit !== null && ground.rowUnit[i] !== rowUnit) continue;
    if (zone !== null && ground.zone[i] !== zone) continue;
    if (day !== null && !ofDay.has(ground.pass[i]!)) continue;
    if (band !== null && !(speed && speed[i]! >= band[0] && speed[i]! < band[1])) continue;
    mask[i] = 1;
    count++;
  }
  return { mask, count };
}

/** What there is to choose from; a list of fewer than two entries leaves nothing to choose. */
export interface FilterChoices {
  passes: number[];
  rowUnits: number[];
  /** Indices of the soil zones. */
  zones: number[];
  days: string[];
  /** From slow to fast, of about the same number of records each. */
  speedBands: SpeedBand[];
}

/** From and below, m/s; the ends are open. */
export type SpeedBand = readonly [number, number];

const SPEED_BANDS = 5;
/** At most this many speeds are sorted for the bands. */
const SPEED_SAMPLE = 20_000;

function speedBandsOf(ground: Ground): SpeedBand[] {
  const speeds = ground.values.speed;
  if (!speeds) return [];
  const step = Math.max(1, Math.floor(speeds.length / SPEED_SAMPLE));
  const sample: number[] = [];
  for (let i = 0; i < speeds.length; i += step) if (!Number.isNaN(speeds[i]!)) sample.push(speeds[i]!);
  sample.sort((a, b) => a - b);
  const edges = Array.from(
    { length: SPEED_BANDS - 1 },
    (_, i) => sample[Math.floor(((i + 1) * sample.length) / SPEED_BANDS)]!,
  );
  // An even speed leaves nothing to tell apart.
  if (sample.length < SPEED_BANDS || new Set(edges).size < edges.length) return [];
  return [-Infinity, ...edges].map((from, i) => [from, edges[i] ?? Infinity]);
}

export function filterChoices(ground: Ground, dayOfPass: ReadonlyMap<number, string | null>): FilterChoices {
  const rowUnits = new Set<number>();
  const zones = new Set<number>();
  for (let i = 0; i < ground.count; i++) {
    if (ground.rowUnit[i]! > 0) rowUnits.add(ground.rowUnit[i]!);
    if (ground.zone[i]! >= 0) zones.add(ground.zone[i]!);
  }
  const upwards = (numbers: Iterable<number>) => [...numbers].sort((a, b) => a - b);
  const days = new Set([...dayOfPass.values()].filter((day) => day !== null));
  return {
    passes: upwards(dayOfPass.keys()),
    rowUnits: upwards(rowUnits),
    zones: upwards(zones),
    days: [...days].sort(),
    speedBands: speedBandsOf(ground),
  };
}
