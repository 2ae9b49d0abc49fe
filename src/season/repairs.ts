/** What to look at before next spring: the row units that limp over the season, planter by planter. */
import type { MoneyEstimate } from "../report/findings-document.ts";
import type { KeptField } from "./field-result.ts";
import { sumOfMoney } from "./season-ledger.ts";
import type { UnitEffect } from "./unit-effects.ts";
import { UNIT_BANDS, type UnitVariable } from "./unit-variables.ts";

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

/** True for a unit that lies apart from its bar, to the worse, by more than matters. */
export function isCalled({ variable, plain, effect, qValue }: UnitEffect): boolean {
  if (qValue === null || qValue > FALSE_SHARE) return false;
  if (Math.abs(effect.estimate) < UNIT_BANDS[variable].matters) return false;
  const worse = WORSE[variable];
  return worse === "both" || (worse === "more" ? plain > 0 : plain < 0);
}

/** One entry a unit, by planter; within a planter the costliest first, then the surest. */
export function repairList(effects: readonly UnitEffect[], kept: readonly KeptField[]): Repair[] {
  const units = new Map<string, UnitEffect[]>();
  for (const effect of effects.filter(isCalled)) {
    const key = `${effect.planter}\n${String(effect.rowUnit).padStart(3)}`;
    units.set(key, [...(units.get(key) ?? []), effect]);
  }
  const repairs = [...units.keys()].sort().map((key): Repair => {
    const evidence = units.get(key)!.sort((a, b) => strength(b) - strength(a));
    const { planter, rowUnit, fields } = evidence[0]!;
    const out = fields.filter(({ standsOut }) => standsOut).length;
    return {
      planter,
      rowUnit,
      evidence,
      comesAndGoes: out > 0 && out < STEADY_SHARE * fields.length,
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

/** How many times what matters. */
function strength({ variable, effect }: UnitEffect): number {
  return Math.abs(effect.estimate) / UNIT_BANDS[variable].matters;
}

/** Findings of the fields on row units that name this one, each spread evenly over the units it names. */
function moneyOfUnit(planter: string, rowUnit: number, kept: readonly KeptField[]): MoneyEstimate | null {
  const parts = kept
    .filter((field) => field.planter === planter)
    .flatMap(({ extract }) => extract.findings)
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
