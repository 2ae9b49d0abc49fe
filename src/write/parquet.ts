/**
 * Tables as Apache Parquet (Snappy), and places as GeoParquet 1.1 (WKB, degrees WGS 84 in the order longitude, latitude,
 * which is the format's default and needs no system named).
 */
import { geojsonToWkb, parquetWriteBuffer } from "hyparquet-writer";

export interface ParquetColumn<Row> {
  name: string;
  type: "STRING" | "DOUBLE" | "INT32" | "BOOLEAN";
  /** Null is written as null. */
  cell: (row: Row) => string | number | boolean | null;
}

/** Says who wrote the file, in place of the library's own name; no version of the library, so that bytes stay the same. */
const CREATED_BY = "Evenstand";

/** A table without rows is written too, with its columns. */
export function parquetTable<Row>(columns: readonly ParquetColumn<Row>[], rows: readonly Row[]): Uint8Array {
  return new Uint8Array(
    parquetWriteBuffer({
      columnData: columns.map((column) => columnOf(column, rows)),
      createdBy: CREATED_BY,
    }),
  );
}

export interface MultiPolygon {
  type: "MultiPolygon";
  coordinates: number[][][][];
}

/** The same with a column `geometry` of multi-polygons behind the others. */
export function geoParquetTable<Row>(
  columns: readonly ParquetColumn<Row>[],
  rows: readonly Row[],
  geometryOf: (row: Row) => MultiPolygon,
): Uint8Array {
  const geometries = rows.map(geometryOf);
  const metadata = {
    version: "1.1.0",
    primary_column: "geometry",
    columns: {
      geometry: { encoding: "WKB", geometry_types: ["MultiPolygon"], ...boundsOf(geometries) },
    },
  };
  return new Uint8Array(
    parquetWriteBuffer({
      columnData: [
        ...columns.map((column) => columnOf(column, rows)),
        { name: "geometry", data: geometries.map((geometry) => geojsonToWkb(geometry)), type: "BYTE_ARRAY" },
      ],
      kvMetadata: [{ key: "geo", value: JSON.stringify(metadata) }],
      createdBy: CREATED_BY,
    }),
  );
}

function columnOf<Row>({ name, type, cell }: ParquetColumn<Row>, rows: readonly Row[]) {
  const data = rows.map((row) => {
    const value = cell(row);
    return typeof value === "number" && !Number.isFinite(value) ? null : value;
  });
  return { name, data, type };
}

function boundsOf(geometries: readonly MultiPolygon[]): { bbox?: number[] } {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [longitude, latitude] of geometries.flatMap(({ coordinates }) => coordinates.flat(2))) {
    west = Math.min(west, longitude!);
    east = Math.max(east, longitude!);
    south = Math.min(south, latitude!);
    north = Math.max(north, latitude!);
  }
  return west <= east ? { bbox: [west, south, east, north] } : {};
}
