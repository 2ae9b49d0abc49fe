/** One driven field, written down in every layout logs come in: the same passes and the same means come out. */
import { describe, expect, it } from "vitest";
import { joinSoilZones } from "../../src/compare/soil-join.ts";
import { compareAll } from "../../src/compare/tables/tables.ts";
import { assembleField } from "../../src/field/load.ts";
import { utmFrame } from "../../src/ingest/crs/crs.ts";
import type { RawLayer } from "../../src/ingest/layer.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { drive, upAndDown } from "../support/driven-log.ts";
import { type ColumnValues, layer } from "./layers.ts";

const UNITS = 8;
const SPACING_M = 0.762;
const WIDTH_M = UNITS * SPACING_M;
const STEP_M = 2;
const LENGTH_M = 200;
const PASSES = 7;
const FRAME = utmFrame(-93.6, 42);
const DRIVEN = drive(upAndDown(PASSES, WIDTH_M, LENGTH_M), { rowUnits: UNITS, rowSpacingM: SPACING_M });

/** A record of one or more row units at one moment, in metres. */
interface Spot {
  x: number;
  y: number;
  time: number;
  moment: number;
  heading: number;
  /** Depth at each of its row units, mm. */
  depths: number[];
  firstUnit: number;
  properties?: Record<string, number>;
}

function depthOf(moment: number, unit: number, y: number): number {
  return 48 + 3 * Math.sin(moment / 7) + 0.5 * unit + (y > LENGTH_M / 2 ? 6 : 0);
}

/** Records of `together` neighbouring row units each. */
function spots(together: number): Spot[] {
  const result: Spot[] = [];
  const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  for (let first = 0; first < DRIVEN.x.length; first += together) {
    const members = Array.from({ length: together }, (_, k) => first + k);
    result.push({
      x: mean(members.map((record) => DRIVEN.x[record]!)),
      y: mean(members.map((record) => DRIVEN.y[record]!)),
      time: DRIVEN.time[first]!,
      moment: DRIVEN.moment[first]!,
      heading: DRIVEN.headingDeg[first]!,
      depths: members.map((record) =>
        depthOf(DRIVEN.moment[record]!, DRIVEN.rowUnit[record]!, DRIVEN.y[record]!),
      ),
      firstUnit: DRIVEN.rowUnit[first]!,
    });
  }
  return result;
}

const meanOf = ({ depths }: Spot) => depths.reduce((sum, depth) => sum + depth, 0) / depths.length;
const toLonLat = (x: number, y: number) => FRAME.toLonLat(x, y);

/** The footprint of a record: its row units across, one step along. */
function footprint({ x, y, heading, depths }: Spot): [number, number][] {
  const [sine, cosine] = [Math.sin((heading * Math.PI) / 180), Math.cos((heading * Math.PI) / 180)];
  const [across, along] = [(depths.length * SPACING_M) / 2, STEP_M / 2];
  const corners = [
    [-1, -1],
    [-1, 1],
    [1, 1],
    [1, -1],
    [-1, -1],
  ] as const;
  return corners.map(([side, ahead]) =>
    toLonLat(
      x + side * across * cosine + ahead * along * sine,
      y - side * across * sine + ahead * along * cosine,
    ),
  );
}

function logOf(
  records: readonly Spot[],
  columns: (spot: Spot) => Record<string, number>,
  polygons = false,
): RawLayer {
  const rows = records.map((spot) => ({ ...columns(spot), ...spot.properties }));
  const named: Record<string, ColumnValues> = {};
  for (const name of new Set(rows.flatMap((row) => Object.keys(row)))) {
    named[name] = rows.map((row) => (row as Record<string, number>)[name] ?? Number.NaN);
  }
  const places = records.map(({ x, y }) => toLonLat(x, y));
  return layer(named, {
    x: places.map(([longitude]) => longitude),
    y: places.map(([, latitude]) => latitude),
    ...(polygons ? { geometry: "polygon", polygons: records.map((spot) => [[footprint(spot)]]) } : {}),
  });
}

