/** Several layers of one kind, such as one file a day, to one: columns by name, records one after the other. */
import { FileUnusableError, type Note } from "../errors.ts";
import { toLonLat, WGS84_DEFINITION } from "./crs/crs.ts";
import type { CoordinateSystem, LayerPart, PolygonRings, RawColumn, RawLayer } from "./layer.ts";
import { NoteBook } from "./note-book.ts";

/** Layers belong together where they share this much of the columns of the smaller one (our judgement). */
const SHARED_COLUMNS = 0.5;

/**
 * Puts layers together. Positions are carried into WGS 84 degrees where the systems differ. Notes are summed
 * over the layers and say where they were met first.
 * @param file name of the whole
 * @throws {FileUnusableError} when they are not layers of one kind: other geometry, or other columns
 */
export function mergeLayers(layers: readonly RawLayer[], file: string): RawLayer {
  requireOneKind(layers, file);
  const notes = new NoteBook();
  const placed = inOneSystem(layers, notes);
  const parts: LayerPart[] = [];
  const fileRecord: number[] | null = layers.some((layer) => layer.fileRecord) ? [] : null;
  let begin = 0;
  let numbered = 0;
  for (const layer of layers) {
    parts.push({ name: layer.file, begin, end: begin + layer.recordCount });
    for (let record = 0; fileRecord && record < layer.recordCount; record++)
      fileRecord.push(numbered + (layer.fileRecord?.[record] ?? record + 1));
    begin += layer.recordCount;
    numbered += layer.recordsInFile ?? layer.recordCount;
  }
  const columns = mergeColumns(layers, begin, notes);
  const { geometry } = layers[0]!;
  const paths = layers.flatMap((layer) => layer.paths ?? []);
  return {
    file,
    recordCount: begin,
    geometry,
    ...placed,
    columns,
    ...(paths.length > 0 ? { paths } : {}),
    ...(fileRecord ? { fileRecord: Int32Array.from(fileRecord) } : {}),
    ...(numbered === begin ? {} : { recordsInFile: numbered }),
    parts,
    notes: [...mergeNotes(layers), ...notes.notes()],
  };
}

function requireOneKind(layers: readonly RawLayer[], file: string): void {
  const [first, ...others] = layers;
  const names = (layer: RawLayer) => new Set(layer.columns.map(({ name }) => name.toLowerCase()));
  for (const other of others) {
    const [a, b] = [names(first!), names(other)];
    const shared = [...a].filter((name) => b.has(name)).length;
    const alike = shared >= SHARED_COLUMNS * Math.min(a.size, b.size);
    if (other.geometry === first!.geometry && alike) continue;
    const value = layers
      .map((layer) => `${layer.file} (${layer.geometry}, ${layer.columns.length} columns)`)
      .join(", ");
    const accepted =
      "layers of one geometry with the same columns, or one layer a file; name or unpack the one that is meant";
    throw new FileUnusableError(
      `${file}: holds several different layers: ${value}; accepted are ${accepted}`,
      {
        file,
        value,
        accepted,
      },
    );
  }
}

type Placed = { x: Float64Array; y: Float64Array; polygons: PolygonRings[][] | null; crs: CoordinateSystem };

function inOneSystem(layers: readonly RawLayer[], notes: NoteBook): Placed {
  const { crs } = layers[0]!;
  const same = layers.every((layer) => layer.crs.definition === crs.definition);
  const placed = same ? layers : layers.map(inDegrees);
  if (!same) {
    notes.add({
      reason: "the files are in different coordinate systems; all positions are carried into WGS 84 degrees",
      effect: "converted",
      value: [...new Set(layers.map((layer) => layer.crs.name))].join(", "),
      count: layers.reduce((sum, layer) => sum + layer.recordCount, 0),
    });
  }
  return {
    x: joined(placed.map(({ x }) => x)),
    y: joined(placed.map(({ y }) => y)),
    polygons: placed[0]!.polygons && placed.flatMap(({ polygons }) => polygons ?? []),
    crs: same ? crs : { basis: crs.basis, name: "WGS 84, degrees", definition: WGS84_DEFINITION },
  };
}

function joined(columns: readonly Float64Array[]): Float64Array {
  const whole = new Float64Array(columns.reduce((sum, column) => sum + column.length, 0));
  let at = 0;
  for (const column of columns) {
    whole.set(column, at);
    at += column.length;
  }
  return whole;
}

function inDegrees(layer: RawLayer): Pick<RawLayer, "x" | "y" | "polygons"> {
  if (layer.crs.definition === null) return layer;
  const convert = toLonLat(layer.crs);
  const x = layer.x.slice();
  const y = layer.y.slice();
  for (let record = 0; record < x.length; record++) {
    if (Number.isNaN(x[record]!)) continue;
    const [longitude, latitude] = convert(x[record]!, y[record]!);
    x[record] = longitude;
    y[record] = latitude;
  }
  const polygons =
    layer.polygons?.map((record) =>
      record.map((rings) => rings.map((ring) => ring.map(([px, py]) => convert(px, py)))),
    ) ?? null;
  return { x, y, polygons };
}

