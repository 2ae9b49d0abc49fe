/**
 * Do the end rows as a set depart from the passes inside? Every turn is driven over them, so that they are judged as
 * traffic before a pass or a row unit is.
 */
import type { Cells } from "../cells/cells.ts";
import { mean, median, variance } from "../numerics/descriptive.ts";
import type { Pass } from "../passes/passes.ts";
import { BANDS } from "./row-unit-bands.ts";

export interface EndRowsFault {
  variable: "seedingDepth" | "downForceMargin";
  /** Our numbers of the passes of the end rows. */
  passes: number[];
  /** Mean of the end rows less that of the passes inside, soil zones taken out: mm, N. */
  shift: number;
  /** The shift beyond the dead band over its standard error, passes being the replicates; sign of the shift. */
  t: number;
}

const FEWEST_END_ROWS = 3;
const FEWEST_INSIDE = 5;
/** Score from which the end rows are called, beyond a dead band of half of what matters (our judgement). */
const CRITICAL_T = 3.5;

/**
 * Compares the means of the end-row passes with those of the passes inside, each cell freed from the median of its
 * soil zone inside. The variables in the order root before symptom; null where neither departs.
 */
export function findEndRowsFault(cells: Cells, passes: readonly Pass[]): EndRowsFault | null {
  const isEndRow = (pass: number): boolean => passes[pass - 1]!.headland;
  for (const variable of ["downForceMargin", "seedingDepth"] as const) {
    const values = cells.mean[variable];
    if (!values) continue;
    const byPass = passMeans(cells, zoneFree(cells, values, isEndRow));
    const endRows = [...byPass].filter(([pass]) => isEndRow(pass));
    const inside = [...byPass].filter(([pass]) => !isEndRow(pass));
    if (endRows.length < FEWEST_END_ROWS || inside.length < FEWEST_INSIDE) continue;
    const [a, b] = [endRows.map(([, value]) => value), inside.map(([, value]) => value)];
    const shift = mean(a) - mean(b);
    const error = Math.sqrt(variance(a) / a.length + variance(b) / b.length);
    const { matters } = BANDS[variable];
    const t = (Math.abs(shift) - matters / 2) / error;
    if (Math.abs(shift) < matters || !(t > CRITICAL_T)) continue;
    return {
      variable,
      passes: endRows.map(([pass]) => pass).sort((x, y) => x - y),
      shift,
      t: Math.sign(shift) * t,
    };
  }
  return null;
}

/** Values less the median of the cells of the same soil zone inside; NaN where the zone has none inside. */
function zoneFree(cells: Cells, values: Float64Array, isEndRow: (pass: number) => boolean): Float64Array {
  const inside = new Map<number, number[]>();
  for (let cell = 0; cell < cells.count; cell++) {
    if (Number.isNaN(values[cell]!) || isEndRow(cells.pass[cell]!)) continue;
    const list = inside.get(cells.zone[cell]!) ?? [];
    list.push(values[cell]!);
    inside.set(cells.zone[cell]!, list);
  }
  const middles = new Map([...inside].map(([zone, list]) => [zone, median(list)]));
  return values.map((value, cell) => value - (middles.get(cells.zone[cell]!) ?? Number.NaN));
}

function passMeans(cells: Cells, values: Float64Array): Map<number, number> {
  const sums = new Map<number, { sum: number; count: number }>();
  for (let cell = 0; cell < cells.count; cell++) {
    if (Number.isNaN(values[cell]!)) continue;
    const entry = sums.get(cells.pass[cell]!) ?? { sum: 0, count: 0 };
    entry.sum += values[cell]!;
    entry.count++;
    sums.set(cells.pass[cell]!, entry);
  }
  return new Map([...sums].map(([pass, { sum, count }]) => [pass, sum / count]));
}
