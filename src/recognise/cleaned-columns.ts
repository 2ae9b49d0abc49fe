/** The cleaned columns of one layer; each is cleaned and summed up once, whoever asks. */
import type { NumberColumn } from "../ingest/layer.ts";
import type { ColumnGroup } from "./column-groups.ts";
import { type CleanColumn, type ColumnSummary, cleanColumn, summarise } from "./column-summary.ts";

/** By the values, which nobody changes: a file that is taken for a log is looked at in each role it could play. */
const CLEANED = new WeakMap<Float64Array, CleanColumn>();

export class CleanedColumns {
  readonly #summaries = new Map<ColumnGroup, ColumnSummary>();

  clean(column: NumberColumn): CleanColumn {
    const known = CLEANED.get(column.values);
    if (known) return known;
    const cleaned = cleanColumn(column.values);
    CLEANED.set(column.values, cleaned);
    return cleaned;
  }

  /** The summary over all number columns of a group. */
  summaryOf(group: ColumnGroup): ColumnSummary {
    const known = this.#summaries.get(group);
    if (known) return known;
    const columns = group.columns.filter((column) => column.kind === "number");
    const summary = columns.length === 1 ? this.clean(columns[0]!).summary : summarise(this.#joined(columns));
    this.#summaries.set(group, summary);
    return summary;
  }

  #joined(columns: readonly NumberColumn[]): Float64Array {
    const all = columns.map((column) => this.clean(column).values);
    const joined = new Float64Array(all.reduce((total, values) => total + values.length, 0));
    let place = 0;
    for (const values of all) {
      joined.set(values, place);
      place += values.length;
    }
    return joined;
  }
}
