import { describe, expect, it } from "vitest";
import { ManifestError } from "../../src/errors.ts";
import { assembleField } from "../../src/field/load.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import { type ColumnValues, type LayerParts, layer, othersThanDepth } from "./layers.ts";

const RECORDS = 40;
const ROW_UNITS = 6;
const NAMES = Array.from({ length: ROW_UNITS }, (_, i) => `Depth_${i + 1}_mm`);

/** Row unit u of record i was sensed at 40 + u + i / 100 mm. */
function depths(): Record<string, ColumnValues> {
  return Object.fromEntries(
    NAMES.map((name, unit) => [name, Array.from({ length: RECORDS }, (_, i) => 41 + unit + i / 100)]),
  );
}

function load(columns: Record<string, ColumnValues>, manifest: object = {}, place: LayerParts = {}) {
  const plantingLog = layer({ ...depths(), ...columns }, { file: "bar.csv", ...place });
  return assembleField(
    parseManifest({ plantingLog: { file: "bar.csv" }, planter: { rowSpacing: "30 in" }, ...manifest }),
    { plantingLog },
  );
}

const constant = (value: number) => new Array(RECORDS).fill(value);

describe("a log with one column per row unit", () => {
  it("becomes one record per row unit, with its own value and number", () => {
    const { log, inputs } = load({ Heading: constant(0), Speed_mph: constant(5) });
    expect(log).toMatchObject({ recordCount: RECORDS * ROW_UNITS, layout: "row-unit" });
    expect([...log.values.rowUnit!.slice(0, 7)]).toEqual([1, 2, 3, 4, 5, 6, 1]);
    expect(log.values.seedingDepth![0]).toBeCloseTo(41, 9);
    expect(log.values.seedingDepth![5]).toBeCloseTo(46, 9);
    expect(log.values.seedingDepth![6]).toBeCloseTo(41.01, 9);
    expect(log.values.speed![5]).toBeCloseTo(5 * 0.44704, 9);
    expect(log.values.swathWidth![0]).toBeCloseTo(0.762, 12);
    expect([...log.fileRecord.slice(4, 8)]).toEqual([1, 1, 2, 2]);
    expect(inputs[0]).toMatchObject({ records: RECORDS, used: RECORDS });
    expect(othersThanDepth(inputs[0]!)).toMatchObject([{ effect: "converted", count: RECORDS }]);
  });

  it.each([
    [0, 1, 0],
    [90, 0, -1],
    [180, -1, 0],
    [270, 0, 1],
  ])("heading %d has row unit 1 on the left", (heading, east, north) => {
    const { log } = load({ Heading: constant(heading) });
    const across = (ROW_UNITS - 1) * 0.762;
    // The grid's north differs from true north by about 0.4 degrees here: at most 2 cm over the bar of 3.8 m in each direction.
    expect(log.x[5]! - log.x[0]!).toBeCloseTo(east * across, 1);
    expect(log.y[5]! - log.y[0]!).toBeCloseTo(north * across, 1);
  });

  it("is centred on the logged position, moved by the lateral offset", () => {
    const centred = load({ Heading: constant(0) }).log;
    const moved = load({ Heading: constant(0), Lateral_Offset_m: constant(1) }).log;
    const middle = (log: typeof centred) => (log.x[0]! + log.x[5]!) / 2;
    expect(middle(moved) - middle(centred)).toBeCloseTo(1, 3);
    expect(moved.values.lateralOffset).toBeUndefined();
  });

  it("takes the direction from the records around where no heading is logged", () => {
    const withHeading = load({ Heading: constant(0) }).log;
    const without = load({}).log;
    for (const record of [0, 3, 100, RECORDS * ROW_UNITS - 1]) {
      expect(without.x[record]!).toBeCloseTo(withHeading.x[record]!, 2);
      expect(without.y[record]!).toBeCloseTo(withHeading.y[record]!, 2);
    }
  });

  it("leaves out a record whose direction nothing tells", () => {
    const y = Array.from({ length: RECORDS }, (_, i) => (i === RECORDS - 1 ? 42.01 : 42 + i * 2.5e-5));
    const { log, inputs } = load({}, {}, { y });
    expect(log.recordCount).toBe((RECORDS - 1) * ROW_UNITS);
    expect(othersThanDepth(inputs[0]!)).toMatchObject([
      { effect: "left out", firstRecord: RECORDS },
      { effect: "converted" },
    ]);
  });

  it("takes the spacing from the swath width where the manifest has none", () => {
    const { log } = load({ Heading: constant(0), Swath_Width_m: constant(6) }, { planter: {} });
    expect(log.values.swathWidth![0]).toBe(1);
  });

  it("asks for the row spacing where nothing gives it", () => {
    expect(() => load({ Heading: constant(0) }, { planter: {} })).toThrow(ManifestError);
    expect(() => load({ Heading: constant(0) }, { planter: {} })).toThrow(
      '"planter": { "rowSpacing": "30 in" }',
    );
  });

  it("refuses a list that does not fit the bar", () => {
    expect(() => load({ Heading: constant(0) }, { planter: { rowUnits: 8, rowSpacing: "30 in" } })).toThrow(
      "plantingLog.columns.seedingDepth has 6 columns, but there are 8 row units",
    );
  });

  it("follows the order of a list in the manifest", () => {
    const columns = { seedingDepth: { column: NAMES.toReversed(), unit: "mm" } };
    const { log } = load({ Heading: constant(0) }, { plantingLog: { file: "bar.csv", columns } });
    expect(log.values.seedingDepth![0]).toBeCloseTo(46, 9);
    expect(log.values.seedingDepth![5]).toBeCloseTo(41, 9);
  });

  it("carries labels and text times along", () => {
    const { log } = load({
      Heading: constant(0),
      Pass: constant(3),
      Time: Array.from({ length: RECORDS }, (_, i) => `2026-04-24T10:00:${String(i).padStart(2, "0")}`),
    });
    expect(log.labels.pass).toMatchObject({ labels: ["3"] });
    expect(log.labels.pass!.codes).toHaveLength(RECORDS * ROW_UNITS);
    expect(log.values.time![6]! - log.values.time![5]!).toBe(1);
    expect(log.hasClockTime).toBe(true);
  });
});
