/**
 * The comparison as CSV tables (RFC 4180: comma, CR LF, quotes doubled). The columns are those of
 * `comparison` in findings.json; the unit of the figures stands in the column `unit`, as rows differ in
 * variable, and in the heading where a column has one unit.
 */
import type { ComparisonRow } from "../compare/tables/comparison.ts";

/** A cell: null is written empty. */
export type TableCell = string | number | null;

export interface TableColumn<Row> {
  heading: string;
  cell: (row: Row) => TableCell;
}

const COMPARISON_COLUMNS: readonly TableColumn<ComparisonRow>[] = [
  { heading: "pass", cell: (row) => row.pass },
  { heading: "soil_zone", cell: (row) => row.soilZone },
  { heading: "row_unit", cell: (row) => row.rowUnit },
  { heading: "variable", cell: (row) => row.variable },
  { heading: "unit", cell: (row) => row.unit },
  { heading: "records", cell: (row) => row.records },
  { heading: "area_ha", cell: (row) => row.areaHa },
  { heading: "mean", cell: (row) => row.mean },
  { heading: "sd", cell: (row) => row.sd },
  { heading: "p10", cell: (row) => row.p10 },
  { heading: "p50", cell: (row) => row.p50 },
  { heading: "p90", cell: (row) => row.p90 },
  { heading: "share_outside_target", cell: (row) => row.shareOutside },
  { heading: "difference", cell: (row) => row.difference },
  { heading: "difference_low", cell: (row) => row.low },
  { heading: "difference_high", cell: (row) => row.high },
  { heading: "level_share", cell: (row) => row.level },
  { heading: "robust_sd", cell: (row) => row.robustSd },
  { heading: "share_below_target", cell: (row) => row.shareBelow },
  { heading: "share_above_target", cell: (row) => row.shareAbove },
  { heading: "share_within_6_mm", cell: (row) => row.withinTolerance },
  { heading: "spread_along_row_mm", cell: (row) => row.spreadAlongRow },
  { heading: "share_without_load", cell: (row) => row.noLoadShare },
  { heading: "place", cell: (row) => (row.headland === null ? null : row.headland ? "end rows" : "inside") },
];

/** passes.csv: pass over all zones (soil_zone empty), and pass by soil zone. */
export function passesCsv(comparison: readonly ComparisonRow[]): string {
  return csvTable(
    COMPARISON_COLUMNS,
    comparison.filter((row) => row.pass !== null && row.rowUnit === null),
  );
}

/** row-units.csv: row unit over all zones (soil_zone empty), and row unit by soil zone. */
export function rowUnitsCsv(comparison: readonly ComparisonRow[]): string {
  return csvTable(
    COMPARISON_COLUMNS,
    comparison.filter((row) => row.rowUnit !== null),
  );
}

/** soil-zones.csv: soil zone over all passes and row units. */
export function soilZonesCsv(comparison: readonly ComparisonRow[]): string {
  return csvTable(
    COMPARISON_COLUMNS,
    comparison.filter((row) => row.pass === null && row.rowUnit === null),
  );
}

/** A table as CSV text with a heading line. */
export function csvTable<Row>(columns: readonly TableColumn<Row>[], rows: readonly Row[]): string {
  const line = csvLines(columns);
  let text = csvHeading(columns);
  for (const row of rows) text += line(row);
  return text;
}

/** The heading line. */
export function csvHeading<Row>(columns: readonly TableColumn<Row>[]): string {
  return `${columns.map((column) => csvCell(column.heading)).join(",")}\r\n`;
}

/** A writer of one line a row, for rows that come one by one. */
export function csvLines<Row>(columns: readonly TableColumn<Row>[]): (row: Row) => string {
  // Names mostly repeat from row to row: the last one of each column is kept as it is written.
  const last: TableCell[] = columns.map(() => null);
  const written: string[] = columns.map(() => "");
  return (row) => {
    let text = "";
    columns.forEach((column, k) => {
      const value = column.cell(row);
      if (value !== last[k]) {
        last[k] = value;
        written[k] = csvCell(value);
      }
      text += k === 0 ? written[k] : `,${written[k]}`;
    });
    return `${text}\r\n`;
  };
}

/**
 * One cell. A number keeps at most six significant digits (a count its every digit); text that a spreadsheet
 * would take for a formula (leading = + - @, also full-width, tab, return or line feed) gets an apostrophe before it.
 */
export function csvCell(value: TableCell): string {
  if (value === null) return "";
  if (typeof value === "number") {
    if (!Number.isFinite(value)) return "";
    const text = String(value);
    // A point and at most six digits: nothing to be cut.
    if (text.length <= 7 || Number.isInteger(value)) return text;
    return String(Number(value.toPrecision(6)));
  }
  const defused = /^[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(defused) ? `"${defused.replaceAll('"', '""')}"` : defused;
}
