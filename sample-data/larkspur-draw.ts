/** The invented demonstration field: every file of it as bytes. */
import { strToU8 } from "fflate";
import { makeCounts } from "./counts.ts";
import { makeDigs } from "./digs.ts";
import { makeBoundary, makeManifest, makeSoilMap } from "./field-files.ts";
import { makePlantingLog } from "./planting-log.ts";
import { makeReadme } from "./readme.ts";
import { makeRowUnits } from "./row-units.ts";
import { makeWeather } from "./weather.ts";

export { makeLarkspurDrawTruth } from "./truth.ts";

/**
 * Files of the invented field Larkspur Draw by name, `field.json` among them. Nothing in it was measured.
 * @param seed whole number; the same seed gives the same bytes, another one other noise on the same ground.
 */
export function makeLarkspurDraw(seed: number): Record<string, Uint8Array> {
  return {
    "field.json": strToU8(makeManifest()),
    "planting.zip": makePlantingLog(seed, makeRowUnits(seed)),
    "soil.geojson": strToU8(makeSoilMap()),
    "counts.geojson": strToU8(makeCounts(seed)),
    "digs.csv": strToU8(makeDigs(seed)),
    "boundary.geojson": strToU8(makeBoundary()),
    "weather.csv": strToU8(makeWeather(seed)),
    "README.md": strToU8(makeReadme(seed)),
  };
}