/** Columns of the same name (whatever the case) become one, in the order they are first met. */
function mergeColumns(layers: readonly RawLayer[], recordCount: number, notes: NoteBook): RawColumn[] {
  const byKey = new Map<string, { name: string; of: (RawColumn | undefined)[] }>();
  for (const [index, layer] of layers.entries()) {
    for (const column of layer.columns) {
      const key = column.name.toLowerCase();
      const entry = byKey.get(key) ?? { name: column.name, of: [] };
      // Two columns that differ in nothing but case stay apart within one file.
      const free = entry.of[index] === undefined;
      if (free) entry.of[index] = column;
      byKey.set(key, entry);
      if (!free) byKey.set(`${key}\n${column.name}`, { name: column.name, of: placedAt(index, column) });
    }
  }
  return [...byKey.values()].map(({ name, of }) => {
    noteMissing(name, of, layers, notes);
    return mergeColumn(name, of, layers, recordCount, notes);
  });
}

function placedAt(index: number, column: RawColumn): RawColumn[] {
  const of: RawColumn[] = [];
  of[index] = column;
  return of;
}

function noteMissing(
  name: string,
  of: readonly (RawColumn | undefined)[],
  layers: readonly RawLayer[],
  notes: NoteBook,
): void {
  const without = layers.filter((_, index) => of[index] === undefined);
  if (without.length === 0) return;
  notes.add({
    reason: `the column is missing in ${without.length} of ${layers.length} files; their records have no value in it`,
    effect: "kept",
    field: name,
    value: without.map((layer) => layer.file).join(", "),
    count: without.reduce((sum, layer) => sum + layer.recordCount, 0),
  });
}

function mergeColumn(
  name: string,
  of: readonly (RawColumn | undefined)[],
  layers: readonly RawLayer[],
  recordCount: number,
  notes: NoteBook,
): RawColumn {
  // A column without any value is of numbers by default; it does not stand against text.
  const filled = of.filter((column) => column && !isEmpty(column));
  const texts = filled.filter((column) => column!.kind === "text");
  if (texts.length === 0) {
    const values = new Float64Array(recordCount).fill(Number.NaN);
    eachPart(layers, (index, begin) => {
      const column = of[index];
      if (column?.kind === "number") values.set(column.values, begin);
    });
    return { kind: "number", name, values };
  }
  if (texts.length < filled.length) {
    const numbers = of.findIndex((column) => column?.kind === "number" && !isEmpty(column));
    notes.add({
      reason: "numbers in some of the files, text in others; the column is read as text",
      effect: "converted",
      field: name,
      value: `numbers in ${layers[numbers]!.file}`,
      count: filled
        .filter((column) => column!.kind === "number")
        .reduce((sum, column) => sum + (column!.kind === "number" ? column!.values.length : 0), 0),
    });
  }
  return joinTexts(name, of, layers, recordCount);
}

function joinTexts(
  name: string,
  of: readonly (RawColumn | undefined)[],
  layers: readonly RawLayer[],
  recordCount: number,
): RawColumn {
  const codes = new Int32Array(recordCount).fill(-1);
  const labels: string[] = [];
  const codeOfLabel = new Map<string, number>();
  const codeOf = (label: string) => {
    let code = codeOfLabel.get(label);
    if (code === undefined) {
      code = labels.push(label) - 1;
      codeOfLabel.set(label, code);
    }
    return code;
  };
  eachPart(layers, (index, begin, count) => {
    const column = of[index];
    if (!column) return;
    const known = column.kind === "text" ? column.labels.map(codeOf) : [];
    for (let record = 0; record < count; record++) {
      if (column.kind === "text") {
        const code = column.codes[record]!;
        if (code >= 0) codes[begin + record] = known[code]!;
      } else if (!Number.isNaN(column.values[record]!)) {
        codes[begin + record] = codeOf(String(column.values[record]));
      }
    }
  });
  return { kind: "text", name, codes, labels };
}

function eachPart(
  layers: readonly RawLayer[],
  take: (index: number, begin: number, count: number) => void,
): void {
  let begin = 0;
  for (const [index, { recordCount }] of layers.entries()) {
    take(index, begin, recordCount);
    begin += recordCount;
  }
}

function isEmpty(column: RawColumn): boolean {
  return column.kind === "number" && column.values.every(Number.isNaN);
}

/** Notes of one kind become one, which says in which file it was met first; record numbers count through. */
function mergeNotes(layers: readonly RawLayer[]): Note[] {
  const merged = new Map<string, { note: Note; where: string; files: number }>();
  let before = 0;
  for (const layer of layers) {
    for (const note of layer.notes) {
      const key = `${note.effect}\n${note.field ?? ""}\n${note.reason}`;
      const known = merged.get(key);
      if (known) {
        known.note.count += note.count;
        known.files++;
        continue;
      }
      const where =
        note.firstRecord === null ? `in ${layer.file}` : `in ${layer.file}, record ${note.firstRecord} there`;
      const firstRecord = note.firstRecord === null ? null : note.firstRecord + before;
      merged.set(key, { note: { ...note, firstRecord }, where, files: 1 });
    }
    before += layer.recordsInFile ?? layer.recordCount;
  }
  return [...merged.values()].map(({ note, where, files }) => ({
    ...note,
    reason: `${note.reason} (${files > 1 ? `in ${files} files, first ` : ""}${where})`,
  }));
}
