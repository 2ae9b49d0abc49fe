/** The ground of an invented field: bar, passes, soil and its map, planting days, seed lots, place on the earth. */
import { between, type Chance, chanceOf, gauss, oneOf } from "./chance.ts";
import { drawSurface, onKnots } from "./surface.ts";
import type { WorldSpec } from "./worlds.ts";

/** A place under one row unit in one pass. */
export interface Spot {
  /** 1..n in the order of planting. */
  pass: number;
  /** 1..n from the left in the direction of travel. */
  row: number;
  /** Across the passes and along them, m from a corner of the field. */
  across: number;
  along: number;
  /** Index of the true soil. */
  zone: number;
}

export interface Ground {
  spec: WorldSpec;
  rows: number;
  spacingM: number;
  barM: number;
  widthM: number;
  zoneNames: readonly string[];
  /** Soil that is damp by nature. */
  damp: number;
  zoneAt(across: number, along: number): number;
  /** Zones as mapped, off by some metres. */
  mapped: { zone: number; ring: [number, number][] }[];
  /** Day of each pass, 0-based, and the dates. */
  dayOfPass: Int32Array;
  days: readonly string[];
  /** Lot of each pass, 0-based; drawn even where no file tells the lots. */
  lotOfPass: Int32Array;
  lots: readonly string[];
  /** The spot of a row unit in a pass at a way along. */
  spotAt(pass: number, row: number, along: number): Spot;
  toDegrees(across: number, along: number): [number, number];
  fromDegrees(longitude: number, latitude: number): [number, number];
}

const SOILS = [
  ["Clay loam", "Silt loam", "Sandy loam"],
  ["Silty clay", "Loam", "Loamy sand"],
  ["Clay", "Silt loam"],
  ["Silty clay loam", "Sandy loam"],
] as const;
const LONGITUDE = -93;
const LATITUDE = 42.3;
/** Metres a degree of latitude near the field, and of longitude (series of the WGS 84 ellipsoid; from memory). */
const NORTH_M = 111_132.95 - 559.85 * Math.cos((2 * LATITUDE * Math.PI) / 180);
const EAST_M =
  111_412.88 * Math.cos((LATITUDE * Math.PI) / 180) - 93.5 * Math.cos((3 * LATITUDE * Math.PI) / 180);
const MAP_STEP_M = 20;

/** Draws the ground of a field; `name` names its streams of chance. */
export function drawGround(spec: WorldSpec, name: string): Ground {
  const chance = chanceOf(`${name}/ground`);
  const rows = oneOf(chance, spec.rowCounts);
  const spacingM = spec.rowSpacingIn * 0.0254;
  const barM = rows * spacingM;
  const widthM = spec.passCount * barM;
  const zoneNames = oneOf(chance, SOILS);
  const zoneAt = drawZones(spec, chance, zoneNames.length, widthM);
  const { dayOfPass, days, lotOfPass } = drawCalendar(spec, chance);
  const turn = (spec.bearing * Math.PI) / 180;
  const [sin, cos] = [Math.sin(turn), Math.cos(turn)];
  return {
    spec,
    rows,
    spacingM,
    barM,
    widthM,
    zoneNames,
    damp: 0,
    zoneAt,
    mapped: mapOf(spec, chanceOf(`${name}/map`), zoneAt, widthM),
    dayOfPass,
    days,
    lotOfPass,
    lots: ["Lot A4", "Lot B7"],
    spotAt(pass, row, along) {
      const right = (row - 0.5 - rows / 2) * spacingM;
      const across = (pass - 0.5) * barM + (pass % 2 === 1 ? right : -right);
      return { pass, row, across, along, zone: zoneAt(across, along) };
    },
    toDegrees: (across, along) => [
      LONGITUDE + (across * cos + along * sin) / EAST_M,
      LATITUDE + (along * cos - across * sin) / NORTH_M,
    ],
    fromDegrees(longitude, latitude) {
      const [east, north] = [(longitude - LONGITUDE) * EAST_M, (latitude - LATITUDE) * NORTH_M];
      return [east * cos - north * sin, east * sin + north * cos];
    },
  };
}

