/** The planter's bar as a scout meets it: which rows to count, and where they lie. */
import { usualSwathWidth } from "../causes/find-causes.ts";
import type { Analysis } from "../findings/analysis.ts";
import { thousandthAcreRowLengthM } from "../stand/counts.ts";

/** Rows counted side by side at one stop: 4 (Iowa State Univ. Extension). */
const ROWS_A_STOP = 4;
/** Row spacing where neither manifest nor log has one, m: 30 in (common practice, no source). */
export const USUAL_ROW_SPACING_M = 0.762;

/** Rows to count, numbered from the left in the direction of travel; null where the log does not know rows. */
export interface CountedRows {
  first: number | null;
  last: number | null;
  /** The one row unit the count speaks for, null where it speaks for the ground. */
  rowUnit: number | null;
}

export interface Bar {
  rows: number | null;
  rowSpacingM: number;
  /** A thousandth of an acre of one row, m. */
  rowLengthM: number;
  /** Rows that are no measure of the ground: behind wheels, or found departing. */
  unusual: ReadonlySet<number>;
  /** Middle of the rows, m to the right of the middle of the bar. */
  offsetOfRowsM(rows: CountedRows): number;
}

export function barOf({ field, passes, document }: Analysis, notes: string[]): Bar {
  const rows = field.planter.rowUnits ?? (passes.rowUnitCount > 0 ? passes.rowUnitCount : null);
  const swathM = usualSwathWidth(passes);
  const rowSpacingM =
    field.planter.rowSpacingM ?? (rows !== null && swathM > 0 ? swathM / rows : USUAL_ROW_SPACING_M);
  if (field.planter.rowSpacingM === null)
    notes.push(
      `row spacing ${(rowSpacingM / 0.0254).toFixed(1)} in assumed; write planter.rowSpacing if not so`,
    );
  const departing = document.findings.flatMap((finding) => finding.where.rowUnits);
  return {
    rows,
    rowSpacingM,
    rowLengthM: thousandthAcreRowLengthM(rowSpacingM),
    unusual: new Set([...field.planter.wheelTrackRows, ...departing]),
    offsetOfRowsM: ({ first, last }) =>
      rows === null || first === null || last === null
        ? 0
        : ((first + last) / 2 - (rows + 1) / 2) * rowSpacingM,
  };
}

/** Neighbouring rows as near the middle of the bar as may be, none of them unusual; fewer where there are not four. */
export function usualRows(bar: Bar): CountedRows {
  const { rows, unusual } = bar;
  if (rows === null) return { first: null, last: null, rowUnit: null };
  for (let side = Math.min(ROWS_A_STOP, rows); side > 0; side--) {
    let best: number | null = null;
    const fromMiddle = (first: number): number => Math.abs(first + (side - 1) / 2 - (rows + 1) / 2);
    for (let first = 1; first + side - 1 <= rows; first++) {
      const isUsual = [...Array(side).keys()].every((k) => !unusual.has(first + k));
      if (isUsual && (best === null || fromMiddle(first) < fromMiddle(best))) best = first;
    }
    if (best !== null) return { first: best, last: best + side - 1, rowUnit: null };
  }
  return { first: 1, last: Math.min(ROWS_A_STOP, rows), rowUnit: null };
}

/** The nearest usual row to a departing one. */
export function rowsBeside(bar: Bar, row: number): CountedRows {
  const rows = bar.rows ?? row + 1;
  let best: number | null = null;
  for (let one = 1; one <= rows; one++) {
    if (bar.unusual.has(one)) continue;
    if (best === null || Math.abs(one - row) < Math.abs(best - row)) best = one;
  }
  return best === null ? usualRows(bar) : { first: best, last: best, rowUnit: best };
}

/** How many rows are counted side by side. */
export function rowsCounted({ first, last }: CountedRows): number {
  return first === null || last === null ? ROWS_A_STOP : last - first + 1;
}
