/** Which row unit or section of the bar each record is of. */
import type { PlantingLog } from "../vocabulary/field.ts";
import type { LogVariable } from "../vocabulary/variables.ts";
import type { FoundVariable } from "./recognition.ts";

/** Row unit or section of each record as its rank 0..n-1 among their names, -1 unknown; null when the log names neither. */
export function partOf(log: Pick<PlantingLog, "values" | "labels" | "layout">): Int32Array | null {
  const names: LogVariable[] = log.layout === "section" ? ["section", "rowUnit"] : ["rowUnit", "section"];
  for (const name of names) {
    const label = log.labels[name];
    if (label) {
      const inOrder = new Intl.Collator("en", { numeric: true });
      const rank = rankOf([...label.labels].sort(inOrder.compare));
      const rankOfCode = label.labels.map((text) => rank.get(text)!);
      return label.codes.map((code) => (code < 0 ? -1 : rankOfCode[code]!));
    }
    const values = log.values[name];
    if (!values) continue;
    const known = new Set<number>();
    for (let record = 0; record < values.length; record++) known.add(values[record]!);
    known.delete(Number.NaN);
    const rank = rankOf([...known].sort((a, b) => a - b));
    const part = new Int32Array(values.length);
    for (let record = 0; record < values.length; record++) part[record] = rank.get(values[record]!) ?? -1;
    return part;
  }
  return null;
}

/** Row unit or section of each record of a file, a number a name; null where the file names neither. */
export function partNames(
  found: ReadonlyMap<string, Pick<FoundVariable, "group">>,
): ArrayLike<number> | null {
  const column = (found.get("rowUnit") ?? found.get("section"))?.group.columns[0];
  if (!column) return null;
  return column.kind === "number" ? column.values : column.codes;
}

function rankOf<Name>(sorted: readonly Name[]): Map<Name, number> {
  return new Map(sorted.map((name, rank) => [name, rank]));
}
