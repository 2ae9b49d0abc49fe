/** The parts files play, in words. */
import type { LayerRole } from "../../src/manifest/manifest.ts";

export const ROLES_SAID: Readonly<Record<LayerRole, string>> = {
  plantingLog: "planter's log",
  soilZones: "soil map",
  standCounts: "stand counts",
  digs: "digs",
  boundary: "boundary",
  seedLots: "seed lots",
  weather: "weather",
  yield: "yield map",
};
