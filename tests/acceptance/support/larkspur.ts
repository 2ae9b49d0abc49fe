/** The invented field, loaded from memory and analysed, and what was put into it. */
import { readdirSync, readFileSync } from "node:fs";
import { strFromU8 } from "fflate";
import { makeLarkspurDraw } from "../../../sample-data/larkspur-draw.ts";
import type { LarkspurDrawTruth } from "../../../sample-data/truth.ts";
import { loadField } from "../../../src/field/load.ts";
import type { Finding } from "../../../src/findings/findings-document.ts";
import { parseManifest } from "../../../src/manifest/manifest.ts";
import type { Field } from "../../../src/vocabulary/field.ts";

type Files = Record<string, Uint8Array>;

/** Seed 1 is the set of committed files, read as they stand; the others are made in memory. */
export function larkspurFiles(seed: number): Files {
  if (seed !== 1) return makeLarkspurDraw(seed);
  const folder = new URL("../../../sample-data/larkspur-draw/", import.meta.url);
  return Object.fromEntries(
    readdirSync(folder).map((name) => [name, new Uint8Array(readFileSync(new URL(name, folder)))]),
  );
}

/** Loads the files; `leaveOut` removes layers from the manifest. */
export async function loadLarkspur(
  files: Files,
  leaveOut: readonly ("standCounts" | "digs")[] = [],
): Promise<Field> {
  const manifest = JSON.parse(strFromU8(files["field.json"]!)) as Record<string, unknown>;
  for (const role of leaveOut) delete manifest[role];
  return loadField(parseManifest(manifest), (path) => Promise.resolve([{ name: path, bytes: files[path]! }]));
}

/** Degrees of longitude and latitude of about one metre at the field. */
function metreInDegrees(latitude: number): [number, number] {
  return [1 / (111_320 * Math.cos((latitude * Math.PI) / 180)), 1 / 111_320];
}

/** True where the point lies in a polygon of the finding (even-odd over the rings of each). */
function findingContains(finding: Finding, longitude: number, latitude: number): boolean {
  return finding.where.geometry.coordinates.some((rings) => {
    let inside = false;
    for (const ring of rings) {
      for (let i = 1; i < ring.length; i++) {
        const [ax, ay] = ring[i - 1] as [number, number];
        const [bx, by] = ring[i] as [number, number];
        if (ay > latitude === by > latitude) continue;
        if (longitude < ax + ((latitude - ay) / (by - ay)) * (bx - ax)) inside = !inside;
      }
    }
    return inside;
  });
}

/** Intersection over union of the finding's outline and the true place, by points `stepM` apart over the field. */
export function overlap(
  finding: Finding,
  truth: LarkspurDrawTruth,
  contains: (longitude: number, latitude: number) => boolean,
  stepM = 4,
): number {
  const corners = truth.field.lonLat.flat(2);
  const longitudes = corners.map(([longitude]) => longitude);
  const latitudes = corners.map(([, latitude]) => latitude);
  const [west, east] = [Math.min(...longitudes), Math.max(...longitudes)];
  const [south, north] = [Math.min(...latitudes), Math.max(...latitudes)];
  const [eastStep, northStep] = metreInDegrees(south).map((metre) => metre * stepM) as [number, number];
  let both = 0;
  let either = 0;
  for (let latitude = south + northStep / 2; latitude < north; latitude += northStep) {
    for (let longitude = west + eastStep / 2; longitude < east; longitude += eastStep) {
      const found = findingContains(finding, longitude, latitude);
      const real = contains(longitude, latitude);
      if (found && real) both++;
      if (found || real) either++;
    }
  }
  return either > 0 ? both / either : 0;
}
