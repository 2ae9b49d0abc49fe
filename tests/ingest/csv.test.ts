import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ReadOptions, readLayer } from "../../src/ingest/index.ts";
import { refusalOf, textFile, valuesOf } from "./support/layers.ts";

const read = (text: string, options: Partial<ReadOptions> = {}) =>
  readLayer([textFile("digs.csv", text)], { role: "digs", expect: "point", ...options });
const table = (text: string) => read(text, { role: "weather", expect: "table" });
const refusal = async (text: string, options: Partial<ReadOptions> = {}) =>
  (await refusalOf([textFile("digs.csv", text)], { role: "digs", expect: "point", ...options })).message;

describe("readLayer on CSV", () => {
  it("gives back any texts and numbers, whatever the delimiter and the line ends", async () => {
    const text = fc.string({ maxLength: 6, unit: fc.constantFrom(..."ab\",;\t\n\r é'") });
    // Sixteen digits and more are taken for a code.
    const row = fc.record({ text, number: fc.double({ min: -1e14, max: 1e14, noNaN: true }) });
    await fc.assert(
      fc.asyncProperty(
        fc.array(row, { minLength: 1, maxLength: 6 }),
        fc.constantFrom(",", ";", "\t"),
        fc.constantFrom("\n", "\r\n", "\r"),
        fc.boolean(),
        async (rows, delimiter, end, bom) => {
          const quoted = (cell: string) => `"${cell.replaceAll('"', '""')}"`;
          const lines = rows.map((one) => `${quoted(`w${one.text}`)}${delimiter}${one.number}`);
          const layer = await table(`${bom ? "\uFEFF" : ""}name${delimiter}value${end}${lines.join(end)}`);
          expect(valuesOf(layer, "name")).toEqual(rows.map((one) => `w${one.text}`));
          expect(valuesOf(layer, "value")).toEqual(rows.map((one) => (one.number === 0 ? 0 : one.number)));
        },
      ),
    );
  });

  it("finds positions by the names of the columns", async () => {
    for (const [x, y] of [
      ["Longitude", "Latitude"],
      ["lon_deg", "lat_deg"],
      ["LNG", "LAT"],
    ]) {
      const layer = await read(`plot,${y},${x}\n1,42.5,-93.25\n2,42.6,-93.5\n`);
      expect([layer.geometry, [...layer.x], [...layer.y]]).toEqual(["point", [-93.25, -93.5], [42.5, 42.6]]);
      expect(layer.crs).toMatchObject({ basis: "file", definition: "EPSG:4326" });
      expect(layer.notes).toEqual([]);
    }
    const metres = await read("Easting,Northing,n\n450000,4650000,1\n", { crs: "EPSG:32615" });
    expect([metres.x[0], metres.y[0], metres.crs.basis]).toEqual([450000, 4650000, "manifest"]);
    const plain = await read("x,y\n-93,42\n");
    expect([plain.crs.basis, plain.notes[0]?.effect]).toEqual(["range", "assumed"]);
  });

  it("prefers longitude and latitude to x and y, and needs no positions for a table", async () => {
    expect((await read("x,y,lon,lat\n1,2,-93,42\n")).x[0]).toBe(-93);
    const weather = await table("date,rain\n2026-04-24,3.5\n2026-04-25,\n");
    expect([weather.geometry, weather.crs.definition, weather.recordCount]).toEqual(["none", null, 2]);
    expect(valuesOf(weather, "date")).toEqual(["2026-04-24", "2026-04-25"]);
    expect(valuesOf(weather, "rain")).toEqual([3.5, null]);
  });

  it("reads a decimal comma where the delimiter is another, and thousands commas in quotes", async () => {
    const layer = await read("lon;lat;depth\n-93,25;42,5;5,1\n-93,5;42,75;\n");
    expect([[...layer.x], [...layer.y], valuesOf(layer, "depth")]).toEqual([
      [-93.25, -93.5],
      [42.5, 42.75],
      [5.1, null],
    ]);
    expect(layer.notes[0]).toMatchObject({ effect: "converted", field: "lon", count: 2, value: "-93,25" });
    const thousands = await table('pop,n\n"34,000",1\n"33,500.5",2\n');
    expect(valuesOf(thousands, "pop")).toEqual([34000, 33500.5]);
    expect(thousands.notes[0]).toMatchObject({ effect: "converted", field: "pop", count: 2 });
  });

  it("keeps codes and mixed columns as text, just as they are written", async () => {
    const layer = await table("lot,code,gap\n1.50,007,NA\nA2,012,n/a\n,034,5\n");
    expect(valuesOf(layer, "lot")).toEqual(["1.50", "A2", null]);
    expect(valuesOf(layer, "code")).toEqual(["007", "012", "034"]);
    expect(valuesOf(layer, "gap")).toEqual([null, null, 5]);
  });

  it("notes rows that are too short, too long, without a place, and quotes left open", async () => {
    const layer = await read('lon,lat,a\n-93,42\n-93,42,1,2\n,,3\n-93,42,4,\n-93,42,"5');
    expect(valuesOf(layer, "a")).toEqual([null, 1, 3, 4, 5]);
    expect([...layer.x]).toEqual([-93, -93, NaN, -93, -93]);
    expect(layer.notes.map(({ effect, firstRecord }) => [effect, firstRecord])).toEqual([
      ["kept", 1],
      ["left out", 2],
      ["kept", null],
      ["left out", 3],
    ]);
  });

  it("loses no row to a quote that is not closed", async () => {
    const rows = Array.from({ length: 30 }, (_, index) => `${index},"lot ${index}",${index * 2}`);
    rows[4] = '4,"lot 4,8';
    rows[9] = '"9,"lot 9",18';
    const layer = await table(`n,lot,a\n${rows.join("\n")}\n`);
    expect(layer.recordCount).toBe(30);
    expect(valuesOf(layer, "a").filter((_, index) => index !== 4)).toEqual(
      rows.map((_, index) => index * 2).filter((_, index) => index !== 4),
    );
    expect(layer.notes).toContainEqual(
      expect.objectContaining({ count: 2, reason: expect.stringContaining("not closed") }),
    );
    // Quoted cells may run over lines, and may hold the delimiter.
    const remarks = await table('n,remark\n1,"wet; then\ndry, sunny"\n2,"say ""no"""\n');
    expect(valuesOf(remarks, "remark")).toEqual(["wet; then\ndry, sunny", 'say "no"']);
  });

  it("keeps a column of numbers where a word slipped in, and says so", async () => {
    const rows = Array.from({ length: 100 }, (_, index) => `${index}.5`);
    rows[40] = "4q.5";
    const layer = await table(`a\n${rows.join("\n")}\n`);
    expect(valuesOf(layer, "a").slice(39, 42)).toEqual([39.5, null, 41.5]);
    expect(layer.notes).toEqual([
      expect.objectContaining({ effect: "left out", field: "a", firstRecord: 41, count: 1, value: "4q.5" }),
    ]);
    const lots = await table(`lot\n${rows.map((_, index) => (index % 10 === 0 ? "A" : index)).join("\n")}\n`);
    expect(lots.columns[0]!.kind).toBe("text");
  });

  it("reads bars between cells and text in UTF-16", async () => {
    const text = "n|zone\n1|Löß\n";
    const utf16 = new Uint8Array(2 + 2 * text.length);
    utf16.set([0xff, 0xfe]);
    for (const [index, letter] of [...text].entries())
      new DataView(utf16.buffer).setUint16(2 + 2 * index, letter.charCodeAt(0), true);
    const layer = await readLayer([{ name: "a.csv", bytes: utf16 }], { role: "x", expect: "table" });
    expect([valuesOf(layer, "n"), valuesOf(layer, "zone")]).toEqual([[1], ["Löß"]]);
  });

  it("names columns without a name or with one twice", async () => {
    const layer = await table("a,,a\n1,2,3\n");
    expect(layer.columns.map(({ name }) => name)).toEqual(["a", "column 2", "a_2"]);
  });

  it("falls back to windows-1252 where the text is not UTF-8", async () => {
    const bytes = new Uint8Array([
      ...new TextEncoder().encode("zone,n\nL"),
      0xf6,
      0xdf,
      ...new TextEncoder().encode(",1\n"),
    ]);
    const layer = await readLayer([{ name: "a.csv", bytes }], { role: "x", expect: "table" });
    expect(valuesOf(layer, "zone")).toEqual(["Löß"]);
    expect(layer.notes).toEqual([expect.objectContaining({ effect: "assumed" })]);
  });

  it("refuses what gives nothing to work on", async () => {
    expect(await refusal("")).toMatch(/digs\.csv: has no header row/);
    expect(await refusal("lon,lat\n")).toMatch(/no records.*digs/);
    expect(await refusal("a,b\n1,2\n")).toMatch(
      /no position columns for digs among a, b; accepted.*longitude and latitude/,
    );
    expect(await refusal("lon,lat\nwest,42\n")).toMatch(/"lon" holds text such as "west"/);
    expect(await refusal("lon,lat\n450000,4650000\n")).toMatch(/450000, 4650000.*metres/);
    expect(await refusal("easting,northing\n450000,4650000\n")).toMatch(
      /coordinate system is unknown.*"crs"/,
    );
    expect(await refusal("lon,lat\n,\n")).toMatch(/no geometry/);
    expect(await refusal("lon,lat\n1,2\n", { expect: "polygon" })).toContain("holds no polygons");
    expect(await refusal("a\0b")).toContain("NUL");
  });
});
