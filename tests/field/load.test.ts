import { describe, expect, it } from "vitest";
import {
  ChoiceNeededError,
  FileUnusableError,
  ManifestError,
  NothingToAnalyseError,
} from "../../src/errors.ts";
import { depthCauseCeiling } from "../../src/field/depth-source.ts";
import { assembleField, loadField, type RawLayers } from "../../src/field/load.ts";
import type { CoordinateSystem } from "../../src/ingest/index.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import { type ColumnValues, type LayerParts, layer, othersThanDepth } from "./layers.ts";

const LOG = { plantingLog: { file: "log.geojson" } };

/** One degree of latitude is 111.07 km at 42 N on WGS 84; the steps of the invented log are 2.5e-5 degrees. */
const STEP_M = 2.5e-5 * 111_071;

function logColumns(records = 120): Record<string, ColumnValues> {
  const each = (value: (i: number) => number) => Array.from({ length: records }, (_, i) => value(i));
  return {
    DEPTH_IN: each((i) => 2 + 0.1 * Math.sin(i)),
    MARGIN_LBF: each((i) => 120 + 10 * Math.cos(i)),
    Heading: each(() => 0),
  };
}

function load(
  manifest: object,
  parts: Omit<RawLayers, "plantingLog"> & { log?: Record<string, ColumnValues>; place?: LayerParts } = {},
) {
  const { log, place, ...layers } = parts;
  const plantingLog = layer(log ?? logColumns(), { file: "log.geojson", ...place });
  return assembleField(parseManifest({ ...LOG, ...manifest }), { plantingLog, ...layers });
}

/** A square round the log, in degrees. */
function square(west: number, south: number, size = 0.01): [number, number][] {
  return [
    [west, south],
    [west, south + size],
    [west + size, south + size],
    [west + size, south],
    [west, south],
  ];
}

