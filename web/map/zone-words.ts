/** What the legend says of a soil zone: its name, and what the soil map tells beyond that. */
import type { ZoneProperties } from "../../src/report/map-layers.ts";

/** "BeA: silt loam, somewhat poorly drained"; a texture that stands in the name is not said again. */
export function zoneWords({ name, texture, drainage }: ZoneProperties): string {
  const said = texture !== null && name.toLowerCase().includes(texture);
  const more = [said ? null : texture, drainage].filter(Boolean);
  return more.length > 0 ? `${name}: ${more.join(", ")}` : name;
}
