/** The parts files play. */
import type { roles as english } from "../en/roles.ts";

export const roles: Partial<typeof english> = {
  plantingLog: "registro de la sembradora",
  soilZones: "mapa de suelos",
  standCounts: "conteos de plantas",
  digs: "excavaciones",
  boundary: "límite del lote",
  seedLots: "lotes de semilla",
  weather: "tiempo",
  yield: "mapa de rendimiento",
};