describe("the planting log", () => {
  it("is put into a metric frame and inside units", () => {
    const { log, frame, inputs } = load({});
    expect(frame.epsg).toBe(32615);
    expect(log.recordCount).toBe(120);
    expect(log.values.seedingDepth![0]).toBeCloseTo(50.8, 9);
    expect(log.values.downForceMargin![0]).toBeCloseTo(130 * 4.4482216152605, 9);
    // UTM scale differs from 1 by less than 0.0004 in its zone.
    const step = Math.hypot(log.x[1]! - log.x[0]!, log.y[1]! - log.y[0]!);
    expect(Math.abs(step / STEP_M - 1)).toBeLessThan(0.001);
    const [longitude, latitude] = frame.toLonLat(log.x[7]!, log.y[7]!);
    expect(longitude).toBeCloseTo(-93.6, 9);
    expect(latitude).toBeCloseTo(42 + 7 * 2.5e-5, 9);
    expect(inputs).toMatchObject([
      { role: "plantingLog", file: "log.geojson", sha256: null, records: 120, used: 120, leftOut: 0 },
    ]);
    expect(inputs[0]!.recognised.map(({ variable }) => variable)).toEqual([
      "heading",
      "seedingDepth",
      "downForceMargin",
    ]);
  });

  it("leaves out records without a position or with one far off, and says so", () => {
    const x = Array.from({ length: 120 }, (_, i) => (i === 3 ? Number.NaN : i === 5 ? 0 : -93.6));
    const y = Array.from({ length: 120 }, (_, i) => (i === 3 ? Number.NaN : i === 5 ? 0 : 42 + i * 2.5e-5));
    const { log, inputs } = load({}, { place: { x, y } });
    expect(log.recordCount).toBe(118);
    expect([...log.fileRecord.slice(2, 5)]).toEqual([3, 5, 7]);
    expect(inputs[0]).toMatchObject({ used: 118, leftOut: 2 });
    expect(othersThanDepth(inputs[0]!)).toMatchObject([
      { effect: "left out", count: 1, firstRecord: 6, value: "0, 0" },
    ]);
  });

  it("counts and numbers records as the file does, where its reader dropped some", () => {
    const columns = { ...logColumns(), DEPTH_IN: Array.from({ length: 120 }, (_, i) => (i === 9 ? 30 : 2)) };
    const read = layer(columns, { file: "log.geojson" });
    // The first three records of the file were no features.
    const dropped = {
      ...read,
      recordsInFile: 123,
      fileRecord: Int32Array.from({ length: 120 }, (_, i) => i + 4),
    };
    const { log, inputs } = assembleField(parseManifest(LOG), { plantingLog: dropped });
    expect([...log.fileRecord.slice(0, 2)]).toEqual([4, 5]);
    expect(inputs[0]).toMatchObject({ records: 123, used: 120, leftOut: 3 });
    expect(inputs[0]!.notes[0]).toMatchObject({ field: "DEPTH_IN", firstRecord: 13, value: "30" });
  });

  it("leaves out single values that are not possible", () => {
    const columns = { ...logColumns(), DEPTH_IN: Array.from({ length: 120 }, (_, i) => (i === 9 ? 30 : 2)) };
    const { log, inputs } = load({}, { log: columns });
    expect(log.values.seedingDepth![9]).toBeNaN();
    expect(inputs[0]!.notes[0]).toMatchObject({ field: "DEPTH_IN", firstRecord: 10, value: "30", count: 1 });
  });

  it("turns headings into 0 to 360", () => {
    const { log } = load(
      {},
      { log: { ...logColumns(), Heading: Array.from({ length: 120 }, (_, i) => i - 60) } },
    );
    expect(log.values.heading![0]).toBe(300);
    expect(log.values.heading![60]).toBe(0);
  });

  it("codes passes and lots as labels and reads a working flag", () => {
    const columns = {
      ...logColumns(),
      Pass_Num: Array.from({ length: 120 }, (_, i) => (i === 0 ? Number.NaN : 1 + Math.floor(i / 60))),
      Lot: Array.from({ length: 120 }, (_, i) => (i < 30 ? "B" : "A")),
      Working: Array.from({ length: 120 }, (_, i) => (i < 10 ? "off" : i < 20 ? "maybe" : "on")),
    };
    const { log, inputs } = load({}, { log: columns });
    expect(log.labels.pass).toMatchObject({ labels: ["1", "2"] });
    expect(log.labels.pass!.codes[0]).toBe(-1);
    expect(log.labels.seedLot!.labels).toEqual(["B", "A"]);
    expect([...log.values.working!.slice(9, 21)].map((value) => (Number.isNaN(value) ? "?" : value))).toEqual(
      [0, "?", "?", "?", "?", "?", "?", "?", "?", "?", "?", 1],
    );
    expect(othersThanDepth(inputs[0]!)).toMatchObject([{ field: "Working", count: 10, value: "maybe" }]);
  });

  it("without a planting variable is refused, naming its columns and what would do", () => {
    const attempt = () => load({}, { log: { Elevation: [300, 301], Heading: [0, 0] } });
    expect(attempt).toThrow(NothingToAnalyseError);
    expect(attempt).toThrow(
      /its columns are "Elevation", "Heading"\. One of these variables is needed: seedingDepth, downForceMargin/,
    );
  });

  it("with a dead sensor only is refused, saying why", () => {
    expect(() => load({}, { log: { DEPTH_IN: [0, 0, 0] } })).toThrow(/"DEPTH_IN" is zero throughout/);
  });

  it("asks with ready lines where a unit cannot be told", () => {
    const { DEPTH_IN } = logColumns();
    const log = { DEPTH_IN: DEPTH_IN!, Speed: Array.from({ length: 120 }, (_, i) => 6 + Math.sin(i)) };
    expect(() => load({}, { log })).toThrow(ChoiceNeededError);
    expect(() => load({}, { log })).toThrow('"speed": {"column":"Speed","unit":"mi/h"}');
    const settled = load(
      { plantingLog: { file: "log.geojson", columns: { speed: { column: "Speed", unit: "mi/h" } } } },
      { log },
    );
    expect(settled.log.values.speed![0]).toBeCloseTo(6 * 0.44704, 9);
  });

  it("names the nearest column where the manifest names one that is not there", () => {
    const attempt = () =>
      load({ plantingLog: { file: "log.geojson", columns: { seedingDepth: "DEPTH_CM" } } });
    expect(attempt).toThrow(ManifestError);
    expect(attempt).toThrow(
      'plantingLog.columns.seedingDepth names the column "DEPTH_CM", which log.geojson does not have; the nearest is "DEPTH_IN"',
    );
  });

  it("refuses a column of text for a quantity the manifest names", () => {
    const log = { ...logColumns(), Note: new Array(120).fill("dry") };
    expect(() =>
      load(
        { plantingLog: { file: "log.geojson", columns: { speed: { column: "Note", unit: "mph" } } } },
        { log },
      ),
    ).toThrow('names the column "Note" of log.geojson, which is text (first value "dry")');
  });

  it("refuses a table without positions", () => {
    const crs: CoordinateSystem = { basis: "standard", name: "no positions", definition: null };
    expect(() => load({}, { place: { geometry: "none", crs } })).toThrow(FileUnusableError);
  });
});

