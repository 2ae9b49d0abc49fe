/**
 * An invented field for the tests of the page: a findings document and its map layers, made without the
 * engine. Nothing in it was measured; places, figures and money are made up to look like a day's work.
 */
import type { Feature, MultiPolygon } from "geojson";
import type { ComparisonRow } from "../../../src/compare/tables/comparison.ts";
import type { Finding, FindingsDocument } from "../../../src/findings/findings-document.ts";
import type { CellColumns, MapLayers, ZoneProperties } from "../../../src/report/map-layers.ts";
import type { Targets } from "../../../src/vocabulary/field.ts";

const WEST = -93.62;
const SOUTH = 42.01;
const METRES_PER_DEGREE = 111_320;
const EAST_SCALE = METRES_PER_DEGREE * Math.cos((SOUTH * Math.PI) / 180);
const WIDTH_M = 800;
const LENGTH_M = 512;
const SWATH_M = 18.288;
const PIECE_M = 12;
const PASSES = Math.floor(WIDTH_M / SWATH_M);

/** Degrees of a place in metres from the south-west corner. */
function at(x: number, y: number): [number, number] {
  return [Number((WEST + x / EAST_SCALE).toFixed(7)), Number((SOUTH + y / METRES_PER_DEGREE).toFixed(7))];
}

function blob(x: number, y: number, radiusX: number, radiusY: number): number[][] {
  const ring = Array.from({ length: 40 }, (_, i) => {
    const angle = (i / 40) * 2 * Math.PI;
    const wobble = 1 + 0.12 * Math.sin(3 * angle);
    return at(x + radiusX * wobble * Math.cos(angle), y + radiusY * wobble * Math.sin(angle));
  });
  return [...ring, ring[0]!];
}

function box(x0: number, y0: number, x1: number, y1: number): number[][] {
  return [at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1), at(x0, y0)];
}

const PLACES = {
  knoll: { x: 180, y: 340, rx: 110, ry: 95 },
  swale: { x: 600, y: 360, rx: 110, ry: 85 },
  pocket: { x: 420, y: 130, rx: 62, ry: 52 },
};

function inside(place: keyof typeof PLACES, x: number, y: number): boolean {
  const { x: cx, y: cy, rx, ry } = PLACES[place];
  return ((x - cx) / rx) ** 2 + ((y - cy) / ry) ** 2 < 1;
}

const FAST_PASSES = [38, 39, 40, 41];

function wobble(i: number, k: number): number {
  return Math.sin(i * 12.9898 + k * 78.233) * 0.5 + Math.sin(i * 0.37 + k) * 0.5;
}

export const TARGETS: Targets = {
  seedingDepthMm: 50.8,
  populationPerHa: 84_015,
  downForceMarginN: [267, 712],
  speedMetresPerSecond: 2.369,
};

function cells(): CellColumns {
  const columns: CellColumns = {
    pass: [],
    longitude: [],
    latitude: [],
    headingDeg: [],
    alongM: [],
    lengthM: [],
    widthM: [],
    zone: [],
    values: { speed: [], downForceMargin: [], seedingDepth: [], depthSd: [], misses: [], population: [] },
  };
  for (let pass = 1; pass <= PASSES; pass++) {
    const up = pass % 2 === 1;
    const x = (pass - 0.5) * SWATH_M;
    const pieces = Math.floor(LENGTH_M / PIECE_M);
    for (let piece = 0; piece < pieces; piece++) {
      const along = (piece + 0.5) * PIECE_M;
      const y = up ? along : LENGTH_M - along;
      const i = pass * 100 + piece;
      const knoll = inside("knoll", x, y);
      const swale = inside("swale", x, y);
      const fast = FAST_PASSES.includes(pass) && y < 355;
      const [longitude, latitude] = at(x, y);
      columns.pass.push(pass);
      columns.longitude.push(longitude);
      columns.latitude.push(latitude);
      columns.headingDeg.push(up ? 0 : 180);
      columns.alongM.push(along);
      columns.lengthM.push(PIECE_M);
      columns.widthM.push(SWATH_M);
      columns.zone.push(zoneAt(x, y));
      const noise = wobble(i, 1);
      columns.values.speed!.push((fast ? 3.62 : 2.37) + 0.05 * noise);
      columns.values.downForceMargin!.push(
        (knoll ? 133 : swale ? 1157 : fast ? 380 : 512) + 45 * wobble(i, 2),
      );
      columns.values.seedingDepth!.push((knoll ? 36 : 49.5) + 1.6 * wobble(i, 3));
      columns.values.depthSd!.push(knoll ? 8.5 : fast ? 9.6 : 5 + 0.6 * noise);
      columns.values.misses!.push((fast ? 0.048 : 0.015) + 0.004 * wobble(i, 4));
      columns.values.population!.push(82_700 + 900 * wobble(i, 5));
    }
  }
  return columns;
}

