/** The small field with one place where the gauge wheels ran light, analysed from memory. */

import { loadField } from "../../src/field/load.ts";
import type { Analysis } from "../../src/findings/analysis.ts";
import { analyseField } from "../../src/jobs/analyse.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import { plantingLog, smallField } from "./small-field.ts";

/** The east half between 90 and 210 m from the south, metres from the field's corner. */
const LIGHT = { west: 91, south: 90, north: 210 };
const METRES_PER_DEGREE = 111_075;

/** True where the wheels ran light, or within `marginM` of it. */
export function isLight([longitude, latitude]: readonly [number, number], marginM = 0): boolean {
  const east = (longitude + 93.6) * METRES_PER_DEGREE * Math.cos((42 * Math.PI) / 180);
  const north = (latitude - 42) * METRES_PER_DEGREE;
  return east > LIGHT.west - marginM && north > LIGHT.south - marginM && north < LIGHT.north + marginM;
}

function lightLog(): object {
  const log = plantingLog();
  for (const { geometry, properties } of log.features as ReturnType<typeof Object>[]) {
    if (!isLight(geometry.coordinates)) continue;
    properties.MARGIN_LBF -= 98;
    properties.DEPTH_IN -= 0.6;
  }
  return log;
}

/** Analyses it with some files replaced: text as it stands, objects as JSON. */
export async function analysed(changes: Record<string, unknown>, manifest: object): Promise<Analysis> {
  const files: Record<string, unknown> = { ...smallField(), "planting.geojson": lightLog(), ...changes };
  const encoder = new TextEncoder();
  const provide = async (name: string) => {
    const content = files[name];
    return [{ name, bytes: encoder.encode(typeof content === "string" ? content : JSON.stringify(content)) }];
  };
  return analyseField(await loadField(parseManifest(manifest), provide));
}
