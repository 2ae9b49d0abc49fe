/**
 * Passes planted otherwise than the passes on either side. A pass (or a few side by side) is compared with
 * the mean of its two flanking passes at the same place along them, a second difference that takes soil and
 * slow change across the field out. What is usual for the field's own passes sets the scale: robust z by the
 * median absolute deviation (Iglewicz & Hoaglin 1993, How to Detect and Handle Outliers, who cut at 3.5; we
 * cut at 4.5 because every pass and run is looked at, our judgement). Every second pass being off cannot be
 * told this way: neither kind is then the usual one.
 */
import type { Cells } from "../cells/cells.ts";
import { median, medianAbsoluteDeviation } from "../numerics/descriptive.ts";
import type { PassLayout } from "./pass-layout.ts";
import { positionAlong } from "./pass-layout.ts";

const PASS_VARIABLES = ["seedingDepth", "downForceMargin", "speed", "misses", "population"] as const;

type PassVariable = (typeof PASS_VARIABLES)[number];

export interface PassFault {
  variable: PassVariable;
  /** Our numbers of the passes of the run, ascending. */
  passes: number[];
  /** Departure from the flanking passes: mm, N, m/s, share; population as a share of the flanks'. */
  shift: number;
  /** Robust z among all runs of as many passes. */
  z: number;
  /** Share of the cells that depart to the same side. */
  agreement: number;
  /** Cells compared. */
  cells: number;
}

/** Departure below which a pass is let be: 0.12 in, 22 lb, 0.25 m/s, 1 point, 4 % (our judgement). */
const SMALLEST_SHIFT: Record<PassVariable, { amount: number; relative: boolean }> = {
  seedingDepth: { amount: 3.05, relative: false },
  downForceMargin: { amount: 98, relative: false },
  speed: { amount: 0.25, relative: false },
  misses: { amount: 0.01, relative: false },
  population: { amount: 0.04, relative: true },
};

const CRITICAL_Z = 4.5;
const LEAST_AGREEMENT = 0.8;
const LONGEST_RUN = 4;
/** Fewer runs than this have no spread worth the name. */
const FEWEST_RUNS = 8;
const FEWEST_CELLS = 5;
/** Cells farther apart along the passes than this are not the same place, metres. */
const SAME_PLACE_M = 9;

/** Cells of one rank of a block, by position along it. */
interface Line {
  at: Float64Array;
  cells: Int32Array;
}

interface PassRun {
  first: number;
  length: number;
  shift: number;
  agreement: number;
  /** Every line departs by half the run's shift or more; else the run is a shorter one. */
  whole: boolean;
  cells: Int32Array;
}

/** Finds the departing passes, by variable and strength; no two runs of one variable touch. */
export function findPassFaults(cells: Cells, layout: PassLayout): PassFault[] {
  const faults: PassFault[] = [];
  for (const variable of PASS_VARIABLES) {
    const values = cells.mean[variable];
    if (!values) continue;
    for (let block = 0; block < layout.axisDeg.length; block++) {
      const lines = linesOf(cells, layout, block, values);
      faults.push(...departingRuns(cells, lines, values, variable));
    }
  }
  return faults;
}

function linesOf(cells: Cells, layout: PassLayout, block: number, values: Float64Array): Map<number, Line> {
  const axis = layout.axisDeg[block]!;
  const byRank = new Map<number, { at: number; cell: number }[]>();
  for (let cell = 0; cell < cells.count; cell++) {
    const pass = cells.pass[cell]!;
    if (layout.block[pass] !== block || Number.isNaN(values[cell]!)) continue;
    const rank = layout.rank[pass]!;
    const list = byRank.get(rank) ?? [];
    list.push({ at: positionAlong(cells.x[cell]!, cells.y[cell]!, axis), cell });
    byRank.set(rank, list);
  }
  return new Map(
    [...byRank].map(([rank, list]) => {
      list.sort((a, b) => a.at - b.at || a.cell - b.cell);
      return [
        rank,
        {
          at: Float64Array.from(list, (entry) => entry.at),
          cells: Int32Array.from(list, (entry) => entry.cell),
        },
      ];
    }),
  );
}

