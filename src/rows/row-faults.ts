/** Faults of rows in the order of suspicion: sets of rows first, then single units. */
import type { Passes } from "../passes/passes.ts";
import type { Field } from "../vocabulary/field.ts";
import { BEYOND_SET, patternsOf } from "./row-patterns.ts";
import { findRowSetFaults, type RowSetFault } from "./row-set-faults.ts";
import { findRowUnitFaults, judgedSeries, type RowUnitFault } from "./row-unit-faults.ts";

export interface RowFaults {
  sets: RowSetFault[];
  /** Units that depart beyond what the sets they belong to explain. */
  units: RowUnitFault[];
}

/**
 * Finds what departs on the bar: the sets of rows of the planter sheet (tracks, wings), then single units, of which
 * those that draw a symmetric pattern or a block are taken together where the sheet names no such set.
 */
export function findRowFaults(field: Field, passes: Passes): RowFaults {
  const judged = judgedSeries(field, passes);
  const { faults: given, rest } = findRowSetFaults(field, passes.rowUnitCount, judged);
  const beyond = findRowUnitFaults(field, passes, rest).filter((fault) =>
    given.every(
      ({ set, variable, shift }) =>
        variable !== fault.variable ||
        !set.rows.includes(fault.rowUnit) ||
        Math.abs(fault.shift) > BEYOND_SET * Math.abs(shift),
    ),
  );
  const { sets, units } = patternsOf(beyond, passes.rowUnitCount);
  return { sets: [...given, ...sets], units };
}
