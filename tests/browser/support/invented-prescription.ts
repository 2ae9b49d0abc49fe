/** An invented prescription for the invented field: one zone of each outcome. Nothing in it was measured. */

import type { MarginTarget, Outcome, ZoneDecision } from "../../../src/prescription/prescription.ts";
import { USUAL_SETTINGS } from "../../../src/prescription/settings.ts";
import type { PrescriptionView, RateZoneShown } from "../../../src/report/prescription-view.ts";
import type { Moisture } from "../../../src/vocabulary/moisture.ts";
import { inventedLayers } from "./invented-field.ts";

const LBF = 4.4482216152605;

function loads(dry: number, fit: number, damp: number): Record<Moisture, number> {
  return { dry: dry * LBF, fit: fit * LBF, damp: damp * LBF };
}

function around(loadN: number): MarginTarget {
  return { targetN: loadN, lowN: loadN - 30 * LBF, highN: loadN + 35 * LBF };
}

function decision(
  soilZone: string,
  outcome: Outcome,
  todayLbf: number,
  prescribedN: Record<Moisture, number>,
): ZoneDecision {
  const changed = outcome === "change";
  return {
    soilZone,
    place: null,
    areaHa: 10,
    currentMarginN: todayLbf * LBF,
    currentMarginP10N: (todayLbf - 20) * LBF,
    currentForceN: 150 * LBF,
    loggedMoisture: "fit",
    loggedMoistureFrom: "dug",
    outcome,
    grade: outcome === "no-evidence" ? "starting-point" : "pointing",
    best: { dry: around(prescribedN.dry), fit: around(prescribedN.fit), damp: around(prescribedN.damp) },
    prescribedN,
    gainShare: changed ? { estimate: 0.012, low: 0.003, high: 0.021, level: 0.9 } : null,
    evidence: { spots: 15, digs: 2, marginRangeN: [20 * LBF, 120 * LBF], informative: true },
    heldBackBy: outcome === "held-back" ? [{ finding: "F5", words: "too fast here: slow down first" }] : [],
    reason: `Why ${soilZone} gets this number.`,
    lastAdvisedN: changed ? 70 * LBF : null,
    notMended: [],
  };
}

/** For fit ground, without a channel. */
export function inventedPrescription(): PrescriptionView {
  const decisions = [
    decision("clay loam", "change", 30, loads(100, 70, 45)),
    decision("sandy loam", "keep", 110, loads(130, 110, 90)),
    decision("silt loam", "no-evidence", 115, loads(115, 115, 115)),
    decision("silty clay", "held-back", 200, loads(200, 200, 200)),
  ];
  const layers = inventedLayers();
  const zones = decisions.flatMap(({ soilZone, areaHa, prescribedN }, index): RateZoneShown[] => {
    const feature = layers.zones.features.find(({ properties }) => properties.name === soilZone)!;
    return feature.geometry.coordinates.map((rings) => ({
      number: index + 1,
      soilZones: [soilZone],
      proofStrip: false,
      areaHa,
      rings: rings as [number, number][][],
      rates: { marginN: prescribedN.fit, forceN: null, pressurePa: null },
    }));
  });
  const [west, south, east, north] = layers.bounds;
  const place = (x: number, y: number): [number, number] => [
    west + x * (east - west),
    south + y * (north - south),
  ];
  zones.push({
    number: 5,
    soilZones: ["clay loam"],
    proofStrip: true,
    areaHa: 0.4,
    rings: [[place(0.15, 0.5), place(0.2, 0.5), place(0.2, 0.9), place(0.15, 0.9), place(0.15, 0.5)]],
    rates: { marginN: 30 * LBF, forceN: null, pressurePa: null },
  });
  const usual = { marginN: 110 * LBF, forceN: null, pressurePa: null };
  const gain = { estimate: 0.003, low: 0.0008, high: 0.005, level: 0.9 };
  return {
    field: { name: "Invented", season: 2026, areaHa: 40 },
    settings: {
      ...USUAL_SETTINGS,
      minimumMarginN: 40 * LBF,
      maximumMarginN: 220 * LBF,
    },
    places: [],
    decisions,
    zones,
    defaults: { inside: usual, outside: usual, lostPosition: usual },
    channel: { quantity: null, formula: "", reason: "nobody has said what the channel takes" },
    withheld: null,
    guards: [{ code: "step", result: "kept", words: "No zone moves more than 40 lb." }],
    advice: [
      { kind: "repair", soilZone: null, rowUnits: [17], finding: "F4", words: "Look at row unit 17." },
      { kind: "dig", soilZone: null, rowUnits: [3, 22], finding: null, words: "Dig behind the wings." },
    ],
    notes: [],
    cautions: [
      "Before reaching under a planter: follow its operator's manual.",
      "Dig before planting the field.",
      "Putty means wait.",
    ],
    effect: {
      zones: decisions.map(({ soilZone, gainShare }) => ({ soilZone, gainShare, money: null })),
      gainShare: gain,
      money: { estimate: 210, low: 20, high: 480, level: 0.9, currency: "USD" },
      plants: 10_000,
      notes: [],
    },
  };
}