describe("where a depth comes from", () => {
  const varied = Array.from({ length: 120 }, (_, i) => 2 + 0.1 * Math.sin(i));
  // Ten settings, each held for 120 records; and a reading that knows five values.
  const fewSteps = Array.from({ length: 1200 }, (_, i) => 1.5 + 0.1 * Math.floor(i / 120));
  const coarse = Array.from({ length: 120 }, (_, i) => 1.8 + 0.1 * (i % 5));
  it.each([
    ["DEPTH_IN", varied, {}, "sensed-by-look"],
    ["DEPTH_IN", fewSteps, {}, "set"],
    ["DEPTH_IN", coarse, {}, "unknown"],
    ["SensedDepth_in", varied, {}, "sensed"],
    ["DEPTH_IN", new Array(120).fill(2), {}, "set"],
    [
      "DEPTH_IN",
      new Array(120).fill(2),
      { seedingDepth: { column: "DEPTH_IN", unit: "in", source: "sensed" } },
      "sensed",
    ],
    ["DEPTH_IN", varied, { seedingDepth: { column: "DEPTH_IN", unit: "in", source: "dug" } }, "dug"],
  ])("%s %j", (name, values, columns, source) => {
    const { log } = load({ plantingLog: { file: "log.geojson", columns } }, { log: { [name]: values } });
    expect(log.depthSource).toBe(source);
  });

  it("says why it is taken as sensed, and what that is worth", () => {
    const { inputs } = load({}, { log: { DEPTH_IN: varied } });
    expect(inputs[0]!.notes.at(-1)).toMatchObject({
      effect: "assumed",
      field: "DEPTH_IN",
      reason: expect.stringContaining("at most 85 % likely until digs bear it out"),
    });
    expect(depthCauseCeiling("sensed-by-look", false)).toBe(0.85);
    expect(depthCauseCeiling("sensed-by-look", true)).toBe(1);
    expect(depthCauseCeiling("sensed", false)).toBe(1);
  });

  it("is a setting where it repeats the target", () => {
    const { log, inputs } = load({}, { log: { Depth_in: varied, TargetDepth_in: varied } });
    expect(log.depthSource).toBe("set");
    expect(inputs[0]!.notes.at(-1)).toMatchObject({ effect: "assumed", field: "Depth_in" });
  });
});

