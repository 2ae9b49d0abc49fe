/**
 * Row units of a planter over the fields it planted. In each field a unit's departure from the bar's median has its own
 * error, the passes being the replicates; over the fields the departures are combined with the unit as a random effect that
 * differs from field to field (`numerics/random-effects.ts`), and the units of one bar are pulled towards the bar as far as
 * their own uncertainty demands. Sound units differ a little for good, so a unit is tested for lying apart from the others of
 * its bar (`numerics/outlying.ts`). A fault that comes and goes is thinned by the fields it spared: for it a unit is tested for
 * standing out, from the bar and from its own usual place, in more fields than the others (`numerics/fisher-exact.ts`).
 */
import { mean, median } from "../numerics/descriptive.ts";
import { studentTQuantile } from "../numerics/distributions.ts";
import type { Estimate } from "../numerics/estimate.ts";
import { fisherExact } from "../numerics/fisher-exact.ts";
import { outlying } from "../numerics/outlying.ts";
import { combineEffects, type Measured, shrinkEffects } from "../numerics/random-effects.ts";
import type { Band } from "../rows/row-unit-bands.ts";
import { unitsOfVariable } from "./field/field-digest.ts";
import { UNIT_BANDS, UNIT_VARIABLES, type UnitVariable } from "./field/unit-variables.ts";
import type { KeptField } from "./field-result.ts";

/** A unit's departure in one field. */
export interface UnitInField {
  id: string;
  departure: number;
  /** True where it alone lies off the bar by more than matters on one field. */
  standsOut: boolean;
  /** True where it lies off the unit's own usual place, too. */
  isUnusual: boolean;
}

/** Chance of what was seen where nothing is wrong. */
export interface Test {
  pValue: number;
  /** Corrected for all tests of the season; null until they are all known. */
  qValue: number | null;
}

export interface UnitEffect {
  planter: string;
  rowUnit: number;
  variable: UnitVariable;
  /** Departure over all fields before it is pulled towards the bar. */
  plain: number;
  /** The same, pulled. */
  effect: Estimate;
  /** Variance between the fields beyond their errors. */
  betweenFields: number;
  /** Of lying apart from the bar over all fields; null where too few units were measured. */
  steady: Test | null;
  /** Of standing out unusually in more fields than the others; null where it does so nowhere. */
  often: (Test & { fields: number; mean: number }) | null;
  /** In order of planting. */
  fields: UnitInField[];
}

export interface PlanterUnits {
  effects: UnitEffect[];
  /** What a reader has to know: fields that could not be taken in. */
  notes: string[];
}

const LEVEL = 0.9;
/** Fewer fields than this are no season (our judgement). */
const FEWEST_FIELDS = 3;
/** Errors are never taken to be less than this share of what matters: rounded readings can repeat exactly. */
const SMALLEST_ERROR = 0.02;

/** Every unit of every planter in every variable that its logs have, by planter, variable and unit. */
export function unitEffects(kept: readonly KeptField[]): PlanterUnits {
  const planters = new Map<string, KeptField[]>();
  for (const field of kept) put(planters, field.planter, field);
  const all: PlanterUnits = { effects: [], notes: [] };
  for (const planter of [...planters.keys()].sort()) {
    const { fields, notes } = fieldsOfOneBar(planter, planters.get(planter)!);
    all.notes.push(...notes);
    for (const variable of UNIT_VARIABLES) all.effects.push(...effectsOf(planter, variable, fields));
  }
  return all;
}

/** Fields whose row units are surely those of this bar, in order of planting. */
function fieldsOfOneBar(
  planter: string,
  given: readonly KeptField[],
): { fields: KeptField[]; notes: string[] } {
  const notes: string[] = [];
  const withRows = given.filter(({ digest }) => digest.units.rowUnit.length > 0);
  const single = withRows.filter(({ digest }) => digest.machines.length < 2);
  const several = withRows.filter(({ digest }) => digest.machines.length >= 2);
  if (several.length > 0)
    notes.push(
      `${planter}: ${listed(several)} ${several.length > 1 ? "were" : "was"} planted by several machines; their row units are not set against each other.`,
    );
  const widths = new Map<number, number>();
  for (const { digest } of single) widths.set(digest.rowUnits, (widths.get(digest.rowUnits) ?? 0) + 1);
  const [usual] = [...widths].sort((a, b) => b[1] - a[1] || b[0] - a[0]).map(([rows]) => rows);
  const others = single.filter(({ digest }) => digest.rowUnits !== usual);
  if (others.length > 0)
    notes.push(
      `${planter}: ${usual} row units in most fields, but not in ${listed(others)} (${others.map(({ digest }) => digest.rowUnits).join(", ")}); the row units of these are left out. Name each planter in season.json.`,
    );
  const fields = single
    .filter(({ digest }) => digest.rowUnits === usual)
    .sort((a, b) => compared(a.digest.planted ?? "9", b.digest.planted ?? "9") || compared(a.id, b.id));
  return { fields, notes };
}

