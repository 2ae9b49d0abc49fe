/** Differences of all rows of a table: passes against the others of their zone, row units against the others of the bar. */
import type { Passes } from "../../passes/passes.ts";
import { momentMeans } from "./moment-means.ts";
import { type OrderedRecords, orderRecords } from "./ordered-records.ts";
import { type Difference, differencesOfPasses, NO_DIFFERENCE, passMean } from "./pass-difference.ts";
import { differenceOfRowUnit, sumsByMoment } from "./row-unit-difference.ts";
import { type RunSums, sumsOf } from "./run-sums.ts";
import type { TableLayout, TableRow } from "./table-layout.ts";

/** Series of moments along the passes, over all zones and in each. */
export class PassDifferences {
  private readonly layout: TableLayout;
  private readonly passes: Passes;
  private readonly whole: OrderedRecords;
  private readonly runOfPass: Map<number, number>;
  private readonly means: Float64Array;

  constructor(layout: TableLayout, passes: Passes) {
    this.layout = layout;
    this.passes = passes;
    const { inOrder, planted } = layout;
    const everywhere = new Int32Array(planted.length);
    this.whole = orderRecords(inOrder, everywhere, 1, passes.passOf, passes.passes.length);
    this.runOfPass = new Map(Array.from(this.whole.part, (pass, run) => [pass, run]));
    this.means = new Float64Array(inOrder.length);
  }

  /** Differences of the rows of the passes over all zones, and of those of pass by zone. */
  of(values: Float64Array, sums: RunSums): Record<"passes" | "passesByZone", Difference[]> {
    const { passes, passesByZone, ordered } = this.layout.byPass;
    const seriesOf = ({ records, start }: OrderedRecords, run: number): Float64Array =>
      momentMeans(values, records, this.passes.momentOf, start[run]!, start[run + 1]!, this.means);
    return {
      passes: against(passes, sums, ({ pass }) => seriesOf(this.whole, this.runOfPass.get(pass!)!)),
      passesByZone: against(passesByZone, sums, ({ runs }) => seriesOf(ordered, runs[0]!)),
    };
  }
}

/** Each row against the others of its zone; the rows of a zone have to follow each other. */
function against(
  rows: readonly TableRow[],
  sums: RunSums,
  seriesOf: (row: TableRow) => Float64Array,
): Difference[] {
  const differences: Difference[] = rows.map(() => NO_DIFFERENCE);
  for (let from = 0; from < rows.length; ) {
    let to = from;
    while (to < rows.length && rows[to]!.zone === rows[from]!.zone) to++;
    const own = rows
      .slice(from, to)
      .map((row, k) => ({ row, place: from + k, total: sumsOf(sums, row.runs) }))
      .filter(({ total }) => total.count > 0);
    const means = own.map(({ row, total }) => passMean(total.count, total.mean, seriesOf(row)));
    differencesOfPasses(means).forEach((difference, k) => {
      differences[own[k]!.place] = difference;
    });
    from = to;
  }
  return differences;
}

/**
 * Differences of the rows of the row units over all zones, and of those of row unit by zone.
 * @param laidOut the values as `layout.byRowUnit` lays them out
 */
export function rowUnitDifferences(
  { byRowUnit, planted }: TableLayout,
  laidOut: Float64Array,
  values: Float64Array,
  passes: Passes,
): Record<"rowUnits" | "rowUnitsByZone", Difference[]> {
  const { ordered, moment, pass } = byRowUnit;
  const { sum, count } = sumsByMoment(values, planted, passes);
  const width = passes.passes.length + 1;
  const sumsOfUnits = new Float64Array((passes.rowUnitCount + 1) * width);
  const countsOfUnits = new Int32Array(sumsOfUnits.length);
  const sums = new Float64Array(width);
  const counts = new Int32Array(width);
  const byRun = Array.from(ordered.zone, (_, run): Difference => {
    sums.fill(0);
    counts.fill(0);
    for (let place = ordered.start[run]!; place < ordered.start[run + 1]!; place++) {
      const value = laidOut[place]!;
      const at = moment[place]!;
      const others = count[at]! - 1;
      if (Number.isNaN(value) || others < 1) continue;
      sums[pass[place]!]! += value - (sum[at]! - value) / others;
      counts[pass[place]!]!++;
    }
    const offset = ordered.part[run]! * width;
    for (let k = 0; k < width; k++) {
      sumsOfUnits[offset + k]! += sums[k]!;
      countsOfUnits[offset + k]! += counts[k]!;
    }
    return differenceOfRowUnit(sums, counts);
  });
  return {
    rowUnits: byRowUnit.rowUnits.map(({ rowUnit }) => {
      const [from, to] = [rowUnit! * width, (rowUnit! + 1) * width];
      return differenceOfRowUnit(sumsOfUnits.subarray(from, to), countsOfUnits.subarray(from, to));
    }),
    rowUnitsByZone: byRowUnit.rowUnitsByZone.map(({ runs }) => byRun[runs[0]!]!),
  };
}
