/** Where the field is, so that a sheet or file is not taken for another field's. */
import { labelPlace } from "../numerics/label-point.ts";
import type { Prescription } from "../prescription/prescription.ts";
import type { LocalFrame } from "../vocabulary/field.ts";

/** Latitude and longitude of a place in its first zone, degrees of four decimals; empty where there is no ground. */
export function fieldPosition({ zones }: Prescription, frame: Pick<LocalFrame, "toLonLat">): string {
  const found = labelPlace(zones[0]?.polygon ?? []);
  if (!found) return "";
  const [longitude, latitude] = frame.toLonLat(...found.place);
  return `${latitude.toFixed(4)}, ${longitude.toFixed(4)}`;
}
