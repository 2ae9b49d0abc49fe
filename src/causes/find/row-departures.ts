/** Every row and set of rows that departs from the bar, whether it does harm or not. */
import type { RowFaults } from "../../rows/row-faults.ts";
import type { RowUnitFault } from "../../rows/row-unit-faults.ts";
import { LOG_VARIABLES } from "../../vocabulary/variables.ts";
import type { RowUnitCase } from "./find-row-units.ts";

export interface RowDeparture {
  rowUnits: number[];
  /** What joins the rows; null for a single row unit. */
  set: "wheel-track" | "wing" | null;
  variable: RowUnitFault["variable"];
  /** Unit of the shift; a shift of population is a share of the bar's. */
  unit: string;
  /** Mean departure from the rest of the bar over the passes. */
  shift: number;
  /** Our numbers of the passes. */
  passes: number[];
  /** Chance of such a departure anywhere on a bar with nothing wrong. */
  pValue: number;
  /** True where a finding names it: harm is predicted of it, or the depth is off by more than the tolerance. */
  inFinding: boolean;
}

/** The departures, sets first, then units by number. */
export function rowDepartures(faults: RowFaults, cases: readonly RowUnitCase[]): RowDeparture[] {
  const entry = (fault: Omit<RowUnitFault, "rowUnit">, rows: number[], named: boolean): RowDeparture => ({
    rowUnits: rows,
    set: null,
    variable: fault.variable,
    unit: fault.variable === "population" ? "share" : LOG_VARIABLES[fault.variable].unit,
    shift: fault.shift,
    passes: fault.passes,
    pValue: fault.pValue,
    inFinding: named,
  });
  return [
    ...faults.sets.map((fault) => {
      const named = cases.some(
        ({ set }) => set?.kind === fault.set.kind && fault.set.rows.every((row) => set.rows.includes(row)),
      );
      return { ...entry(fault, fault.set.rows, named), set: fault.set.kind };
    }),
    ...faults.units.map((fault) =>
      entry(
        fault,
        [fault.rowUnit],
        cases.some(({ set, rowUnits }) => set === null && rowUnits.includes(fault.rowUnit)),
      ),
    ),
  ];
}
