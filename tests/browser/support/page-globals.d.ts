import type { Map as MapLibreMap } from "maplibre-gl";

declare global {
  interface Window {
    /** The page's map, put there for tests. */
    evenstandMap: MapLibreMap;
    evenstandSeasonMap: MapLibreMap;
    /** The map beside it, while there is one. */
    evenstandSecondMap: MapLibreMap;
    evenstandMapErrors: string[];
  }
}
