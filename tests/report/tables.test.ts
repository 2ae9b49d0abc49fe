import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { csvCell, csvTable, passesCsv, rowUnitsCsv, soilZonesCsv } from "../../src/report/tables.ts";
import { documentFixture } from "../support/findings-fixture.ts";

/** A reader of RFC 4180 written apart from the writer. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  const cell = /("(?:[^"]|"")*"|[^",\r\n]*)(,|\r\n)/y;
  let row: string[] = [];
  for (let match = cell.exec(text); match; match = cell.exec(text)) {
    const [, raw = "", end] = match;
    row.push(raw.startsWith('"') ? raw.slice(1, -1).replaceAll('""', '"') : raw);
    if (end === "\r\n") {
      rows.push(row);
      row = [];
    }
    if (cell.lastIndex === text.length) break;
  }
  return rows;
}

/** What a spreadsheet may take for the start of a formula: signs, also full-width, tab and line ends. */
const FORMULA_SIGNS = ["=", "+", "-", "@", "\t", "\r", "\n", "\uFF1D", "\uFF0B", "\uFF0D", "\uFF20"];
const APOSTROPHE = /^'(?=[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20])/;

describe("CSV tables", () => {
  it("read back as written, whatever the text", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.string({ unit: "binary" }), fc.string()), { minLength: 1 }),
        (rows) => {
          const columns = [
            { heading: "a", cell: (row: [string, string]) => row[0] },
            { heading: "b", cell: (row: [string, string]) => row[1] },
          ];
          const read = readCsv(csvTable(columns, rows));
          const undefused = read.slice(1).map((row) => row.map((text) => text.replace(APOSTROPHE, "")));
          expect(undefused).toEqual(rows.map((row) => row.map((text) => text.replace(APOSTROPHE, ""))));
        },
      ),
    );
  });

  it("never hand a spreadsheet a formula", () => {
    fc.assert(
      fc.property(fc.constantFrom(...FORMULA_SIGNS), fc.string(), (start, rest) => {
        const [[read = ""] = []] = readCsv(`${csvCell(start + rest)}\r\n`);
        expect(read.startsWith("'")).toBe(true);
      }),
    );
    expect(csvCell(-5)).toBe("-5");
  });

  it("write numbers to six digits, counts whole, unknowns empty", () => {
    expect(csvCell(44.123456789)).toBe("44.1235");
    expect(csvCell(812_345_678)).toBe("812345678");
    expect(csvCell(0.1 + 0.2)).toBe("0.3");
    expect(csvCell(null)).toBe("");
    expect(csvCell(Number.NaN)).toBe("");
  });

  it("split the comparison into its tables with the same columns", () => {
    const { comparison } = documentFixture();
    const headings =
      "pass,soil_zone,row_unit,variable,unit,records,area_ha,mean,sd,p10,p50,p90,share_outside_target,difference,difference_low,difference_high,level_share,robust_sd,share_below_target,share_above_target,share_within_6_mm,spread_along_row_mm,share_without_load,place";
    expect(passesCsv(comparison)).toBe(
      `${headings}\r\n12,clay loam,,seedingDepth,mm,812345678,0.412346,44.1235,,37.8,44.3,50.6,0.31,-5.9,-7.4,-4.4,0.95,4.98765,0.3,0.01,0.69,5.25,,end rows\r\n`,
    );
    expect(rowUnitsCsv(comparison)).toBe(
      `${headings}\r\n,"'=HYPERLINK(""x"",""y"")",7,downForceMargin,N,5,0.1,500,20,470,500,530,,,,,0.95,19,,,,,0.2,\r\n`,
    );
    expect(soilZonesCsv(comparison)).toBe(`${headings}\r\n`);
  });
});
