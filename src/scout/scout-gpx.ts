/** scout.gpx: the spots as waypoints of GPX 1.1 (topografix.com/GPX/1/1), in walking order, for a handheld or a phone. */
import type { Field } from "../vocabulary/field.ts";
import { escapeMarkup } from "../write/markup.ts";
import { degreesOf } from "./scout-files.ts";
import type { ScoutPlan } from "./scout-plan.ts";
import { findWords, whyWords } from "./spot-words.ts";

/** Waypoints with a short name ("07"), so that receivers that sort by name keep the order; plain ASCII throughout. */
export function scoutGpx(plan: ScoutPlan, field: Field): string {
  const digits = String(plan.spots.length).length;
  const points = plan.spots.map((spot) => {
    const [longitude, latitude] = degreesOf(spot, field);
    const name = String(spot.number).padStart(digits, "0");
    const described = `${findWords(spot)}; ${whyWords(spot, plan)}${spot.dig ? "; dig too" : ""}`;
    return ` <wpt lat="${latitude.toFixed(7)}" lon="${longitude.toFixed(7)}"><name>${name}</name><desc>${plain(described)}</desc></wpt>`;
  });
  return `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="Evenstand" xmlns="http://www.topografix.com/GPX/1/1">
 <metadata><name>${plain(`${field.name}: where to count next`)}</name></metadata>
${points.join("\n")}
</gpx>
`;
}

/** Letters without their marks, what is still not ASCII as "?", markup escaped. */
function plain(text: string): string {
  const ascii = text
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .replace(/[^ -~]/g, "?");
  return escapeMarkup(ascii);
}