const ZONE_NAMES = ["clay loam", "sandy loam", "silt loam", "silty clay"];

function zoneAt(x: number, y: number): number {
  if (x < 330 && y > 200) return 0;
  if (x > 480 && y > 260) return 3;
  return x > 560 && y < 170 ? 1 : 2;
}

function zones(): Feature<MultiPolygon, ZoneProperties>[] {
  const shapes: [number, ZoneProperties["texture"], number[][][]][] = [
    [0, "clay loam", [box(0, 200, 330, LENGTH_M)]],
    [1, "sandy loam", [box(560, 0, WIDTH_M, 170)]],
    [
      2,
      "silt loam",
      [
        [
          ...box(0, 0, 560, 200).slice(0, 2),
          at(560, 170),
          at(WIDTH_M, 170),
          at(WIDTH_M, 260),
          at(480, 260),
          at(480, LENGTH_M),
          at(330, LENGTH_M),
          at(330, 200),
          at(0, 200),
          at(0, 0),
        ],
      ],
    ],
    [3, "clay", [box(480, 260, WIDTH_M, LENGTH_M)]],
  ];
  return shapes.map(([zone, texture, rings]) => ({
    type: "Feature",
    properties: { zone, name: ZONE_NAMES[zone]!, texture, drainage: null },
    geometry: { type: "MultiPolygon", coordinates: [rings] },
  }));
}

export function inventedLayers(): MapLayers {
  return {
    schema: "evenstand/map-layers/1",
    bounds: [...at(0, 0), ...at(WIDTH_M, LENGTH_M)],
    zoneNames: ZONE_NAMES,
    targets: TARGETS,
    rowUnits: 24,
    boundary: {
      type: "FeatureCollection",
      features: [
        {
          type: "Feature",
          properties: {},
          geometry: { type: "MultiPolygon", coordinates: [[box(0, 0, WIDTH_M, LENGTH_M)]] },
        },
      ],
    },
    zones: { type: "FeatureCollection", features: zones() },
    passLines: {
      type: "FeatureCollection",
      features: Array.from({ length: PASSES }, (_, i) => {
        const x = (i + 0.5) * SWATH_M;
        const ends = [at(x, 4), at(x, LENGTH_M - 4)];
        return {
          type: "Feature",
          properties: { pass: i + 1, headland: false, date: "2026-04-24" },
          geometry: { type: "LineString", coordinates: i % 2 === 0 ? ends : ends.reverse() },
        };
      }),
    },
    counts: {
      type: "FeatureCollection",
      features: Array.from({ length: 60 }, (_, i) => {
        const x = 40 + (i % 10) * 78;
        const y = 40 + Math.floor(i / 10) * 84;
        const stand = inside("pocket", x, y)
          ? 59_800
          : inside("knoll", x, y)
            ? 69_900
            : inside("swale", x, y)
              ? 74_900
              : 78_800 + 1500 * wobble(i, 6);
        return {
          type: "Feature",
          properties: {
            spot: i + 1,
            standPerHa: Math.round(stand),
            plants: Math.round((stand * 18.288 * 4) / 10_000),
            lateShare: inside("knoll", x, y) ? 0.22 : 0.03,
            rowUnit: 0,
            method: "drone",
          },
          geometry: { type: "Point", coordinates: at(x, y) },
        };
      }),
    },
    digs: {
      type: "FeatureCollection",
      features: [
        [175, 330, 35.6, "none", "fine"],
        [610, 350, 52, "heavy", "fine"],
        [424, 128, 49.5, "none", "leafed out underground"],
      ].map(([x, y, depthMm, smear, seedState], i) => ({
        type: "Feature",
        properties: {
          dig: i + 1,
          rowUnit: 9,
          depthMm: depthMm as number,
          smear: smear as string,
          furrow: "closed",
          moisture: "fit",
          seedState: seedState as string,
        },
        geometry: { type: "Point", coordinates: at(x as number, y as number) },
      })),
    },
    cells: cells(),
  };
}

