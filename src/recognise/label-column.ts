/** Label variables: texts as codes. */
import type { RawColumn } from "../ingest/layer.ts";
import { textAt } from "./column-text.ts";

export interface Labels {
  /** One entry a record; -1 where missing. */
  codes: Int32Array;
  /** In the order of their first record. */
  labels: string[];
}

/** Codes the values of a column at the given record numbers; numbers become their plain text. */
export function labelColumn(column: RawColumn, kept: Int32Array): Labels {
  const numbers = new Map<number, number>();
  const labels: string[] = [];
  const codes = new Int32Array(kept.length);
  for (let index = 0; index < kept.length; index++) {
    const record = kept[index]!;
    const key = column.kind === "text" ? column.codes[record]! : column.values[record]!;
    if (Number.isNaN(key) || (column.kind === "text" && key < 0)) {
      codes[index] = -1;
      continue;
    }
    let code = numbers.get(key);
    if (code === undefined) {
      code = labels.length;
      numbers.set(key, code);
      labels.push(textAt(column, record)!);
    }
    codes[index] = code;
  }
  return { codes, labels };
}
