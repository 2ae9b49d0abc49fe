/** Late plants of a count: as counted, else as its flag test shows them. */
import type { StandCounts } from "../vocabulary/field.ts";
import { readFlagTest } from "./flag-test.ts";

/**
 * Share of the plants late at a spot, 0..1; NaN where neither was looked for. A flag test counts by the peer-reviewed
 * definition, more than 3 days after the first (Nemergut et al. 2021), which needs no weather; the other definition
 * stands beside it in the report.
 * @param spot index into the counts
 */
export function lateShareAt(counts: Pick<StandCounts, "lateShare" | "flagged">, spot: number): number {
  const counted = counts.lateShare[spot]!;
  if (!Number.isNaN(counted)) return counted;
  const visits = counts.flagged?.[spot];
  if (!visits?.some(({ plants }) => plants > 0)) return Number.NaN;
  return readFlagTest(visits, null).byDays ?? Number.NaN;
}
