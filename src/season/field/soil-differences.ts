/** Soils of one field: each texture against the rest of the field. */
import { weightedMean } from "../../numerics/descriptive.ts";
import type { ExtractedZone, FieldExtract } from "./field-extract.ts";

export const SOIL_VARIABLES = ["downForceMargin", "noLoad", "seedingDepth", "misses"] as const;
export type SoilVariable = (typeof SOIL_VARIABLES)[number];

/** How far a soil lies above the rest of its own field. */
export interface SoilDifference {
  soil: string;
  variable: SoilVariable;
  value: number;
}

/** By texture class, or by the zone's own name where it names none, as logged. */
export function soilDifferences({ zones: all }: Pick<FieldExtract, "zones">): SoilDifference[] {
  return SOIL_VARIABLES.flatMap((variable) => {
    const zones = all.filter((zone) => ofZone(zone, variable) !== null && zone.areaHa > 0);
    const soils = [...new Set(zones.map(soilOf))].sort();
    return soils.flatMap((soil) => {
      const own = zones.filter((zone) => soilOf(zone) === soil);
      const others = zones.filter((zone) => soilOf(zone) !== soil);
      if (others.length === 0) return [];
      return [{ soil, variable, value: zonesMean(own, variable) - zonesMean(others, variable) }];
    });
  });
}

/** Texture class, or the zone's own name where it names none. */
export function soilOf({ texture, soilZone }: ExtractedZone): string {
  return texture ?? soilZone;
}

function zonesMean(zones: readonly ExtractedZone[], variable: SoilVariable): number {
  return weightedMean(
    zones.map((zone) => ofZone(zone, variable)!),
    zones.map(({ areaHa }) => areaHa),
  );
}

function ofZone(zone: ExtractedZone, variable: SoilVariable): number | null {
  return variable === "noLoad" ? zone.noLoadShare : (zone.means[variable] ?? null);
}
