/** What was prescribed for the soils of one field, and what came of it. */
import type { FieldExtract } from "./field-extract.ts";
import { soilOf } from "./soil-differences.ts";

export interface PrescribedZone {
  soil: string;
  areaHa: number;
  /** Load asked for and carried, N. */
  askedN: number;
  carriedN: number;
  noLoadShare: number | null;
}

/** Zones with a prescribed load in which a load was logged. */
export function prescribedZones({ zones }: Pick<FieldExtract, "zones">): PrescribedZone[] {
  return zones.flatMap((zone) => {
    const { areaHa, means, noLoadShare, prescribedN } = zone;
    const carriedN = means.downForceMargin;
    if (prescribedN === null || carriedN === undefined || areaHa <= 0) return [];
    return [{ soil: soilOf(zone), areaHa, askedN: prescribedN, carriedN, noLoadShare }];
  });
}
