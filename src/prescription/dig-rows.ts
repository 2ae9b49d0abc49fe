/** Behind which rows to dig before the rest of a field is planted. */
import type { PlanterSetup } from "../vocabulary/field.ts";

/** Row units, ascending; a list is empty where nothing tells them. */
export interface DigRows {
  middle: number[];
  wings: number[];
  wheels: number[];
}

/** Fewer rows than this have no wings. */
const FEWEST_WITH_WINGS = 6;

/**
 * A row or two in the middle of the bar, one on each wing, and those that run in wheel tracks.
 * @param loggedRows row units that the log has, 0 where it has none
 * @param foundWheels rows that the log shows to run in tracks, for a planter sheet that names none
 */
export function digRows(planter: PlanterSetup, loggedRows: number, foundWheels: readonly number[]): DigRows {
  const rows = planter.rowUnits ?? (loggedRows > 0 ? loggedRows : null);
  const { wings, wheelTrackRows } = planter;
  const eighth = rows === null ? 0 : Math.round(rows / 8) || 1;
  return {
    middle: rows === null ? [] : rows === 1 ? [1] : [Math.floor(rows / 2), Math.floor(rows / 2) + 1],
    wings:
      rows === null || rows < FEWEST_WITH_WINGS
        ? []
        : wings.length > 1
          ? [wings[0]!, wings.at(-1)!].map(([a, b]) => Math.round((a + b) / 2))
          : [eighth, rows + 1 - eighth],
    wheels: wheelTrackRows.length > 0 ? [...wheelTrackRows] : [...new Set(foundWheels)].sort((a, b) => a - b),
  };
}
