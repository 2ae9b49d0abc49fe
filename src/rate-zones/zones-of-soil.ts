/** Which zones of the files carry the load of a soil zone. */
import type { RateZone } from "../prescription/prescription.ts";

/**
 * Zones that are mostly this soil zone's ground, strips of today's load apart; where it has no zone of its own, those
 * that took its ground.
 */
export function zonesOf<Zone extends Pick<RateZone, "soilZones" | "proofStrip">>(
  all: readonly Zone[],
  soilZone: string,
): { zones: Zone[]; strips: Zone[] } {
  const zones = all.filter(({ proofStrip }) => !proofStrip);
  const own = zones.filter(({ soilZones }) => soilZones[0] === soilZone);
  return {
    zones: own.length > 0 ? own : zones.filter(({ soilZones }) => soilZones.includes(soilZone)),
    strips: all.filter(({ proofStrip, soilZones }) => proofStrip && soilZones[0] === soilZone),
  };
}
