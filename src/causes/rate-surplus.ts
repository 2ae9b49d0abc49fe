/**
 * Places that were given more seed than was asked for there. Rates below the target cost plants and are found with the other
 * losses; a rate above it costs seed, which no response curve of the stand shows, so it is looked for apart.
 */
import type { Cells } from "../cells/cells.ts";
import { cellNeighbours } from "../cells/neighbours.ts";
import { FACTORS, type RecordDoses } from "../cells/predicted-loss.ts";
import { THRESHOLDS } from "../compare/thresholds.ts";
import { mean, median } from "../numerics/descriptive.ts";
import { groupBy } from "../passes/record-groups.ts";
import { findRiskRegions } from "../places/guided.ts";
import type { Cause } from "../vocabulary/causes.ts";
import type { Draft } from "./draft.ts";
import { nameCause } from "./evidence/attribution.ts";

/** Detail of a finding about a rate above its target. */
export const ABOVE_TARGET = "above-target";
/** That the sensor counts too many seeds rather than the meter dropping them (our judgement, as for a whole field that is off). */
const COUNTS_TOO_MANY = 0.15;

/**
 * Seeds dropped beyond the target of each record, share of it, one entry a cell; doubles, which are named as such, are taken
 * off. Null without a rate or a target.
 * @param multiples share of doubled seeds by record, where it was logged
 * @param excluded 1 for records that are not to count
 */
export function rateSurplus(
  doses: RecordDoses,
  multiples: Float64Array | undefined,
  cellOf: Int32Array,
  cells: Cells,
  excluded: Uint8Array,
): Float64Array | null {
  const { rate } = doses;
  if (!rate) return null;
  const groups = groupBy(cellOf, cells.count);
  const surplus = new Float64Array(groups.records.length);
  const doubled = new Float64Array(groups.records.length);
  return Float64Array.from({ length: cells.count }, (_, cell) => {
    let count = 0;
    for (let k = groups.start[cell]!; k < groups.start[cell + 1]!; k++) {
      const record = groups.records[k]!;
      if (excluded[record] || Number.isNaN(rate[record]!)) continue;
      surplus[count] = -rate[record]!;
      doubled[count++] = multiples?.[record] || 0;
    }
    return count === 0 ? 0 : Math.max(0, mean(surplus, 0, count) - mean(doubled, 0, count));
  });
}

/**
 * Connected ground above its target by more than the tolerance, and by as much above what is usual on the field: one that is
 * above as a whole is judged apart from this.
 * @returns cells of each place, the largest first
 */
export function surplusGround(surplus: Float64Array, cells: Cells, swathWidthM: number): Int32Array[] {
  if (surplus.length === 0) return [];
  const usual = median(surplus);
  const beyond = surplus.map((value) => Math.max(0, value - usual));
  return findRiskRegions(
    cells,
    cellNeighbours(cells, swathWidthM),
    { surplus: beyond },
    {
      minimumLoss: THRESHOLDS.populationTolerance.value,
      minimumAreaM2: THRESHOLDS.smallestRegion.value,
    },
  )
    .sort((a, b) => b.areaM2 - a.areaM2)
    .map((region) => region.cells);
}

/** The draft of such a place, named for its rate: it costs seed, and the log expects no loss of plants by it. */
export function asSurplus(draft: Draft): Draft {
  const weights = new Map<Cause, number>([
    ["rate-off-target", 1 - COUNTS_TOO_MANY],
    ["sensor-fault", COUNTS_TOO_MANY],
  ]);
  const predicted = Object.fromEntries(FACTORS.map((factor) => [factor, 0])) as Draft["predicted"];
  return { ...draft, ...nameCause(weights), basis: "predicted", detail: ABOVE_TARGET, predicted };
}
