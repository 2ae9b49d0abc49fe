/** What `inspect` says about one file, as text. */
import type { Note } from "../../errors.ts";
import type { ColumnDescription, Extent, LayerDescription } from "../../ingest/index.ts";
import type { Recognition } from "../../vocabulary/field.ts";

export interface InspectedLayer {
  description: LayerDescription;
  /** What the file is taken for and why, e.g. "planting log: points with ..."; null where nothing fits. */
  role: string | null;
  recognised: readonly Recognition[];
  /** Columns that are not used, each with the reason; empty where the file has no role. */
  unused: ReadonlyMap<string, string>;
  /** What the user has to decide, with the manifest lines that settle it. */
  open: readonly { question: string; lines: readonly string[] }[];
  notes: readonly Note[];
}

/** Text of one inspected file, ending in a line feed. */
export function inspectedText({
  description,
  role,
  recognised,
  unused,
  open,
  notes,
}: InspectedLayer): string {
  const lines = [description.file];
  const count = description.recordCount;
  const unplaced = count - description.placed;
  const missing = description.geometry !== "none" && unplaced > 0 ? `, ${unplaced} without position` : "";
  const system = description.geometry === "none" ? "" : `; ${description.crs}`;
  const records = `${count} record${count === 1 ? "" : "s"}`;
  const geometry = description.geometry === "none" ? "no positions" : `${description.geometry}s`;
  lines.push(`  ${geometry}, ${records}${missing}${system}`);
  if (description.extentDegrees) lines.push(`  extent ${extentText(description.extentDegrees)}`);
  lines.push(`  taken for: ${role ?? "nothing the job knows; name it in the manifest"}`);
  const total = description.columns.length;
  if (total > 0)
    lines.push(role === null ? "  columns" : `  columns: ${glanceText(total, unused.size, open.length)}`);
  const widest = Math.max(0, ...description.columns.map((column) => column.name.length));
  for (const column of description.columns) {
    const meaning = recognised.filter((one) => isOf(one, column.name));
    lines.push(`    ${column.name.padEnd(widest)}  ${valuesText(column)}`);
    for (const one of meaning) {
      lines.push(
        `    ${" ".repeat(widest)}  -> ${one.variable}${unitText(one)}, ${sureText(one)}: ${one.reason}`,
      );
    }
    const why = unused.get(column.name);
    if (why !== undefined) lines.push(`    ${" ".repeat(widest)}  -> not used: ${why}`);
  }
  for (const { question, lines: choices } of open) {
    lines.push(`  yours to choose: ${question}`);
    for (const choice of choices) lines.push(`    ${choice}`);
  }
  for (const note of notes) lines.push(`  note: ${noteText(note)}`);
  return `${lines.map(onOneLine).join("\n")}\n`;
}

/** How many columns are used and how much is left to the user. */
function glanceText(total: number, unused: number, choices: number): string {
  const left =
    choices === 0 ? "nothing left to choose" : `${choices} choice${choices === 1 ? "" : "s"} yours`;
  return `${total - unused} of ${total} used, ${left}`;
}

/** How sure the guess is, in whole percent. */
function sureText({ confidence }: Recognition): string {
  return `${Math.round(confidence * 100)} % sure`;
}

/** A group of columns is labelled by its first and last, or its parts are joined: each part stands by itself. */
function isOf(recognition: Recognition, column: string): boolean {
  return recognition.column === column || recognition.column.split(/ (?:…|\+) /)[0] === column;
}

/** The unit of the column; numbers without one and times, whose way of writing the reason tells, have none. */
function unitText({ unit, variable }: Recognition): string {
  return unit === "1" || variable === "time" || variable === "date" ? "" : ` [${unit}]`;
}

function valuesText(column: ColumnDescription): string {
  const blank = column.blank > 0 ? `, ${column.blank} blank` : "";
  if (column.distinct === 0) return "no values";
  if (column.kind === "number") return `number ${column.minimum} to ${column.maximum}${blank}`;
  const more = column.distinct > column.examples.length ? ", ..." : "";
  return `text, ${column.distinct} different: ${column.examples.join(", ")}${more}${blank}`;
}

function extentText({ minX, minY, maxX, maxY }: Extent): string {
  const range = (low: number, high: number) => `${low.toFixed(5)} to ${high.toFixed(5)}`;
  return `longitude ${range(minX, maxX)}, latitude ${range(minY, maxY)}`;
}

function noteText(note: Note): string {
  const where = [
    note.field === null ? null : `column ${note.field}`,
    note.firstRecord === null ? null : `first in record ${note.firstRecord}`,
    note.value === null ? null : `value ${note.value}`,
  ].filter((part) => part !== null);
  const times = note.count > 1 ? `${note.count} records ` : "";
  return `${times}${note.effect}: ${note.reason}${where.length > 0 ? ` (${where.join(", ")})` : ""}`;
}

/** No line feed of a name starts a line of its own. */
function onOneLine(line: string): string {
  return line.replaceAll("\n", " ");
}