describe("a load without spread", () => {
  const steady = Array.from({ length: 240 }, (_, i) => (i < 120 ? 250 : 330) + 8 * Math.sin(2.4 * i));
  it("is taken for the force and named with the reason, unless the manifest says that it is the load", () => {
    const { log, inputs } = load({}, { log: { MARGIN_LBF: steady } });
    expect(log.values.downForceMargin).toBeUndefined();
    expect(log.values.downForce).toHaveLength(240);
    expect(inputs[0]!.notes).toMatchObject([
      {
        field: "MARGIN_LBF",
        effect: "left out",
        reason: expect.stringContaining("the force that is applied"),
      },
    ]);
    const columns = { downForceMargin: { column: "MARGIN_LBF", unit: "lbf" } };
    const named = load({ plantingLog: { file: "log.geojson", columns } }, { log: { MARGIN_LBF: steady } });
    expect(named.log.values.downForceMargin).toHaveLength(240);
  });
  it("one that bounces is a load", () => {
    const bouncing = steady.map((value, i) => value + 60 * Math.cos(1.7 * i));
    expect(load({}, { log: { MARGIN_LBF: bouncing } }).log.values.downForceMargin).toHaveLength(240);
  });
});

describe("time and layout", () => {
  const day = (text: (i: number) => string) => ({
    ...logColumns(),
    Date_Time: Array.from({ length: 120 }, (_, i) => text(i)),
  });

  it("a date alone gives the day of planting but no clock", () => {
    const field = load({}, { log: day(() => "2026-04-24") });
    expect(field).toMatchObject({ planted: "2026-04-24", plantedFrom: "log", season: 2026 });
    expect(field.log.hasClockTime).toBe(false);
    expect(field.log.layout).toBe("bar");
  });

  it("the manifest's day stands before the log's", () => {
    const field = load({ planted: "2026-04-25" }, { log: day(() => "2026-04-24") });
    expect(field).toMatchObject({ planted: "2026-04-25", plantedFrom: "manifest" });
    expect(othersThanDepth(field.inputs[0]!)).toMatchObject([{ effect: "assumed", value: "2026-04-24" }]);
  });

  it("no time at all leaves the day unknown", () => {
    expect(load({})).toMatchObject({ planted: null, plantedFrom: null, season: null });
  });

  it("several records a moment are sections, a row unit makes row-unit records", () => {
    const time = (i: number) => `2026-04-24T10:00:${String(Math.floor(i / 4)).padStart(2, "0")}`;
    const each = (value: (i: number) => number) => Array.from({ length: 120 }, (_, i) => value(i));
    const place = {
      x: each((i) => -93.6 + (i % 4) * 4e-5),
      y: each((i) => 42 + Math.floor(i / 4) * 2.5e-5),
    };
    expect(load({}, { log: day(time), place }).log).toMatchObject({ hasClockTime: true, layout: "section" });
    // Behind each other they are of one bar, and the clock is coarse.
    expect(load({}, { log: day(time) }).log).toMatchObject({ hasClockTime: true, layout: "bar" });
    const rows = { ...day(time), ROW_UNIT: Array.from({ length: 120 }, (_, i) => 1 + (i % 4)) };
    expect(load({}, { log: rows }).log.layout).toBe("row-unit");
    expect(
      load({}, { log: day((i) => `2026-04-24T10:0${Math.floor(i / 60)}:${String(i % 60).padStart(2, "0")}`) })
        .log.layout,
    ).toBe("bar");
  });

  it("times of day run on past midnight and are put on the day planted", () => {
    const log = {
      ...logColumns(),
      Time: Array.from({ length: 120 }, (_, i) =>
        i < 60 ? `23:59:${String(i).padStart(2, "0")}` : `00:00:${String(i - 60).padStart(2, "0")}`,
      ),
    };
    const field = load({ planted: "2026-04-24" }, { log });
    const { time } = field.log.values;
    expect(time![60]! - time![59]!).toBe(1);
    expect(time![0]).toBe(Date.UTC(2026, 3, 24, 23, 59) / 1000);
    expect(othersThanDepth(field.inputs[0]!)).toMatchObject([{ effect: "assumed", field: "Time" }]);
  });
});

