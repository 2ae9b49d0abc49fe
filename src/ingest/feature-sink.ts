/** Takes GeoJSON features one by one into columns and geometry; nothing of the feature itself is kept. */
import { ColumnBuilder } from "./column-builder.ts";
import { checkMembers, GEOMETRY_TYPES } from "./geojson/geojson-members.ts";
import { GeometryStore } from "./geometry-store.ts";
import type { PolygonRings, RawColumn } from "./layer.ts";
import { mostColumns, noteTooManyColumns } from "./most-columns.ts";
import type { NoteBook } from "./note-book.ts";
import { shownJson } from "./values/shown-json.ts";

export class FeatureSink {
  readonly notes: NoteBook;
  readonly store: GeometryStore;
  /** Records taken. */
  count = 0;
  /** Features seen, taken or not. */
  seen = 0;
  readonly columns: ColumnBuilder[] = [];
  readonly #columnOfName = new Map<string, ColumnBuilder>();
  /** Stands for every column beyond what is read; takes nothing. */
  readonly #refused = new ColumnBuilder("", 0);
  readonly #capacity: number;
  #room = 0;
  readonly #decodeText: ((bytes: Uint8Array) => string) | undefined;
  /** File numbers of the records taken, kept once one was dropped. */
  #fileRecord: number[] | null = null;

  /** @param decodeText turns the raw bytes given to a column's dictionary into text; default plain UTF-8 */
  constructor(notes: NoteBook, capacity: number, decodeText?: (bytes: Uint8Array) => string) {
    this.notes = notes;
    this.store = new GeometryStore(capacity);
    this.#capacity = capacity;
    this.#decodeText = decodeText;
    this.#refused.close();
  }

  /** Makes room for as many records as are thought to come, when room is next short. */
  expectRecords(count: number): void {
    this.#room = count;
    this.store.room = count;
    for (const column of this.columns) column.room = count;
  }