type FindingSketch = Pick<Finding, "id" | "kind" | "cause" | "basis" | "probability" | "measured"> & {
  title: string;
  place: string;
  areaHa: number;
  money: [number, number, number] | null;
  rings: number[][][][];
  passes?: number[];
  rowUnits?: number[];
  zones: string[];
  counts: number;
  digs: number;
  remedy: string;
  change?: { from: number; to: number; unit: string };
  otherwise: string;
};

const CAUTION =
  "Before reaching under a planter: follow its operator's manual, lower or block it, stop the engine. Wear gloves where seed is treated and read the seed label.";

function findingOf(sketch: FindingSketch): Finding {
  const money = sketch.money && {
    estimate: sketch.money[0],
    low: sketch.money[1],
    high: sketch.money[2],
    level: 0.9,
    currency: "USD",
  };
  return {
    id: sketch.id,
    kind: sketch.kind,
    cause: sketch.cause,
    detail: null,
    basis: sketch.basis,
    probability: sketch.probability,
    pValue: sketch.basis === "counted" ? 0.003 : null,
    alternatives: [{ cause: "soil-or-weather", probability: Number((1 - sketch.probability).toFixed(2)) }],
    where: {
      geometry: { type: "MultiPolygon", coordinates: sketch.rings },
      areaHa: sketch.areaHa,
      passes: sketch.passes ?? [],
      logPasses: [],
      rowUnits: sketch.rowUnits ?? [],
      soilZones: sketch.zones,
    },
    measured: sketch.measured,
    stand: {
      deficitShare: sketch.basis === "counted" ? { estimate: 0.11, low: 0.08, high: 0.14, level: 0.9 } : null,
      lateShare: null,
      counts: sketch.counts,
      digs: sketch.digs,
    },
    loss: {
      yieldShare: money ? { estimate: 0.07, low: 0.04, high: 0.1, level: 0.9 } : null,
      money,
      seed: null,
      notes: [],
    },
    remedy: {
      code: "invented",
      parameter: null,
      from: sketch.change?.from ?? null,
      to: sketch.change?.to ?? null,
      unit: sketch.change?.unit ?? null,
      text: sketch.remedy,
      worth: null,
    },
    words: {
      title: sketch.title,
      place: sketch.place,
      seen: [
        "plants standing: 28,300 plants/ac here, 31,900 plants/ac elsewhere",
        "digs: furrow wall smeared in 4 of 4",
      ],
      otherwise: sketch.otherwise,
      check: "Dig ten seeds here and ten on ordinary ground next to it, same row units.",
      caution: CAUTION,
    },
  };
}

function placeRing(name: keyof typeof PLACES): number[][][][] {
  const { x, y, rx, ry } = PLACES[name];
  return [[blob(x, y, rx, ry)]];
}

/** Strips of row unit 17: the 17th from the left in the direction of travel. */
function rowUnitStrips(): number[][][][] {
  return Array.from({ length: PASSES }, (_, i) => {
    const offset = (17 - 12.5) * 0.762 * (i % 2 === 0 ? 1 : -1);
    const x = (i + 0.5) * SWATH_M + offset;
    return [box(x - 0.38, 2, x + 0.38, LENGTH_M - 2)];
  });
}

