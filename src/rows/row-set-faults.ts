/**
 * Rows that depart from the rest of the bar together: the rows behind tires and tracks, a wing or section, a
 * symmetric pattern about the middle of the bar. They are looked for before a single row unit is called, so
 * that a sound unit behind a tire is not sent for repair.
 */
import { MAD_TO_SD, median } from "../numerics/descriptive.ts";
import type { Field, PlanterSetup } from "../vocabulary/field.ts";
import { largestRunScores, strongestRun } from "./interval-scan.ts";
import { BANDS, SMALLEST_NOISE } from "./row-unit-bands.ts";
import type { JudgedVariable } from "./row-unit-faults.ts";
import type { RowUnitSeries, RowUnitVariable } from "./row-unit-series.ts";

/** Rows of the bar that belong together. */
export interface RowSet {
  kind: "wheel-track" | "wing";
  /** Row units, ascending. */
  rows: number[];
  /** True where the planter sheet names them, false where only the pattern does. */
  given: boolean;
}

/** A set of rows that departs from the rest of the bar over a run of passes. */
export interface RowSetFault {
  set: RowSet;
  variable: RowUnitVariable;
  /** Our numbers of the passes of the run, ascending, at least two. */
  passes: number[];
  /** Mean over the rows and the run less the median of the other rows: mm, N, share (population: share of the bar's). */
  shift: number;
  /** Score beyond the dead band; sign of the shift. */
  z: number;
  /** Chance of a score this large in any set on a bar with nothing wrong (no less than 1 / 201). */
  pValue: number;
  shareOfPasses: number;
}

/** Variables that a tire can move; skips and rate it cannot. */
export const TRAFFIC_VARIABLES: readonly RowUnitVariable[] = ["seedingDepth", "downForceMargin"];

/** Chance of a false alarm of any set (our judgement: kept well below that of the units). */
const ALPHA = 0.01;
/** Share of the rows of a set that have to depart by at least half as much as the set (our judgement). */
const AGREEING_SHARE = 0.75;
const FEWEST_OTHERS = 4;

/** The sets that the planter sheet names and that fit the bar: at least two rows, and at least four others. */
export function givenRowSets(planter: PlanterSetup, rowUnits: number): RowSet[] {
  const within = (rows: readonly number[]): number[] =>
    [...new Set(rows.filter((row) => Number.isInteger(row) && row >= 1 && row <= rowUnits))].sort(
      (a, b) => a - b,
    );
  const sets: RowSet[] = [
    { kind: "wheel-track", rows: within(planter.wheelTrackRows), given: true },
    ...planter.wings.map(([from, to]): RowSet => {
      const rows = Array.from({ length: Math.max(0, to - from + 1) }, (_, k) => from + k);
      return { kind: "wing", rows: within(rows), given: true };
    }),
  ];
  return sets.filter(({ rows }) => rows.length >= 2 && rowUnits - rows.length >= FEWEST_OTHERS);
}

/**
 * Finds the departing sets among those that the planter sheet names, strongest first; each one found is taken out
 * of the departures before the next is looked for.
 * @returns the faults, and the departures without them, for the scan of single units
 */
export function findRowSetFaults(
  field: Field,
  rowUnits: number,
  judged: readonly JudgedVariable[],
): { faults: RowSetFault[]; rest: JudgedVariable[] } {
  const sets = givenRowSets(field.planter, rowUnits);
  const variablesOf = ({ kind }: RowSet): readonly RowUnitVariable[] =>
    kind === "wheel-track" ? TRAFFIC_VARIABLES : judged.map(({ variable }) => variable);
  const tests = sets.reduce((count, set) => count + variablesOf(set).length, 0);
  const longest = Math.max(0, ...judged.flatMap(({ series }) => series.map((unit) => unit.passes.length)));
  if (tests === 0 || longest === 0) return { faults: [], rest: [...judged] };
  const chance = largestRunScores(tests, longest);
  const critical = chance[Math.ceil(chance.length * (1 - ALPHA)) - 1]!;
  const faults: RowSetFault[] = [];
  const rest = judged.map(({ variable, series }) => {
    const left = sets.filter((set) => variablesOf(set).includes(variable));
    let remaining = series;
    while (left.length > 0) {
      const [best] = left
        .flatMap((set) => setFault(set, variable, remaining, chance, critical) ?? [])
        .sort((a, b) => Math.abs(b.z) - Math.abs(a.z));
      if (!best) break;
      faults.push(best);
      left.splice(left.indexOf(best.set), 1);
      remaining = withoutSet(remaining, best);
    }
    return { variable, series: remaining };
  });
  return { faults, rest };
}

