/** Maps that show one place: where one is moved, the others follow at once. */
import type { Map as MapLibreMap } from "maplibre-gl";

const maps = new Set<MapLibreMap>();
let leading: MapLibreMap | null = null;

/** Puts a map among the linked ones, at the place they show. @returns how to take it out. */
export function link(map: MapLibreMap): () => void {
  const [other] = maps;
  if (other) map.jumpTo({ center: other.getCenter(), zoom: other.getZoom() });
  maps.add(map);
  const lead = () => {
    // A map that follows moves too; it leads nobody.
    if (leading !== null) return;
    leading = map;
    for (const each of maps) {
      if (each !== map) each.jumpTo({ center: map.getCenter(), zoom: map.getZoom() });
    }
    leading = null;
  };
  map.on("move", lead);
  return () => {
    map.off("move", lead);
    maps.delete(map);
  };
}

/** The middle of what the linked maps show; null without a map. */
export function middleShown(): [number, number] | null {
  const [map] = maps;
  return map ? (map.getCenter().toArray() as [number, number]) : null;
}

/** Shows a place, no nearer than it is shown already. */
export function showPlace([longitude, latitude]: [number, number]): void {
  const [map] = maps;
  map?.easeTo({ center: [longitude, latitude], zoom: Math.max(map.getZoom(), 16), duration: 0 });
}