function departingRuns(
  cells: Cells,
  lines: Map<number, Line>,
  values: Float64Array,
  variable: PassVariable,
): PassFault[] {
  const { amount, relative } = SMALLEST_SHIFT[variable];
  const ranks = [...lines.keys()].sort((a, b) => a - b);
  const found: (PassRun & { z: number })[] = [];
  for (let length = 1; length <= LONGEST_RUN; length++) {
    const runs = ranks.flatMap((first) => contrast(lines, first, length, values, relative) ?? []);
    if (runs.length < FEWEST_RUNS) continue;
    const shifts = Float64Array.from(runs, (run) => run.shift);
    const usual = median(shifts);
    const spread = medianAbsoluteDeviation(shifts);
    for (const run of runs) {
      const z = (run.shift - usual) / spread;
      if (!run.whole || run.agreement <= LEAST_AGREEMENT) continue;
      if (Math.abs(z) > CRITICAL_Z && Math.abs(run.shift) > amount) found.push({ ...run, z });
    }
  }
  // The flanks of a bad pass look off the other way by half, and so do parts of a bad run: the largest goes first.
  found.sort((a, b) => Math.abs(b.shift) - Math.abs(a.shift) || a.first - b.first || a.length - b.length);
  const kept: typeof found = [];
  for (const run of found) {
    const touches = kept.some(
      (other) => run.first <= other.first + other.length && other.first <= run.first + run.length,
    );
    if (!touches) kept.push(run);
  }
  return kept.map((run) => ({
    variable,
    passes: [...new Set(Array.from(run.cells, (cell) => cells.pass[cell]!))].sort((a, b) => a - b),
    shift: run.shift,
    z: run.z,
    agreement: run.agreement,
    cells: run.cells.length,
  }));
}

/**
 * A run of lines against its two flanks: the mean over its lines of the median difference, or null where a
 * line is missing or too little is side by side.
 */
function contrast(
  lines: Map<number, Line>,
  first: number,
  length: number,
  values: Float64Array,
  relative: boolean,
): PassRun | null {
  const left = lines.get(first - 1);
  const right = lines.get(first + length);
  if (!left || !right) return null;
  const medians: number[] = [];
  const differences: number[] = [];
  const compared: number[] = [];
  for (let rank = first; rank < first + length; rank++) {
    const line = lines.get(rank);
    if (!line) return null;
    const own: number[] = [];
    line.at.forEach((at, k) => {
      const before = nearestOn(left, at);
      const after = nearestOn(right, at);
      if (before < 0 || after < 0) return;
      const flanks = (values[before]! + values[after]!) / 2;
      const difference = values[line.cells[k]!]! - flanks;
      own.push(relative ? difference / flanks : difference);
      compared.push(line.cells[k]!);
    });
    if (own.length < FEWEST_CELLS) return null;
    medians.push(median(own));
    differences.push(...own);
  }
  const shift = medians.reduce((sum, value) => sum + value, 0) / length;
  const sameSide = differences.reduce((count, value) => count + (value * shift > 0 ? 1 : 0), 0);
  return {
    first,
    length,
    shift,
    agreement: sameSide / differences.length,
    whole: medians.every((value) => value / shift >= 0.5),
    cells: Int32Array.from(compared),
  };
}

/** Cell of a line nearest to a position along it, -1 where none is close. */
function nearestOn(line: Line, at: number): number {
  let low = 0;
  let high = line.at.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (line.at[middle]! < at) low = middle + 1;
    else high = middle;
  }
  const nearer = low > 0 && at - line.at[low - 1]! < line.at[low]! - at ? low - 1 : low;
  return Math.abs(line.at[nearer]! - at) <= SAME_PLACE_M ? line.cells[nearer]! : -1;
}
