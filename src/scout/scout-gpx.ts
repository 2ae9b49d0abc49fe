/** Spots as waypoints of GPX 1.1 (topografix.com/GPX/1/1), in walking order, for a handheld or a phone. */
import type { Field } from "../vocabulary/field.ts";
import { escapeMarkup } from "../write/markup.ts";
import { degreesOf } from "./scout-files.ts";
import type { ScoutPlan } from "./scout-plan.ts";
import { findWords, whyWords } from "./spot-words.ts";

export interface Waypoint {
  longitude: number;
  latitude: number;
  description: string;
}

/** The spots of a scouting plan. */
export function scoutGpx(plan: ScoutPlan, field: Field): string {
  const waypoints = plan.spots.map((spot): Waypoint => {
    const [longitude, latitude] = degreesOf(spot, field);
    const described = `${findWords(spot)}; ${whyWords(spot, plan)}${spot.dig ? "; dig too" : ""}`;
    return { longitude, latitude, description: described };
  });
  return waypointsGpx(`${field.name}: where to count next`, waypoints);
}

/** Waypoints with a short name ("07"), so that receivers that sort by name keep the order; plain ASCII throughout. */
export function waypointsGpx(title: string, waypoints: readonly Waypoint[]): string {
  const digits = String(waypoints.length).length;
  const points = waypoints.map(({ longitude, latitude, description }, i) => {
    const name = String(i + 1).padStart(digits, "0");
    return ` <wpt lat="${latitude.toFixed(7)}" lon="${longitude.toFixed(7)}"><name>${name}</name><desc>${plain(description)}</desc></wpt>`;
  });
  return `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="Evenstand" xmlns="http://www.topografix.com/GPX/1/1">
 <metadata><name>${plain(title)}</name></metadata>
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
