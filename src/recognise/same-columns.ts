/** Whether two columns say the same thing, so that it does not matter which one is taken. */
import type { RawColumn } from "../ingest/layer.ts";
import { convert, UNITS } from "../quantities/units.ts";
import type { ColumnGroup } from "./column-groups.ts";
import { textAt } from "./column-text.ts";
import { splitUnit, unitOfDimension } from "./units/unit-suffix.ts";

/** True where two labels name the same groups of records. */
export function samePartition(first: ColumnGroup, second: ColumnGroup): boolean {
  const [one, other] = [first.columns[0]!, second.columns[0]!];
  const count = one.kind === "text" ? one.codes.length : one.values.length;
  const forth = new Map<string | null, string | null>();
  const back = new Map<string | null, string | null>();
  for (let record = 0; record < count; record++) {
    const [a, b] = [textAt(one, record), textAt(other, record)];
    if (!forth.has(a)) forth.set(a, b);
    if (!back.has(b)) back.set(b, a);
    if (forth.get(a) !== b || back.get(b) !== a) return false;
  }
  return true;
}

/** Rounding of one of two columns that hold one measure in two units. */
const SAME_MEASURE = 0.01;

/**
 * True where two groups hold the same values throughout, or one measure in two units: those that their names tell, or
 * any of the usual ones where a name tells none.
 */
export function sameValues(
  first: ColumnGroup,
  second: ColumnGroup,
  usualUnits: readonly string[] = [],
): boolean {
  if (first.columns.length !== second.columns.length) return false;
  const told = unitRatio(first, second);
  const ratios = told !== null ? [told] : usualRatios(first, second, usualUnits);
  const same = (ratio: number) =>
    first.columns.every((column, index) => sameMeasure(column, second.columns[index]!, ratio));
  return (
    first.columns.every((column, index) => sameColumn(column, second.columns[index]!)) || ratios.some(same)
  );
}

/** Ratios of the usual units to each other, where one of the names tells no unit. */
function usualRatios(first: ColumnGroup, second: ColumnGroup, units: readonly string[]): number[] {
  const toldOf = (group: ColumnGroup) => units.filter((unit) => splitUnit(group.stem).units.includes(unit));
  const unitsOfFirst = toldOf(first);
  const unitsOfSecond = toldOf(second);
  return (unitsOfFirst.length > 0 ? unitsOfFirst : units).flatMap((from) =>
    (unitsOfSecond.length > 0 ? unitsOfSecond : units)
      .filter((into) => into !== from)
      .map((into) => convert(1, from, into) - convert(0, from, into)),
  );
}

/** What one unit of the first group's name is in the unit of the second's; null where the names do not tell. */
function unitRatio(first: ColumnGroup, second: ColumnGroup): number | null {
  const [one, other] = [splitUnit(first.stem), splitUnit(second.stem)];
  for (const unit of one.units) {
    const match = unitOfDimension(other, UNITS[unit]!.dimension);
    if (match !== null) return convert(1, unit, match) - convert(0, unit, match);
  }
  return null;
}

function sameMeasure(first: RawColumn, second: RawColumn, ratio: number): boolean {
  if (first.kind !== "number" || second.kind !== "number") return false;
  return first.values.every((value, index) => {
    const other = second.values[index]!;
    if (Number.isNaN(value) || Number.isNaN(other)) return Number.isNaN(value) && Number.isNaN(other);
    return Math.abs(value * ratio - other) <= SAME_MEASURE * Math.abs(other) + Number.EPSILON;
  });
}

function sameColumn(first: RawColumn, second: RawColumn): boolean {
  if (first.kind === "number" && second.kind === "number") {
    return first.values.every((value, index) => Object.is(value, second.values[index]));
  }
  if (first.kind === "text" && second.kind === "text") {
    const text = (column: typeof first, index: number) => column.labels[column.codes[index]!];
    return first.codes.every((_, index) => text(first, index) === text(second, index));
  }
  return false;
}
