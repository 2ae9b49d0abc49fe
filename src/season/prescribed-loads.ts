/** What was prescribed on each soil, and what came of it, over the fields. */
import { weightedMean } from "../numerics/descriptive.ts";
import type { PrescribedZone } from "./field/prescribed-zones.ts";
import type { KeptField } from "./field-result.ts";
import { type OverFields, overFields } from "./over-fields.ts";

export interface PrescribedLoad {
  soil: string;
  fields: number;
  areaHa: number;
  /** Means by area, N. */
  askedN: number;
  carriedN: number;
  noLoadShare: number | null;
  /** How far the load carried lies above the one asked for, N; null of fewer fields than three. */
  off: Pick<OverFields, "difference" | "fields"> | null;
}

/** Sorted by soil. Of the fields whose manifest says what was prescribed (`prescription.last`). */
export function prescribedLoads(kept: readonly KeptField[]): PrescribedLoad[] {
  const soils = [...new Set(kept.flatMap(({ digest }) => digest.prescribed.map(({ soil }) => soil)))].sort();
  return soils.map((soil) => {
    const byField = kept
      .map(({ digest }) => digest.prescribed.filter((zone) => zone.soil === soil))
      .filter((zones) => zones.length > 0);
    const zones = byField.flat();
    const withLoad = zones.filter(({ noLoadShare }) => noLoadShare !== null);
    const over = overFields(byField.map((own) => byArea(own, ({ carriedN, askedN }) => carriedN - askedN)));
    return {
      soil,
      fields: byField.length,
      areaHa: zones.reduce((sum, { areaHa }) => sum + areaHa, 0),
      askedN: byArea(zones, ({ askedN }) => askedN),
      carriedN: byArea(zones, ({ carriedN }) => carriedN),
      noLoadShare: withLoad.length === 0 ? null : byArea(withLoad, ({ noLoadShare }) => noLoadShare!),
      off: over && { difference: over.difference, fields: over.fields },
    };
  });
}

function byArea(zones: readonly PrescribedZone[], of: (zone: PrescribedZone) => number): number {
  return weightedMean(
    zones.map(of),
    zones.map(({ areaHa }) => areaHa),
  );
}
