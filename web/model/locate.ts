/** Where the device is, as its browser tells it: shown on the map, followed until it is asked to stop; sent nowhere. */
import { signal } from "@preact/signals";
import { LngLat } from "maplibre-gl";
import type { UnitSystem } from "../../src/quantities/format.ts";
import { formatQuantity, groupThousands } from "../words/format.ts";
import { showPlace } from "./linked.ts";
import * as state from "./state.ts";

export interface Here {
  place: [number, number];
  /** Radius the place is good to, as the device says, metres. */
  accuracyM: number;
}

export const here = signal<Here | null>(null);
export const locating = signal(false);
/** What there is to say of it: how good it is, how far away, or why there is none. */
export const locateSaid = signal("");

/** Farther from the field than this the map stays where it is. Our judgement. */
const NEAR_M = 1500;

let watch: number | null = null;

const REFUSED: Readonly<Record<number, string>> = {
  1: "The browser was not allowed to tell where you are. Allow it for this page in the browser's settings, or find the place by the coordinates on the field sheet.",
  2: "The device does not know where it is just now. Under open sky it comes back by itself.",
  3: "The device took too long to find where it is. Under open sky it is quicker; it goes on trying.",
};

export function startLocating(): void {
  if (!("geolocation" in navigator)) {
    locateSaid.value = "This browser cannot tell where you are.";
    return;
  }
  locating.value = true;
  locateSaid.value = "Finding where you are…";
  let first = true;
  watch = navigator.geolocation.watchPosition(
    ({ coords }) => {
      const place: [number, number] = [coords.longitude, coords.latitude];
      here.value = { place, accuracyM: coords.accuracy };
      const away = metresFromField(place);
      const system = state.unitSystem.value;
      locateSaid.value =
        away === 0
          ? `You are here, give or take ${formatQuantity(coords.accuracy, "length", system)}.`
          : `You are ${distanceSaid(away, system)} from the field.`;
      if (first && away < NEAR_M) showPlace(place);
      first = false;
    },
    (error) => {
      // Refused it ends; out of sight of the sky it goes on and may come back.
      if (error.code === error.PERMISSION_DENIED) stopLocating();
      locateSaid.value = REFUSED[error.code] ?? "The browser cannot tell where you are.";
    },
    { enableHighAccuracy: true, maximumAge: 10_000, timeout: 30_000 },
  );
}

export function stopLocating(): void {
  if (watch !== null) navigator.geolocation.clearWatch(watch);
  watch = null;
  locating.value = false;
  here.value = null;
  locateSaid.value = "";
}

/** Miles or kilometres from a mile on. */
function distanceSaid(metres: number, system: UnitSystem): string {
  if (metres < 1609.344) return formatQuantity(metres, "length", system);
  const [far, unit] = system === "farm" ? [metres / 1609.344, "mi"] : [metres / 1000, "km"];
  return `${groupThousands(far.toFixed(1))} ${unit}`;
}

/** 0 inside the box around the field. */
function metresFromField([longitude, latitude]: [number, number]): number {
  const bounds = state.layers.value?.bounds;
  if (!bounds) return 0;
  const [west, south, east, north] = bounds;
  const nearest = new LngLat(
    Math.min(Math.max(longitude, west), east),
    Math.min(Math.max(latitude, south), north),
  );
  return nearest.distanceTo(new LngLat(longitude, latitude));
}