/** Soil by the height of a smooth surface, in wavy patches or in bands across the field. */
function drawZones(
  spec: WorldSpec,
  chance: Chance,
  count: number,
  widthM: number,
): (across: number, along: number) => number {
  const surface = onKnots(
    drawSurface(chance, "smooth", spec.soil === "patches" ? 90 : 60),
    widthM,
    spec.lengthM,
  );
  const tilt = between(chance, 0, 2 * Math.PI);
  const height =
    spec.soil === "patches"
      ? surface
      : (x: number, y: number) =>
          (3.2 * (Math.cos(tilt) * x + Math.sin(tilt) * y)) / Math.max(widthM, spec.lengthM) +
          0.25 * surface(x, y);
  const heights: number[] = [];
  for (let x = 0; x < widthM; x += 15) for (let y = 0; y < spec.lengthM; y += 15) heights.push(height(x, y));
  heights.sort((a, b) => a - b);
  const shares =
    count === 3 ? [between(chance, 0.25, 0.4), between(chance, 0.62, 0.78)] : [between(chance, 0.3, 0.6)];
  const cuts = shares.map((share) => heights[Math.floor(share * heights.length)]!);
  return (x, y) => {
    const here = height(x, y);
    const zone = cuts.findIndex((cut) => here < cut);
    return zone < 0 ? cuts.length : zone;
  };
}

/** The soil map: moved as a whole, its edges in blocks. */
function mapOf(spec: WorldSpec, chance: Chance, zoneAt: Ground["zoneAt"], widthM: number): Ground["mapped"] {
  const [dx, dy] = [spec.mapErrorM * 0.6 * gauss(chance), spec.mapErrorM * 0.6 * gauss(chance)];
  const mapped: Ground["mapped"] = [];
  for (let y = -MAP_STEP_M; y < spec.lengthM + MAP_STEP_M; y += MAP_STEP_M) {
    let from = -MAP_STEP_M;
    let zone = -1;
    const right = Math.ceil(widthM / MAP_STEP_M + 1) * MAP_STEP_M;
    for (let x = from; x <= right; x += MAP_STEP_M) {
      const here = x < right ? zoneAt(x + MAP_STEP_M / 2 + dx, y + MAP_STEP_M / 2 + dy) : -2;
      if (here === zone) continue;
      if (zone >= 0) {
        const top = y + MAP_STEP_M;
        mapped.push({
          zone,
          ring: [
            [from, y],
            [x, y],
            [x, top],
            [from, top],
            [from, y],
          ],
        });
      }
      [from, zone] = [x, here];
    }
  }
  return mapped;
}

/** Planting days in runs of passes, and a change of seed lot somewhere in the middle that is no change of day. */
function drawCalendar(spec: WorldSpec, chance: Chance) {
  const [fewest, most] = spec.plantingDays;
  const dayCount = fewest + Math.floor(chance() * (most - fewest + 1));
  const cuts = Array.from({ length: dayCount - 1 }, (_, k) =>
    Math.round(spec.passCount * ((k + 1) / dayCount + between(chance, -0.08, 0.08))),
  );
  const dayOfPass = Int32Array.from(
    { length: spec.passCount + 1 },
    (_, pass) => cuts.filter((cut) => pass > cut).length,
  );
  const lotCut = Math.round(spec.passCount * between(chance, 0.3, 0.7));
  const lotAt = cuts.some((cut) => Math.abs(cut - lotCut) < 3) ? lotCut + 4 : lotCut;
  const lotOfPass = Int32Array.from({ length: spec.passCount + 1 }, (_, pass) => (pass > lotAt ? 1 : 0));
  let date = 22 + Math.floor(chance() * 5);
  const days = Array.from({ length: dayCount }, () => {
    const day = new Date(Date.UTC(2026, 3, date)).toISOString().slice(0, 10);
    date += 1 + Math.floor(chance() * 3);
    return day;
  });
  return { dayOfPass, days, lotOfPass };
}
