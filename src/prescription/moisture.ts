/** State of the ground on each soil zone and planting day, and what says so. */
import { groundState, type PlantedState, plantedState } from "../compare/ground-state.ts";
import type { Passes } from "../passes/passes.ts";
import type { Field } from "../vocabulary/field.ts";
import type { Moisture } from "../vocabulary/moisture.ts";

/** What a state rests on. */
export type MoistureSource = "dug" | "rain before planting" | "none";

export interface ZoneMoisture {
  state: Moisture;
  from: MoistureSource;
}

/** State of a zone (index into the soil zones, -1 where none) in a pass (1-based). */
export type MoistureOf = (zone: number, pass: number) => ZoneMoisture;

/**
 * Digs on the zone planted that day come first (the state most of them found), then the weather before planting;
 * without either the state is assumed by texture, as everywhere in the analysis.
 */
export function moistureByZone(
  field: Field,
  passes: Passes,
  zoneOfRecord: Int32Array,
  recordOfDig: Int32Array,
): MoistureOf {
  const dug = dugStates(field, passes, zoneOfRecord, recordOfDig);
  const known = new Map<string, ZoneMoisture>();
  return (zone, pass) => {
    const date = passes.passes[pass - 1]?.date ?? field.planted;
    const key = keyOf(zone, date);
    let found = known.get(key);
    if (!found) {
      const votes = dug.get(key);
      found = votes
        ? { state: commonest(votes), from: "dug" }
        : {
            state: plantedState(groundState(field, date, zone)),
            from: field.weather && date !== null ? "rain before planting" : "none",
          };
      known.set(key, found);
    }
    return found;
  };
}

function keyOf(zone: number, date: string | null): string {
  return `${zone} ${date ?? ""}`;
}

/** Votes of the digs by zone and planting day of the record they lie nearest to. */
function dugStates(field: Field, passes: Passes, zoneOfRecord: Int32Array, recordOfDig: Int32Array) {
  const votes = new Map<string, PlantedState[]>();
  field.digs?.moisture.forEach((state, dig) => {
    const record = recordOfDig[dig]!;
    if (!state || record < 0) return;
    const date = passes.passes[passes.passOf[record]! - 1]?.date ?? field.planted;
    const key = keyOf(zoneOfRecord[record]!, date);
    votes.set(key, [...(votes.get(key) ?? []), state]);
  });
  return votes;
}

/** Digs farther from every record than this are not on planted ground, m (our judgement). */
const REACH_M = 30;

/** Record nearest to each dig, -1 for digs off the planted ground. */
export function recordsOfDigs(field: Field, passes: Passes): Int32Array {
  const { digs } = field;
  if (!digs) return new Int32Array(0);
  return Int32Array.from({ length: digs.digCount }, (_, dig) =>
    nearestRecord(field, passes, digs.x[dig]!, digs.y[dig]!),
  );
}

function nearestRecord(field: Field, passes: Passes, x: number, y: number): number {
  let nearest = -1;
  let least = REACH_M ** 2;
  for (let i = 0; i < field.log.recordCount; i++) {
    if (passes.passOf[i] === 0) continue;
    const away = (field.log.x[i]! - x) ** 2 + (field.log.y[i]! - y) ** 2;
    if (away >= least) continue;
    least = away;
    nearest = i;
  }
  return nearest;
}

/** The state found most often; of equals the damper one, where pressing does more harm. */
function commonest(states: readonly Moisture[]): Moisture {
  const order: readonly Moisture[] = ["damp", "fit", "dry"];
  const count = (state: Moisture): number => states.filter((one) => one === state).length;
  return [...order].sort((a, b) => count(b) - count(a))[0]!;
}
