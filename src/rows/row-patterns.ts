/**
 * Sets of rows that the faults of single units draw by themselves, where the planter sheet names none: a few rows
 * that lie symmetrically about the middle of the bar (tires and tracks do), or a block side by side (a section).
 */
import { median } from "../numerics/descriptive.ts";
import type { RowSet, RowSetFault } from "./row-set-faults.ts";
import { TRAFFIC_VARIABLES } from "./row-set-faults.ts";
import type { RowUnitFault } from "./row-unit-faults.ts";

/** Tires and tracks run over no more than this share of the rows (our judgement). */
const MOST_TRACK_SHARE = 1 / 3;
/** Share of the departing rows that has to be part of the pattern (our judgement). */
const LEAST_IN_PATTERN = 0.75;
/** A block of fewer rows than this, or than this share of the bar, is rows and no section (our judgement). */
const FEWEST_IN_BLOCK = 4;
const LEAST_BLOCK_SHARE = 1 / 6;
/** Two rows draw a pattern only where they depart on at least this share of the passes of both together. */
const SHARED_PASSES = 0.5;
/** A unit of a departing set is called by itself only where it departs by more than this share of the set's shift on top. */
export const BEYOND_SET = 0.5;

/**
 * Tells patterns from the faults of single units: for each variable and side, the rows that depart on about the
 * same passes.
 * @returns the patterns as faults, and the faults of units that belong to none or depart far beyond theirs
 */
export function patternsOf(
  faults: readonly RowUnitFault[],
  rowUnits: number,
): { sets: RowSetFault[]; units: RowUnitFault[] } {
  const sets: RowSetFault[] = [];
  let units = [...faults];
  for (const variable of new Set(faults.map((fault) => fault.variable))) {
    for (const side of [-1, 1]) {
      const own = units.filter((fault) => fault.variable === variable && fault.shift * side > 0);
      const first = [...own].sort((a, b) => b.passes.length - a.passes.length || a.rowUnit - b.rowUnit)[0];
      if (!first) continue;
      const together = own.filter((fault) => sharedPasses(fault, first) >= SHARED_PASSES);
      const rows = [...new Set(together.map((fault) => fault.rowUnit))].sort((a, b) => a - b);
      const set =
        (TRAFFIC_VARIABLES.includes(variable) ? symmetricRows(rows, rowUnits) : null) ??
        blockOf(rows, rowUnits);
      if (!set) continue;
      const members = together.filter((fault) => set.rows.includes(fault.rowUnit));
      sets.push(joined(set, members));
      const usual = Math.abs(median(members.map((fault) => fault.shift)));
      units = units.filter(
        (fault) => !members.includes(fault) || Math.abs(fault.shift) > (1 + BEYOND_SET) * usual,
      );
    }
  }
  return { sets, units };
}

function sharedPasses(a: RowUnitFault, b: RowUnitFault): number {
  const other = new Set(b.passes);
  const both = a.passes.filter((pass) => other.has(pass)).length;
  return both / (a.passes.length + b.passes.length - both);
}

/** Rows whose counterpart on the other side departs too; the outermost pair is no place for a tire. */
function symmetricRows(rows: readonly number[], rowUnits: number): RowSet | null {
  const paired = rows.filter(
    (row) => row > 1 && row < rowUnits && row !== rowUnits + 1 - row && rows.includes(rowUnits + 1 - row),
  );
  if (paired.length < 2 || paired.length < LEAST_IN_PATTERN * rows.length) return null;
  if (paired.length > MOST_TRACK_SHARE * rowUnits) return null;
  return { kind: "wheel-track", rows: paired, given: false };
}

/** The longest block of departing rows side by side, one row in it may be missing. */
function blockOf(rows: readonly number[], rowUnits: number): RowSet | null {
  let block: number[] = [];
  let run: number[] = [];
  for (const row of rows) {
    run = run.length > 0 && row - run.at(-1)! <= 2 ? [...run, row] : [row];
    if (run.length > block.length) block = run;
  }
  const width = block.length > 0 ? block.at(-1)! - block[0]! + 1 : 0;
  if (block.length < Math.max(FEWEST_IN_BLOCK, LEAST_BLOCK_SHARE * rowUnits)) return null;
  if (block.length < width - 1 || block.length < LEAST_IN_PATTERN * rows.length) return null;
  return { kind: "wing", rows: block, given: false };
}

/** The faults of the rows as one: passes of most of them, mean shift, the strongest score. */
function joined(set: RowSet, members: readonly RowUnitFault[]): RowSetFault {
  const count = new Map<number, number>();
  for (const { passes } of members) for (const pass of passes) count.set(pass, (count.get(pass) ?? 0) + 1);
  const strongest = members.reduce((best, fault) => (Math.abs(fault.z) > Math.abs(best.z) ? fault : best));
  return {
    set,
    variable: strongest.variable,
    passes: [...count]
      .filter(([, rows]) => rows >= set.rows.length / 2)
      .map(([pass]) => pass)
      .sort((a, b) => a - b),
    shift: members.reduce((sum, fault) => sum + fault.shift, 0) / members.length,
    z: strongest.z,
    pValue: strongest.pValue,
    shareOfPasses: members.reduce((sum, fault) => sum + fault.shareOfPasses, 0) / members.length,
  };
}
