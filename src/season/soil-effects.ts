/** Soils of a season: each texture against the rest of its own field, the fields as replicates (Student's t). */
import { mean, standardDeviation } from "../numerics/descriptive.ts";
import { studentTCdf, studentTQuantile } from "../numerics/distributions.ts";
import type { Estimate } from "../numerics/estimate.ts";
import type { SoilVariable } from "./field/soil-differences.ts";
import type { KeptField } from "./field-result.ts";

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

/** Over the fields, sorted by soil. */
export function soilEffects(kept: readonly KeptField[]): SoilEffect[] {
  const differences = new Map<string, { soil: string; variable: SoilVariable; values: number[] }>();
  for (const { soil, variable, value } of kept.flatMap(({ digest }) => digest.soils)) {
    const key = `${soil}\n${variable}`;
    const entry = differences.get(key) ?? { soil, variable, values: [] };
    entry.values.push(value);
    differences.set(key, entry);
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