  /** The column of a property, made when first met. */
  column(name: string): ColumnBuilder {
    const known = this.#columnOfName.get(name);
    if (known) return known;
    if (this.columns.length >= mostColumns(Math.max(this.#room, this.count + 1))) {
      noteTooManyColumns(this.notes, name);
      return this.#refused;
    }
    const column = new ColumnBuilder(name, Math.max(this.#capacity, this.count + 1), this.#decodeText);
    column.room = this.#room;
    this.#columnOfName.set(name, column);
    this.columns.push(column);
    return column;
  }

  /**
   * Takes a parsed feature; what is no feature is left out with a note.
   * @param usableGeometry false where its geometry was found broken, and noted, before
   */
  add(feature: unknown, usableGeometry = true): void {
    const members = asObject(feature);
    if (members?.type !== "Feature") {
      this.leaveOut('not a feature; an object of "type" "Feature" would be accepted', shownJson(feature));
      return;
    }
    const record = this.count;
    const { properties } = members;
    checkMembers("feature", members, (trouble) => this.noteMember(trouble));
    if (!("properties" in members)) this.noteNoProperties();
    if (properties !== null && properties !== undefined) this.setProperties(record, properties);
    if (usableGeometry) this.setGeometry(record, members.geometry);
    else this.store.setUnusable(record);
    this.take();
  }

  /** Counts the record whose values were set. */
  take(): void {
    this.seen++;
    this.count++;
    // At each doubling, as room is made for as many again.
    if ((this.count & (this.count - 1)) === 0) this.#closeColumnsBeyond(mostColumns(2 * this.count));
    this.#fileRecord?.push(this.seen);
  }

  #closeColumnsBeyond(most: number): void {
    if (this.columns.length <= most) return;
    const closed = this.columns.splice(most);
    for (const column of closed) column.close();
    noteTooManyColumns(this.notes, closed[0]!.name, closed.length);
  }

  /** Forgets the values set for the current record. */
  takeBack(): void {
    for (const column of this.columns) column.clear(this.count);
    this.store.clear(this.count);
  }

  /** Leaves the current record out, with a note; values set for it are taken back. */
  leaveOut(reason: string, value?: string): void {
    this.takeBack();
    this.#fileRecord ??= Array.from({ length: this.count }, (_, record) => record + 1);
    this.seen++;
    this.notes.add({ reason, effect: "left out", record: this.seen, value });
  }

  setGeometry(record: number, candidate: unknown): void {
    if (candidate === null || candidate === undefined) return;
    const geometry = this.#unwrap(candidate);
    const type = geometry?.type;
    const coordinates = geometry?.coordinates;
    if (type === "Point") this.#setPosition(record, coordinates);
    else if (type === "Polygon" || type === "MultiPolygon" || type === "MultiPoint" || isLine(type)) {
      if (!Array.isArray(coordinates)) this.refuse(record, "its coordinates are not a list", coordinates);
      else if (type === "MultiPoint") this.store.setMultiPoint(record, coordinates, type);
      else if (type === "LineString") this.store.setLines(record, [coordinates], type);
      else if (type === "MultiLineString") this.store.setLines(record, coordinates, type);
      else
        this.store.setPolygons(record, (type === "Polygon" ? [coordinates] : coordinates) as PolygonRings[]);
    } else if (typeof type !== "string") this.refuse(record, 'its geometry has no "type"', candidate);
    else if (type === "GeometryCollection" && !isSoundCollection(geometry)) {
      this.refuse(record, "its collection holds something that is no geometry", geometry?.geometries);
    } else this.store.setOther(record, type);
    if (geometry) checkMembers("geometry", geometry, (trouble) => this.noteMember(trouble));
  }

  /** A collection of one geometry stands for it, however often it is wrapped. */
  #unwrap(candidate: unknown): Record<string, unknown> | null {
    let geometry = asObject(candidate);
    while (geometry?.type === "GeometryCollection") {
      const inside: unknown[] = asList(geometry.geometries);
      if (inside.some((member) => asObject(member)?.type === "GeometryCollection"))
        this.noteMember("a collection of geometries holds another collection, which should be avoided");
      const only = inside.length === 1 ? asObject(inside[0]) : null;
      if (!only) break;
      this.noteMember("a collection of one geometry is read as that geometry");
      geometry = only;
    }
    return geometry;
  }

  /** Number of the current record in the file, 1-based. */
  get fileNumber(): number {
    return this.seen + 1;
  }

  finishColumns(): RawColumn[] {
    return this.columns.map((column) => column.finish(this.count, this.notes));
  }

  /** File numbers of the records, null where none was dropped. */
  fileRecord(): Int32Array | null {
    return this.#fileRecord && Int32Array.from(this.#fileRecord);
  }

  setProperties(record: number, properties: unknown): void {
    const members = asObject(properties);
    if (members === null) {
      this.notes.add({
        reason: "its properties are not an object, so it has no values",
        effect: "left out",
        record: this.fileNumber,
        value: shownJson(properties),
      });
      return;
    }
    for (const [name, value] of Object.entries(members)) {
      this.column(name).setJson(record, value, this.fileNumber, this.notes);
    }
  }

  #setPosition(record: number, position: unknown): void {
    const [x, y, ...further] = asList(position);
    const numbers = typeof x === "number" && typeof y === "number";
    if (!numbers || further.some((value) => typeof value !== "number")) {
      this.refusePosition(record, shownJson(position));
      return;
    }
    if (further.length > 1) this.noteExtraDimensions(position);
    this.store.setPoint(record, x, y);
  }

  noteExtraDimensions(position: unknown): void {
    this.notes.add({
      reason: "a position has more than three numbers; the first two are used",
      effect: "kept",
      record: this.fileNumber,
      value: shownJson(position),
    });
  }

  /** Notes a breach of the standard that costs nothing. */
  noteMember(reason: string): void {
    this.notes.add({ reason, effect: "kept", record: this.fileNumber });
  }

  noteNoProperties(): void {
    this.noteMember('it has no member "properties", so it has no values');
  }

  refusePosition(record: number, shown: string): void {
    this.store.setUnusable(record);
    const reason = "its position is not two finite numbers";
    this.notes.add({ reason, effect: "left out", record: this.fileNumber, value: shown });
  }

  refuse(record: number, reason: string, value: unknown): void {
    this.store.setUnusable(record);
    this.notes.add({ reason, effect: "left out", record: this.fileNumber, value: shownJson(value) });
  }
}

/** A bare geometry as a feature without properties; anything else as it is. */
export function asFeature(value: unknown): unknown {
  const type = asObject(value)?.type;
  return typeof type === "string" && GEOMETRY_TYPES.includes(type)
    ? { type: "Feature", properties: {}, geometry: value }
    : value;
}

function isLine(type: unknown): type is "LineString" | "MultiLineString" {
  return type === "LineString" || type === "MultiLineString";
}

function isSoundCollection(geometry: Record<string, unknown> | null): boolean {
  const inside = geometry?.geometries;
  return Array.isArray(inside) && inside.every((member) => typeof asObject(member)?.type === "string");
}

function asObject(value: unknown): Record<string, unknown> | null {
  return typeof value === "object" && value !== null && !Array.isArray(value)
    ? (value as Record<string, unknown>)
    : null;
}

function asList(value: unknown): unknown[] {
  return Array.isArray(value) ? value : [];
}
