/**
 * Invented fields whose response of stand to load is known, to judge the prescription on. Three soil zones, a bar log,
 * counts by hand. Worlds:
 *   trapezoid: knees and slopes drawn about figures of the world's own, other than the tool's prior;
 *   moved: the same with both knees 55 lb off, up or down, the lower one no lower than 20 lb;
 *   smooth: no knees at all: the loss falls off exponentially with load and rises with its square.
 * Loads vary over the ground by a slow surface and by noise; the stand by an exponential field and by counting. All
 * figures are our own invention.
 */

import { textureOf } from "../../../src/field/texture.ts";
import { normalDensity } from "../../../src/numerics/distributions.ts";
import { normal, type Random, seededRandom } from "../../../src/numerics/random.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../../src/quantities/units.ts";
import type { Field } from "../../../src/vocabulary/field.ts";
import { buildField } from "../../support/field-builder.ts";
import { standCounts } from "../worlds/make-field.ts";
import { between, binomial, randomSurface } from "../worlds/noise.ts";

export const WORLDS = ["trapezoid", "moved", "smooth"] as const;
export type World = (typeof WORLDS)[number];

/** Tuning seeds are for adjusting the tool, judging seeds for the table; one seed a field. */
export const FIRST_SEED = { tuning: 20_000, judging: 820_000 } as const;

/** Share of the stand lost at a load, lb, held exactly. */
export type Loss = (loadLbf: number) => number;

export interface TrueZone {
  name: string;
  /** Expected loss at a target, lb, held with the control error. */
  lossAt: Loss;
  /** Loss at a load on the wheels, lb, as it is at one place. */
  lossHeldAt: Loss;
  /** Mean loss over the loads of last spring. */
  lossToday: number;
  areaShare: number;
}

/** A logged place of the field: where it is, its soil zone, and last spring's load there, lb. */
export interface TruePlace {
  x: number;
  y: number;
  zone: number;
  loadLbf: number;
}

const ROW_SPACING_M = 0.762;
const ROWS = 24;
const BAR_M = ROWS * ROW_SPACING_M;
const PASSES = 30;
const STEP_M = 4;
const LENGTH_M = 400;
const TARGET_PER_HA = 84_016;
const CONTROL_LBF = 28;

const SOILS = [
  { name: "Sandy loam", isClay: false },
  { name: "Silt loam", isClay: false },
  { name: "Clay", isClay: true },
] as const;

/** Middle of the knees by state of the ground, lb: the world's own figures. */
const KNEES = {
  dry: { low: 85, high: 255 },
  fit: { low: 50, high: 170 },
  damp: { low: 38, high: 100 },
} as const;

/** Every third field was planted after three weeks without rain; the others after a shower that left clay damp. */
const PLANTED = "2026-04-24";

export interface TrueField {
  field: Field;
  zones: TrueZone[];
  /** All logged places, alike in area. */
  places: TruePlace[];
}

/** Added force of last spring, lb a row unit, the same everywhere. */
export const FORCE_LBF = 150;

/** Makes a field with the given number of counts; the same arguments give the same field. */
export function makeField(world: World, seed: number, spotCount: number): TrueField {
  const random = seededRandom(seed);
  const off = world === "moved" ? (random() < 0.5 ? -55 : 55) : 0;
  const dry = random() < 1 / 3;
  const held = SOILS.map(({ isClay }) =>
    drawLoss(random, world, KNEES[dry ? "dry" : isClay ? "damp" : "fit"], off),
  );
  const levels = SOILS.map(() => between(random, 0.9, 0.97));
  const general = between(random, 45, 200);
  const settings = SOILS.map(() => Math.max(15, general + 35 * normal(random)));
  const surface = randomSurface(random, 3, 60);
  const spread = between(random, 32, 55);
  const waves = [between(random, 0, 6), between(random, 0, 6)];
  const zoneAt = (x: number, y: number): number => {
    const share =
      x / (PASSES * BAR_M) + 0.06 * Math.sin(y / 70 + waves[0]!) + 0.03 * Math.sin(y / 23 + waves[1]!);
    return share < 0.34 ? 0 : share < 0.67 ? 1 : 2;
  };
  const loadAt = (x: number, y: number): number =>
    Math.max(0, settings[zoneAt(x, y)]! + spread * surface(x, y));

  const log = { x: [] as number[], y: [] as number[], time: [] as number[], margin: [] as number[] };
  const places: TruePlace[] = [];
  let seconds = 1_777_000_000;
  const sum = SOILS.map(() => ({ loss: 0, count: 0 }));
  for (let pass = 0; pass < PASSES; pass++) {
    for (let k = 0; k < LENGTH_M / STEP_M; k++) {
      const x = (pass + 0.5) * BAR_M;
      const along = (k + 0.5) * STEP_M;
      const y = pass % 2 === 0 ? along : LENGTH_M - along;
      seconds += 2;
      log.x.push(x);
      log.y.push(y);
      log.time.push(seconds);
      const load = loadAt(x, y);
      log.margin.push(Math.max(0, load + 8 * normal(random)));
      places.push({ x, y, zone: zoneAt(x, y), loadLbf: load });
      const own = sum[zoneAt(x, y)]!;
      own.loss += held[zoneAt(x, y)]!(load);
      own.count++;
    }
    seconds += 40;
  }
  const every = (value: () => number): Float64Array => Float64Array.from(log.x, value);
  const field = buildField({
    x: log.x,
    y: log.y,
    layout: "bar",
    hasClockTime: true,
    planter: { rowUnits: ROWS, rowSpacingM: ROW_SPACING_M },
    targets: { seedingDepthMm: 50.8, populationPerHa: TARGET_PER_HA },
    values: {
      time: log.time,
      downForceMargin: Float64Array.from(log.margin, (load) => load * LBF),
      downForce: every(() => FORCE_LBF * LBF),
      seedingDepth: every(() => 51 + 1.5 * normal(random)),
      speed: every(() => 2.3 + 0.05 * normal(random)),
      population: every(() => TARGET_PER_HA * (1 + 0.006 * normal(random))),
      swathWidth: every(() => BAR_M),
    },
  });
  field.planted = PLANTED;
  field.weather = weatherBefore(dry ? 0 : 14);
  field.soilZones = mapOf(zoneAt);
  field.standCounts = countStand(random, spotCount, (x, y) => {
    const zone = zoneAt(x, y);
    return levels[zone]! - held[zone]!(loadAt(x, y));
  });
  const total = sum.reduce((all, { count }) => all + count, 0);
  return {
    field,
    places,
    zones: SOILS.map(({ name }, z) => ({
      name,
      lossAt: blurred(held[z]!),
      lossHeldAt: held[z]!,
      lossToday: sum[z]!.loss / sum[z]!.count,
      areaShare: sum[z]!.count / total,
    })),
  };
}