function effectsOf(planter: string, variable: UnitVariable, fields: readonly KeptField[]): UnitEffect[] {
  const band = UNIT_BANDS[variable];
  const floor = (SMALLEST_ERROR * band.matters) ** 2;
  const byUnit = new Map<number, (Measured & { id: string })[]>();
  for (const { id, digest } of fields) {
    for (const { rowUnit, departure, variance } of unitsOfVariable(digest.units, variable))
      put(byUnit, rowUnit, { id, value: departure, variance: Math.max(variance, floor) });
  }
  const units = [...byUnit]
    .filter(([, places]) => places.length >= FEWEST_FIELDS)
    .sort(([a], [b]) => a - b)
    .map(([rowUnit, places]) => ({ rowUnit, places, combined: combineEffects(places)! }));
  if (units.length === 0) return [];
  const middle = median(units.map(({ combined }) => combined.estimate));
  const measured = units.map(({ combined }) => ({
    value: combined.estimate - middle,
    variance: combined.variance,
  }));
  const pulled = shrinkEffects(measured);
  const apart = outlying(measured);
  const inFields = units.map(({ places }) => unitInFields(places, band));
  return units.map(({ rowUnit, combined }, k) => {
    const { estimate, variance } = pulled[k]!;
    const half = studentTQuantile(0.5 + LEVEL / 2, combined.df) * Math.sqrt(variance);
    return {
      planter,
      rowUnit,
      variable,
      plain: measured[k]!.value,
      effect: { estimate, low: estimate - half, high: estimate + half, level: LEVEL },
      betweenFields: combined.between,
      steady: apart && { pValue: apart[k]!.pValue, qValue: null },
      often: oftenOut(inFields, k),
      fields: inFields[k]!,
    };
  });
}

function unitInFields(places: readonly (Measured & { id: string })[], band: Band): UnitInField[] {
  const usual = median(places.map(({ value }) => value));
  return places.map(({ id, value }) => {
    const offItself = value - usual;
    const standsOut = Math.abs(value) >= band.fromBar;
    const isUnusual = standsOut && Math.abs(offItself) >= band.fromItself && value * offItself > 0;
    return { id, departure: value, standsOut, isUnusual };
  });
}

/** The side on which a unit stands out unusually more often, against how often the other units do on any. */
function oftenOut(units: readonly UnitInField[][], own: number): UnitEffect["often"] {
  const unusual = units.map((fields) => fields.filter(({ isUnusual }) => isUnusual));
  const above = unusual[own]!.filter(({ departure }) => departure > 0);
  const below = unusual[own]!.filter(({ departure }) => departure < 0);
  const side = above.length >= below.length ? above : below;
  if (side.length === 0) return null;
  const others = units.map((_, k) => k).filter((k) => k !== own);
  const sizes = others.reduce((sum, k) => sum + units[k]!.length, 0);
  const hits = others.reduce((sum, k) => sum + unusual[k]!.length, 0);
  return {
    // Two sides were looked at.
    pValue: Math.min(1, 2 * fisherExact(side.length, units[own]!.length, hits, sizes)),
    qValue: null,
    fields: side.length,
    mean: mean(side.map(({ departure }) => departure)),
  };
}

/** Adds to the list of a key. */
function put<Key, Value>(lists: Map<Key, Value[]>, key: Key, value: Value): void {
  const list = lists.get(key);
  if (list) list.push(value);
  else lists.set(key, [value]);
}

function listed(fields: readonly KeptField[]): string {
  const names = fields.map(({ label }) => label);
  return names.length > 3 ? `${names.slice(0, 3).join(", ")} and ${names.length - 3} more` : names.join(", ");
}

function compared(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
