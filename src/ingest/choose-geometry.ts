/** Which kind of geometry a layer is, judged by what its records hold and what the job needs. */
import { FileUnusableError } from "../errors.ts";
import {
  type GeometryStore,
  isPosition,
  LINE,
  MULTIPOINT,
  OTHER,
  POINT,
  POLYGON,
  UNUSABLE,
} from "./geometry-store.ts";
import type { LayerGeometry } from "./layer.ts";
import type { SettleOptions } from "./settle-options.ts";

/**
 * The kind most records are of, among those the job can use.
 * @throws {FileUnusableError} when none is
 */
export function chooseGeometry(store: GeometryStore, options: SettleOptions): LayerGeometry {
  const counts = new Array<number>(LINE + 1).fill(0);
  for (let record = 0; record < store.kinds.length; record++) counts[store.kinds[record]!]!++;
  const points = counts[POINT]!;
  const polygons = counts[POLYGON]!;
  const { expect } = options;
  if (expect === "anything") return commonest(counts) ?? options.declared ?? "none";
  const others = counts[OTHER]! + counts[LINE]!;
  const found = [
    counted(points, "point", "points"),
    counted(polygons, "polygon", "polygons"),
    others === 0 ? "" : `${others} of type ${[...store.otherTypes].sort().join(", ")}`,
    counted(counts[UNUSABLE]!, "broken geometry", "broken geometries"),
  ].filter((part) => part !== "");
  const foundText = `it holds ${found.length > 0 ? found.join(", ") : "no geometry at all"}`;
  if (expect === "point" && points === 0) throw unusableGeometry(options, foundText, "points");
  if (expect === "polygon" && polygons === 0) throw unusableGeometry(options, foundText, "polygons");
  if (points + polygons === 0) {
    if (expect === "table") return "none";
    throw unusableGeometry(options, foundText, "points or polygons");
  }
  if (expect === "point" || expect === "polygon") return expect;
  return points >= polygons ? "point" : "polygon";
}

const KINDS = [
  ["point", POINT],
  ["polygon", POLYGON],
  ["line", LINE],
  ["multipoint", MULTIPOINT],
] as const;

function commonest(counts: readonly number[]): LayerGeometry | null {
  let best: LayerGeometry | null = null;
  let most = 0;
  for (const [geometry, kind] of KINDS) {
    if (counts[kind]! <= most) continue;
    most = counts[kind]!;
    best = geometry;
  }
  return best;
}

function counted(count: number, one: string, many: string): string {
  return count === 0 ? "" : `${count} ${count === 1 ? one : many}`;
}

/** The refusal of a layer without usable geometry; names the first trouble that was met. */
export function unusableGeometry(
  options: SettleOptions,
  what: string,
  accepted: string | null,
): FileUnusableError {
  const wanted = accepted ?? (options.expect === "any" ? "points or polygons" : `${options.expect}s`);
  const trouble = options.notes.notes().find((note) => note.effect === "left out" && note.field === null);
  const first = trouble
    ? ` (record ${trouble.firstRecord}: ${trouble.reason}; ${trouble.value ?? "no value"})`
    : "";
  return new FileUnusableError(
    `${options.file}: ${what}${first}; accepted for ${options.role} are ${wanted}`,
    { file: options.file, field: "geometry", value: what + first, accepted: wanted },
  );
}

/** Jobs that work on points take a record of several as one, at their middle. */
export function gatherMultiPoints(store: GeometryStore, options: SettleOptions): void {
  for (let record = 0; record < store.kinds.length; record++) {
    if (store.kinds[record] !== MULTIPOINT) continue;
    const positions = (store.paths?.[record]?.[0] ?? []) as unknown[];
    const middle = meanOf(positions.filter(isPosition));
    const number = options.fileRecord?.[record] ?? record + 1;
    if (middle === null) {
      store.setUnusable(record);
      options.notes.add({ reason: "its points have no positions", effect: "left out", record: number });
      continue;
    }
    store.setPoint(record, middle[0], middle[1]);
    options.notes.add({
      reason: "a record of several points is put at their middle",
      effect: "converted",
      record: number,
      value: `${positions.length} points`,
    });
  }
}

/** Mean of finite positions, null where there is none. */
export function meanOf(positions: readonly (readonly [number, number])[]): [number, number] | null {
  let x = 0;
  let y = 0;
  let count = 0;
  for (const [px, py] of positions) {
    if (!Number.isFinite(px) || !Number.isFinite(py)) continue;
    count++;
    x += (px - x) / count;
    y += (py - y) / count;
  }
  return count === 0 ? null : [x, y];
}
