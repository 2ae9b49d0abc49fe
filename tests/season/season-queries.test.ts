/** The questions of docs/season.md put to the tables by DuckDB, a reader that is not ours; the places by their metadata. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type DuckDBConnection, DuckDBInstance } from "@duckdb/node-api";
import { kinks, polygon } from "@turf/turf";
import { Ajv } from "ajv";
import { parquetReadObjects } from "hyparquet";
import { beforeAll, describe, expect, it } from "vitest";
import { straightOutline } from "../../src/rate-zones/ground-outline.ts";
import { straightened } from "../../src/season/field/extract-field.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { results, tablesOf } from "./support/made-up-season.ts";

const scratch = temporaryFolder();
const all = results({
  skips: (unit, field) => (unit === 5 ? 0.01 + 0.001 * field : 0),
  planned: () => ({ planter: "the 16-row" }),
  change: (extract, k) => {
    if (k === 0) extract.findings[0]!.basis = "cleared";
    if (k === 1) extract.findings.push({ ...extract.findings[0]!, id: "2", title: "Dry", money: null });
  },
});
const tables = tablesOf(all);
/** The statements of the document, in their order. */
const asked = /```sql\n([\s\S]*?)```/
  .exec(readFileSync(fileURLToPath(new URL("../../docs/season.md", import.meta.url)), "utf8"))![1]!
  .split(";")
  .filter((statement) => statement.trim() !== "");
let connection: DuckDBConnection;

beforeAll(async () => {
  for (const [name, bytes] of tables) writeFileSync(join(scratch, name), new Uint8Array(bytes));
  connection = await (await DuckDBInstance.create()).connect();
});

async function answer(statement: string): Promise<Record<string, unknown>[]> {
  const read = await connection.runAndReadAll(statement.replaceAll("'tables/", `'${scratch}/`));
  return read.getRowObjectsJS();
}

describe("the questions of the document", () => {
  it("what cost most, and in how many fields", async () => {
    const rows = await answer(asked[0]!);
    expect(rows).toEqual([
      { title: "=Gauge wheels <running> light", fields: 11n, loss: 1100, ha: 22 },
      { title: "Dry", fields: 1n, loss: null, ha: 2 },
    ]);
  });

  it("one row unit through the season", async () => {
    const rows = await answer(asked[1]!);
    expect(rows.map(({ planted }) => planted)).toEqual(all.map(({ extract }) => extract.planted));
    const logged = all.map(({ extract }) => extract.units.find(({ rowUnit }) => rowUnit === 5)!.departure);
    rows.forEach(({ points_more_skips: points }, k) => {
      expect(points).toBeCloseTo(100 * logged[k]!, 1);
    });
  });

  it("skips by the speed of the pass, end rows left out", async () => {
    const rows = await answer(asked[2]!);
    const inside = all.flatMap(({ extract }) => extract.passes.filter(({ headland }) => !headland));
    expect(rows.reduce((sum, { ha }) => sum + Number(ha), 0)).toBeCloseTo(inside.length, 6);
    for (const { skips_percent: skips } of rows) expect(skips).toBeCloseTo(2, 6);
  });

  it("are all of them asked here", () => {
    expect(asked).toHaveLength(3);
  });
});

/** What GeoParquet 1.1 asks of the metadata of a file with WKB: https://geoparquet.org/releases/v1.1.0/ */
const GEO_METADATA = {
  type: "object",
  required: ["version", "primary_column", "columns"],
  properties: {
    version: { const: "1.1.0" },
    primary_column: { type: "string", minLength: 1 },
    columns: {
      type: "object",
      minProperties: 1,
      additionalProperties: {
        type: "object",
        required: ["encoding", "geometry_types"],
        properties: {
          encoding: { const: "WKB" },
          geometry_types: {
            type: "array",
            uniqueItems: true,
            items: { enum: ["Polygon", "MultiPolygon"] },
          },
          bbox: { type: "array", items: { type: "number" }, minItems: 4, maxItems: 4 },
        },
        additionalProperties: false,
      },
    },
  },
};

describe("the places", () => {
  it.each(["places.parquet", "field-outlines.parquet"])(
    "of %s are GeoParquet to another reader",
    async (name) => {
      const path = join(scratch, name);
      const [entry] = await answer(
        `SELECT value::VARCHAR AS value FROM parquet_kv_metadata('${path}') WHERE key = 'geo'`,
      );
      const geo = JSON.parse(String(entry!.value).replaceAll("\\x22", '"'));
      const validate = new Ajv().compile(GEO_METADATA);
      expect(validate(geo), JSON.stringify(validate.errors)).toBe(true);
      expect(Object.keys(geo.columns)).toContain(geo.primary_column);
      const types = await answer(`SELECT column_type FROM (DESCRIBE SELECT geometry FROM '${path}')`);
      expect(types).toEqual([{ column_type: "GEOMETRY('OGC:CRS84')" }]);
      const rows = await parquetReadObjects({ file: tables.get(name)! });
      expect(rows.length).toBeGreaterThan(10);
      const [west, south, east, north] = geo.columns.geometry.bbox;
      for (const { geometry } of rows) {
        for (const rings of geometry.coordinates as [number, number][][][]) {
          for (const [x, y] of rings.flat())
            expect(x >= west && x <= east && y >= south && y <= north).toBe(true);
          expect(kinks(polygon(rings)).features).toEqual([]);
        }
      }
    },
  );

  it("are straightened, unless that makes them cross themselves", () => {
    // A strip whose lower side dips by less than the tolerance and its upper side by more: straightened they would cross.
    const strip: [number, number][] = [
      [0, 0],
      [5, 0],
      [7, 0],
      [9, 0],
      [10, -0.45],
      [11, 0],
      [20, 0],
      [20, 2],
      [11, 2],
      [10, -0.4],
      [9, 2],
      [0, 2],
      [0, 0],
    ];
    expect(kinks(polygon([strip])).features).toEqual([]);
    expect(kinks(polygon(straightOutline([[strip]], 0.5)[0]!)).features).not.toEqual([]);
    expect(straightened([strip], 0.5)).toEqual([strip]);
    const square: [number, number][] = [
      [0, 0],
      [5, 0.1],
      [10, 0],
      [10, 10],
      [0, 10],
      [0, 0],
    ];
    expect(straightened([square], 0.3)[0]).toHaveLength(5);
    const sliver: [number, number][] = [
      [0, 0],
      [10, 0.1],
      [0, 0.2],
      [0, 0],
    ];
    expect(straightened([sliver], 3)[0]!.length).toBeGreaterThanOrEqual(4);
  });
});
