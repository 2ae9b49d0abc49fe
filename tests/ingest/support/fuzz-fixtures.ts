/** Files whose content is known, for damaging: which bytes hold the value of which record. */
import { gzipSync, zipSync } from "fflate";
import type { InputFile } from "../../../src/ingest/index.ts";
import { type Shape, shapeBytes, tableBytes, viewOf, WGS84_PRJ } from "./shapefile-bytes.ts";

/** Bytes [begin, end) of a file that hold one value of one record and nothing else. */
export interface ValueSpan {
  file: number;
  begin: number;
  end: number;
  /** 0-based. */
  record: number;
}

export interface Fixture {
  name: string;
  files: InputFile[];
  /** Records in the file; null where only the readers know. */
  records: number | null;
  /** Where the values stand; none in packed files. */
  values: ValueSpan[];
}

const RECORDS = 60;
const depthOf = (record: number) => (1.5 + (record % 7) / 8).toFixed(3);
const lotOf = (record: number) =>
  `lot ${String.fromCharCode(65 + (record % 5))}${record % 3 === 0 ? "ß" : ""}`;
const longitudeOf = (record: number) => -93 + record / 1024;
const latitudeOf = (record: number) => 42 + record / 2048;

function shapefileFixture(name: string, geometry: "point" | "polygon", withIndex: boolean): Fixture {
  const shapes = Array.from({ length: RECORDS }, (_, record): Shape => {
    const [x, y] = [longitudeOf(record), latitudeOf(record)];
    if (geometry === "point") return { type: 1, x, y };
    const size = 1 / 4096;
    return {
      type: 5,
      parts: [
        [
          [x, y],
          [x, y + size],
          [x + size, y + size],
          [x + size, y],
          [x, y],
        ],
      ],
    };
  });
  const { shp, shx } = shapeBytes(shapes);
  const columns = [
    { name: "DEPTH_IN", type: "N", length: 9, decimals: 3 },
    { name: "LOT", type: "C", length: 10 },
    { name: "DAY", type: "D", length: 8 },
    { name: "WORKING", type: "L", length: 1 },
    { name: "UNIT", type: "I", length: 4 },
  ];
  const rows = shapes.map((_, record) => {
    const unit = new Uint8Array(4);
    viewOf(unit).setInt32(0, record % 24, true);
    return [
      depthOf(record),
      lotOf(record),
      `202604${10 + (record % 20)}`,
      record % 9 === 0 ? "F" : "T",
      unit,
    ];
  });
  const dbf = tableBytes(columns, rows);
  const firstRow = viewOf(dbf).getUint16(8, true);
  const rowLength = viewOf(dbf).getUint16(10, true);
  const values: ValueSpan[] = [];
  let at = 100;
  for (let record = 0; record < RECORDS; record++) {
    const content = geometry === "point" ? 20 : 44 + 4 + 16 * 5;
    const coordinates = geometry === "point" ? 4 : 48;
    values.push({ file: 0, begin: at + 8 + coordinates, end: at + 8 + content, record });
    values.push({
      file: 1,
      begin: firstRow + record * rowLength + 1,
      end: firstRow + (record + 1) * rowLength,
      record,
    });
    at += 8 + content;
  }
  const files = [
    { name: "log.shp", bytes: shp },
    { name: "log.dbf", bytes: dbf },
    { name: "log.prj", bytes: new TextEncoder().encode(WGS84_PRJ) },
    { name: "log.cpg", bytes: new TextEncoder().encode("UTF-8") },
    ...(withIndex ? [{ name: "log.shx", bytes: shx }] : []),
  ];
  return { name, files, records: RECORDS, values };
}

/** Text put together from pieces, remembering where the values of each record stand. */
class MarkedText {
  readonly #pieces: Uint8Array[] = [];
  readonly values: ValueSpan[] = [];
  #length = 0;
  add(text: string): this {
    const bytes = new TextEncoder().encode(text);
    this.#pieces.push(bytes);
    this.#length += bytes.length;
    return this;
  }
  value(text: string, record: number): this {
    const begin = this.#length;
    this.add(text);
    this.values.push({ file: 0, begin, end: this.#length, record });
    return this;
  }
  bytes(): Uint8Array {
    const whole = new Uint8Array(this.#length);
    let at = 0;
    for (const piece of this.#pieces) {
      whole.set(piece, at);
      at += piece.length;
    }
    return whole;
  }
}

function jsonFixture(name: string, form: "collection" | "lines"): Fixture {
  const text = new MarkedText();
  if (form === "collection") text.add('{"type":"FeatureCollection","features":[\n');
  for (let record = 0; record < RECORDS; record++) {
    if (record > 0) text.add(form === "collection" ? ",\n" : "\n");
    text.add('{"type":"Feature","properties":{"DEPTH_IN":').value(depthOf(record), record);
    text.add(',"LOT":"').value(lotOf(record), record);
    text.add('","UNIT":').value(String(record % 24), record);
    text.add('},"geometry":{"type":"Point","coordinates":[').value(String(longitudeOf(record)), record);
    text
      .add(",")
      .value(String(latitudeOf(record)), record)
      .add("]}}");
  }
  if (form === "collection") text.add("\n]}");
  const file = form === "collection" ? "log.geojson" : "log.ndjson";
  return { name, files: [{ name: file, bytes: text.bytes() }], records: RECORDS, values: text.values };
}

function csvFixture(name: string, delimiter: "," | ";"): Fixture {
  const number = (text: string) => (delimiter === ";" ? text.replace(".", ",") : text);
  const text = new MarkedText().add(["lon", "lat", "DEPTH_IN", "LOT"].join(delimiter)).add("\r\n");
  for (let record = 0; record < RECORDS; record++) {
    text.value(number(longitudeOf(record).toFixed(7)), record).add(delimiter);
    text.value(number(latitudeOf(record).toFixed(7)), record).add(delimiter);
    text.value(number(depthOf(record)), record).add(delimiter);
    text.add('"').value(lotOf(record), record).add('"\r\n');
  }
  return {
    name,
    files: [{ name: "log.csv", bytes: text.bytes() }],
    records: RECORDS,
    values: text.values,
  };
}

export function fixtures(): Fixture[] {
  const points = shapefileFixture("points", "point", true);
  const json = jsonFixture("collection", "collection");
  const entries = Object.fromEntries(points.files.map(({ name, bytes }) => [`day/${name}`, bytes]));
  return [
    points,
    shapefileFixture("points without an index", "point", false),
    shapefileFixture("polygons", "polygon", true),
    json,
    jsonFixture("lines", "lines"),
    csvFixture("comma", ","),
    csvFixture("semicolon", ";"),
    { name: "zip", files: [{ name: "log.zip", bytes: zipSync(entries) }], records: RECORDS, values: [] },
    {
      name: "gzip",
      files: [{ name: "log.geojson.gz", bytes: gzipSync(json.files[0]!.bytes) }],
      records: RECORDS,
      values: [],
    },
  ];
}
