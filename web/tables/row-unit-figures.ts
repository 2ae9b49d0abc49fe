/** What the row-unit charts show in numbers and words. */
import type { ComparisonRow } from "../../src/compare/tables/comparison.ts";
import { quantileSorted } from "../../src/numerics/quantile.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";
import { formatPercent, formatQuantity } from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";
import { VARIABLES } from "../words/variables.ts";
import { signed } from "./signed.ts";

/** The band holds this share of the row units it is made from, the same share of the rest on either side. */
export const BAND_SHARE = 0.9;
/** Fewer row units than this have no band: a share of them would say nothing. Our judgement. */
const FEWEST_IN_BAND = 8;

/**
 * Row units to label: those a finding names, and any that stand at least five usual distances from the middle
 * (median absolute difference; our judgement, for labels only).
 */
export function oddUnits(rows: readonly ComparisonRow[], inFindings: ReadonlySet<number>): Set<number> {
  const differences = rows.map((row) => Math.abs(row.difference ?? 0)).sort((a, b) => a - b);
  const usual = differences[Math.floor(differences.length / 2)] ?? 0;
  const odd = rows.filter((row) => {
    const away = Math.abs(row.difference ?? 0);
    return (usual > 0 && away > 5 * usual) || (inFindings.has(row.rowUnit!) && away > 2.5 * usual);
  });
  return new Set(odd.map((row) => row.rowUnit!));
}

/**
 * Where the middle 90 % of the means lie, the labelled row units left out (quantiles type 7, Hyndman & Fan
 * 1996), inside units; null for too few.
 */
export function ordinaryBand(
  rows: readonly ComparisonRow[],
  odd: ReadonlySet<number>,
): [number, number] | null {
  const means = rows.filter((row) => !odd.has(row.rowUnit!)).map((row) => row.mean);
  if (means.length < FEWEST_IN_BAND) return null;
  means.sort((a, b) => a - b);
  const tail = (1 - BAND_SHARE) / 2;
  return [quantileSorted(means, tail), quantileSorted(means, 1 - tail)];
}

/** Ends of the interval of the row unit's own mean: the interval of its difference moved to the mean. */
export function endsOf(row: ComparisonRow): [number, number] {
  if (row.difference === null || row.low === null || row.high === null) return [row.mean, row.mean];
  return [row.mean + row.low - row.difference, row.mean + row.high - row.difference];
}

/** "row unit 7: 1.95 in". */
export function unitShort(row: ComparisonRow, system: UnitSystem): string {
  return texts.value.tables.unit(
    String(row.rowUnit),
    formatQuantity(row.mean, VARIABLES[row.variable].kind, system),
  );
}

/** "row unit 7: seed depth 1.95 in · +0.02 against the others at the same moments (95 % interval ...)". */
export function unitSaid(row: ComparisonRow, system: UnitSystem): string {
  const { named, kind } = VARIABLES[row.variable];
  const said = texts.value.tables.unit(
    String(row.rowUnit),
    `${named} ${formatQuantity(row.mean, kind, system)}`,
  );
  if (row.difference === null) return said;
  const interval =
    row.low === null || row.high === null
      ? ""
      : texts.value.tables.interval(
          formatPercent(row.level),
          signed(row.low, row.variable, system),
          signed(row.high, row.variable, system),
        );
  return `${said} · ${texts.value.tables.againstRows(signed(row.difference, row.variable, system), interval)}`;
}

export function chartSaid(
  title: string,
  rows: readonly ComparisonRow[],
  odd: ReadonlySet<number>,
  system: UnitSystem,
): string {
  const { kind } = VARIABLES[rows[0]!.variable];
  const apart = rows
    .filter((row) => odd.has(row.rowUnit!))
    .map((row) => texts.value.tables.unitFigure(String(row.rowUnit), formatQuantity(row.mean, kind, system)));
  const sorted = rows.map((row) => row.mean).sort((a, b) => a - b);
  const middle = formatQuantity(sorted[Math.floor(sorted.length / 2)]!, kind, system);
  return texts.value.tables.chart(title, rows.length, middle, apart.join(", "));
}
