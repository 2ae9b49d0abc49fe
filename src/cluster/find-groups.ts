/**
 * The search for groups from stand model to score scan, with a second look: a real group makes the noise look
 * larger and longer-ranged than it is and so hides itself and others. What stands out on the first look is
 * left out of the estimates, and the whole search is run again with them. The first look is lenient and
 * decides nothing; only the second one raises an alarm. (Rates measured on simulated fields: see the tests.)
 */
import type { Neighbours } from "./neighbours.ts";
import type { Candidate, ScanOptions, ScanResult } from "./score-scan.ts";
import { scanForGroups } from "./score-scan.ts";
import type { StandModel, StandModelInput } from "./stand-model.ts";
import { fitStandModel } from "./stand-model.ts";

export interface GroupSearchInput extends StandModelInput {
  candidates: readonly Candidate[];
  neighbours: Neighbours;
  /** Further columns that are taken out beside the zones (share of each point that a departing row unit planted). */
  furtherColumns?: readonly Float64Array[];
}

export interface GroupSearch extends ScanResult {
  /** The model the groups were tested with. */
  model: StandModel;
}

/** Chance of one false alarm at which the first look leaves a place out of the estimates. */
const LENIENT_ALPHA = 0.5;
const FIRST_LOOK_SIMULATIONS = 199;

/** What the free family's scores are divided by, by how the covariance was estimated (measured on simulated fields). */
const INFLATION: Record<StandModel["method"], number> = {
  "restricted likelihood": 1.15,
  "robust variogram": 1.3,
};

/** Finds the groups of a field; same input and seed, same answer. */
export function findGroups(
  input: GroupSearchInput,
  options: Partial<ScanOptions> & { seed: number },
): GroupSearch {
  const look = (model: StandModel, settings: Partial<ScanOptions> & { seed: number }): ScanResult =>
    scanForGroups(
      {
        ...input,
        columns: [...model.columns, ...(input.furtherColumns ?? [])],
        factor: model.factor,
        adjusted: model.adjusted,
      },
      { inflation: INFLATION[model.method], ...settings },
    );
  const firstModel = fitStandModel(input);
  const first = look(firstModel, { ...options, alpha: LENIENT_ALPHA, simulations: FIRST_LOOK_SIMULATIONS });
  if (first.groups.length === 0) return { ...look(firstModel, options), model: firstModel };
  const leftOut = new Uint8Array(input.response.length);
  for (const group of first.groups) {
    for (const member of group.members) leftOut[member] = 1;
    for (const member of group.outline) leftOut[member] = 1;
  }
  const model = fitStandModel(input, leftOut);
  return { ...look(model, options), model };
}
