/** How much of a place, and of the rest of the field, the soil map calls wet by nature. */
import type { Cells } from "../../cells/cells.ts";
import { isWetByNature } from "../../vocabulary/drainage.ts";
import type { SoilZones } from "../../vocabulary/field.ts";

/** Shares of area, 0..1. */
export interface WetShares {
  here: number;
  elsewhere: number;
}

/** @returns null where the soil map gives no drainage class, or the place is the whole field. */
export function wetShares(members: Int32Array, cells: Cells, soilZones: SoilZones | null): WetShares | null {
  if (!soilZones?.drainage.some((drainage) => drainage !== null)) return null;
  const inside = new Uint8Array(cells.count);
  for (const cell of members) inside[cell] = 1;
  // Area and wet area, elsewhere and here.
  const areaM2 = [0, 0];
  const wetM2 = [0, 0];
  for (let cell = 0; cell < cells.count; cell++) {
    const place = inside[cell]!;
    areaM2[place]! += cells.areaM2[cell]!;
    if (isWetByNature(soilZones.drainage[cells.zone[cell]!] ?? null)) wetM2[place]! += cells.areaM2[cell]!;
  }
  if (areaM2[0] === 0 || areaM2[1] === 0) return null;
  return { here: wetM2[1]! / areaM2[1]!, elsewhere: wetM2[0]! / areaM2[0]! };
}
