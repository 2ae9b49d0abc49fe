/** Numbers of records as messages give them. */
import type { RawLayer } from "./layer.ts";

/** Number of a record (0-based place in the layer) in its file, 1-based. */
export function recordNumber(layer: Pick<RawLayer, "fileRecord">, record: number): number {
  return layer.fileRecord?.[record] ?? record + 1;
}
