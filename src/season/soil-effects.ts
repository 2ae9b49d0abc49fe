/** Soils of a season: each texture against the rest of its own field, the fields as replicates (Student's t). */
import { mean, standardDeviation, weightedMean } from "../numerics/descriptive.ts";
import { studentTCdf, studentTQuantile } from "../numerics/distributions.ts";
import type { Estimate } from "../numerics/estimate.ts";
import type { ExtractedZone } from "./field-extract.ts";
import type { KeptField } from "./field-result.ts";

export const SOIL_VARIABLES = ["downForceMargin", "noLoad", "seedingDepth", "misses"] as const;
export type SoilVariable = (typeof SOIL_VARIABLES)[number];

export interface SoilEffect {
  soil: string;
  variable: SoilVariable;
  fields: number;
  /** How far the soil lies above the rest of its field: N, share, mm. */
  difference: Estimate;
  pValue: number;
  qValue: number | null;
}

const LEVEL = 0.9;
const FEWEST_FIELDS = 3;

function ofZone(zone: ExtractedZone, variable: SoilVariable): number | null {
  return variable === "noLoad" ? zone.noLoadShare : (zone.means[variable] ?? null);
}

/** By texture class, or by the zone's own name where it names none, as logged; sorted by soil. */
export function soilEffects(kept: readonly KeptField[]): SoilEffect[] {
  const differences = new Map<string, { soil: string; variable: SoilVariable; values: number[] }>();
  for (const { extract } of kept) {
    for (const variable of SOIL_VARIABLES) {
      const zones = extract.zones.filter((zone) => ofZone(zone, variable) !== null && zone.areaHa > 0);
      const soils = [...new Set(zones.map(soilOf))].sort();
      for (const soil of soils) {
        const own = zones.filter((zone) => soilOf(zone) === soil);
        const others = zones.filter((zone) => soilOf(zone) !== soil);
        if (others.length === 0) continue;
        const key = `${soil}\n${variable}`;
        const entry = differences.get(key) ?? { soil, variable, values: [] };
        entry.values.push(zonesMean(own, variable) - zonesMean(others, variable));
        differences.set(key, entry);
      }
    }
  }
  return [...differences.values()]
    .filter(({ values }) => values.length >= FEWEST_FIELDS)
    .map(({ soil, variable, values }) => {
      const df = values.length - 1;
      const estimate = mean(values);
      const error = standardDeviation(values) / Math.sqrt(values.length);
      const half = studentTQuantile(0.5 + LEVEL / 2, df) * error;
      return {
        soil,
        variable,
        fields: values.length,
        difference: { estimate, low: estimate - half, high: estimate + half, level: LEVEL },
        pValue: error > 0 ? 2 * studentTCdf(-Math.abs(estimate) / error, df) : 1,
        qValue: null,
      };
    })
    .sort((a, b) => (a.soil < b.soil ? -1 : a.soil > b.soil ? 1 : 0));
}

function soilOf({ texture, soilZone }: ExtractedZone): string {
  return texture ?? soilZone;
}

function zonesMean(zones: readonly ExtractedZone[], variable: SoilVariable): number {
  return weightedMean(
    zones.map((zone) => ofZone(zone, variable)!),
    zones.map(({ areaHa }) => areaHa),
  );
}
