/**
 * Tables as Apache Parquet (Snappy), and places as GeoParquet 1.1 (WKB, degrees WGS 84 in the order longitude, latitude,
 * which is the format's default and needs no system named). Rows are taken one by one and written in row groups, so that a
 * table of any length takes the memory of one group.
 */
import { ByteWriter, geojsonToWkb, ParquetWriter, schemaFromColumnData } from "hyparquet-writer";

export interface ParquetColumn<Row> {
  name: string;
  type: "STRING" | "DOUBLE" | "INT32" | "BOOLEAN";
  /** Null is written as null. */
  cell: (row: Row) => string | number | boolean | null;
}

export interface MultiPolygon {
  type: "MultiPolygon";
  coordinates: number[][][][];
}

/** Takes the bytes of a file in their order; they change after the call. */
export type TakeBytes = (bytes: Uint8Array) => void;

/** Says who wrote the file, in place of the library's own name; no version of the library, so that bytes stay the same. */
const CREATED_BY = "Evenstand";

/** Rows of a group: enough for a reader to skip by, and small. Shapes are larger than figures. */
const GROUP_ROWS = 50_000;
const GROUP_SHAPES = 4_000;

const GEOMETRY = "geometry";

interface Column {
  name: string;
  type: ParquetColumn<never>["type"] | "BYTE_ARRAY";
  data: unknown[];
}

export class ParquetTable<Row> {
  readonly #columns: readonly ParquetColumn<Row>[];
  readonly #geometryOf: ((row: Row) => MultiPolygon) | null;
  readonly #group: Column[];
  readonly #groupRows: number;
  readonly #writer: ParquetWriter;
  readonly #bounds = { west: Infinity, south: Infinity, east: -Infinity, north: -Infinity };

  /** @param geometryOf of a table of places: adds a column `geometry` of multi-polygons behind the others */
  constructor(
    columns: readonly ParquetColumn<Row>[],
    take: TakeBytes,
    geometryOf: ((row: Row) => MultiPolygon) | null = null,
  ) {
    this.#columns = columns;
    this.#geometryOf = geometryOf;
    this.#groupRows = geometryOf ? GROUP_SHAPES : GROUP_ROWS;
    this.#group = columns.map(({ name, type }) => ({ name, type, data: [] }));
    if (geometryOf) this.#group.push({ name: GEOMETRY, type: "BYTE_ARRAY", data: [] });
    this.#writer = new ParquetWriter({
      writer: new GroupWriter(take),
      schema: schemaFromColumnData({ columnData: this.#group }),
      createdBy: CREATED_BY,
    });
  }

  add(row: Row): void {
    this.#columns.forEach(({ cell }, k) => {
      const value = cell(row);
      this.#group[k]!.data.push(typeof value === "number" && !Number.isFinite(value) ? null : value);
    });
    if (this.#geometryOf) {
      const geometry = this.#geometryOf(row);
      this.#widen(geometry);
      this.#group.at(-1)!.data.push(geojsonToWkb(geometry));
    }
    if (this.#group[0]!.data.length === this.#groupRows) this.#writeGroup();
  }

  /** Writes what is left and the end of the file. A table without rows is a file too, with its columns. */
  finish(): void {
    if (this.#group[0]!.data.length > 0) this.#writeGroup();
    if (this.#geometryOf) {
      const { west, south, east, north } = this.#bounds;
      const bounds = west <= east ? { bbox: [west, south, east, north] } : {};
      const shape = { encoding: "WKB", geometry_types: ["MultiPolygon"], ...bounds };
      const metadata = { version: "1.1.0", primary_column: GEOMETRY, columns: { [GEOMETRY]: shape } };
      this.#writer.kvMetadata = [{ key: "geo", value: JSON.stringify(metadata) }];
    }
    this.#writer.finish();
  }

  #writeGroup(): void {
    this.#writer.write({ columnData: this.#group, rowGroupSize: this.#groupRows });
    for (const column of this.#group) column.data = [];
  }

  #widen({ coordinates }: MultiPolygon): void {
    const bounds = this.#bounds;
    for (const rings of coordinates) {
      for (const ring of rings) {
        for (const [longitude, latitude] of ring) {
          bounds.west = Math.min(bounds.west, longitude!);
          bounds.east = Math.max(bounds.east, longitude!);
          bounds.south = Math.min(bounds.south, latitude!);
          bounds.north = Math.max(bounds.north, latitude!);
        }
      }
    }
  }
}

/** Hands on each group as it is complete. */
class GroupWriter extends ByteWriter {
  readonly #take: TakeBytes;

  constructor(take: TakeBytes) {
    super();
    this.#take = take;
  }

  flush(): void {
    this.#take(this.getBytes());
    this.index = 0;
  }

  override finish(): void {
    this.flush();
  }
}
