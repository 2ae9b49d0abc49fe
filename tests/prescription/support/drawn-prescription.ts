/** A prescription round drawn zones, as far as the vector files look at it. */

import { utmFrame } from "../../../src/ingest/crs/crs.ts";
import type { Channel, Prescription, Rates } from "../../../src/prescription/prescription.ts";
import type { DrawnZone } from "../../../src/rate-zones/ground.ts";
import type { LocalFrame } from "../../../src/vocabulary/field.ts";
import type { Moisture } from "../../../src/vocabulary/moisture.ts";

/** A frame in an invented place in the Corn Belt. */
export const FRAME: LocalFrame = utmFrame(-93.6, 42.0);

/** Rates whose three quantities cannot be taken for one another. */
function ratesOf(marginN: number): Rates {
  return { marginN, forceN: marginN + 311, pressurePa: 1000 * marginN + 7 };
}

export function drawnPrescription(
  zones: readonly DrawnZone[],
  channel: Channel | null = "margin",
  moisture: Moisture = "fit",
): Prescription {
  const rates = ratesOf(400);
  return {
    field: { name: "Invented", season: 2026, areaHa: zones.reduce((sum, zone) => sum + zone.areaHa, 0) },
    settings: {
      moisture,
      channel,
      minimumMarginN: 200,
      maximumMarginN: 1000,
      largestStepN: 178,
      rateStepN: 4,
      system: null,
      lagS: 10,
      smallestAreaHa: 0.6,
      smallestWidthBars: 2,
      mostRates: 8,
      mostPolygons: 100,
      mostVertices: 5000,
      proofStrips: true,
      outsideMarginN: null,
      lostPositionMarginN: null,
      usableWeight: null,
      cylinder: null,
      gridCellM: 10,
      flat: false,
      allowUncovered: false,
    },
    decisions: [],
    zones: zones.map(({ marginN, soilHa: _, soilZones, ...zone }) => ({
      ...zone,
      soilZones: soilZones.filter((name) => name !== null),
      rates: ratesOf(marginN),
    })),
    places: [],
    defaults: { inside: rates, outside: rates, lostPosition: rates },
    channel: { quantity: channel, formula: "", reason: null },
    withheld: null,
    guards: [],
    advice: [],
    notes: [],
    cautions: [],
  };
}
