/** The files of an invented field, as a user would have them: log, soil map, counts, seed lots, manifest. */
import type { Manifest } from "../../../src/manifest/manifest-schema.ts";
import { type Chance, chanceOf, gauss } from "./chance.ts";
import { TARGET_PER_HA, type WrittenCount } from "./counting.ts";
import type { Ground, Spot } from "./ground.ts";
import type { Planting } from "./planting.ts";

export type DepthSource = "sensed" | "unnamed";

export interface FieldFiles {
  manifest: Manifest;
  files: Map<string, Uint8Array>;
}

const SEEDS_PER_HA_TO_ACRE = 1 / 2.471_054;
const POUNDS = 1 / 4.448_222;
const MILES_AN_HOUR = 2.236_936;

/** Writes the files; the log says what was planted as its sensors see it. */
export function writeFiles(
  ground: Ground,
  name: string,
  plantingAt: (spot: Spot) => Planting,
  counts: readonly WrittenCount[],
  options: { depthSource: DepthSource; hasLots: boolean },
): FieldFiles {
  const { spec } = ground;
  const text = new Map([
    ["planting.csv", logText(ground, chanceOf(`${name}/log`), plantingAt)],
    ["counts.csv", countsText(ground, counts)],
    ["soil.geojson", soilText(ground)],
  ]);
  if (options.hasLots) text.set("lots.geojson", lotsText(ground));
  const manifest: Manifest = {
    name: "Invented field",
    crop: "corn",
    plantingLog: {
      file: "planting.csv",
      columns: {
        time: { column: "time" },
        speed: { column: "speed_mph", unit: "mi/h" },
        misses: { column: "skips_pct", unit: "%" },
        population: { column: "seeds_ac", unit: "seeds/ac" },
        ...(spec.layout === "row" ? { rowUnit: { column: "row_unit" } } : {}),
        ...(spec.layout === "section" ? { section: { column: "section" } } : {}),
        ...(spec.hasDepthAndLoad
          ? {
              seedingDepth: {
                column: "depth_in",
                unit: "in",
                ...(options.depthSource === "sensed" ? { source: "sensed" as const } : {}),
              },
              downForceMargin: { column: "load_lbf", unit: "lbf" },
            }
          : {}),
      },
    },
    soilZones: { file: "soil.geojson", zone: "soil" },
    standCounts: { file: "counts.csv" },
    ...(options.hasLots ? { seedLots: { file: "lots.geojson", zone: "lot" } } : {}),
    planter: {
      rowUnits: ground.rows,
      rowSpacing: `${spec.rowSpacingIn} in`,
      depthSensedRows: "all",
      loadSensedRows: "all",
    },
    targets: { seedingDepth: "2.0 in", population: "34000 seeds/ac", speed: "5.2 mi/h" },
  };
  const encoder = new TextEncoder();
  return { manifest, files: new Map([...text].map(([file, content]) => [file, encoder.encode(content)])) };
}

