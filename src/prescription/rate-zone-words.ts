/** Quantities in the sentences about rate zones, in both systems of units. */
import { convert } from "../units.ts";

export function forceWords(newtons: number): string {
  return `${Math.round(convert(newtons, "N", "lbf"))} lb (${Math.round(newtons)} N)`;
}

export function areaWords(hectares: number): string {
  const digits = hectares < 0.1 ? 3 : 1;
  return `${hectares.toFixed(digits)} ha (${convert(hectares, "ha", "ac").toFixed(digits)} ac)`;
}

export function lengthWords(metres: number): string {
  return `${Math.round(metres)} m (${Math.round(convert(metres, "m", "ft"))} ft)`;
}
