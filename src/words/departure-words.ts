/** What departs from the rest of the field, from the log alone: "11.0 ac ran at 35 lb, the rest at 115 lb". */
import type { Draft, LogDeparture } from "../causes/draft.ts";
import { formatQuantity } from "../quantities/format.ts";
import { SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";
import type { Writing } from "../texts/language.ts";
import { SHOWN_VARIABLES } from "../vocabulary/shown-variables.ts";

const SAID: Record<LogDeparture["variable"], string> = {
  speed: "was driven at",
  downForceMargin: "ran at",
  seedingDepth: "reads",
  misses: "has",
  population: "was given",
};

/** A line for each variable that departs; none where nothing was listed for that. */
export function departureWords(draft: Draft, writing: Writing): string[] {
  const area = formatQuantity(draft.areaM2 / SQUARE_METRES_PER_HECTARE, "area", writing);
  return (draft.logDepartures ?? []).map(({ variable, inside, elsewhere, target }) => {
    const { kind, name } = SHOWN_VARIABLES[variable];
    const said = SAID[variable];
    const say = (value: number): string => formatQuantity(value, kind, writing);
    const aim =
      target === null
        ? variable === "misses"
          ? ""
          : "; no target was given"
        : `; the target is ${Array.isArray(target) ? `${say(target[0])} to ${say(target[1])}` : say(target)}`;
    return `${name}: ${area} ${said} ${say(inside)}, the rest ${said.endsWith(" at") ? "at " : ""}${say(elsewhere)}${aim}`;
  });
}
