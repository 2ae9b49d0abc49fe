/** The invented demonstration field: every file of it as bytes. */
import { strToU8 } from "fflate";
import { makeCounts } from "./counts.ts";
import { makeDigs } from "./digs.ts";
import { makeBoundary, makeManifest, makeSoilMap } from "./field-files.ts";
import { GROUND, type Ground } from "./ground.ts";
import { makePlantingLog } from "./planting-log.ts";
import { makeReadme } from "./readme.ts";
import { makeRowUnits } from "./row-units.ts";
import { makeWeather } from "./weather.ts";

export { movedGround } from "./ground.ts";
export { makeLarkspurDrawTruth } from "./truth.ts";

/**
 * Files of the invented field Larkspur Draw by name, `field.json` among them. Nothing in it was measured.
 * @param seed whole number; the same seed gives the same bytes, another one other noise on the same ground.
 * @param ground ground with its places elsewhere; the README tells of the sample's own
 */
export function makeLarkspurDraw(seed: number, ground: Ground = GROUND): Record<string, Uint8Array> {
  return {
    "field.json": strToU8(makeManifest()),
    "planting.zip": makePlantingLog(seed, makeRowUnits(seed), ground),
    "soil.geojson": strToU8(makeSoilMap(ground)),
    "counts.geojson": strToU8(makeCounts(seed, ground)),
    "digs.csv": strToU8(makeDigs(seed, ground)),
    "boundary.geojson": strToU8(makeBoundary(ground)),
    "weather.csv": strToU8(makeWeather(seed)),
    "README.md": strToU8(makeReadme(seed)),
  };
}
