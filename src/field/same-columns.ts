/** Whether two columns say the same thing, so that it does not matter which one is taken. */
import type { RawColumn } from "../ingest/layer.ts";
import type { ColumnGroup } from "./column-groups.ts";
import { textAt } from "./column-text.ts";

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

/** True where two groups hold the same values throughout. */
export function sameValues(first: ColumnGroup, second: ColumnGroup): boolean {
  if (first.columns.length !== second.columns.length) return false;
  return first.columns.every((column, index) => sameColumn(column, second.columns[index]!));
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
