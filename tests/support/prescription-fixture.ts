/** An invented prescription on known ground, for tests of the files and sheets made from it. */

import type { Prescription, RateZone, ZoneDecision } from "../../src/prescription/prescription.ts";
import { USUAL_SETTINGS } from "../../src/prescription/settings.ts";
import type { LocalFrame, LocalPolygon } from "../../src/vocabulary/field.ts";

const LBF = 4.4482216152605;

/** Metres east and north of a corner in central Iowa, by fixed lengths of a degree: exact both ways. */
export const FIXTURE_FRAME: LocalFrame = {
  epsg: 32615,
  originX: 0,
  originY: 0,
  toLocal: (longitude, latitude) => [(longitude + 93.6) * 82_000, (latitude - 42) * 111_000],
  toLonLat: (x, y) => [-93.6 + x / 82_000, 42 + y / 111_000],
};

export function rectangle(west: number, south: number, east: number, north: number): [number, number][] {
  return [
    [west, south],
    [east, south],
    [east, north],
    [west, north],
    [west, south],
  ];
}

export function rateZone(
  number: number,
  polygon: LocalPolygon,
  forceLbf: number,
  changes: Partial<RateZone> = {},
): RateZone {
  return {
    number,
    soilZones: [["sand", "loam", "clay"][(number - 1) % 3]!],
    proofStrip: false,
    areaHa: 3,
    polygon,
    rates: { marginN: (forceLbf - 100) * LBF, forceN: forceLbf * LBF, pressurePa: forceLbf * 10_000 },
    ...changes,
  };
}

function decision(soilZone: string, changes: Partial<ZoneDecision>): ZoneDecision {
  const target = (lbf: number) => ({
    targetN: lbf * LBF,
    lowN: (lbf - 20) * LBF,
    highN: (lbf + 25) * LBF,
  });
  return {
    soilZone,
    place: null,
    areaHa: 3.2,
    currentMarginN: 92 * LBF,
    currentMarginP10N: 41 * LBF,
    currentForceN: 180 * LBF,
    loggedMoisture: "fit",
    loggedMoistureFrom: "dug",
    outcome: "change",
    grade: "settled",
    best: { dry: target(165), fit: target(120), damp: target(75) },
    prescribedN: { dry: 130 * LBF, fit: 120 * LBF, damp: 75 * LBF },
    gainShare: { estimate: 0.021, low: 0.008, high: 0.034, level: 0.9 },
    evidence: { spots: 24, digs: 3, marginRangeN: [40 * LBF, 160 * LBF], informative: true },
    heldBackBy: [],
    reason:
      "Wheels ran light here at 92 lb; 24 counts show fewer plants below 80 lb. The step is held to 40 lb.",
    lastAdvisedN: null,
    notMended: [],
    ...changes,
  };
}

/**
 * Sand to the west with a proof strip in it, loam to the north-east with a hole of clay in it, ground without a zone
 * in the south-east corner: the box of the field is not all covered.
 */
export function prescriptionFixture(changes: Partial<Prescription> = {}): Prescription {
  const clay = rectangle(300, 200, 360, 260);
  return {
    field: { name: 'Test "Field" <A&B>', season: 2026, areaHa: 10.8 },
    settings: {
      ...USUAL_SETTINGS,
      channel: "added-force",
      minimumMarginN: 60 * LBF,
      maximumMarginN: 200 * LBF,
    },
    places: [],
    decisions: [
      decision("sand", {}),
      decision("loam", {
        outcome: "keep",
        grade: "pointing",
        reason: "Today's load is as good as any the counts point to.",
      }),
      decision("clay", {
        outcome: "held-back",
        grade: "starting-point",
        heldBackBy: [{ finding: "F3", words: "row unit 7 carries no load: mend it first" }],
        reason: "Stays at today's load until the row unit is mended.",
      }),
    ],
    zones: [
      rateZone(1, [rectangle(0, 0, 120, 300)], 210),
      rateZone(2, [rectangle(200, 100, 400, 300), clay.toReversed()], 180),
      rateZone(3, [clay], 250),
      rateZone(4, [rectangle(120, 0, 140, 300)], 180, { proofStrip: true, soilZones: ["sand"] }),
      rateZone(
        5,
        [
          [
            [140, 0],
            [200, 0],
            [200, 100],
            [200, 300],
            [140, 300],
            [140, 0],
          ],
        ],
        210,
        { soilZones: ["sand"] },
      ),
    ],
    defaults: {
      inside: { marginN: 90 * LBF, forceN: 190 * LBF, pressurePa: 1_900_000 },
      outside: { marginN: 85 * LBF, forceN: 185 * LBF, pressurePa: 1_850_000 },
      lostPosition: { marginN: 95 * LBF, forceN: 195 * LBF, pressurePa: 1_950_000 },
    },
    channel: {
      quantity: "added-force",
      formula: "added force = 180 lb logged + 120 lb wanted - 92 lb logged on the wheels = 208 lb",
      reason: null,
    },
    withheld: null,
    guards: [
      {
        code: "largest-step",
        result: "changed",
        words: "sand: dry 165 lb held to 130 lb, 40 lb from today.",
      },
      { code: "bar-lift", result: "unchecked", words: "Weight the bar can spare is not known." },
      { code: "force-step", result: "kept", words: "No zero and no lift values." },
    ],
    advice: [
      {
        kind: "repair",
        soilZone: "clay",
        rowUnits: [7],
        finding: "F3",
        words: "Row unit 7: mend before planting.",
      },
      {
        kind: "speed",
        soilZone: null,
        rowUnits: [],
        finding: "F1",
        words: "Drive at most 5 mph on passes 3 to 6.",
      },
      {
        kind: "dig",
        soilZone: null,
        rowUnits: [12, 1, 9],
        finding: null,
        words: "Dig row 12 (centre), row 1 (wing), row 9 (wheel track).",
      },
      {
        kind: "test-strip",
        soilZone: "loam",
        rowUnits: [],
        finding: null,
        words: "Plant one strip at 110 lb on loam.",
      },
    ],
    notes: [],
    cautions: ["Lower and block the machine.", "Dig behind the bar & check before planting the field."],
    ...changes,
  };
}
