/** Takes GeoJSON features one by one into columns and geometry; nothing of the feature itself is kept. */
import { ColumnBuilder } from "./column-builder.ts";
import { GeometryStore } from "./geometry-store.ts";
import type { PolygonRings, RawColumn } from "./layer.ts";
import type { NoteBook } from "./note-book.ts";

export class FeatureSink {
  readonly notes: NoteBook;
  readonly store: GeometryStore;
  /** Records taken. */
  count = 0;
  /** Features seen, taken or not. */
  seen = 0;
  readonly columns: ColumnBuilder[] = [];
  readonly #columnOfName = new Map<string, ColumnBuilder>();
  readonly #capacity: number;
  readonly #decodeText: ((bytes: Uint8Array) => string) | undefined;
  /** File numbers of the records taken, kept once one was dropped. */
  #fileRecord: number[] | null = null;

  /** @param decodeText turns the raw bytes given to a column's dictionary into text; default plain UTF-8 */
  constructor(notes: NoteBook, capacity: number, decodeText?: (bytes: Uint8Array) => string) {
    this.notes = notes;
    this.store = new GeometryStore(capacity);
    this.#capacity = capacity;
    this.#decodeText = decodeText;
  }

  /** The column of a property, made when first met. */
  column(name: string): ColumnBuilder {
    const known = this.#columnOfName.get(name);
    if (known) return known;
    const column = new ColumnBuilder(name, Math.max(this.#capacity, this.count + 1), this.#decodeText);
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
      this.drop(JSON.stringify(feature));
      return;
    }
    const record = this.count;
    const properties = members.properties;
    if (properties !== null && properties !== undefined) this.setProperties(record, properties);
    if (usableGeometry) this.setGeometry(record, members.geometry);
    else this.store.setUnusable(record);
    this.take();
  }

  /** Counts the record whose values were set. */
  take(): void {
    this.seen++;
    this.count++;
    this.#fileRecord?.push(this.seen);
  }

  /** Leaves the feature out; values set for it are taken back. */
  drop(value: string): void {
    for (const column of this.columns) column.clear(this.count);
    this.store.clear(this.count);
    this.#fileRecord ??= Array.from({ length: this.count }, (_, record) => record + 1);
    this.seen++;
    this.notes.add({
      reason: 'not a feature; an object of "type" "Feature" would be accepted',
      effect: "left out",
      record: this.seen,
      value,
    });
  }

  setGeometry(record: number, candidate: unknown): void {
    if (candidate === null || candidate === undefined) return;
    const geometry = asObject(candidate);
    const type = geometry?.type;
    const coordinates = geometry?.coordinates;
    if (type === "Point") this.#setPosition(record, coordinates);
    else if (type === "MultiPoint" && Array.isArray(coordinates) && coordinates.length === 1) {
      this.#setPosition(record, coordinates[0]);
    } else if (type === "Polygon" || type === "MultiPolygon") {
      if (Array.isArray(coordinates)) {
        this.store.setPolygons(record, (type === "Polygon" ? [coordinates] : coordinates) as PolygonRings[]);
      } else this.#refuse(record, "its coordinates are not a list", coordinates);
    } else if (type === "GeometryCollection" && asList(geometry?.geometries).length === 1) {
      this.setGeometry(record, asList(geometry?.geometries)[0]);
    } else if (typeof type === "string") this.store.setOther(record, type);
    else this.#refuse(record, 'its geometry has no "type"', candidate);
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
        value: JSON.stringify(properties),
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
      this.#refuse(record, "its position is not two finite numbers", position);
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
      value: JSON.stringify(position),
    });
  }

  #refuse(record: number, reason: string, value: unknown): void {
    this.store.setUnusable(record);
    this.notes.add({ reason, effect: "left out", record: this.fileNumber, value: JSON.stringify(value) });
  }
}

function asObject(value: unknown): Record<string, unknown> | null {
  return typeof value === "object" && value !== null && !Array.isArray(value)
    ? (value as Record<string, unknown>)
    : null;
}

function asList(value: unknown): unknown[] {
  return Array.isArray(value) ? value : [];
}