const SOIL = layer(
  { texture: ["loam", "clay"] },
  {
    file: "soil",
    geometry: "polygon",
    polygons: [0, 1].map((half) => {
      const [south, north] = [
        (half * LENGTH_M) / 2 - 10 * (1 - half),
        ((half + 1) * LENGTH_M) / 2 + 10 * half,
      ];
      const box = [
        [-20, south],
        [80, south],
        [80, north],
        [-20, north],
        [-20, south],
      ] as const;
      return [[box.map(([x, y]) => toLonLat(x, y))]];
    }),
  },
);

function outcome(plantingLog: RawLayer) {
  const manifest = parseManifest({
    plantingLog: { file: "log.geojson" },
    soilZones: { file: "soil", zone: "texture" },
    planter: { rowUnits: UNITS, rowSpacing: "0.762 m" },
  });
  const field = assembleField(manifest, { plantingLog, soilZones: SOIL });
  const passes = findPasses(field);
  const rows = compareAll(field, passes, joinSoilZones(field)).filter(
    ({ variable, pass, rowUnit, soilZone }) =>
      variable === "seedingDepth" && pass === null && rowUnit === null && soilZone !== null,
  );
  return {
    field,
    report: field.inputs[0]!,
    passes: passes.passes.map(({ headingDeg, moments, lengthM, areaM2, headland }) => ({
      heading: (Math.round(headingDeg / 5) * 5) % 360,
      moments,
      lengthM,
      areaM2,
      headland,
    })),
    means: Object.fromEntries(rows.map(({ soilZone, mean }): [string, number] => [soilZone!, mean!])),
  };
}

const rowRecords = (spot: Spot) => ({
  TIME: spot.time,
  ROW_UNIT: spot.firstUnit,
  Depth_mm: meanOf(spot),
  Speed_kmh: 7.2,
});
const ROWS = spots(1);
const PLAIN = outcome(logOf(ROWS, rowRecords));

function expectSame(result: ReturnType<typeof outcome>): void {
  expect(result.passes).toHaveLength(PASSES);
  for (const [index, pass] of result.passes.entries()) {
    const plain = PLAIN.passes[index]!;
    const { heading, moments, headland } = plain;
    expect(pass).toMatchObject({ heading, moments, headland });
    // Areas of polygons are those of the projected grid, rows those of the manifest's spacing: 0.1 %.
    expect(Math.abs(pass.lengthM / plain.lengthM - 1)).toBeLessThan(0.001);
    expect(Math.abs(pass.areaM2 / plain.areaM2 - 1)).toBeLessThan(0.001);
  }
  expect(Object.keys(result.means).sort()).toEqual(["clay", "loam"]);
  for (const [zone, mean] of Object.entries(result.means)) {
    expect(Math.abs(mean - PLAIN.means[zone]!)).toBeLessThan(1e-9);
  }
}

const note = (result: ReturnType<typeof outcome>, words: string) =>
  result.report.notes.find(({ reason }) => reason.includes(words));

