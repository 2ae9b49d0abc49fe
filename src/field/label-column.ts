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
  return codeTexts(Array.from(kept, (record) => textAt(column, record)));
}

export function codeTexts(texts: readonly (string | null)[]): Labels {
  const numbers = new Map<string, number>();
  const codes = Int32Array.from(texts, (text) => {
    if (text === null) return -1;
    const known = numbers.get(text);
    if (known !== undefined) return known;
    numbers.set(text, numbers.size);
    return numbers.size - 1;
  });
  return { codes, labels: [...numbers.keys()] };
}
