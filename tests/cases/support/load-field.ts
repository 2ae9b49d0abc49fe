/**
 * An invented field whose stand follows the load on the gauge wheels: three strips of soil, a whole-bar log with load,
 * added force and unit weight that fit each other, counts of four rows. Each case spoils one thing.
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { normal, seededRandom } from "../../../src/numerics/random.ts";
import { collection, degrees, point, square } from "../../support/small-field.ts";

const BAR_M = 18.288;
const PASSES = 18;
const LENGTH_M = 320;
const STEP_M = 4;
const WIDTH_M = PASSES * BAR_M;
/** Soil's names from west to east. */
export const SOILS = ["silty clay", "silt loam", "sandy loam"] as const;
export type Soil = (typeof SOILS)[number];

/** One record of the log as it is logged, pounds. */
interface Logged {
  loadLbf: number;
  forceLbf: number;
}

export interface LoadFieldOptions {
  seed?: number;
  /** Mean load by soil, lb. */
  loadLbf?: Partial<Record<Soil, number>>;
  /** Added force, lb, the same over the field. */
  forceLbf?: number;
  counts?: number;
  /** Changes a record as it is logged, not as it was planted. */
  logged?: (record: Logged, place: { soil: Soil; pass: number; k: number }) => Logged;
  /** Names the soil map gives to the strips. */
  names?: readonly string[];
  /** Share of the width the soil map and the boundary cover, from the west; null for no boundary. */
  soilShare?: number;
  boundaryShare?: number | null;
  boundaryEast?: number;
  loadColumn?: string;
  forceColumn?: string | null;
  columns?: Record<string, unknown>;
  prescription?: Record<string, unknown>;
  planter?: Record<string, unknown>;
  targets?: Record<string, unknown>;
  name?: string;
}

/** Writes the field into a folder and returns it. Planted a day after 22 mm of rain: clay was damp. */
export function writeLoadField(folder: string, options: LoadFieldOptions = {}): string {
  const {
    seed = 1,
    forceLbf = 150,
    counts = 72,
    logged = (record) => record,
    names = SOILS,
    soilShare = 1,
    boundaryShare = null,
    boundaryEast = 0,
    loadColumn = "MARGIN_LBF",
    forceColumn = "DOWNFORCE_LBF",
  } = options;
  const mean = { "silty clay": 216, "silt loam": 112, "sandy loam": 118, ...options.loadLbf };
  const random = seededRandom(seed);
  const soilAt = (east: number): Soil =>
    SOILS[Math.min(SOILS.length - 1, Math.floor((SOILS.length * east) / WIDTH_M))]!;
  const loadAt = (east: number, north: number): number =>
    Math.max(
      5,
      mean[soilAt(east)] + 38 * Math.sin(north / 31 + east / 47) + 14 * Math.sin(north / 9 + east / 13),
    );
  const features = [];
  const start = Date.UTC(2026, 3, 24, 14);
  let second = 0;
  for (let pass = 0; pass < PASSES; pass++) {
    for (let k = 0; k * STEP_M <= LENGTH_M; k++) {
      const north = pass % 2 === 0 ? k * STEP_M : LENGTH_M - k * STEP_M;
      const east = (pass + 0.5) * BAR_M;
      const soil = soilAt(east);
      second += 1.75;
      const record = logged(
        { loadLbf: Math.max(1, loadAt(east, north) + 8 * normal(random)), forceLbf },
        { soil, pass, k },
      );
      features.push(
        point(degrees(east, north), {
          TIME: new Date(start + second * 1000).toISOString(),
          SPEED_MPH: 5.1 + 0.02 * normal(random),
          DEPTH_IN: 2 + 0.04 * normal(random),
          [loadColumn]: Number(record.loadLbf.toFixed(1)),
          ...(forceColumn ? { [forceColumn]: Number(record.forceLbf.toFixed(1)) } : {}),
          SWATH_FT: 60,
        }),
      );
    }
    second += 25;
  }
  const spots = Array.from({ length: counts }, (_, spot) => {
    const pass = spot % PASSES;
    const east = (pass + 0.5) * BAR_M;
    const north = 10 + random() * (LENGTH_M - 20);
    const load = loadAt(east, north);
    const high = soilAt(east) === "silty clay" ? 100 : 230;
    const stand = 0.94 - 0.0018 * Math.max(0, 45 - load) - 0.0011 * Math.max(0, load - high);
    let plants = 0;
    for (let seedling = 0; seedling < 136; seedling++) if (random() < stand) plants++;
    return point(degrees(east, north), { PLANTS: plants, ROWS_COUNTED: 4, ROW_LENGTH_FT: 17.424 });
  });
  const strip = WIDTH_M / SOILS.length;
  const soilWidth = soilShare * (WIDTH_M + 10);
  const strips = names.flatMap((texture, k) => {
    const west = k === 0 ? -5 : k * strip;
    const east = Math.min(soilWidth - 5, k === names.length - 1 ? WIDTH_M + 5 : (k + 1) * strip);
    return east > west ? [square(west, -5, east - west, LENGTH_M + 10, { texture })] : [];
  });
  const rain = Array.from({ length: 14 }, (_, day) => {
    const date = `2026-04-${String(day + 11).padStart(2, "0")}`;
    return `${date},${date === "2026-04-23" ? 22 : 0},5,16,11`;
  });
  const manifest = {
    schema: "evenstand/field/1",
    name: options.name ?? "Case field",
    crop: "corn",
    planted: "2026-04-24",
    plantingLog: {
      file: "planting.geojson",
      columns: {
        seedingDepth: { column: "DEPTH_IN", unit: "in", source: "sensed" },
        downForceMargin: { column: loadColumn, unit: "lbf" },
        ...(forceColumn ? { downForce: { column: forceColumn, unit: "lbf" } } : {}),
        ...options.columns,
      },
    },
    soilZones: { file: "soil.geojson", zone: "texture" },
    ...(counts > 0 ? { standCounts: { file: "counts.geojson" } } : {}),
    ...(boundaryShare === null ? {} : { boundary: { file: "boundary.geojson" } }),
    weather: { file: "weather.csv" },
    planter: { rowUnits: 24, rowSpacing: "30 in", rowUnitWeight: "165 lbf", ...options.planter },
    targets: { seedingDepth: "2.0 in", population: "34000 seeds/ac", ...options.targets },
    ...(options.prescription ? { prescription: options.prescription } : {}),
  };
  const files: Record<string, string | object> = {
    "field.json": manifest,
    "planting.geojson": collection(features),
    "soil.geojson": collection(strips),
    "weather.csv": `date,rain_mm,tmin_c,tmax_c,soil_c\n${rain.join("\n")}\n`,
    ...(counts > 0 ? { "counts.geojson": collection(spots) } : {}),
    ...(boundaryShare === null
      ? {}
      : {
          "boundary.geojson": collection([
            square(-5 + boundaryEast, -5, boundaryShare * (WIDTH_M + 10), LENGTH_M + 10, {}),
          ]),
        }),
  };
  mkdirSync(folder, { recursive: true });
  for (const [name, content] of Object.entries(files))
    writeFileSync(join(folder, name), typeof content === "string" ? content : JSON.stringify(content));
  return folder;
}
