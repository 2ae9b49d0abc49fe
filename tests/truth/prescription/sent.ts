/**
 * What the files of a prescription really send to each place of an invented field, and the stand it costs there. A load
 * channel is held at its load, within the control error; an added force or a pressure moves the load of every place by
 * what it differs from last spring's force. What carries last spring's figure once more is last spring once more.
 */

import { joinSoilZones } from "../../../src/compare/soil-join.ts";
import type { Analysis } from "../../../src/findings/analysis.ts";
import { prescribe } from "../../../src/jobs/prescribe.ts";
import type {
  Channel,
  Prescription,
  PrescriptionSettings,
  Rates,
} from "../../../src/prescription/prescription.ts";
import { PASCAL_PER_PSI } from "../../../src/prescription/pressure.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../../src/quantities/units.ts";
import type { Moisture } from "../../../src/vocabulary/moisture.ts";
import { FORCE_LBF, type TrueField, type TrueZone } from "./worlds.ts";

/** A cylinder of the tests' own: 100 psi without force, 2 psi for each pound. */
const CYLINDER: NonNullable<PrescriptionSettings["cylinder"]> = {
  pascalAtNoForce: 100 * PASCAL_PER_PSI,
  pascalPerNewton: (2 * PASCAL_PER_PSI) / LBF,
  forceN: [0, 500 * LBF],
};

/** Settings under which a channel's files are written. */
const CHANNEL_SETTINGS: Readonly<Record<Channel, Partial<PrescriptionSettings>>> = {
  margin: { channel: "margin" },
  "added-force": { channel: "added-force" },
  pressure: { channel: "pressure", system: "hydraulic", cylinder: CYLINDER },
};

/** What a channel did to a field, stand points by area. */
export interface SentEffect {
  /** Short of the best single load of each zone. */
  regret: number;
  /** Short of the best that the channel itself could do with one figure a zone. */
  regretOfChannel: number;
  /** Gained over last spring; below zero where the file did harm. */
  gained: number;
  /** What the prescription expected to gain. */
  expected: number;
  /** Zones of the field made worse than last spring by more than 0.1 points of their own stand. */
  zonesWorse: number;
  written: boolean;
}

/** The files for the state each zone was planted in, driven on that zone: loss at every place, and what it means. */
export function sentEffect(truth: TrueField, analysis: Analysis, channel: Channel): SentEffect {
  const files = new Map<Moisture, Prescription>();
  const fileFor = (moisture: Moisture): Prescription => {
    const known = files.get(moisture) ?? prescribe(analysis, { ...CHANNEL_SETTINGS[channel], moisture });
    files.set(moisture, known);
    return known;
  };
  const { decisions } = fileFor("fit");
  const lossOf = truth.zones.map(() => 0);
  const best = truth.zones.map(() => 0);
  const gainOf = truth.zones.map(() => 0);
  truth.zones.forEach((zone, z) => {
    const own = truth.places.filter((place) => place.zone === z);
    const { loggedMoisture } = decisions.find(({ soilZone }) => soilZone === zone.name)!;
    const prescription = fileFor(loggedMoisture!);
    const decision = prescription.decisions.find(({ soilZone }) => soilZone === zone.name)!;
    gainOf[z] = prescription.withheld === null ? (decision.gainShare?.estimate ?? 0) : 0;
    const rateZoneOf = rateZones(prescription, own);
    const shifted = (byLbf: number): number =>
      own.reduce((sum, { loadLbf }) => sum + zone.lossHeldAt(Math.max(0, loadLbf + byLbf)), 0) / own.length;
    best[z] = leastOf(zone, shifted, channel);
    lossOf[z] =
      own.reduce((sum, { loadLbf }, k) => {
        const rates = prescription.withheld === null ? (rateZoneOf[k] ?? prescription.defaults.inside) : null;
        return (
          sum + lossUnder(zone, loadLbf, rates, channel, decision.currentMarginN!, prescription.settings)
        );
      }, 0) / own.length;
  });
  const mean = (of: (z: number) => number): number =>
    truth.zones.reduce((sum, { areaShare }, z) => sum + 100 * areaShare * of(z), 0);
  return {
    regret: mean((z) => lossOf[z]! - leastLoss(truth.zones[z]!)),
    regretOfChannel: mean((z) => lossOf[z]! - best[z]!),
    gained: mean((z) => truth.zones[z]!.lossToday - lossOf[z]!),
    expected: mean((z) => gainOf[z]!),
    zonesWorse: truth.zones.filter(({ lossToday }, z) => lossOf[z]! > lossToday + 0.001).length,
    written: [...files.values()].some(({ withheld }) => withheld === null),
  };
}

/** Rates of each place by the ground of the files; undefined outside all zones. */
function rateZones({ zones }: Prescription, places: readonly { x: number; y: number }[]) {
  const index = joinSoilZones({
    soilZones: {
      names: zones.map(({ number }) => String(number)),
      polygons: zones.map(({ polygon }, zone) => ({ zone, rings: polygon })),
      texture: zones.map(() => null),
      drainage: zones.map(() => null),
    },
    log: {
      recordCount: places.length,
      x: Float64Array.from(places, ({ x }) => x),
      y: Float64Array.from(places, ({ y }) => y),
    },
  });
  return [...index].map((zone): Rates | undefined => zones[zone]?.rates);
}

function lossUnder(
  zone: TrueZone,
  loadLbf: number,
  rates: Rates | null,
  channel: Channel,
  todayN: number,
  { rateStepN }: PrescriptionSettings,
): number {
  const asBefore = zone.lossHeldAt(loadLbf);
  if (rates === null) return asBefore;
  if (channel === "margin")
    return Math.abs(rates.marginN - Math.round(todayN / rateStepN) * rateStepN) < rateStepN / 2
      ? asBefore
      : zone.lossAt(rates.marginN / LBF);
  const forceN =
    channel === "added-force"
      ? rates.forceN!
      : (rates.pressurePa! - CYLINDER.pascalAtNoForce) / CYLINDER.pascalPerNewton;
  const byLbf = forceN / LBF - FORCE_LBF;
  return Math.abs(byLbf) < 0.5 ? asBefore : zone.lossHeldAt(Math.max(0, loadLbf + byLbf));
}

/** The oracle: the best single load of the zone, or last spring once more where that is better still. */
export function leastLoss(zone: TrueZone): number {
  let least = zone.lossToday;
  for (let load = 5; load <= 350; load += 2) least = Math.min(least, zone.lossAt(load));
  return least;
}

function leastOf(zone: TrueZone, shifted: (byLbf: number) => number, channel: Channel): number {
  if (channel === "margin") return leastLoss(zone);
  let least = zone.lossToday;
  for (let by = -FORCE_LBF; by <= 300; by += 5) least = Math.min(least, shifted(by));
  return least;
}
