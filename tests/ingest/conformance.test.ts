/**
 * Public conformance cases: shapefiles from the tests of two reader libraries (BSD-3-Clause and MIT) against what
 * GDAL 3.6.2 read of them, and GeoJSON from a checker's tests (ISC) against its own messages. docs/readers.md lists
 * each case; the list there is held to what is read here.
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { FileUnusableError } from "../../src/errors.ts";
import { type RawLayer, readLayer } from "../../src/ingest/index.ts";
import { READERS, valuesOf } from "./support/layers.ts";

const reference = process.env.EVENSTAND_REFERENCE;
const folder = `${reference}/data/conformance`;
const bytesOf = (path: string) => new Uint8Array(readFileSync(path));
const documentAt = new URL("../../docs/readers.md", import.meta.url);

/** Compares a list of the document with what is read; EVENSTAND_UPDATE_DOCS=1 writes it anew. */
function holdList(name: string, lines: readonly string[]): void {
  const text = readFileSync(documentAt, "utf8");
  const begin = text.indexOf(`<!-- ${name} -->\n`) + `<!-- ${name} -->\n`.length;
  const end = text.indexOf("<!-- end -->", begin);
  const listed = `${lines.join("\n")}\n`;
  if (process.env.EVENSTAND_UPDATE_DOCS === "1")
    writeFileSync(documentAt, text.slice(0, begin) + listed + text.slice(end));
  else expect(text.slice(begin, end)).toBe(listed);
}

interface GdalReport {
  ok: boolean;
  geometry: string | null;
  count: number;
  extent: string;
  fields: string[];
  null_geometries: number;
}

const GEOMETRY_OF_GDAL: Readonly<Record<string, RawLayer["geometry"]>> = {
  Point: "point",
  Polygon: "polygon",
  "Line String": "line",
  "Multi Point": "multipoint",
};

/** Kind of column GDAL's type comes to here. Logical and wide number columns are the exceptions named below. */
const KIND_OF_FIELD: Readonly<Record<string, string>> = {
  Integer: "number",
  Integer64: "number",
  Real: "number",
  String: "text",
  Date: "text",
};

function shapefileAt(path: string) {
  const stem = `${folder}/${path.replace(/\.shp$/, "")}`;
  return [".shp", ".shx", ".dbf", ".prj", ".cpg"].flatMap((extension) => {
    try {
      return [{ name: `layer${extension}`, bytes: bytesOf(stem + extension) }];
    } catch {
      return [];
    }
  });
}

const asMuchAsPossible = { role: "x", expect: "anything" } as const;

async function outcomeOf(files: { name: string; bytes: Uint8Array }[], reader: "fast" | "library") {
  try {
    return await readLayer(files, { ...asMuchAsPossible, reader });
  } catch (error) {
    expect(error).toBeInstanceOf(FileUnusableError);
    return error as FileUnusableError;
  }
}

function positionsOf(layer: RawLayer): (readonly [number, number])[] {
  if (layer.polygons) return layer.polygons.flat(2).flat() as [number, number][];
  if (layer.paths) return layer.paths.flat(2);
  return Array.from(layer.x, (x, index) => [x, layer.y[index]!] as const).filter(([x]) => !Number.isNaN(x));
}

function extentText(layer: RawLayer): string {
  const positions = positionsOf(layer);
  const of = (pick: (...values: number[]) => number, axis: 0 | 1) =>
    positions.length === 0 ? 0 : pick(...positions.map((position) => position[axis]));
  const text = [of(Math.min, 0), of(Math.min, 1), of(Math.max, 0), of(Math.max, 1)].map((value) =>
    value.toFixed(6),
  );
  return `(${text[0]}, ${text[1]}) - (${text[2]}, ${text[3]})`;
}

/** Coordinates of a GeoJSON geometry as a flat sorted list: how rings are wound and parts ordered does not count. */
function flat(coordinates: unknown): string[] {
  if (!Array.isArray(coordinates)) return [];
  if (typeof coordinates[0] === "number") return [`${coordinates[0]} ${coordinates[1]}`];
  return coordinates.flatMap(flat);
}
const distinct = (positions: string[]) => [...new Set(positions)].sort();

function recordPositions(layer: RawLayer, record: number): string[] {
  const of = (positions: readonly (readonly [number, number])[]) =>
    positions.map((position) => `${position[0]} ${position[1]}`);
  if (layer.polygons) return of(layer.polygons[record]!.flat(2) as [number, number][]);
  if (layer.paths) return of(layer.paths[record]!.flat());
  return Number.isNaN(layer.x[record]!) ? [] : of([[layer.x[record]!, layer.y[record]!]]);
}

