/** A distance measured on the map: places clicked one after the other, and the way along them. */
import { computed, signal } from "@preact/signals";
import { LngLat } from "maplibre-gl";

/** True while clicks on the map set points. */
export const measuring = signal(false);
export const measuredPlaces = signal<readonly [number, number][]>([]);

/** Metres along the places, on a sphere of the Earth's mean radius (as the map library has it). */
export const measuredM = computed(() => lengthM(measuredPlaces.value));

export function lengthM(places: readonly [number, number][]): number {
  let sum = 0;
  for (let i = 1; i < places.length; i++) {
    sum += LngLat.convert(places[i - 1]!).distanceTo(LngLat.convert(places[i]!));
  }
  return sum;
}

export function addPlace(place: [number, number]): void {
  measuredPlaces.value = [...measuredPlaces.value, place];
}

export function takePlaceBack(): void {
  measuredPlaces.value = measuredPlaces.value.slice(0, -1);
}

export function endMeasuring(): void {
  measuring.value = false;
  measuredPlaces.value = [];
}

/** The points and the line between them, for the map. */
export function measureData(places: readonly [number, number][]): GeoJSON.FeatureCollection {
  const features: GeoJSON.Feature[] = places.map((coordinates) => ({
    type: "Feature",
    properties: {},
    geometry: { type: "Point", coordinates },
  }));
  if (places.length > 1) {
    const coordinates = places.map((place) => [...place]);
    features.push({ type: "Feature", properties: {}, geometry: { type: "LineString", coordinates } });
  }
  return { type: "FeatureCollection", features };
}
