/** What is really sent to each soil zone after rounding, merging and the limits, and what that is expected to do. */
import { type LearntZone, sentGain, type ZoneChoice } from "../prescription/decide.ts";
import { NO_SOIL_ZONE } from "../prescription/evidence.ts";
import type { DecidedZone } from "../prescription/guards.ts";
import { LIMITS } from "../prescription/limits.ts";
import {
  type Channel,
  type GainEstimate,
  isForceChannel,
  type Prescription,
  type PrescriptionSettings,
  type Rates,
  type RateZone,
} from "../prescription/prescription.ts";
import { wholeStep } from "../prescription/steps.ts";
import type { DrawnZone } from "./ground.ts";

/** Gain of a zone by the loads that its ground really gets: merged, straightened, left as a strip. */
export function sentOn(
  { zone, choice }: DecidedZone,
  drawn: readonly DrawnZone[],
  rateZones: readonly RateZone[],
  channel: Channel | null,
  settings: PrescriptionSettings,
): GainEstimate | null {
  const name = zone.evidence.zone >= 0 ? zone.evidence.name : null;
  const pieces = drawn.flatMap(({ soilHa }, k) => {
    const areaHa = soilHa.find(({ soilZone }) => soilZone === name)?.areaHa ?? 0;
    const sentN = loadSent(rateZones[k]!.rates, choice, channel, settings);
    return areaHa > 0 ? [{ areaHa, gain: sentGain(zone, choice, sentN, settings) }] : [];
  });
  if (choice.gain === null || pieces.length === 0) return choice.gain;
  const areaHa = pieces.reduce((sum, piece) => sum + piece.areaHa, 0);
  const mean = (end: "estimate" | "low" | "high"): number =>
    pieces.reduce((sum, { areaHa: own, gain }) => sum + own * (gain?.[end] ?? 0), 0) / areaHa;
  return {
    estimate: mean("estimate"),
    low: mean("low"),
    high: mean("high"),
    level: choice.gain.level,
  };
}

/** Load on the gauge wheels that a rate leaves on this zone's soil. */
export function loadSent(
  { marginN, forceN }: Rates,
  { today, logged }: ZoneChoice,
  channel: Channel | null,
  { rateStepN }: PrescriptionSettings,
): number {
  if (!isForceChannel(channel) || forceN === null || logged?.forceN == null || today?.forceN == null)
    return marginN;
  // Today's force once more leaves today's load.
  if (Math.abs(forceN - wholeStep(today.forceN, rateStepN)) < rateStepN / 2) return today.meanN;
  return logged.meanN + forceN - logged.forceN;
}

/** True where the channel's own figure is missing. */
function hasNoFigure({ forceN, pressurePa }: Rates, channel: Channel | null): boolean {
  return (channel === "pressure" && pressurePa === null) || (channel === "added-force" && forceN === null);
}

/** Why files of rates would be no help or do harm; null where they may be written. */
export function withheldWords({
  all,
  zones,
  isFlat,
  channel,
  settings,
}: {
  all: readonly { zone: LearntZone; choice: ZoneChoice; sent: GainEstimate | null }[];
  /** Zones as drawn. */
  zones: readonly { number: number; rates: Rates }[];
  isFlat: boolean;
  channel: Prescription["channel"];
  settings: PrescriptionSettings;
}): string | null {
  if (settings.channel !== null && channel.quantity === null) return channel.reason;
  const open = zones.find(({ rates }) => hasNoFigure(rates, channel.quantity));
  if (open)
    return `zone ${open.number} has no ${channel.quantity === "pressure" ? "pressure" : "added force"} that today's log or the cylinder line gives`;
  const total = all.reduce((sum, { zone, sent }) => sum + zone.evidence.areaHa * (sent?.estimate ?? 0), 0);
  if (total < -1e-12) return "by this field's own counts the loads would cost more plants than they bring";
  const areaHa = all.reduce((sum, { zone }) => sum + zone.evidence.areaHa, 0);
  const without = all.find(({ zone }) => zone.evidence.name === NO_SOIL_ZONE)?.zone.evidence.areaHa ?? 0;
  if (without > LIMITS.uncovered.value * areaHa && !settings.allowUncovered)
    return `the soil map leaves out ${Math.round((100 * without) / areaHa)} % of the planted ground; take one that covers it, or say with "allowUncovered" that it is right as it is`;
  if (!isFlat && all.every(({ choice }) => choice.outcome !== "change"))
    return "no zone changes, so today's settings stay and the machine needs no new file; one load over the whole field is written where it is asked for (flat)";
  return null;
}
