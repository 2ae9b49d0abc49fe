/** End rows that depart as a set: one place instead of its parts, with traffic among its causes. */
import type { Cells } from "../cells/cells.ts";
import type { Pass } from "../passes/passes.ts";
import { findEndRowsFault } from "../rows/end-rows.ts";
import type { Cause } from "../vocabulary/causes.ts";
import type { Draft } from "./draft.ts";
import { type Attribution, nameCause } from "./evidence/attribution.ts";
import { type Place, placeFromLog } from "./find/find-places.ts";

/** Share of a place's cells on the end rows from which it is a matter of them (our judgement). */
const MOSTLY_END_ROWS = 0.8;
/** Odds of traffic against the planter's own settings where only the end rows depart (our judgement). */
const TRAFFIC_ODDS = 6;
/** Causes that packed ground can feign. */
const FEIGNED: readonly Cause[] = [
  "lost-ground-contact",
  "too-shallow",
  "too-deep",
  "uneven-depth",
  "excess-down-force",
];

/** Where the end rows depart as a set, and how drafts and places are changed by it. */
export interface EndRows {
  /** Places with those on the end rows that rest on the log alone taken together. */
  places: Place[];
  /** The draft with traffic weighed in where it lies on the end rows. */
  weigh(draft: Draft, place: Place): Draft;
}

/** @param isWorthIt whether the loss predicted over the cells is worth a finding */
export function endRowPlaces(
  cells: Cells,
  passes: readonly Pass[],
  places: readonly Place[],
  isWorthIt: (cells: readonly number[]) => boolean,
): EndRows {
  const fault = findEndRowsFault(cells, passes);
  if (!fault) return { places: [...places], weigh: (draft) => draft };
  const endRows = new Set(fault.passes);
  const lies = (place: Place): boolean => {
    const on = place.cells.reduce((count, cell) => count + (endRows.has(cells.pass[cell]!) ? 1 : 0), 0);
    return on >= MOSTLY_END_ROWS * place.cells.length;
  };
  const kept = places.filter((place) => place.basis !== "predicted" || !lies(place));
  const covered = new Set(kept.flatMap((place) => [...place.cells]));
  const own = [...cells.pass.keys()].filter((cell) => endRows.has(cells.pass[cell]!) && !covered.has(cell));
  if (own.length > 0 && isWorthIt(own)) {
    kept.push(placeFromLog(Int32Array.from(own)));
  }
  return {
    places: kept,
    weigh: (draft, place) =>
      draft.basis !== "cleared" && lies(place) ? { ...draft, ...withTraffic(draft) } : draft,
  };
}

/** The causes that packed ground can feign give way to traffic by its odds. */
function withTraffic({ cause, probability, alternatives }: Attribution): Attribution {
  const all = [...(cause === "undetermined" ? [] : [{ cause, probability }]), ...alternatives];
  const weights = new Map<Cause, number>();
  for (const entry of all) {
    if (entry.cause === "undetermined") continue;
    const feigned = FEIGNED.includes(entry.cause) ? TRAFFIC_ODDS / (1 + TRAFFIC_ODDS) : 0;
    weights.set(entry.cause, (weights.get(entry.cause) ?? 0) + (1 - feigned) * entry.probability);
    if (feigned > 0) {
      weights.set("wheel-traffic", (weights.get("wheel-traffic") ?? 0) + feigned * entry.probability);
    }
  }
  return nameCause(weights);
}
