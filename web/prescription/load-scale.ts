/** One scale of loads for all cards, so that their bars can be compared. */

import { shownValue, type UnitSystem } from "../../src/quantities/format.ts";
import { convert } from "../../src/quantities/units.ts";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { MOISTURES } from "../../src/vocabulary/moisture.ts";

export interface LoadScale {
  /** Load at the right end, N; the left end is no load. */
  mostN: number;
  /** Loads with a figure under them, N. */
  ticksN: number[];
}

/** Steps a tick may be apart, in the unit shown. */
const STEPS: Readonly<Record<UnitSystem, readonly number[]>> = {
  farm: [25, 50, 100, 200],
  metric: [100, 200, 500, 1000],
};
const MOST_TICKS = 6;

export function loadScale(view: Pick<PrescriptionView, "decisions">, system: UnitSystem): LoadScale {
  const loads = view.decisions.flatMap((decision) => [
    decision.currentMarginN ?? 0,
    ...MOISTURES.flatMap((state) => [decision.best[state].highN, decision.prescribedN[state]]),
  ]);
  const most = shownValue(Math.max(...loads, 1), "force", system);
  const step = STEPS[system].find((each) => most / each <= MOST_TICKS) ?? STEPS[system].at(-1)!;
  const ticks = Array.from({ length: Math.ceil(most / step) + 1 }, (_, i) => i * step);
  const inside = (shown: number) => (system === "farm" ? convert(shown, "lbf", "N") : shown);
  return { mostN: inside(ticks.at(-1)!), ticksN: ticks.map(inside) };
}

/** Place of a load along a bar of a width; ends are held. */
export function placeOf(scale: LoadScale, loadN: number, width: number): number {
  return Math.min(Math.max(loadN / scale.mostN, 0), 1) * width;
}
