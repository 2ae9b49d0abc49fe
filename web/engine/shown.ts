/** Which pieces of the planted ground the map shows: by pass, row unit, soil zone and day. */
import type { Ground } from "./ground.ts";

export interface Filter {
  pass: number | null;
  rowUnit: number | null;
  /** Index of the soil zone. */
  zone: number | null;
  /** Planting date of the pass, YYYY-MM-DD. */
  day: string | null;
}

export const NO_FILTER: Readonly<Filter> = { pass: null, rowUnit: null, zone: null, day: null };

export function isFiltered(filter: Filter): boolean {
  return Object.values(filter).some((value) => value !== null);
}

export interface Shown {
  /** 1 for each piece that is shown. */
  mask: Uint8Array;
  count: number;
}

/** @returns null where nothing is left out. */
export function shownPieces(
  ground: Ground,
  filter: Filter,
  dayOfPass: ReadonlyMap<number, string | null>,
): Shown | null {
  if (!isFiltered(filter)) return null;
  const { pass, rowUnit, zone, day } = filter;
  const ofDay = new Set([...dayOfPass].filter(([, date]) => date === day).map(([number]) => number));
  const mask = new Uint8Array(ground.count);
  let count = 0;
  for (let i = 0; i < ground.count; i++) {
    if (pass !== null && ground.pass[i] !== pass) continue;
    if (rowUnit !== null && ground.rowUnit[i] !== rowUnit) continue;
    if (zone !== null && ground.zone[i] !== zone) continue;
    if (day !== null && !ofDay.has(ground.pass[i]!)) continue;
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
  };
}
