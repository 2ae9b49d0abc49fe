/**
 * Row units of a planter over the fields it planted. In each field a unit's departure from the bar's median has its own
 * error, the passes being the replicates; over the fields the departures are combined with the unit as a random effect that
 * differs from field to field (`numerics/random-effects.ts`), and the units of one bar are pulled towards the bar as far as
 * their own uncertainty demands. Sound units differ a little for good, so a unit is called only where it lies apart from the
 * others of its bar (`numerics/outlying.ts`) and by more than matters.
 */
import { median } from "../numerics/descriptive.ts";
import { studentTQuantile } from "../numerics/distributions.ts";
import type { Estimate } from "../numerics/estimate.ts";
import { outlying } from "../numerics/outlying.ts";
import { combineEffects, type Measured, shrinkEffects } from "../numerics/random-effects.ts";
import type { KeptField } from "./field-result.ts";
import { UNIT_BANDS, UNIT_VARIABLES, type UnitVariable } from "./unit-variables.ts";

/** A unit's departure in one field. */
export interface UnitInField {
  id: string;
  departure: number;
  /** True where it alone is more than matters on one field. */
  standsOut: boolean;
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
  /** Chance of lying so far from the others where no unit lies apart; null where too few units were measured. */
  pValue: number | null;
  /** Corrected for all tests of the season; filled in by whoever knows them all. */
  qValue: number | null;
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
  for (const field of kept) planters.set(field.planter, [...(planters.get(field.planter) ?? []), field]);
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
  const withRows = given.filter(({ extract }) => extract.units.length > 0);
  const single = withRows.filter(({ extract }) => extract.machines.length < 2);
  const several = withRows.filter(({ extract }) => extract.machines.length >= 2);
  if (several.length > 0)
    notes.push(
      `${planter}: ${listed(several)} ${several.length > 1 ? "were" : "was"} planted by several machines; their row units are not set against each other.`,
    );
  const widths = new Map<number, number>();
  for (const { extract } of single) widths.set(extract.rowUnits, (widths.get(extract.rowUnits) ?? 0) + 1);
  const [usual] = [...widths].sort((a, b) => b[1] - a[1] || b[0] - a[0]).map(([rows]) => rows);
  const others = single.filter(({ extract }) => extract.rowUnits !== usual);
  if (others.length > 0)
    notes.push(
      `${planter}: ${usual} row units in most fields, but not in ${listed(others)} (${others.map(({ extract }) => extract.rowUnits).join(", ")}); the row units of these are left out. Name each planter in season.json.`,
    );
  const fields = single
    .filter(({ extract }) => extract.rowUnits === usual)
    .sort((a, b) => compared(a.extract.planted ?? "9", b.extract.planted ?? "9") || compared(a.id, b.id));
  return { fields, notes };
}

function effectsOf(planter: string, variable: UnitVariable, fields: readonly KeptField[]): UnitEffect[] {
  const { matters } = UNIT_BANDS[variable];
  const floor = (SMALLEST_ERROR * matters) ** 2;
  const byUnit = new Map<number, (Measured & { id: string })[]>();
  for (const { id, extract } of fields) {
    for (const unit of extract.units) {
      if (unit.variable !== variable || unit.variance === null) continue;
      const place = { id, value: unit.departure, variance: Math.max(unit.variance, floor) };
      byUnit.set(unit.rowUnit, [...(byUnit.get(unit.rowUnit) ?? []), place]);
    }
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
  return units.map(({ rowUnit, places, combined }, k) => {
    const { estimate, variance } = pulled[k]!;
    const half = studentTQuantile(0.5 + LEVEL / 2, combined.df) * Math.sqrt(variance);
    return {
      planter,
      rowUnit,
      variable,
      plain: measured[k]!.value,
      effect: { estimate, low: estimate - half, high: estimate + half, level: LEVEL },
      betweenFields: combined.between,
      pValue: apart ? apart[k]!.pValue : null,
      qValue: null,
      fields: places.map(({ id, value }) => ({
        id,
        departure: value,
        standsOut: Math.abs(value) >= 2 * matters && value * estimate > 0,
      })),
    };
  });
}

function listed(fields: readonly KeptField[]): string {
  const names = fields.map(({ label }) => label);
  return names.length > 3 ? `${names.slice(0, 3).join(", ")} and ${names.length - 3} more` : names.join(", ");
}

function compared(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
