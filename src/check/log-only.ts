/** What of a field is read on the day. */
import type { Manifest } from "../manifest/manifest-schema.ts";

/** A manifest without the layers that a check does not look at. */
export function logOnly({
  soilZones,
  standCounts,
  digs,
  boundary,
  seedLots,
  weather,
  yield: harvest,
  ...rest
}: Manifest): Manifest {
  return rest;
}
