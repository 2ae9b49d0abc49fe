/**
 * Rows that depart from the bar on the first passes. The scan of whole fields (`src/rows/row-faults.ts`) asks for runs of
 * passes; where there are few, each pass is cut into stretches of equal length, which are scanned in place of passes. No
 * stretch shows that a row began to depart, and the log is looked at again and again as it grows: a row has to stand further
 * off the bar than one of a whole field.
 */
import { rowDepartures } from "../causes/find/row-departures.ts";
import type { Passes } from "../passes/passes.ts";
import { findRowFaults } from "../rows/row-faults.ts";
import { BANDS } from "../rows/row-unit-bands.ts";
import type { Field } from "../vocabulary/field.ts";
import type { CheckRow, LastYear } from "./check-result.ts";

/** Passes or stretches that the scan should have at least; a stretch has so many moments of the bar at least (our judgement). */
const WANTED_STRETCHES = 8;
const FEWEST_MOMENTS = 20;
/**
 * Least departure on stretches, as a multiple of what a row has to depart by on all passes of a field (our judgement, settled
 * on simulated logs; measured on others, `tests/truth/check-alarms.full.test.ts`).
 */
const EARLY_SHARE = 1.1;

/** Departing rows, sets of rows first; passes are our numbers. */
export function departingRows(field: Field, passes: Passes, lastYear: LastYear | null): CheckRow[] {
  if (passes.rowUnitCount === 0) return [];
  const { stretched, passOfStretch } = stretchedPasses(passes);
  const least = stretched === passes ? 0 : EARLY_SHARE;
  const far = rowDepartures(findRowFaults(field, stretched), []).filter(
    ({ variable, shift }) => Math.abs(shift) >= least * BANDS[variable].allAlong,
  );
  return far.map(({ inFinding: _, ...row }) => ({
    ...row,
    passes: [...new Set(row.passes.map((stretch) => passOfStretch[stretch - 1]!))],
    ofPasses: passes.passes.length,
    lastYear:
      lastYear?.rows.some(
        ({ rowUnits, variable }) =>
          variable === row.variable && row.rowUnits.every((unit) => rowUnits.includes(unit)),
      ) ?? false,
  }));
}

/** The passes cut into stretches, as passes of their own; the same ones where there are enough. */
function stretchedPasses(passes: Passes): { stretched: Passes; passOfStretch: number[] } {
  const pieces = Math.ceil(WANTED_STRETCHES / passes.passes.length);
  const passOfStretch: number[] = [];
  if (pieces <= 1) return { stretched: passes, passOfStretch: passes.passes.map(({ number }) => number) };
  const firstMoment = new Map<number, number>();
  for (let i = 0; i < passes.passOf.length; i++) {
    const pass = passes.passOf[i]!;
    const known = firstMoment.get(pass);
    if (known === undefined || passes.momentOf[i]! < known) firstMoment.set(pass, passes.momentOf[i]!);
  }
  const cuts = passes.passes.map(({ number, moments }) => {
    const own = Math.max(1, Math.min(pieces, Math.floor(moments / FEWEST_MOMENTS)));
    const first = passOfStretch.length;
    for (let k = 0; k < own; k++) passOfStretch.push(number);
    return { first, own, moments };
  });
  const passOf = passes.passOf.map((pass, i) => {
    if (pass === 0) return 0;
    const { first, own, moments } = cuts[pass - 1]!;
    const at = passes.momentOf[i]! - firstMoment.get(pass)!;
    return first + Math.min(own - 1, Math.floor((at * own) / moments)) + 1;
  });
  return {
    stretched: {
      ...passes,
      passOf,
      passes: passOfStretch.map((pass, k) => ({ ...passes.passes[pass - 1]!, number: k + 1 })),
    },
    passOfStretch,
  };
}