function drawLoss(random: Random, world: World, knees: { low: number; high: number }, off: number): Loss {
  if (world === "smooth") {
    const contact = 0.12 * Math.exp(0.35 * normal(random));
    const reach = 0.7 * knees.low * Math.exp(0.2 * normal(random));
    const press = 0.035 * (100 / knees.high) ** 2 * Math.exp(0.35 * normal(random));
    return (load) => contact * Math.exp(-load / reach) + press * (load / 100) ** 2;
  }
  // Wheels that do not touch hold no depth, and there is a window of loads that do no harm.
  const low = Math.max(20, knees.low + off + 13 * normal(random));
  const high = Math.max(low + 50, knees.high + off + 35 * normal(random));
  const lowSlope = 0.0018 * Math.exp(0.4 * normal(random));
  const highSlope = 0.0008 * Math.exp(0.4 * normal(random));
  return (load) => lowSlope * Math.max(0, low - load) + highSlope * Math.max(0, load - high);
}

/** The loss at a target held with the control error: its mean over the normal law, by quadrature. */
function blurred(loss: Loss): Loss {
  return (target) => {
    let [sum, weight] = [0, 0];
    for (let z = -3; z <= 3; z += 0.1) {
      const w = normalDensity(z);
      sum += w * loss(Math.max(0, target + CONTROL_LBF * z));
      weight += w;
    }
    return sum / weight;
  };
}

/** Twenty-four days of weather with at most one shower two days before planting. */
function weatherBefore(showerMm: number): NonNullable<Field["weather"]> {
  const time = Array.from({ length: 24 }, (_, day) => `2026-04-${String(day + 1).padStart(2, "0")}`);
  const unknown = new Float64Array(24).fill(Number.NaN);
  return {
    time,
    rainMm: Float64Array.from(time, (date) => (date === "2026-04-22" ? showerMm : 0)),
    minimumC: unknown,
    maximumC: unknown,
    soilC: unknown,
  };
}

/** The soil map: strips across, true to the ground within a few metres. */
function mapOf(zoneAt: (x: number, y: number) => number): Field["soilZones"] {
  const polygons: { zone: number; rings: [number, number][][] }[] = [];
  const step = 10;
  for (let y = 0; y < LENGTH_M; y += step) {
    let from = -5;
    let last = zoneAt(0, y + step / 2);
    for (let x = 0; x <= PASSES * BAR_M + 5; x += 3) {
      const here = x > PASSES * BAR_M ? -1 : zoneAt(x, y + step / 2);
      if (here === last) continue;
      polygons.push({ zone: last, rings: [rectangle(from, y, x, y + step)] });
      [from, last] = [x, here];
    }
  }
  const names = SOILS.map(({ name }) => name);
  return { names, polygons, texture: names.map(textureOf), drainage: names.map(() => null) };
}

function rectangle(x0: number, y0: number, x1: number, y1: number): [number, number][] {
  return [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
    [x0, y0],
  ];
}

/** Four rows over 5.3 m at spots in strata along the way; the stand varies as an exponential field. */
function countStand(
  random: Random,
  spotCount: number,
  meanAt: (x: number, y: number) => number,
): NonNullable<Field["standCounts"]> {
  const patches = randomSurface(random, 1, between(random, 15, 40));
  const sd = between(random, 0.012, 0.028);
  const [rows, lengthM] = [4, 5.3];
  const seeds = Math.round((TARGET_PER_HA * rows * ROW_SPACING_M * lengthM) / 10_000);
  const x = new Float64Array(spotCount);
  const y = new Float64Array(spotCount);
  const plants = new Float64Array(spotCount);
  for (let s = 0; s < spotCount; s++) {
    const place = ((s + random()) / spotCount) * PASSES * LENGTH_M;
    const pass = Math.min(PASSES - 1, Math.floor(place / LENGTH_M));
    x[s] = (pass + 0.5) * BAR_M + (random() - 0.5) * (BAR_M - rows * ROW_SPACING_M);
    y[s] = place - pass * LENGTH_M;
    const stand = meanAt(x[s]!, y[s]!) + sd * patches(x[s]!, y[s]!) + 0.008 * normal(random);
    plants[s] = binomial(random, seeds, Math.min(1, Math.max(0, stand)));
  }
  return standCounts(x, y, plants, seeds, rows, lengthM);
}
