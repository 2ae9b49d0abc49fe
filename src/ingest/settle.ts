/** Judges the geometry a reader collected: which kind the layer is, what is usable, where it lies. */
import { chooseGeometry, gatherMultiPoints, meanOf, unusableGeometry } from "./choose-geometry.ts";
import { NO_CRS } from "./crs/crs-recognition.ts";
import { extentOf, typicalExtent } from "./extent.ts";
import {
  type GeometryStore,
  isPosition,
  LINE,
  MULTIPOINT,
  NO_GEOMETRY,
  OTHER,
  POINT,
  POLYGON,
  UNUSABLE,
} from "./geometry-store.ts";
import type { LayerGeometry, PolygonRings, RawLayer } from "./layer.ts";
import type { NoteBook } from "./note-book.ts";
import { repairPolygons } from "./polygon-repair.ts";
import { checkPositions } from "./position-checks.ts";
import { centroidOf } from "./rings.ts";
import type { SettleOptions } from "./settle-options.ts";

type Placed = Pick<RawLayer, "geometry" | "x" | "y" | "polygons" | "crs" | "paths">;

const KIND_OF_GEOMETRY: Readonly<Record<Exclude<LayerGeometry, "none">, number>> = {
  point: POINT,
  polygon: POLYGON,
  line: LINE,
  multipoint: MULTIPOINT,
};

/**
 * Geometry of the finished layer. Records whose geometry is missing or unusable keep their columns and
 * get NaN positions, with a note.
 * @throws {FileUnusableError} when the layer has no usable geometry of the expected kind, or its
 * coordinate system cannot be known.
 */
export function settleGeometry(store: GeometryStore, options: SettleOptions): Placed {
  const { notes } = options;
  const recordCount = store.x.length;
  const numberOf = (record: number) => options.fileRecord?.[record] ?? record + 1;
  if (options.expect !== "anything") gatherMultiPoints(store, options);
  const geometry = chooseGeometry(store, options);
  if (geometry === "none") {
    noteOtherTypes(store, options, numberOf);
    return nowhere(recordCount);
  }
  const wanted = KIND_OF_GEOMETRY[geometry];
  const { x, y } = store;
  const polygons: PolygonRings[][] | null = geometry === "polygon" ? [] : null;
  const paths: [number, number][][][] | null = geometry === "line" || geometry === "multipoint" ? [] : null;
  for (let record = 0; record < recordCount; record++) {
    const kind = store.kinds[record]!;
    if (kind === wanted && geometry === "point") {
      if (Number.isFinite(x[record]!) && Number.isFinite(y[record]!)) continue;
      const value = `${x[record]}, ${y[record]}`;
      notes.add({
        reason: "its position is not two finite numbers",
        effect: "left out",
        record: numberOf(record),
        value,
      });
    }
    if (kind !== wanted && kind !== UNUSABLE) {
      const reason =
        kind === NO_GEOMETRY ? "no geometry" : `its geometry is not a ${geometry} like the rest of the layer`;
      notes.add({ reason, effect: "left out", record: numberOf(record) });
    }
    let place: [number, number] | null = null;
    if (polygons) {
      const repair = { record: numberOf(record), noteWinding: options.noteWinding };
      const usable = kind === POLYGON ? repairPolygons(store.polygons?.[record] ?? [], notes, repair) : [];
      polygons.push(usable);
      place = centroidOf(usable);
    } else if (paths) {
      const usable =
        kind === wanted
          ? usablePaths(store.paths?.[record] ?? [], geometry === "line" ? 2 : 1, numberOf(record), notes)
          : [];
      paths.push(usable);
      place = meanOf(usable.flat());
    }
    x[record] = place ? place[0] : Number.NaN;
    y[record] = place ? place[1] : Number.NaN;
  }
  const extent = extentOf(x, y, polygons ?? paths?.map((record) => [record]) ?? null);
  if (extent === null) {
    if (options.expect === "anything") return { ...nowhere(recordCount), geometry };
    if (options.expect === "table") return nowhere(recordCount);
    throw unusableGeometry(options, `none of its ${recordCount} records has a usable ${geometry}`, null);
  }
  const crs = options.crsOf(typicalExtent(x, y) ?? extent);
  if (!paths) checkPositions({ geometry, x, y, polygons, crs }, extent, options, numberOf);
  return { geometry, x, y, polygons, crs, ...(paths ? { paths } : {}) };
}

/** A layer that is only looked at says what geometry it holds that cannot be read. */
function noteOtherTypes(
  store: GeometryStore,
  options: SettleOptions,
  numberOf: (record: number) => number,
): void {
  if (options.expect !== "anything" || store.otherTypes.size === 0) return;
  const reason = `geometry of type ${[...store.otherTypes].sort().join(", ")} is not read`;
  for (const [record, kind] of store.kinds.entries()) {
    if (kind === OTHER) options.notes.add({ reason, effect: "left out", record: numberOf(record) });
  }
}

function nowhere(recordCount: number): Placed {
  const missing = () => new Float64Array(recordCount).fill(Number.NaN);
  return { geometry: "none", x: missing(), y: missing(), polygons: null, crs: NO_CRS };
}

/** Lists of finite positions; the others are left out with a note. */
function usablePaths(
  paths: readonly unknown[],
  fewest: number,
  record: number,
  notes: NoteBook,
): [number, number][][] {
  const usable: [number, number][][] = [];
  for (const path of paths) {
    const positions = (Array.isArray(path) ? path : []).filter(isPosition);
    const broken = Array.isArray(path) ? path.length - positions.length : 1;
    if (broken > 0) {
      const reason = "positions that are not two numbers are not used";
      notes.add({ reason, effect: "left out", record, value: `${broken} positions` });
    }
    if (positions.length >= fewest) usable.push(positions.map(([px, py]) => [px, py]));
    else if (broken === 0)
      notes.add({ reason: "a line needs two positions or more", effect: "left out", record });
  }
  return usable;
}
