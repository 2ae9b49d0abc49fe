/** Named polygons: soil zones and seed lots. */
import { ChoiceNeededError, FileUnusableError } from "../errors.ts";
import type { RawLayer } from "../ingest/layer.ts";
import { recordNumber } from "../ingest/record-number.ts";
import type { LayerRole } from "../manifest/manifest.ts";
import type { ColumnChoice } from "../manifest/manifest-schema.ts";
import { textAt } from "../recognise/column-text.ts";
import { LayerReading } from "../recognise/layer-reading.ts";
import { DRAINAGE_CLASSES, type DrainageClass, drainageOf } from "../vocabulary/drainage.ts";
import type { InputReport, LocalFrame, LocalPolygon, SoilZones, TextureClass } from "../vocabulary/field.ts";
import type { VariableDescription } from "../vocabulary/variable-description.ts";
import { localPolygons } from "./local-polygons.ts";
import { textureOf } from "./texture.ts";

export interface NamedPolygons {
  /** Distinct names, sorted. */
  names: string[];
  polygons: { zone: number; rings: LocalPolygon; record: number }[];
  /** Natural drainage class of each record, null where not known. */
  drainage: DrainageClass[];
  report: InputReport;
}

/** How the manifest names a layer of named polygons. */
export interface ZoneEntry {
  zone?: string | undefined;
  columns?: { zone?: ColumnChoice | undefined; drainage?: ColumnChoice | undefined } | undefined;
}

/**
 * Loads a layer of named polygons.
 * @throws {ChoiceNeededError} when it is not clear which column holds the name.
 * @throws {FileUnusableError} when no polygon is usable.
 */
export function loadNamedPolygons(
  layer: RawLayer,
  role: LayerRole,
  entry: ZoneEntry,
  catalogue: Readonly<Record<string, VariableDescription>>,
  frame: LocalFrame,
): NamedPolygons {
  const choice = entry.zone ?? entry.columns?.zone;
  const reading = new LayerReading(layer, role, catalogue, { ...entry.columns, zone: choice });
  const column = reading.found("zone")?.group.columns[0] ?? onlyTextColumn(layer, role);
  const names: (string | null)[] = [];
  const polygons: { name: string; rings: LocalPolygon; record: number }[] = [];
  let used = 0;
  for (const [record, rings] of localPolygons(layer, frame).entries()) {
    const name = column === null ? "all" : (textAt(column, record)?.trim() ?? null);
    names.push(name);
    if (rings.length === 0)
      reading.notes.add({
        reason: "no usable polygon; the record is left out",
        effect: "left out",
        record: recordNumber(layer, record),
      });
    else if (name === null || name === "") {
      reading.notes.add({
        reason: "no name; the polygon is left out",
        effect: "left out",
        field: column?.name,
        record: recordNumber(layer, record),
      });
    } else {
      used += 1;
      for (const polygon of rings) polygons.push({ name, rings: polygon, record });
    }
  }
  if (polygons.length === 0) {
    throw new FileUnusableError(
      `${layer.file} (${role}): none of its ${layer.recordCount} records is a usable polygon with a name`,
      {
        file: layer.file,
        accepted: "polygons with a name each",
      },
    );
  }
  const sorted = [...new Set(polygons.map((polygon) => polygon.name))].sort();
  const numbers = new Map(sorted.map((name, index) => [name, index]));
  const drainage = drainageOfRecords(reading);
  return {
    names: sorted,
    polygons: polygons.map(({ name, rings, record }) => ({ zone: numbers.get(name)!, rings, record })),
    drainage,
    report: reading.report(used),
  };
}

/** Natural drainage class of each record; a text that is none of them is noted. */
function drainageOfRecords(reading: LayerReading): DrainageClass[] {
  const { layer, notes } = reading;
  const texts = reading.texts(
    "drainage",
    Int32Array.from({ length: layer.recordCount }, (_, k) => k),
  );
  return Array.from({ length: layer.recordCount }, (_, record) => {
    const text = texts?.[record]?.trim() ?? "";
    const drainage = drainageOf(text);
    if (text !== "" && drainage === null) {
      notes.add({
        reason: `is no natural drainage class (${DRAINAGE_CLASSES.join(", ")}); the value is left out`,
        effect: "left out",
        field: reading.found("drainage")?.group.label,
        record: recordNumber(layer, record),
        value: text,
      });
    }
    return drainage;
  });
}

/** The one text column of a layer, null for a layer without columns (then all polygons are one zone). */
function onlyTextColumn(layer: RawLayer, role: LayerRole) {
  if (layer.columns.length === 0) return null;
  const texts = layer.columns.filter((column) => column.kind === "text");
  if (texts.length === 1) return texts[0]!;
  const lines = layer.columns.map((column) => `  "zone": ${JSON.stringify(column.name)}`);
  throw new ChoiceNeededError(
    `${layer.file}: which column of ${role} holds the name of the zone cannot be told. Put one of these lines into "${role}" of the manifest:\n${lines.join("\n")}`,
    {
      file: layer.file,
      field: `${role}.zone`,
      accepted: lines.join("\n"),
      choices: [
        { role, variable: "zone", question: "which column holds the name of the zone cannot be told", lines },
      ],
    },
  );
}

/**
 * Loads the soil zones, with the texture class that the names, or else other texts of the records, suggest, and the
 * drainage class of most of a zone's polygons.
 * @throws as {@link loadNamedPolygons}
 */
export function soilZonesOf(layer: RawLayer, named: NamedPolygons): SoilZones {
  return {
    names: named.names,
    polygons: named.polygons.map(({ zone, rings }) => ({ zone, rings })),
    texture: named.names.map(
      (name, zone) => textureOf(name) ?? commonest(named, zone, (record) => textureOfRecord(layer, record)),
    ),
    drainage: named.names.map((_, zone) => commonest(named, zone, (record) => named.drainage[record]!)),
  };
}

/** The texture class that the first text column to name one gives a record. */
function textureOfRecord(layer: RawLayer, record: number): TextureClass {
  for (const column of layer.columns) {
    const text = column.kind === "text" ? textAt(column, record) : null;
    // A code of two letters means a texture only where it is the zone's own name.
    const texture = text === null || text.length < 4 ? null : textureOf(text);
    if (texture !== null) return texture;
  }
  return null;
}

/** What most of a zone's polygons are, of equals the one met first; null where none of them says. */
function commonest<Value>(
  { polygons }: NamedPolygons,
  zone: number,
  read: (record: number) => Value | null,
): Value | null {
  const counts = new Map<Value, number>();
  for (const polygon of polygons) {
    const value = polygon.zone === zone ? read(polygon.record) : null;
    if (value !== null) counts.set(value, (counts.get(value) ?? 0) + 1);
  }
  let best: Value | null = null;
  for (const [value, count] of counts) if (best === null || count > counts.get(best)!) best = value;
  return best;
}