export function inventedDocument(): FindingsDocument {
  const findings = [
    findingOf({
      id: "F1",
      kind: "area",
      cause: "lost-ground-contact",
      basis: "counted",
      probability: 0.93,
      title: "Gauge wheels running light",
      place: "clay loam, west side",
      areaHa: 3.4,
      money: [1240, 760, 1710],
      rings: placeRing("knoll"),
      zones: ["clay loam"],
      counts: 9,
      digs: 4,
      remedy: "Carry more load on the gauge wheels on this ground: about 115 lb instead of 30 lb, then dig.",
      change: { from: 133, to: 512, unit: "N" },
      otherwise: "Could also be: the ground or the weather 7 %.",
      measured: {
        standPerHa: { inside: 69_900, elsewhere: 78_800, target: null },
        downForceMarginN: { inside: 133, elsewhere: 512, target: [267, 712] },
        seedingDepthMm: { inside: 36, elsewhere: 49.5, target: 50.8 },
      },
    }),
    findingOf({
      id: "F2",
      kind: "area",
      cause: "soil-or-weather",
      basis: "counted",
      probability: 0.97,
      title: "Crust over the seed",
      place: "silt loam, low pocket in the south",
      areaHa: 1.1,
      money: [690, 480, 900],
      rings: placeRing("pocket"),
      zones: ["silt loam"],
      counts: 3,
      digs: 2,
      remedy: "Look under the crust within days of a beating rain.",
      otherwise: "All other causes together: 4 %.",
      measured: { standPerHa: { inside: 59_800, elsewhere: 78_800, target: null } },
    }),
    findingOf({
      id: "F3",
      kind: "area",
      cause: "excess-down-force",
      basis: "counted",
      probability: 0.84,
      title: "Pressed too hard for the moisture",
      place: "silty clay, planted 2026-04-27",
      areaHa: 3,
      money: [540, 210, 880],
      rings: placeRing("swale"),
      zones: ["silty clay"],
      counts: 7,
      digs: 4,
      remedy: "On ground this damp take load off: about 80 lb instead of 260 lb, or let it dry first.",
      otherwise: "Could also be: the ground or the weather 16 %.",
      measured: { downForceMarginN: { inside: 1157, elsewhere: 512, target: [267, 712] } },
    }),
    findingOf({
      id: "F4",
      kind: "row-unit",
      cause: "too-shallow",
      basis: "counted",
      probability: 0.96,
      title: "Row unit 17: set too shallow",
      place: "in every pass",
      areaHa: 1.7,
      money: [430, 260, 600],
      rings: rowUnitStrips(),
      rowUnits: [17],
      zones: [],
      counts: 3,
      digs: 3,
      remedy: "Look at row unit 17: depth stop, gauge-wheel arms, discs.",
      otherwise: "All other causes together: 4 %.",
      measured: { seedingDepthMm: { inside: 31.8, elsewhere: 49.5, target: 50.8 } },
    }),
    findingOf({
      id: "F5",
      kind: "pass",
      cause: "excess-speed",
      basis: "predicted",
      probability: 0.88,
      title: "Too fast for this setup",
      place: "passes 38-41, east side",
      areaHa: 2.6,
      money: [310, 90, 520],
      rings: [[box(37 * SWATH_M, 0, 41 * SWATH_M, 355)]],
      passes: FAST_PASSES,
      zones: ["sandy loam", "silt loam"],
      counts: 0,
      digs: 0,
      remedy: "Drive this planter at about 5.3 mph, not 8.1 mph.",
      otherwise: "Could also be: uneven depth along the row 12 %.",
      measured: { speedMetresPerSecond: { inside: 3.62, elsewhere: 2.37, target: 2.369 } },
    }),
    findingOf({
      id: "F6",
      kind: "row-unit",
      cause: "sensor-fault",
      basis: "cleared",
      probability: 0.95,
      title: "Row unit 5: a sensor reads wrong",
      place: "in 25 of 43 passes",
      areaHa: 1,
      money: null,
      rings: [],
      rowUnits: [5],
      zones: [],
      counts: 3,
      digs: 2,
      remedy: "Clean or replace the sensor of row unit 5 before trusting its figures.",
      otherwise: "All other causes together: 4 %.",
      measured: { populationPerHa: { inside: 76_100, elsewhere: 82_700, target: 84_015 } },
    }),
  ];
  return {
    schema: "evenstand/findings/1",
    field: { name: "Invented Bench", season: 2026, crop: "corn", planted: "2026-04-24", areaHa: 41 },
    settings: {},
    inputs: [
      {
        role: "plantingLog",
        file: "planting.zip",
        sha256: null,
        records: 91_000,
        used: 90_412,
        leftOut: 588,
        notes: [
          {
            reason: "no position",
            effect: "left out",
            count: 588,
            field: null,
            firstRecord: 17,
            value: null,
          },
        ],
      },
    ],
    summary: {
      affectedHa: 11.8,
      nothingFoundHa: 29.2,
      notJudged: [{ what: "spacing of the plants", why: "nobody measured plant gaps" }],
      sentence: "Five places cost plants; four of them were the planter, one was the ground.",
      form: "places",
      wanted: [],
      stand: null,
      contrasts: [],
      money: { estimate: 3210, low: 2300, high: 4100, level: 0.9, currency: "USD" },
      moneyBy: { soilZones: [], rowUnits: [] },
      ground: {
        plantedHa: 40.6,
        overlapHa: 0.5,
        skippedHa: 0.4,
        within: "boundary",
        judgedHa: 40.6,
        placedShare: 1,
        wayTimesWidthHa: 41.1,
        wayTimesSpacingHa: 40.7,
        widthM: 18.29,
        spacingM: 18.2,
        inDoubt: false,
        replanted: null,
        machines: [],
      },
      drivers: [],
      departingRows: [],
      emergence: null,
      spacing: null,
      replant: null,
    },
    findings,
    comparison: comparison(),
  };
}

