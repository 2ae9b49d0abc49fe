/** Groups of columns as numbers: columns of text in which people wrote quantities are read once and remembered. */
import type { RawColumn } from "../../ingest/layer.ts";
import type { NoteBook } from "../../ingest/note-book.ts";
import { unitsOf } from "../../quantities/units.ts";
import type { VariableDescription } from "../../vocabulary/variable-description.ts";
import type { ColumnGroup } from "../column-groups.ts";
import { splitUnit, unitOfDimension } from "./unit-suffix.ts";
import { readWrittenColumn, type WrittenColumn } from "./written-column.ts";

interface Written {
  columns: readonly WrittenColumn[];
  original: ColumnGroup;
}

export class ReadableGroups {
  readonly #written = new Map<ColumnGroup, Written>();

  /**
   * The group with its columns of text read as numbers; the group itself where it holds numbers already, the
   * variable is none, or its texts are no numbers.
   * @param given unit the manifest gives, null where it gives none
   */
  read(group: ColumnGroup, description: VariableDescription, given: string | null): ColumnGroup {
    const { kind, dimension } = description;
    if (kind !== "quantity" && kind !== "number") return group;
    if (group.columns.every((column) => column.kind === "number")) return group;
    const named = dimension === undefined ? null : unitOfDimension(splitUnit(group.stem), dimension);
    const unit = given ?? named;
    const written: WrittenColumn[] = [];
    const columns: RawColumn[] = [];
    for (const column of group.columns) {
      if (column.kind === "number") {
        columns.push(column);
        continue;
      }
      const one = readWrittenColumn(column, dimension ?? null, unit, description.readCell);
      if (one === null) return group;
      written.push(one);
      columns.push(one.column);
    }
    const read = { ...group, columns };
    this.#written.set(read, { columns: written, original: group });
    return read;
  }

  /** Unit that the cells of a group name, null where they name none or not one. */
  unitInCells(group: ColumnGroup): string | null {
    const units = new Set(this.#written.get(group)?.columns.map(({ unit }) => unit) ?? []);
    const [unit] = units;
    return units.size === 1 ? (unit ?? null) : null;
  }

  /** True for a group that was read from text. */
  isWritten(group: ColumnGroup): boolean {
    return this.#written.has(group);
  }

  /** The columns of the file a group was read from. */
  columnsInFile(group: ColumnGroup): readonly RawColumn[] {
    return this.#written.get(group)?.original.columns ?? group.columns;
  }

  /** Notes the cells that could not be read. */
  noteUnread(
    group: ColumnGroup,
    { dimension }: VariableDescription,
    notes: NoteBook,
    numberOf: (record: number) => number,
  ): void {
    const written = this.#written.get(group)?.columns ?? [];
    const told = written.some(({ unit }) => unit !== null);
    const accepted =
      dimension === undefined
        ? "a number"
        : `a number${told ? "" : ", or one"} with ${unitsOf(dimension).join(", ")}`;
    for (const { column, unread } of written) {
      if (unread === null) continue;
      notes.add({
        reason: `cannot be read (${accepted} would be accepted); the value is left out`,
        effect: "left out",
        field: column.name,
        record: numberOf(unread.record),
        value: unread.value,
        count: unread.count,
      });
    }
  }
}
