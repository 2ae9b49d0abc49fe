/** Values of a column as text. */
import type { RawColumn } from "../ingest/layer.ts";

/** Value of a column as text, null where missing. */
export function textAt(column: RawColumn, record: number): string | null {
  if (column.kind === "text") return column.labels[column.codes[record]!] ?? null;
  const value = column.values[record]!;
  return Number.isNaN(value) ? null : String(value);
}