describe("zones, boundary and seed lots", () => {
  const zones = (columns: Record<string, ColumnValues>, rings = [square(-93.605, 41.995)]) =>
    layer(columns, { file: "soil.geojson", geometry: "polygon", polygons: rings.map((ring) => [[ring]]) });

  it("turns outer rings counter-clockwise and holes clockwise", () => {
    const hole = square(-93.603, 41.997, 0.001).toReversed();
    const soil = layer(
      { texture: ["clay loam"] },
      { file: "soil.geojson", geometry: "polygon", polygons: [[[square(-93.605, 41.995), hole]]] },
    );
    const field = load({ soilZones: { file: "soil.geojson" } }, { soilZones: soil });
    const [outer, inner] = field.soilZones!.polygons[0]!.rings;
    const area = (ring: [number, number][]) =>
      ring.slice(1).reduce((sum, [x, y], i) => sum + (ring[i]![0] * y - x * ring[i]![1]) / 2, 0);
    expect(area(outer!)).toBeGreaterThan(0);
    expect(area(inner!)).toBeLessThan(0);
    expect(outer![0]).toEqual(outer!.at(-1));
    expect(field.soilZones).toMatchObject({ names: ["clay loam"], texture: ["clay loam"] });
  });

  it.each([
    [{ texture: ["loam", "clay"] }, ["clay", "loam"]],
    [{ OBJECTID: [1, 2], MUSYM: ["BeA", "Pm"] }, ["BeA", "Pm"]],
    [{ zone: [2, 1] }, ["1", "2"]],
    [{ anything: ["a", "b"] }, ["a", "b"]],
  ])("finds the column of names: %j", (columns, names) => {
    const soil = zones(columns as Record<string, ColumnValues>, [
      square(-93.605, 41.995),
      square(-93.6, 42.1),
    ]);
    expect(load({ soilZones: { file: "soil.geojson" } }, { soilZones: soil }).soilZones!.names).toEqual(
      names,
    );
  });

  it("takes a texture from other columns where the name has none", () => {
    const soil = zones({ MUSYM: ["Pm"], muname: ["Pewamo silty clay loam, 0 to 2 percent slopes"] });
    expect(
      load({ soilZones: { file: "soil.geojson", zone: "MUSYM" } }, { soilZones: soil }).soilZones,
    ).toMatchObject({
      names: ["Pm"],
      texture: ["clay loam"],
    });
  });

  it("reads how the soil drains, of most polygons of a zone, and notes what is no class", () => {
    const rings = [1, 2, 3, 4].map(() => square(-93.605, 41.995));
    const soil = zones(
      {
        musym: ["Pm", "BeA", "BeA", "BeA"],
        muname: ["Pm silty clay loam", "Be silt loam", "Be silt loam", "Be silt loam"],
        drclassdcd: ["Very poorly drained", "Well drained", "somewhat poorly", "Somewhat poorly drained"],
      },
      rings,
    );
    const field = load({ soilZones: { file: "soil.geojson" } }, { soilZones: soil });
    expect(field.soilZones).toMatchObject({
      names: ["BeA", "Pm"],
      texture: ["silt loam", "clay loam"],
      drainage: ["somewhat poorly drained", "very poorly drained"],
    });
    const odd = zones({ musym: ["Pm"], drainage: ["soggy"] });
    const other = load({ soilZones: { file: "soil.geojson" } }, { soilZones: odd });
    expect(other.soilZones!.drainage).toEqual([null]);
    const notes = other.inputs.find(({ role }) => role === "soilZones")!.notes;
    expect(notes).toMatchObject([{ field: "drainage", value: "soggy", firstRecord: 1, effect: "left out" }]);
    expect(notes[0]!.reason).toContain("very poorly drained");
  });

  it("asks where several columns could hold the names", () => {
    const rings = [square(-93.605, 41.995), square(-93.605, 41.995), square(-93.605, 41.995)];
    const soil = zones({ texture: ["a", "b", "a"], zone: ["x", "x", "y"] }, rings);
    const attempt = () => load({ soilZones: { file: "soil.geojson" } }, { soilZones: soil });
    expect(attempt).toThrow(ChoiceNeededError);
    expect(attempt).toThrow('"zone": "texture"');
  });

  it("refuses zones of another place, naming both files", () => {
    const far = zones({ texture: ["loam"] }, [square(-93.605, 43)]);
    const attempt = () => load({ soilZones: { file: "soil.geojson" } }, { soilZones: far });
    expect(attempt).toThrow(FileUnusableError);
    expect(attempt).toThrow(
      /soil\.geojson \(soilZones\) and log\.geojson \(plantingLog\) are not of one field: they lie 110\.\d km apart/,
    );
    const beside = zones({ texture: ["loam"] }, [square(-93.605, 42.01)]);
    expect(() => load({ soilZones: { file: "soil.geojson" } }, { soilZones: beside })).toThrow(
      "do not overlap",
    );
  });

  it("gives each record the lot of the polygon it lies in", () => {
    const lots = layer(
      { lot: ["A", "B"] },
      {
        file: "lots.geojson",
        geometry: "polygon",
        polygons: [[[square(-93.605, 41.9915)]], [[square(-93.605, 42.002)]]],
      },
    );
    const { log } = load({ seedLots: { file: "lots.geojson", zone: "lot" } }, { seedLots: lots });
    const lotOf = (record: number) => log.labels.seedLot!.labels[log.labels.seedLot!.codes[record]!] ?? null;
    // The first polygon ends at 42.0015 (record 60), the second begins at 42.002 (record 80).
    expect([lotOf(0), lotOf(59), lotOf(70), lotOf(81), lotOf(119)]).toEqual(["A", "A", null, "B", "B"]);
  });

  it("says that a yield map is not read", () => {
    const { inputs } = load({ yield: { file: "yield.geojson" } });
    expect(inputs[1]).toMatchObject({
      role: "yield",
      file: "yield.geojson",
      used: 0,
      notes: [{ effect: "left out" }],
    });
  });

  it("refuses a log without any position", () => {
    const nowhere = new Array(120).fill(Number.NaN);
    expect(() => load({}, { place: { x: nowhere, y: nowhere } })).toThrow(
      "none of its 120 records has a position",
    );
  });

  it("keeps a boundary of several polygons", () => {
    const boundary = layer(
      {},
      { geometry: "polygon", polygons: [[[square(-93.605, 41.995)], [square(-93.59, 41.995)]]] },
    );
    const field = load({ boundary: { file: "b.geojson" } }, { boundary: { ...boundary, recordCount: 1 } });
    expect(field.boundary).toHaveLength(2);
  });
});