describe("one driven field in every layout", () => {
  it("row-unit records (what the others are held against)", () => {
    expect(PLAIN.field.log.layout).toBe("row-unit");
    expect(PLAIN.passes.map(({ heading }) => heading)).toEqual([0, 180, 0, 180, 0, 180, 0]);
    expect(PLAIN.passes.map(({ moments }) => moments)).toEqual(new Array(PASSES).fill(LENGTH_M / STEP_M));
    expect(PLAIN.passes[0]!.areaM2).toBeCloseTo(LENGTH_M * WIDTH_M, 3);
    const depths = { loam: [] as number[], clay: [] as number[] };
    for (const spot of ROWS) depths[spot.y > LENGTH_M / 2 ? "clay" : "loam"].push(meanOf(spot));
    for (const [zone, values] of Object.entries(depths)) {
      const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
      expect(PLAIN.means[zone]).toBeCloseTo(mean, 9);
    }
  });

  it("row-unit records without clock times", () => {
    const result = outcome(
      logOf(ROWS, ({ firstUnit, ...spot }) => ({
        ROW_UNIT: firstUnit,
        Depth_mm: meanOf({ firstUnit, ...spot }),
      })),
    );
    expect(result.field.log.hasClockTime).toBe(false);
    expectSame(result);
  });

  it("whole-bar records", () => {
    const result = outcome(logOf(spots(UNITS), (spot) => ({ TIME: spot.time, Depth_mm: meanOf(spot) })));
    expect(result.field.log.layout).toBe("bar");
    expectSame(result);
  });

  it("section records, several a moment, with and without a section's name", () => {
    const sections = spots(2);
    const named = outcome(
      logOf(sections, (spot) => ({
        TIME: spot.time,
        Section: (spot.firstUnit + 1) / 2,
        Depth_mm: meanOf(spot),
        SwathWidth_m: 2 * SPACING_M,
      })),
    );
    expect(named.field.log.layout).toBe("section");
    expectSame(named);
    const bare = outcome(
      logOf(sections, (spot) => ({ TIME: spot.time, Depth_mm: meanOf(spot), SwathWidth_m: 2 * SPACING_M })),
    );
    expect(bare.field.log.layout).toBe("section");
    expectSame(bare);
  });

  it("wide rows, one column per row unit, with and without headings", () => {
    const wide = (heading: boolean) =>
      outcome(
        logOf(spots(UNITS), (spot) => ({
          TIME: spot.time,
          ...(heading ? { Heading: spot.heading } : {}),
          ...Object.fromEntries(spot.depths.map((depth, unit) => [`Depth_${unit + 1}_mm`, depth])),
        })),
      );
    for (const result of [wide(true), wide(false)]) {
      expect(result.field.log).toMatchObject({ layout: "row-unit", recordCount: ROWS.length });
      expectSame(result);
    }
  });

  it.each([
    ["whole bar, distance logged", UNITS, true],
    ["whole bar, no distance", UNITS, false],
    ["sections, distance logged", 2, true],
    ["sections, no distance", 2, false],
  ])("footprint polygons without a swath width: %s", (_title, together, distance) => {
    const result = outcome(
      logOf(
        spots(together),
        (spot) => ({
          TIME: spot.time,
          Depth_mm: meanOf(spot),
          LateralOffset_m: (spot.firstUnit - 1) * SPACING_M,
          ...(together < UNITS ? { Section: (spot.firstUnit + 1) / 2 } : {}),
          ...(distance ? { Distance_m: STEP_M } : {}),
        }),
        true,
      ),
    );
    const { swathWidth, distance: way } = result.field.log.values;
    expect(Math.abs(swathWidth![40]! / (together * SPACING_M) - 1)).toBeLessThan(0.001);
    expect(Math.abs(way![40]! / STEP_M - 1)).toBeLessThan(0.001);
    expect(result.field.log.values.lateralOffset).toBeUndefined();
    expect(note(result, "taken from the area")).toMatchObject({ effect: "converted" });
    expect(note(result, "middle of the polygons")).toMatchObject({ effect: "left out" });
    expectSame(result);
  });

  it("pieces out of order are put in the order of their times, and said so", () => {
    const piece = Math.ceil(ROWS.length / 5);
    const pieces = Array.from({ length: 5 }, (_, index) => ROWS.slice(index * piece, (index + 1) * piece));
    const result = outcome(
      logOf(
        [3, 0, 4, 1, 2].flatMap((index) => pieces[index]!),
        rowRecords,
      ),
    );
    // All but the pieces 3 and 4 stand behind a later one.
    expect(note(result, "in the order of their times")).toMatchObject({
      effect: "kept",
      count: ROWS.length - piece - pieces[4]!.length,
      firstRecord: piece + 1,
    });
    expect(result.field.log.fileRecord[0]).toBe(piece + 1);
    expectSame(result);
  });

  it("records that stand in the file twice are left out and counted", () => {
    const result = outcome(logOf([...ROWS, ...ROWS.slice(1000, 2200), ...ROWS.slice(0, 30)], rowRecords));
    expect(note(result, "repeats an earlier record exactly")).toMatchObject({
      effect: "left out",
      count: 1230,
      firstRecord: ROWS.length + 1,
    });
    expect(result.report).toMatchObject({ records: ROWS.length + 1230, used: ROWS.length, leftOut: 1230 });
    expectSame(result);
  });

  it("parts of a bar at one position that nothing tells apart are no repeats", () => {
    const twice = spots(UNITS).flatMap((spot) => [spot, spot]);
    const result = outcome(
      logOf(twice, (spot) => ({ TIME: spot.time, Depth_mm: meanOf(spot), SwathWidth_m: WIDTH_M / 2 })),
    );
    expect(result.report).toMatchObject({ used: twice.length, leftOut: 0 });
    expect(note(result, "parts of the bar")).toMatchObject({ effect: "assumed", count: twice.length / 2 });
    expectSame(result);
  });

  describe("records during which nothing was planted are on no pass and counted", () => {
    /** After each pass, the bar turns on a half circle to the next one. */
    const turning = spots(UNITS).flatMap((spot, index, all) => {
      const next = all[index + 1];
      if (next === undefined || next.heading === spot.heading) return [spot];
      const middle = (spot.x + next.x) / 2;
      const side = spot.heading === 0 ? 1 : -1;
      const turn = Array.from({ length: 12 }, (_, k): Spot => {
        const angle = ((k + 1) / 13) * Math.PI;
        return {
          ...spot,
          x: middle - (WIDTH_M / 2) * Math.cos(angle),
          y: spot.y + side * (WIDTH_M / 2) * Math.sin(angle) + side * 0.5,
          time: spot.time + k + 1,
          properties: { Depth_mm: 5, lifted: 1 },
        };
      });
      return [spot, ...turn];
    });
    const count = turning.filter(({ properties }) => properties?.lifted).length;
    const lifted = (on: Record<string, number>, off: Record<string, number>) =>
      outcome(
        logOf(turning, (spot) => ({
          TIME: spot.time,
          Depth_mm: meanOf(spot),
          lifted: 0,
          ...(spot.properties?.lifted ? off : on),
        })),
      );

    it("by the flag", () => {
      const result = lifted({ Working: 1 }, { Working: 0 });
      expect(result.field.log.values.working!.filter((value) => value === 0)).toHaveLength(count);
      expectSame(result);
    });

    it("by a swath without width", () => {
      const result = lifted({ SwathWidth_m: WIDTH_M }, { SwathWidth_m: 0 });
      expect(note(result, "lifted or switched off")).toMatchObject({ count, field: "SwathWidth_m" });
      expectSame(result);
    });

    it("standing still, without speed", () => {
      let stood = 0;
      const standing = spots(UNITS).flatMap((spot, index) => {
        const moved = { ...spot, time: spot.time + stood, properties: { Speed_kmh: 7.2 } };
        if (index % 50 !== 20) return [moved];
        stood += 3;
        return [
          moved,
          ...[1, 2, 3].map((k) => ({ ...moved, time: moved.time + k, properties: { Speed_kmh: 0 } })),
        ];
      });
      const result = outcome(
        logOf(standing, (spot) => ({ TIME: spot.time, Depth_mm: meanOf(spot), Speed_kmh: 7.2 })),
      );
      expect(note(result, "stands still")).toMatchObject({ count: standing.length - spots(UNITS).length });
      expectSame(result);
    });
  });

  it("a speed of 0 in a record that travelled is the sensor's, and the record stays", () => {
    const result = outcome(
      logOf(spots(UNITS), (spot) => ({
        TIME: spot.time,
        Depth_mm: meanOf(spot),
        Distance_m: STEP_M,
        Speed_kmh: spot.moment % 9 === 0 ? 0 : 7.2,
      })),
    );
    expect(result.field.log.values.working).toBeUndefined();
    expectSame(result);
  });
});
