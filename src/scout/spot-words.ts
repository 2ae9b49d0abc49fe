/** A spot in words: why it was chosen and how to find it without a map. */
import { compassPoint } from "../numerics/angles.ts";
import { formatQuantity } from "../quantities/format.ts";
import { type CountedRows, rowsCounted } from "./bar.ts";
import type { ScoutPlan, ScoutSpot } from "./scout-plan.ts";

/** "rows 11-14", "row 17". */
export function rowsWords(rows: CountedRows): string {
  const { first, last } = rows;
  if (first === null || last === null) return `any ${rowsCounted(rows)} rows side by side`;
  return first === last ? `row ${first}` : `rows ${first}-${last}`;
}

/** "pass 12, 210 ft from its south end, rows 11-14 from the left looking north". */
export function findWords({ pass, headingDeg, alongM, passLengthM, rows }: ScoutSpot): string {
  const isNearStart = alongM <= passLengthM / 2;
  const end = compassPoint(isNearStart ? headingDeg + 180 : headingDeg);
  const away = formatQuantity(isNearStart ? alongM : passLengthM - alongM, "length", "farm");
  const side = rows.first === null ? "" : ` from the left looking ${compassPoint(headingDeg)}`;
  return `pass ${pass}, ${away} from its ${end} end, ${rowsWords(rows)}${side}`;
}

/** "inside F2 (Too fast for this setup)". */
export function whyWords({ purpose, finding, soilZone }: ScoutSpot, plan: ScoutPlan): string {
  const title = plan.needs.find((need) => need.finding === finding)?.title ?? "";
  switch (purpose) {
    case "inside":
      return `inside ${finding} (${title})`;
    case "beside":
      return `beside ${finding}, to compare`;
    case "zone":
      return `ordinary ground on ${soilZone}`;
    case "cover":
      return "even cover: the log knows nothing here";
  }
}