describe.runIf(reference)("conformance shapefiles (need EVENSTAND_REFERENCE)", () => {
  const expected = () =>
    Object.entries(
      JSON.parse(readFileSync(`${folder}/expected_by_gdal.json`, "utf8")) as Record<string, GdalReport>,
    );

  it.each(READERS)("are all read as GDAL reads them, %s reader", async (reader) => {
    let compared = 0;
    for (const [path, gdal] of expected()) {
      if (!gdal.ok) continue;
      const layer = await readLayer(shapefileAt(path), { ...asMuchAsPossible, reader });
      expect(layer.geometry, path).toBe(GEOMETRY_OF_GDAL[gdal.geometry!.replace(/Measured |3D /, "")]);
      expect(layer.recordCount, path).toBe(gdal.count);
      expect(layer.x.filter(Number.isNaN).length, path).toBe(gdal.null_geometries);
      expect(extentText(layer), path).toBe(gdal.extent);
      expect(
        layer.columns.map(({ name, kind }) => [name, kind]),
        path,
      ).toEqual(
        gdal.fields.map((field) => {
          const [name, type] = field.split(/: | \(/) as [string, string];
          // GDAL 3.6 gives truth values as text of one letter; here they are 0 and 1.
          const logical = path.includes("boolean");
          return [name, logical ? "number" : KIND_OF_FIELD[type]];
        }),
      );
      compared++;
    }
    expect(compared).toBe(21);
  });

  it("hold the records of the .json beside them", async () => {
    let compared = 0;
    for (const [path, gdal] of expected()) {
      const json = `${folder}/${path.replace(/\.shp$/, ".json")}`;
      let features: { geometry: { coordinates: unknown } | null; properties: Record<string, unknown> }[];
      try {
        features = (JSON.parse(readFileSync(json, "utf8")) as { features: typeof features }).features;
      } catch {
        continue;
      }
      if (!gdal.ok) continue;
      const layer = await readLayer(shapefileAt(path), { ...asMuchAsPossible, reader: "fast" });
      expect(layer.recordCount, path).toBe(features.length);
      const columns = layer.columns.map(({ name }) => ({ name, values: valuesOf(layer, name) }));
      for (const [record, feature] of features.entries()) {
        expect(distinct(recordPositions(layer, record)), path).toEqual(
          distinct(flat(feature.geometry?.coordinates)),
        );
        const named = columns.filter(({ name }) => name in feature.properties);
        expect(named.length, path).toBe(Object.keys(feature.properties).length);
        for (const { name, values } of named) {
          expect(values[record], `${path} ${name}`).toEqual(valueOfJson(feature.properties[name]));
        }
      }
      compared++;
    }
    expect(compared).toBe(20);
  });

  /** What a value of the .json comes to: truth values 0 and 1, dates without a time, blanks missing. */
  function valueOfJson(value: unknown): unknown {
    if (typeof value === "boolean") return Number(value);
    const day = typeof value === "string" && /^(\d{4})(\d\d)(\d\d)$/.exec(value);
    if (day) return `${day[1]}-${day[2]}-${day[3]}`;
    return value === "" || value === undefined ? null : value;
  }

  it("are listed in docs/readers.md", async () => {
    const lines: string[] = [];
    for (const [path, gdal] of expected()) {
      const outcome = await outcomeOf(shapefileAt(path), "fast");
      const there = gdal.ok ? `${gdal.geometry}, ${gdal.count}` : "not opened";
      lines.push(`| ${path} | ${there} | ${summaryOf(outcome)} |`);
    }
    holdList("shapefiles", lines);
  });

  it("in archives: 663 polygons of a city, and one without a layer", async () => {
    for (const reader of READERS) {
      const blocks = await outcomeOf(
        [{ name: "blockgroups.zip", bytes: bytesOf(`${folder}/pyshp/blockgroups.zip`) }],
        reader,
      );
      expect("recordCount" in blocks && blocks.recordCount).toBe(663);
    }
    const empty = await outcomeOf(
      [{ name: "empty_zipfile.zip", bytes: bytesOf(`${folder}/pyshp/empty_zipfile.zip`) }],
      "fast",
    );
    expect(empty).toBeInstanceOf(FileUnusableError);
    expect((empty as FileUnusableError).message).toContain("dummyfile.txt");
  });
});

/** What a reader has to say, by the kind of complaint the checker raises. */
const SAME_KIND: readonly [complaint: RegExp, ours: RegExp][] = [
  [/duplicate members/, /stands twice/],
  [/nested more deeply/, /outer ring|not two finite numbers|must be an array/],
  [/Parse error/, /not JSON/],
  [/"type" member should be string|"type" member required|The type FooBar|case sensitive/, /"type"/],
  [/right-hand rule/, /runs the wrong way round/],
  [/"properties" member should be object/, /properties are not an object/],
  [
    /each element in a position|position must have|position should be an array/,
    /position.*not two|Position must/,
  ],
  [/Every feature must be an object|type=feature member/, /not a feature/],
  [/"id" member must/, /"id"/],
  [/bbox/, /"bbox"/],
  [/first and last positions/, /closed|first and last positions/],
  [/four or more positions/, /closed|outer ring/],
  [/cannot contain a/, /belongs to another kind of object/],
  [/"features" member (?:should|required)/, /"features"/],
  [/only geometry objects/, /no geometry|must be a JSON Object/],
  [/nested geometry collections/, /another collection/],
  [/GeometryCollection with a single/, /collection of one|no geometry/],
  [/more than 3 elements/, /more than three numbers/],
  [/"coordinates" member/, /position is not two|not a list|"coordinates"/],
  [/root of a GeoJSON object/, /an object is needed/],
  [/two or more coordinates/, /two positions|at least two/],
];

describe.runIf(reference)("conformance GeoJSON (needs EVENSTAND_REFERENCE)", () => {
  const filesOf = (kind: "good" | "bad") =>
    readdirSync(`${folder}/geojsonhint/${kind}`)
      .filter((name) => name.endsWith(".geojson"))
      .sort()
      .map((name) => ({ name, bytes: bytesOf(`${folder}/geojsonhint/${kind}/${name}`) }));

  it.each(READERS)(
    "bad files are refused or noted for a reason of the same kind, %s reader",
    async (reader) => {
      const files = filesOf("bad");
      expect(files.length).toBe(44);
      for (const file of files) {
        const result = file.name.replace(".geojson", ".result");
        const complaints = JSON.parse(readFileSync(`${folder}/geojsonhint/bad/${result}`, "utf8")) as {
          message: string;
        }[];
        const outcome = await outcomeOf([file], reader);
        const said =
          outcome instanceof FileUnusableError
            ? outcome.message
            : outcome.notes.map(({ reason, value }) => `${reason}: ${value}`).join("\n");
        const first = complaints[0]?.message;
        if (first === undefined) continue;
        const kind = SAME_KIND.find(([complaint]) => complaint.test(first));
        expect(kind, `${file.name}: ${first}`).toBeDefined();
        expect(said, file.name).toMatch(kind![1]);
      }
    },
  );

  it.each(READERS)("good files are read, %s reader", async (reader) => {
    const files = filesOf("good");
    expect(files.length).toBe(18);
    for (const file of files) {
      const outcome = await outcomeOf([file], reader);
      expect(outcome, file.name).not.toBeInstanceOf(FileUnusableError);
      const { features } = JSON.parse(new TextDecoder().decode(file.bytes)) as { features?: unknown[] };
      expect((outcome as RawLayer).recordCount, file.name).toBe(features?.length ?? 1);
    }
  });

  it("are listed in docs/readers.md", async () => {
    const lines: string[] = [];
    for (const kind of ["bad", "good"] as const) {
      for (const file of filesOf(kind))
        lines.push(`| ${kind}/${file.name} | ${summaryOf(await outcomeOf([file], "fast"))} |`);
    }
    holdList("geojson", lines);
  });
});

/** One line for the document: what was read, with the notes, or why it was refused. */
function summaryOf(outcome: RawLayer | FileUnusableError): string {
  if (outcome instanceof FileUnusableError) {
    return `refused: ${outcome.message.replace(/^\S+: /, "").replace(/; accepted (?:is|are|for) .*$/, "")}`.replaceAll(
      "|",
      "/",
    );
  }
  const { geometry, recordCount, notes } = outcome;
  const kept = notes
    .filter(({ reason }) => !reason.startsWith("the file names no coordinate system"))
    .map(({ effect, reason }) => `${effect}: ${reason}`);
  return [`${geometry === "none" ? "no geometry" : geometry}, ${recordCount}`, ...kept]
    .join("; ")
    .replaceAll("|", "/");
}
