/** What to look at before next spring: the row units that limp over the season, planter by planter. */
import type { MoneyEstimate } from "../findings/findings-document.ts";
import { UNIT_BANDS, type UnitVariable } from "./field/unit-variables.ts";
import type { KeptField } from "./field-result.ts";
import { sumOfMoney } from "./season-ledger.ts";
import type { Test, UnitEffect } from "./unit-effects.ts";

export interface Repair {
  planter: string;
  rowUnit: number;
  /** What speaks for it, the strongest first. */
  evidence: UnitEffect[];
  /** True where the fault is in a part of the fields only. */
  comesAndGoes: boolean;
  /** What the fields' own findings put on this unit, all together; null where none does or none is priced. */
  money: MoneyEstimate | null;
}

/** Chance held over all tests of the season (our judgement; usual in the literature). */
export const FALSE_SHARE = 0.05;
/** A fault that stands out in fewer of its fields than this comes and goes (our judgement). */
const STEADY_SHARE = 0.6;
/** Fewer fields than this make no fault that comes and goes (our judgement). */
const FEWEST_UNUSUAL = 3;

/** To the worse: less is better of skips and doubles, more of singled seeds and contact; load, depth and rate err both ways. */
const WORSE: Record<UnitVariable, "more" | "less" | "both"> = {
  misses: "more",
  multiples: "more",
  spacingVariation: "more",
  singulation: "less",
  groundContact: "less",
  population: "both",
  downForceMargin: "both",
  seedingDepth: "both",
};

/** How a unit is called: all along, in some fields only, or not. To the worse, surely, and by more than matters. */
export function calledAs({
  variable,
  effect,
  steady,
  often,
  fields,
}: UnitEffect): "steady" | "comes and goes" | null {
  const isWorse = (departure: number): boolean =>
    WORSE[variable] === "both" || (WORSE[variable] === "more" ? departure > 0 : departure < 0);
  const isSure = (test: Test | null): boolean => test?.qValue != null && test.qValue <= FALSE_SHARE;
  const isOften = often !== null && isSure(often) && often.fields >= FEWEST_UNUSUAL && isWorse(often.mean);
  const isSteady =
    isSure(steady) && Math.abs(effect.estimate) >= UNIT_BANDS[variable].allAlong && isWorse(effect.estimate);
  // A strong fault in a part of the fields shows in the mean of all of them, too.
  const out = fields.filter(({ standsOut }) => standsOut).length;
  if (isSteady && !(isOften && out < STEADY_SHARE * fields.length)) return "steady";
  return isOften ? "comes and goes" : null;
}

/** One entry a unit, by planter; within a planter the costliest first, then the surest. */
export function repairList(effects: readonly UnitEffect[], kept: readonly KeptField[]): Repair[] {
  const units = new Map<string, UnitEffect[]>();
  for (const effect of effects.filter((one) => calledAs(one) !== null)) {
    const key = `${effect.planter}\n${String(effect.rowUnit).padStart(3)}`;
    units.set(key, [...(units.get(key) ?? []), effect]);
  }
  const repairs = [...units.keys()].sort().map((key): Repair => {
    const evidence = units.get(key)!.sort((a, b) => strength(b) - strength(a));
    const { planter, rowUnit } = evidence[0]!;
    return {
      planter,
      rowUnit,
      evidence,
      comesAndGoes: calledAs(evidence[0]!) === "comes and goes",
      money: moneyOfUnit(planter, rowUnit, kept),
    };
  });
  return repairs.sort(
    (a, b) =>
      (a.planter < b.planter ? -1 : a.planter > b.planter ? 1 : 0) ||
      (b.money?.estimate ?? -1) - (a.money?.estimate ?? -1) ||
      strength(b.evidence[0]!) - strength(a.evidence[0]!),
  );
}

/** How many times what matters, where it is wrong. */
function strength(one: UnitEffect): number {
  return Math.abs(departureWhereWrong(one)) / UNIT_BANDS[one.variable].matters;
}

/** The effect over all fields, or, of a fault that comes and goes, the mean where it came. */
export function departureWhereWrong(one: UnitEffect): number {
  return calledAs(one) === "comes and goes" ? one.often!.mean : one.effect.estimate;
}

/** Findings of the fields on row units that name this one, each spread evenly over the units it names. */
function moneyOfUnit(planter: string, rowUnit: number, kept: readonly KeptField[]): MoneyEstimate | null {
  const parts = kept
    .filter((field) => field.planter === planter)
    .flatMap(({ digest }) => digest.findings)
    .filter(
      ({ kind, rowUnits, basis }) => kind === "row-unit" && basis !== "cleared" && rowUnits.includes(rowUnit),
    )
    .flatMap(({ money, rowUnits }) => {
      if (!money) return [];
      const share = 1 / rowUnits.length;
      const [estimate, low, high] = [money.estimate, money.low, money.high].map((value) => value * share);
      return [{ ...money, estimate: estimate!, low: low!, high: high! }];
    });
  return sumOfMoney(parts);
}
