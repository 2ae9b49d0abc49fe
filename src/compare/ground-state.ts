/** How wet the ground was when it was planted, as far as the weather and the soil map tell. */
import { isPoorlyDrained } from "../field/drainage.ts";
import type { Field } from "../field/field.ts";
import { THRESHOLDS } from "./thresholds.ts";

export type GroundState = "damp" | "fit" | "dry";

const DAY_MS = 86_400_000;

/** Rain (mm) that fell in the `days` days before the ISO date, the day itself not counted; null without weather. */
function rainBefore(field: Field, isoDate: string | null, days: number): number | null {
  if (!field.weather || !isoDate) return null;
  const end = Date.parse(isoDate.slice(0, 10));
  let sum = 0;
  let seen = false;
  field.weather.time.forEach((time, i) => {
    const age = (end - Date.parse(time.slice(0, 10))) / DAY_MS;
    if (age < 1 || age > days) return;
    seen = true;
    const rain = field.weather!.rainMm[i]!;
    if (!Number.isNaN(rain)) sum += rain;
  });
  return seen ? sum : null;
}

/** Clayey and poorly drained ground holds the water of a shower for days; other ground does not. */
function holdsWater({ soilZones }: Field, zone: number): boolean {
  const texture = soilZones?.texture[zone];
  return texture === "clay" || texture === "clay loam" || isPoorlyDrained(soilZones?.drainage[zone] ?? null);
}

/**
 * State of the ground on a planting day. With weather: damp when ground that holds water got rain in the three days
 * before, dry when there was next to no rain for ten days, else fit. Without weather clay counts as damp,
 * since that is where pressing does harm, and everything else as fit: how a soil drains by nature says nothing of one day,
 * and nothing of drains laid since. Our judgement.
 * @param zone index into the soil zones, -1 outside all of them
 */
export function groundState(field: Field, isoDate: string | null, zone: number): GroundState {
  const recent = rainBefore(field, isoDate, 3);
  if (recent === null) return field.soilZones?.texture[zone] === "clay" ? "damp" : "fit";
  if (recent >= THRESHOLDS.wetRain.value) return holdsWater(field, zone) ? "damp" : "fit";
  const longer = rainBefore(field, isoDate, 10);
  return longer !== null && longer < THRESHOLDS.wetRain.value ? "dry" : "fit";
}
