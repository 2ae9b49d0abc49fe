/** A round length for the scale of a map, and how long it is drawn. */
import type { UnitSystem } from "../../../src/quantities/format.ts";
import { groupThousands } from "../../words/format.ts";

/** Circumference of the sphere of Web Mercator (EPSG:3857), m, and the pixels of the whole world at zoom 0. */
const WORLD_M = 2 * Math.PI * 6_378_137;
const WORLD_PIXELS = 512;
/** The bar is at most this long, CSS pixels. */
const LONGEST = 130;

const FOOT_M = 0.3048;
const MILE_M = 1609.344;

/** @param latitude of the middle of the map, degrees */
export function scaleBar(
  latitude: number,
  zoom: number,
  system: UnitSystem,
): { pixels: number; said: string } {
  const metresPerPixel = (WORLD_M * Math.cos((latitude * Math.PI) / 180)) / (WORLD_PIXELS * 2 ** zoom);
  const longestM = LONGEST * metresPerPixel;
  const [unitM, unit] =
    system === "metric"
      ? longestM >= 1000
        ? [1000, "km"]
        : [1, "m"]
      : longestM >= MILE_M
        ? [MILE_M, "mi"]
        : [FOOT_M, "ft"];
  const length = roundBelow(longestM / unitM);
  return { pixels: (length * unitM) / metresPerPixel, said: `${groupThousands(String(length))} ${unit}` };
}

/** The largest of 1, 2, 3, 5 times a power of ten that is not above a number. */
function roundBelow(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most));
  const step = [5, 3, 2, 1].find((each) => each * power <= most) ?? 1;
  return Number((step * power).toPrecision(3));
}