function comparison(): ComparisonRow[] {
  const rows: ComparisonRow[] = [];
  const add = (
    variable: ComparisonRow["variable"],
    unit: string,
    usual: number,
    spread: number,
    apart: (pass: number | null, unit: number | null, zone: string | null) => number,
  ) => {
    for (let rowUnit = 1; rowUnit <= 24; rowUnit++) {
      const shift = apart(null, rowUnit, null) + spread * 0.2 * wobble(rowUnit, 9);
      rows.push(rowOf(variable, unit, null, null, rowUnit, usual + shift, spread, shift));
    }
    for (let pass = 1; pass <= PASSES; pass++) {
      for (const zone of ZONE_NAMES) {
        const shift = apart(pass, null, zone) + spread * 0.2 * wobble(pass, 11);
        rows.push(rowOf(variable, unit, pass, zone, null, usual + shift, spread, shift));
      }
    }
  };
  add("seedingDepth", "mm", 49.5, 5, (_, unit) => (unit === 17 ? -17.8 : 0));
  add("downForceMargin", "N", 512, 60, (pass, _, zone) =>
    zone === "clay loam" && pass !== null && pass < 17 ? -180 : 0,
  );
  add("speed", "m/s", 2.37, 0.08, (pass) => (pass !== null && FAST_PASSES.includes(pass) ? 1.25 : 0));
  return rows;
}

function rowOf(
  variable: ComparisonRow["variable"],
  unit: string,
  pass: number | null,
  soilZone: string | null,
  rowUnit: number | null,
  mean: number,
  sd: number,
  difference: number,
): ComparisonRow {
  return {
    pass,
    soilZone,
    rowUnit,
    variable,
    unit,
    records: 800,
    areaHa: 0.41,
    mean,
    sd,
    p10: mean - 1.28 * sd,
    p50: mean,
    p90: mean + 1.28 * sd,
    shareOutside: 0.1,
    difference,
    low: difference - 0.3 * sd,
    high: difference + 0.3 * sd,
    level: 0.95,
    robustSd: sd,
    shareBelow: 0.07,
    shareAbove: 0.03,
    withinTolerance: variable === "seedingDepth" ? 0.9 : null,
    spreadAlongRow: variable === "seedingDepth" ? 0.8 * sd : null,
    noLoadShare: variable === "downForceMargin" ? 0.02 : null,
    headland: pass === null ? null : false,
  };
}
