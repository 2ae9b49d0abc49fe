/** Loads handed to the drawing of the ground, and what comes back as rates of the pieces drawn. */
import { meanHeading } from "../numerics/angles.ts";
import { mean } from "../numerics/descriptive.ts";
import type { Pass } from "../passes/passes.ts";
import { ratesFor } from "./channel.ts";
import type { DrawnZone, GroundLoad, GroundLoads } from "./ground.ts";
import type { DecidedZone } from "./guards.ts";
import type { Channel, PrescriptionSettings, Rates, RateZone } from "./prescription.ts";
import { pressureFor } from "./pressure.ts";
import { wholeStep } from "./steps.ts";

/** Rates of a zone as prescribed, and as today's setting for a proof strip. */
function ratesOf({ choice }: DecidedZone, settings: PrescriptionSettings) {
  const { today, logged } = choice;
  const now = ratesFor(choice.prescribedN[settings.moisture], logged, settings);
  // Left as it is: today's load, or where the channel is a force, today's force.
  const before = today && ratesFor(wholeStep(today.meanN, settings.rateStepN), today, settings);
  return { now, before: choice.outcome === "change" ? before : null };
}

/** The number that tells pieces apart: added force where the channel carries force or pressure, else the load. */
function drawnNumber(rates: Rates, channel: Channel | null): number {
  return channel === "added-force" || channel === "pressure"
    ? (rates.forceN ?? rates.marginN)
    : rates.marginN;
}

/** What is drawn on each soil zone, and on ground without one. */
export function drawnLoads(
  zones: readonly DecidedZone[],
  inside: Rates,
  settings: PrescriptionSettings,
  channel: Channel | null,
): GroundLoads {
  const soilZones: Record<string, GroundLoad> = {};
  let elsewhere: GroundLoad = { marginN: drawnNumber(inside, channel), todayN: null };
  for (const zone of zones) {
    const { now, before } = ratesOf(zone, settings);
    const load = {
      marginN: drawnNumber(now, channel),
      todayN: before && drawnNumber(before, channel),
    };
    if (zone.zone.evidence.zone >= 0) soilZones[zone.zone.evidence.name] = load;
    else elsewhere = load;
  }
  return { soilZones, elsewhere };
}

/**
 * Rates of a drawn piece. In a force channel the drawn number is the force, and the load is that of the soil zone it
 * was drawn for; in a load channel the force stands only where all soil zones of the piece need the same one.
 */
export function ratesOnGround(
  drawn: DrawnZone,
  zones: readonly DecidedZone[],
  inside: Rates,
  settings: PrescriptionSettings,
  channel: Channel | null,
): RateZone {
  const { marginN: number, soilHa: _, ...ground } = drawn;
  const own = zones.filter(({ zone }) =>
    zone.evidence.zone >= 0 ? drawn.soilZones.includes(zone.evidence.name) : drawn.soilZones.length === 0,
  );
  const candidates = own.map((zone) => {
    const { now, before } = ratesOf(zone, settings);
    return drawn.proofStrip && before ? before : now;
  });
  if (candidates.length === 0) candidates.push(inside);
  const gap = (rates: Rates): number => Math.abs(drawnNumber(rates, channel) - number);
  const nearest = candidates.reduce((best, rates) => (gap(rates) < gap(best) ? rates : best));
  const exact = gap(nearest) < settings.rateStepN / 2;
  return {
    ...ground,
    rates: exact ? agreed(nearest, candidates, settings, channel) : moved(nearest, number, settings, channel),
  };
}

function agreed(
  rates: Rates,
  candidates: readonly Rates[],
  settings: PrescriptionSettings,
  channel: Channel | null,
): Rates {
  if (channel === "added-force" || channel === "pressure") {
    // One force can carry different loads on different soil: the piece shows their mean, in whole steps.
    const loads = candidates.filter(({ forceN }) => forceN === rates.forceN).map(({ marginN }) => marginN);
    return { ...rates, marginN: wholeStep(mean(loads), settings.rateStepN) };
  }
  const same = candidates
    .filter(({ marginN }) => marginN === rates.marginN)
    .every(({ forceN }) => forceN === rates.forceN);
  return same ? rates : { ...rates, forceN: null, pressurePa: null };
}

/** Rates merged into a neighbouring one: force and load move together. */
function moved(rates: Rates, number: number, settings: PrescriptionSettings, channel: Channel | null): Rates {
  const byN = number - drawnNumber(rates, channel);
  const forceN = rates.forceN === null ? null : rates.forceN + byN;
  return {
    marginN: rates.marginN + byN,
    forceN,
    pressurePa: pressureFor(settings.cylinder, forceN),
  };
}

/** Usual heading of travel, degrees clockwise from north, either way along it; end rows apart where there are others. */
export function usualHeading(passes: readonly Pass[]): number {
  const inside = passes.filter(({ headland }) => !headland);
  const used = inside.length > 0 ? inside : passes;
  // Up and down are one direction: angles are doubled, averaged and halved.
  return meanHeading(used.map(({ headingDeg }) => (2 * headingDeg) % 360)) / 2;
}
