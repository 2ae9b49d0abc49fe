/** A small invented field on disk: a whole-bar log of a few passes, two soil zones, some counts. */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const METRES_PER_DEGREE_NORTH = 111_075;
const ORIGIN = { longitude: -93.6, latitude: 42 };
const METRES_PER_DEGREE_EAST = METRES_PER_DEGREE_NORTH * Math.cos((ORIGIN.latitude * Math.PI) / 180);
export const BAR_WIDTH_M = 18.288;
export const PASSES = 10;
export const LENGTH_M = 300;
const STEP_M = 3;

/** Degrees of a place given in metres east and north of the field's corner. */
export function degrees(east: number, north: number): [number, number] {
  return [
    ORIGIN.longitude + east / METRES_PER_DEGREE_EAST,
    ORIGIN.latitude + north / METRES_PER_DEGREE_NORTH,
  ];
}

export function point(coordinates: [number, number], properties: Record<string, unknown>) {
  return { type: "Feature", geometry: { type: "Point", coordinates }, properties };
}

export function square(east: number, north: number, width: number, height: number, properties: object) {
  const ring = [
    degrees(east, north),
    degrees(east + width, north),
    degrees(east + width, north + height),
    degrees(east, north + height),
    degrees(east, north),
  ];
  return { type: "Feature", geometry: { type: "Polygon", coordinates: [ring] }, properties };
}

export function collection(features: object[]) {
  return { type: "FeatureCollection", features };
}

/** Back and forth, one record every second or so; depth and margin vary a little, in a fixed way. */
export function plantingLog() {
  const features = [];
  const start = Date.UTC(2026, 3, 24, 14);
  let second = 0;
  for (let pass = 0; pass < PASSES; pass++) {
    for (let along = 0; along <= LENGTH_M; along += STEP_M) {
      const north = pass % 2 === 0 ? along : LENGTH_M - along;
      const wave = Math.sin(along / 17 + pass * 2.3) + 0.6 * Math.sin(along / 5.3 + pass);
      second += 1.25;
      features.push(
        point(degrees((pass + 0.5) * BAR_WIDTH_M, north), {
          TIME: new Date(start + second * 1000).toISOString(),
          SPEED_MPH: 5.3 + 0.05 * wave,
          DEPTH_IN: 2 + 0.05 * wave,
          MARGIN_LBF: 110 + 8 * wave,
          SWATH_FT: 60,
        }),
      );
    }
    second += 25;
  }
  return collection(features);
}

export const SMALL_MANIFEST = {
  schema: "evenstand/field/1",
  name: "Small Field",
  plantingLog: {
    file: "planting.geojson",
    columns: { seedingDepth: { column: "DEPTH_IN", unit: "in", source: "sensed" } },
  },
  soilZones: { file: "soil.geojson", zone: "texture" },
  standCounts: { file: "counts.geojson" },
  planter: { rowUnits: 24, rowSpacing: "30 in" },
  targets: { seedingDepth: "2.0 in", population: "34000 seeds/ac", downForceMargin: ["60 lbf", "160 lbf"] },
};

/** Content of the field's files by name. */
export function smallField(): Record<string, unknown> {
  const width = PASSES * BAR_WIDTH_M;
  const counts = [];
  for (let i = 0; i < 12; i++) {
    const [east, north] = [((i % 4) + 0.5) * (width / 4), (Math.floor(i / 4) + 0.5) * (LENGTH_M / 3)];
    counts.push(point(degrees(east, north), { PLANTS: 31 + (i % 3), ROW_LENGTH_FT: 17.424 }));
  }
  return {
    "field.json": SMALL_MANIFEST,
    "planting.geojson": plantingLog(),
    "soil.geojson": collection([
      square(-5, -5, width / 2 + 5, LENGTH_M + 10, { texture: "silt loam" }),
      square(width / 2, -5, width / 2 + 5, LENGTH_M + 10, { texture: "clay loam" }),
    ]),
    "counts.geojson": collection(counts),
  };
}

/** Writes the field, with some files replaced (text as it stands, objects as JSON) or left out (null). */
export function writeSmallField(folder: string, changes: Record<string, unknown> = {}): string {
  mkdirSync(folder, { recursive: true });
  for (const [name, content] of Object.entries({ ...smallField(), ...changes })) {
    if (content === null) continue;
    const raw = typeof content === "string" || content instanceof Uint8Array;
    writeFileSync(join(folder, name), raw ? content : JSON.stringify(content));
  }
  return folder;
}
