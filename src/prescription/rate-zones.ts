/** The rate zones of a prescription. */
import { doubledSignedArea } from "../ingest/rings.ts";
import type { DrawnGround, Ground, GroundLimits, GroundLoads } from "./ground.ts";

/** Draws the zones. First version: the outline as it stands with the load of ground without a soil zone. */
export function drawRateZones(ground: Ground, loads: GroundLoads, limits: GroundLimits): DrawnGround {
  const zones = ground.outline.slice(0, limits.mostPolygons).map((polygon, index) => ({
    number: index + 1,
    soilZones: ground.soilZones?.names.slice() ?? [],
    proofStrip: false,
    areaHa: polygon.reduce((sum, ring) => sum + doubledSignedArea(ring) / 2e4, 0),
    polygon,
    marginN: loads.elsewhere.marginN,
  }));
  return { zones, guards: [], notes: [] };
}