/** The run of passes over which the set stands apart most, null where none is beyond chance or its rows disagree. */
function setFault(
  set: RowSet,
  variable: RowUnitVariable,
  series: readonly RowUnitSeries[],
  chance: Float64Array,
  critical: number,
): RowSetFault | null {
  const band = BANDS[variable];
  const members = series.filter((unit) => set.rows.includes(unit.rowUnit));
  const others = series.filter((unit) => !set.rows.includes(unit.rowUnit));
  if (members.length < Math.max(2, set.rows.length / 2) || others.length < FEWEST_OTHERS) return null;
  const contrast = contrastOf(members, others);
  if (contrast.passes.length < 2) return null;
  const steps = Float64Array.from({ length: contrast.departure.length - 1 }, (_, k) =>
    Math.abs(contrast.departure[k + 1]! - contrast.departure[k]!),
  );
  const scale = Math.max(SMALLEST_NOISE * band.matters, (MAD_TO_SD * median(steps)) / Math.SQRT2);
  const run = strongestRun(contrast.departure, contrast.weight, scale, band.matters / 2);
  if (!run || run.score <= critical || Math.abs(run.mean) < band.fromBar) return null;
  const passes = contrast.passes.slice(run.first, run.last + 1);
  const middles = others.map((unit) => meanOver(unit, passes)).filter((value) => !Number.isNaN(value));
  const middle = median(middles);
  const agreeing = members.filter(
    (unit) => (meanOver(unit, passes) - middle) * Math.sign(run.mean) >= Math.abs(run.mean) / 2,
  );
  if (agreeing.length < AGREEING_SHARE * members.length) return null;
  const above = chance.reduce((count, score) => count + (score >= run.score ? 1 : 0), 0);
  return {
    set,
    variable,
    passes,
    shift: run.mean,
    z: Math.sign(run.mean) * run.score,
    pValue: (1 + above) / (1 + chance.length),
    shareOfPasses: passes.length / contrast.passes.length,
  };
}

/** Mean of the members less the median of the others, pass by pass. */
function contrastOf(
  members: readonly RowUnitSeries[],
  others: readonly RowUnitSeries[],
): Pick<RowUnitSeries, "passes" | "departure" | "weight"> {
  const inside = byPass(members);
  const outside = byPass(others);
  const passes = [...inside.keys()]
    .filter((pass) => inside.get(pass)!.length >= members.length / 2)
    .filter((pass) => (outside.get(pass)?.length ?? 0) >= Math.max(FEWEST_OTHERS, others.length / 2))
    .sort((a, b) => a - b);
  const average = (pass: number, of: (entry: Entry) => number): number => {
    const entries = inside.get(pass)!;
    return entries.reduce((sum, entry) => sum + of(entry), 0) / entries.length;
  };
  return {
    passes,
    departure: Float64Array.from(
      passes,
      (pass) =>
        average(pass, ({ departure }) => departure) -
        median(outside.get(pass)!.map(({ departure }) => departure)),
    ),
    weight: Float64Array.from(passes, (pass) => average(pass, ({ weight }) => weight)),
  };
}

interface Entry {
  departure: number;
  weight: number;
}

function byPass(series: readonly RowUnitSeries[]): Map<number, Entry[]> {
  const entries = new Map<number, Entry[]>();
  for (const unit of series) {
    unit.passes.forEach((pass, k) => {
      const list = entries.get(pass) ?? [];
      list.push({ departure: unit.departure[k]!, weight: unit.weight[k]! });
      entries.set(pass, list);
    });
  }
  return entries;
}

/** Departures with the shift of a set taken off its rows, set again about the middle of the bar. */
function withoutSet(series: readonly RowUnitSeries[], fault: RowSetFault): RowUnitSeries[] {
  const touched = new Set(fault.passes);
  const shifted = series.map((unit) => ({
    ...unit,
    departure: fault.set.rows.includes(unit.rowUnit)
      ? unit.departure.map((value, k) => (touched.has(unit.passes[k]!) ? value - fault.shift : value))
      : unit.departure,
  }));
  const middles = new Map(
    [...byPass(shifted)]
      .filter(([pass]) => touched.has(pass))
      .map(([pass, entries]) => [pass, median(entries.map(({ departure }) => departure))]),
  );
  return shifted.map((unit) => ({
    ...unit,
    departure: unit.departure.map((value, k) => value - (middles.get(unit.passes[k]!) ?? 0)),
  }));
}

function meanOver(unit: RowUnitSeries, passes: readonly number[]): number {
  const touched = new Set(passes);
  let sum = 0;
  let count = 0;
  unit.passes.forEach((pass, k) => {
    if (!touched.has(pass)) return;
    sum += unit.departure[k]!;
    count++;
  });
  return count > 0 ? sum / count : Number.NaN;
}