function logText(ground: Ground, chance: Chance, plantingAt: (spot: Spot) => Planting): string {
  const { spec } = ground;
  const parts = spec.layout === "row" ? ground.rows : spec.layout === "section" ? 4 : 1;
  const rowsOfPart = ground.rows / parts;
  const part = spec.layout === "row" ? "row_unit" : "section";
  const lines = [
    `lon,lat,time,${spec.layout === "bar" ? "" : `${part},`}speed_mph,${spec.hasDepthAndLoad ? "depth_in,load_lbf," : ""}skips_pct,seeds_ac`,
  ];
  const moments = Math.floor(spec.lengthM / spec.stepM);
  let [day, seconds] = [-1, 0];
  for (let pass = 1; pass <= spec.passCount; pass++) {
    if (ground.dayOfPass[pass] !== day) {
      day = ground.dayOfPass[pass]!;
      seconds = Date.parse(`${ground.days[day]}T14:00:00Z`) / 1000;
    }
    for (let moment = 0; moment < moments; moment++) {
      const along = ((pass % 2 === 1 ? moment : moments - 1 - moment) + 0.5) * spec.stepM;
      const time = new Date(1000 * Math.round(seconds)).toISOString().slice(0, 19);
      const pace = 0.03 * gauss(chance);
      let speed = 2.3;
      for (let k = 0; k < parts; k++) {
        // Two rows stand for a part that has more.
        const spots = rowsOfPart === 1 ? [k + 1] : [0.25, 0.75].map((at) => Math.ceil((k + at) * rowsOfPart));
        const own = spots.map((row) => plantingAt(ground.spotAt(pass, row, along)));
        const mean = (pick: (planting: Planting) => number): number =>
          own.reduce((sum, planting) => sum + pick(planting), 0) / own.length;
        const sensed = parts === 1 ? 2 : 1;
        speed = mean((p) => p.speedMetresPerSecond) + pace;
        const middle = (k + 0.5) * rowsOfPart + 0.5;
        const at = ground.spotAt(pass, middle, along);
        const misses = Math.max(
          0,
          mean((p) => p.loggedMisses) + (0.04 / Math.sqrt(rowsOfPart + 4)) * gauss(chance),
        );
        const depth = mean((p) => p.depthMm) + (mean((p) => p.depthSdMm) / Math.sqrt(sensed)) * gauss(chance);
        const load = Math.max(
          0,
          mean((p) => p.loadN) + (0.7 * mean((p) => p.loadSdN) * gauss(chance)) / sensed,
        );
        const seeds = TARGET_PER_HA * mean((p) => p.rate) * (1 - misses) * (1 + 0.006 * gauss(chance));
        const [longitude, latitude] = ground.toDegrees(at.across, at.along);
        lines.push(
          [
            longitude.toFixed(7),
            latitude.toFixed(7),
            time,
            ...(spec.layout === "bar" ? [] : [k + 1]),
            (speed * MILES_AN_HOUR).toFixed(2),
            ...(spec.hasDepthAndLoad ? [(depth / 25.4).toFixed(2), (load * POUNDS).toFixed(1)] : []),
            (100 * misses).toFixed(1),
            Math.round(seeds * SEEDS_PER_HA_TO_ACRE),
          ].join(","),
        );
      }
      seconds += spec.stepM / speed;
    }
    seconds += 35;
  }
  return lines.join("\n");
}

function countsText(ground: Ground, counts: readonly WrittenCount[]): string {
  const namesRow = counts.some(({ rowUnit }) => rowUnit > 0);
  const lines = [`lon,lat,plants,row_length_m,rows_counted${namesRow ? ",row_unit" : ""}`];
  for (const { across, along, plants, lengthM, rowsCounted, rowUnit } of counts) {
    const [longitude, latitude] = ground.toDegrees(across, along);
    lines.push(
      [
        longitude.toFixed(7),
        latitude.toFixed(7),
        plants,
        lengthM.toFixed(3),
        rowsCounted,
        ...(namesRow ? [rowUnit] : []),
      ].join(","),
    );
  }
  return lines.join("\n");
}

function soilText(ground: Ground): string {
  return polygons(
    ground,
    ground.mapped.map(({ zone, ring }) => ({ properties: { soil: ground.zoneNames[zone]! }, ring })),
  );
}

function lotsText(ground: Ground): string {
  const change = ground.lotOfPass.indexOf(1, 1) - 1;
  const [left, right] = [-30, ground.widthM + 30];
  const box = (from: number, to: number): [number, number][] => [
    [from, -30],
    [to, -30],
    [to, ground.spec.lengthM + 30],
    [from, ground.spec.lengthM + 30],
    [from, -30],
  ];
  return polygons(ground, [
    { properties: { lot: ground.lots[0]! }, ring: box(left, change * ground.barM) },
    { properties: { lot: ground.lots[1]! }, ring: box(change * ground.barM, right) },
  ]);
}

function polygons(
  ground: Ground,
  parts: readonly { properties: Record<string, string>; ring: readonly [number, number][] }[],
): string {
  const features = parts.map(({ properties, ring }) => ({
    type: "Feature",
    properties,
    geometry: {
      type: "Polygon",
      coordinates: [ring.map(([x, y]) => ground.toDegrees(x, y).map((d) => Number(d.toFixed(7))))],
    },
  }));
  return JSON.stringify({ type: "FeatureCollection", features });
}
