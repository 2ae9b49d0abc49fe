/** Where to dig: behind which rows, and before which end of which pass. */
import { turnBetween } from "../numerics/angles.ts";
import { median } from "../numerics/descriptive.ts";
import type { Pass, Passes } from "../passes/passes.ts";
import { digRows } from "../prescription/dig-rows.ts";
import { LIMITS } from "../prescription/limits.ts";
import type { Field } from "../vocabulary/field.ts";
import type { CheckChange, CheckDig, CheckRow } from "./check-result.ts";

/** Headings closer than this to one line are driven along it, degrees. */
const ALONG_DEG = 30;
/** More rows than these nobody digs at one stop (our judgement). */
const MOST_DEPARTING = 4;

/** @param passes at least one */
export function whereToDig(
  field: Field,
  passes: Passes,
  rows: readonly CheckRow[],
  changes: readonly CheckChange[],
): CheckDig {
  const last = passes.passes.at(-1)!;
  const tracks = rows.filter(({ set }) => set === "wheel-track").flatMap(({ rowUnits }) => rowUnits);
  // Those that ask for a change first, then the other ones that stand off the bar.
  const single = (entry: { rowUnits: number[] }): number[] =>
    entry.rowUnits.length === 1 ? entry.rowUnits : [];
  const departing = [...new Set([...changes.flatMap(single), ...rows.flatMap(single)])];
  return {
    pass: last.number,
    headingDeg: last.headingDeg,
    leftM: leftOf(last, passes.passes.slice(0, -1)),
    withinM: LIMITS.digWithin.value,
    ...digRows(field.planter, passes.rowUnitCount, tracks),
    departing: departing.slice(0, MOST_DEPARTING),
  };
}

/** What is left of the last pass by the usual length of those along the same line, m; null where there is none. */
function leftOf(last: Pass, before: readonly Pass[]): number | null {
  const alike = before.filter((pass) => isAlong(pass.headingDeg, last.headingDeg));
  if (alike.length === 0) return null;
  return Math.max(0, median(alike.map(({ lengthM }) => lengthM)) - last.lengthM);
}

function isAlong(a: number, b: number): boolean {
  const turn = Math.abs(turnBetween(a, b));
  return Math.min(turn, 180 - turn) <= ALONG_DEG;
}

/** True where some passes were driven against others. */
export function drivenBothWays(passes: readonly Pass[]): boolean {
  return passes.some(
    (pass) => Math.abs(turnBetween(pass.headingDeg, passes[0]!.headingDeg)) >= 180 - ALONG_DEG,
  );
}
