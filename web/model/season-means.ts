/** What two seasons of a field have in figures: means over the planted ground, by area, and the counts. */
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { median } from "../../src/numerics/descriptive.ts";
import type { CellColumns, CellValueName, MapLayers } from "../../src/report/map-layers.ts";

/** The variables shown, in the order of what matters most in planting (common practice). */
export const SEASON_VARIABLES = [
  "seedingDepth",
  "depthSd",
  "downForceMargin",
  "noLoad",
  "misses",
  "singulation",
  "speed",
  "population",
] as const satisfies readonly CellValueName[];
export type SeasonVariable = (typeof SEASON_VARIABLES)[number];

/**
 * Mean of a variable over the pieces of pass, weighted by their area.
 * @param zone index of a soil zone; null for the whole field
 * @returns null where no piece has a value
 */
export function meanOf(cells: CellColumns, variable: SeasonVariable, zone: number | null): number | null {
  const values = cells.values[variable];
  if (!values) return null;
  let sum = 0;
  let area = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i];
    if (value === null || value === undefined || (zone !== null && cells.zone[i] !== zone)) continue;
    const own = cells.lengthM[i]! * cells.widthM[i]!;
    sum += value * own;
    area += own;
  }
  return area > 0 ? sum / area : null;
}

/** Names of soil zones that both seasons have, in the order of the first. */
export function commonZones(one: MapLayers, other: MapLayers): string[] {
  return one.zoneNames.filter((name) => other.zoneNames.includes(name));
}

/** Middle of the stand counts, plants/ha, and how many there are; null without counts. */
export function standOf(layers: MapLayers): { middlePerHa: number; counts: number } | null {
  const stands = layers.counts.features
    .map(({ properties }) => properties.standPerHa)
    .filter((stand) => stand !== null);
  return stands.length === 0
    ? null
    : { middlePerHa: median(Float64Array.from(stands)), counts: layers.countsInAll ?? stands.length };
}

/** Places that counts confirm: how many and how much ground, ha. */
export function confirmedOf({ findings }: FindingsDocument): { places: number; areaHa: number } {
  const confirmed = findings.filter(({ basis }) => basis === "counted");
  return {
    places: confirmed.length,
    areaHa: confirmed.reduce((sum, { where }) => sum + where.areaHa, 0),
  };
}
