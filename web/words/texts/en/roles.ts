/** The parts files play. */
export const roles = {
  plantingLog: "planter's log",
  soilZones: "soil map",
  standCounts: "stand counts",
  digs: "digs",
  boundary: "boundary",
  seedLots: "seed lots",
  weather: "weather",
  yield: "yield map",
};
