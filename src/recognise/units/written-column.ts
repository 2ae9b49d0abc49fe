/** Columns of text that hold quantities as people write them, read as numbers. */
import type { NumberColumn, TextColumn } from "../../ingest/layer.ts";
import { convert, type Dimension, UNITS } from "../../quantities/units.ts";
import { readWrittenQuantity } from "./written-quantity.ts";

export interface WrittenColumn {
  column: NumberColumn;
  /** Unit the numbers are in as the cells say; null where no cell names one. */
  unit: string | null;
  /** Cells that are there but could not be read: how many, the first one and its 0-based record; null where all were read. */
  unread: { count: number; record: number; value: string } | null;
}

interface Cell {
  value: number;
  unit: string | null;
}

/** Fewer readable texts than this share of all, and the column is one of words. */
const LEAST_READABLE = 0.5;

/**
 * Reads a column of text as numbers: null where less than half of its texts are numbers, with a unit of the
 * dimension or without one.
 * @param dimension of the variable; null for numbers without a unit
 * @param unit unit known from the manifest or the column's name: cells without a unit are in it
 * @param readCell reads what is not written as a number; null where it cannot
 */
export function readWrittenColumn(
  column: TextColumn,
  dimension: Dimension | null,
  unit: string | null,
  readCell: (text: string) => number | null = () => null,
): WrittenColumn | null {
  const cells = column.labels.map((label): Cell | null => {
    const own = readCell(label);
    return own === null ? cellOf(label, dimension) : { value: own, unit: null };
  });
  const asked = column.labels.filter((label) => label.trim() !== "").length;
  if (asked === 0 || cells.filter((cell) => cell !== null).length < LEAST_READABLE * asked) return null;
  const told = cells.find((cell) => cell?.unit)?.unit ?? null;
  const into = unit ?? told;
  const byCode = cells.map((cell) => {
    if (cell === null) return Number.NaN;
    if (cell.unit !== null) return convert(cell.value, cell.unit, into ?? cell.unit);
    // A bare number among cells with units is plain only where the name or the manifest gives its unit.
    return told !== null && unit === null ? Number.NaN : cell.value;
  });
  let unread: WrittenColumn["unread"] = null;
  const values = Float64Array.from(column.codes, (code, record) => {
    const value = code < 0 ? Number.NaN : byCode[code]!;
    if (code >= 0 && Number.isNaN(value) && column.labels[code]!.trim() !== "") {
      unread ??= { count: 0, record, value: column.labels[code]! };
      unread.count += 1;
    }
    return value;
  });
  return { column: { kind: "number", name: column.name, values }, unit: told === null ? null : into, unread };
}

function cellOf(text: string, dimension: Dimension | null): Cell | null {
  const written = readWrittenQuantity(text);
  if (written === null) return null;
  if (written.units.length === 0) return { value: written.value, unit: null };
  const unit = written.units.find((one) => UNITS[one]?.dimension === dimension);
  return unit === undefined ? null : { value: written.value, unit };
}
