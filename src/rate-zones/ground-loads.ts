/** Loads handed to the drawing of the ground, and what comes back as rates of the pieces drawn. */
import { meanHeading } from "../numerics/angles.ts";
import type { Pass } from "../passes/passes.ts";
import { ratesFor } from "../prescription/channel.ts";
import type { DecidedZone } from "../prescription/guards.ts";
import {
  type Channel,
  isForceChannel,
  type PrescriptionSettings,
  type Rates,
  type RateZone,
} from "../prescription/prescription.ts";
import { pressureFor } from "../prescription/pressure.ts";
import { wholeStep } from "../prescription/steps.ts";
import type { DrawnZone, GroundLoad, GroundLoads } from "./ground.ts";

/** Rates of a zone as prescribed, and as today's setting for a proof strip. */
function ratesOf({ zone, choice }: DecidedZone, settings: PrescriptionSettings) {
  const { today, logged } = choice;
  const now = ratesFor(choice.prescribedN[settings.moisture], logged, settings);
  // Left as it is: today's load, or where the channel is a force, today's force.
  const before = today && ratesFor(wholeStep(today.meanN, settings.rateStepN), today, settings);
  // A place is too small for a strip of its own.
  return { now, before: choice.outcome === "change" && zone.evidence.place === null ? before : null };
}

/** The number that tells pieces apart: added force where the channel carries force or pressure, else the load. */
export function drawnNumber(rates: Rates, channel: Channel | null): number {
  return isForceChannel(channel) ? (rates.forceN ?? rates.marginN) : rates.marginN;
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
 * Rates of a drawn piece: those of the soil zone or place that has the most of it, moved where its number was put
 * together with another.
 */
export function ratesOnGround(
  drawn: DrawnZone,
  zones: readonly DecidedZone[],
  inside: Rates,
  settings: PrescriptionSettings,
  channel: Channel | null,
): RateZone {
  const { marginN: number, soilHa: _, soilZones, ...ground } = drawn;
  const main = soilZones[0] ?? null;
  const own = zones.find(({ zone }) => (zone.evidence.zone >= 0 ? zone.evidence.name : null) === main);
  const before = own && drawn.proofStrip ? ratesOf(own, settings).before : null;
  const rates = own ? (before ?? ratesOf(own, settings).now) : inside;
  return {
    ...ground,
    soilZones: namesOf(soilZones, zones),
    rates:
      Math.abs(drawnNumber(rates, channel) - number) < settings.rateStepN / 2
        ? rates
        : moved(rates, number, settings, channel),
  };
}

/** Ground without a soil zone goes by the name of its decision where it has one. */
function namesOf(soilZones: DrawnZone["soilZones"], zones: readonly DecidedZone[]): string[] {
  const elsewhere = zones.find(({ zone }) => zone.evidence.zone === -1)?.zone.evidence.name;
  return soilZones.flatMap((name) => name ?? elsewhere ?? []);
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
