/** What drives depth and load, in plain words. */
import type { Driver } from "../compare/drivers.ts";
import { formatQuantity } from "../quantities/format.ts";
import { METRES_PER_SECOND_PER_MILE_PER_HOUR } from "../quantities/units.ts";
import { FARM_ENGLISH, type Writing } from "../texts/language.ts";
import { SHOWN_VARIABLES } from "../vocabulary/shown-variables.ts";

/** What a change of speed is spoken of. */
const SPEED_STEPS = {
  farm: { said: "1 mph faster", metresPerSecond: METRES_PER_SECOND_PER_MILE_PER_HOUR },
  metric: { said: "1 km/h faster", metresPerSecond: 1 / 3.6 },
} as const;

/** "1.0 mph faster: seeding depth 0.06 in less (0.03 to 0.09 less; 95 % interval)"; says so where no effect is shown. */
export function driverWords(
  { variable, driver, contrast, effect, low, high }: Driver,
  writing: Writing = FARM_ENGLISH,
): string {
  const { kind, name } = SHOWN_VARIABLES[variable];
  const step = SPEED_STEPS[writing.units];
  const factor = driver === "speed" ? step.metresPerSecond : 1;
  const what = driver === "speed" ? step.said : contrast;
  const say = (value: number): string =>
    `${formatQuantity(Math.abs(value * factor), kind, writing)} ${value < 0 ? "less" : "more"}`;
  const interval = `${say(low)} to ${say(high)}; 95 % interval`;
  return low <= 0 && high >= 0
    ? `${what}: no change of ${name} shown (${interval})`
    : `${what}: ${name} ${say(effect)} (${interval})`;
}
