/** The parts files play. */
import type { roles as english } from "../en/roles.ts";

export const roles: Partial<typeof english> = {
  plantingLog: "Protokoll der Sämaschine",
  soilZones: "Bodenkarte",
  standCounts: "Bestandszählungen",
  digs: "Grabungen",
  boundary: "Schlaggrenze",
  seedLots: "Saatgutpartien",
  weather: "Wetter",
  yield: "Ertragskarte",
};