describe("loadField", () => {
  const encode = (value: unknown) =>
    new TextEncoder().encode(typeof value === "string" ? value : JSON.stringify(value));

  it("reads the files a manifest names", async () => {
    const features = Array.from({ length: 60 }, (_, i) => ({
      type: "Feature",
      properties: { depth_mm: 50 + Math.sin(i), speed_kmh: 9 },
      geometry: { type: "Point", coordinates: [-93.6, 42 + i * 2.5e-5] },
    }));
    const files: Record<string, Uint8Array> = {
      "sub/log.geojson": encode({ type: "FeatureCollection", features }),
      "counts.csv": encode("lon,lat,plants,row_length_ft\n-93.6,42.0001,30,17.4\n-93.6,42.0005,24,17.4\n"),
    };
    const asked: string[] = [];
    const field = await loadField(
      parseManifest({
        plantingLog: { file: "sub/log.geojson" },
        standCounts: { file: "counts.csv" },
        planter: { rowSpacing: "30 in" },
      }),
      (path) => {
        asked.push(path);
        return Promise.resolve([{ name: path, bytes: files[path]! }]);
      },
    );
    expect(asked).toEqual(["sub/log.geojson", "counts.csv"]);
    expect(field.log.values.speed![0]).toBeCloseTo(2.5, 9);
    expect(field.standCounts!.spotCount).toBe(2);
    expect(field.inputs.map(({ role, file }) => [role, file])).toEqual([
      ["plantingLog", "sub/log.geojson"],
      ["standCounts", "counts.csv"],
    ]);
  });
});
