/**
 * Invented fields whose truth is known, of two worlds that break the tool's own assumptions in different ways:
 *   steady: straight passes, row-unit records; the stand varies as an exponential field, the counts are good.
 *   rough: bent passes on an L-shaped field, section records (one sensed unit a section); the stand varies as a
 *     smooth field whose strength itself varies, with a slow trend, heavy-tailed spots and spots with something
 *     odd; losses level off; soil map and count positions are worse.
 * Knees and slopes of the response differ from the tool's in both. All figures are our own invention.
 */

import { textureOf } from "../../../src/field/texture.ts";
import { median } from "../../../src/numerics/descriptive.ts";
import { normal, type Random, seededRandom } from "../../../src/numerics/random.ts";
import type { Field } from "../../../src/vocabulary/field.ts";
import { buildField } from "../../support/field-builder.ts";
import { CLAY, canShareAPlace, drawDecoy, drawFault, type Fault, PLANTING_FAULTS } from "./faults.ts";
import { BAR_M, bentWay, ROW_SPACING_M, ROWS, STEP_M, straightWay, type Way } from "./layout.ts";
import { between, binomial, heavyTailed, randomSurface, type Surface } from "./noise.ts";
import { drawResponse, type Planting, type Response } from "./response.ts";

export const WORLDS = ["steady", "rough"] as const;
export type World = (typeof WORLDS)[number];

export const FIELD_KINDS = [
  "null",
  "forgiving",
  "ordinary",
  "two factors",
  "planting and crust",
  "crust on a harmless change",
] as const;
export type FieldKind = (typeof FIELD_KINDS)[number];

/** Number of counted spots: few by hand, or a dense grid of strips 24 m long and as wide as the bar. */
export type Counting = "150 counts" | "dense";

/** One place where the stand is truly short. */
export interface TrueEvent {
  inside: Uint8Array;
  /** Mean loss by cause over the place, share of target plants. */
  components: { cause: Fault["cause"]; loss: number }[];
  /** Mean loss over the place. */
  loss: number;
}

export interface TrueField {
  field: Field;
  way: Way;
  /** True loss at each moment of the way against a sound field, share of target plants. */
  loss: Float64Array;
  events: TrueEvent[];
  /** Moment of each record. */
  momentOf: Int32Array;
  /** Counts by hand at places of one's own; `seed` draws their chance. */
  countAt(places: readonly { x: number; y: number }[], seed: number): NonNullable<Field["standCounts"]>;
}

const TARGET_PER_HA = 84_016;
const SOILS = ["Clay", "Silt loam", "Sandy loam"] as const;
/** In a forgiving spring this share of the harm shows. */
const FORGIVEN = 0.08;

/** Makes a field; the same arguments give the same field. */
export function makeField(world: World, kind: FieldKind, counting: Counting, seed: number): TrueField {
  const random = seededRandom(seed);
  const way = world === "steady" ? straightWay() : bentWay();
  const soil = drawSoil(random, way, world);
  const respond = drawResponse(random, world === "rough");
  const usual = usualPlanting(random, way, soil.at);
  const faults = drawFaults(random, way, soil.at, kind, usual, respond);
  const decoys =
    kind === "null" || kind === "forgiving" ? [] : [drawDecoy(random, way), drawDecoy(random, way)];
  const overlay = [...faults.flat(), ...decoys];
  const planting = usual.map((own, i) => changed(own, overlay, i));
  const harm = kind === "forgiving" ? FORGIVEN : 1;
  const dampAt = (i: number): boolean => soil.at[i] === CLAY;
  const sound = usual.map((own, i) => respond(own, dampAt(i)));
  const ownLoss = (i: number): number => faults.flat().reduce((sum, f) => sum + f.inside[i]! * f.ownLoss, 0);
  const middle = median(Float64Array.from(sound));
  const loss = Float64Array.from(
    planting,
    (now, i) => harm * (respond(now, dampAt(i)) - middle + ownLoss(i)),
  );
  const events = faults.map((together): TrueEvent => {
    const inside = way.pass.map((_, i) => (together.some((fault) => fault.inside[i]) ? 1 : 0));
    const over = (value: (i: number) => number): number => meanInside(inside, value);
    return {
      inside: Uint8Array.from(inside),
      loss: over((i) => loss[i]!),
      components: together.map((fault) => ({
        cause: fault.cause,
        loss:
          harm *
          over(
            (i) =>
              respond(changed(usual[i]!, [fault], i), dampAt(i)) -
              sound[i]! +
              fault.inside[i]! * fault.ownLoss,
          ),
      })),
    };
  });
  const { field, momentOf } = logOf(random, world, way, planting);
  field.soilZones = soil.map;
  const stand = drawStand(random, world, soil.at);
  const standAt: Stand = (i, x, y) => stand(i, x, y) - loss[i]!;
  field.standCounts = countStand(random, world, counting, way, standAt);
  return {
    field,
    way,
    loss,
    events,
    momentOf,
    countAt: (places, own) => countPlaces(seededRandom(own), world, way, standAt, places),
  };
}

function changed(own: Planting, faults: readonly Pick<Fault, "inside" | "change">[], i: number): Planting {
  const now = { ...own };
  for (const fault of faults) if (fault.inside[i]) fault.change?.(now);
  return now;
}

function meanInside(inside: ArrayLike<number>, value: (i: number) => number): number {
  let [sum, count] = [0, 0];
  for (let i = 0; i < inside.length; i++) {
    if (!inside[i]) continue;
    sum += value(i);
    count++;
  }
  return count > 0 ? sum / count : 0;
}

/** Faults of a field, those that share a place together; places lie apart and hold at least 0.35 ha and 4 points of loss. */
function drawFaults(
  random: Random,
  way: Way,
  soil: Int32Array,
  kind: FieldKind,
  usual: readonly Planting[],
  respond: Response,
): Fault[][] {
  const anyPlanting = (): (typeof PLANTING_FAULTS)[number] =>
    PLANTING_FAULTS[Math.floor(random() * PLANTING_FAULTS.length)]!;
  const draw = (): Fault[] => {
    if (kind === "ordinary" && random() < 1 / 9) return [drawFault(random, way, soil, "crust")];
    if (kind === "ordinary" || kind === "forgiving") return [drawFault(random, way, soil, anyPlanting())];
    if (kind === "crust on a harmless change") {
      const crust = drawFault(random, way, soil, "crust");
      return [{ ...crust, change: drawDecoy(random, way, crust.inside).change }];
    }
    const first = drawFault(random, way, soil, anyPlanting());
    let other = kind === "two factors" ? anyPlanting() : ("crust" as const);
    while (!canShareAPlace(first.kind, other)) other = anyPlanting();
    return [first, drawFault(random, way, soil, other, first.inside)];
  };
  const wanted =
    kind === "null" ? 0 : kind === "ordinary" || kind === "forgiving" ? 1 + Math.floor(3 * random()) : 1;
  const places: Fault[][] = [];
  const near = new Uint8Array(way.count);
  for (let attempt = 0; attempt < 400 && places.length < wanted; attempt++) {
    const faults = draw();
    const { inside } = faults[0]!;
    const moments = inside.reduce((sum, value) => sum + value, 0);
    if (moments * STEP_M * BAR_M < 3500 || inside.some((value, i) => value && near[i])) continue;
    const loss = meanInside(inside, (i) => {
      const damp = soil[i] === CLAY;
      const own = faults.reduce((sum, fault) => sum + fault.ownLoss, 0);
      return respond(changed(usual[i]!, faults, i), damp) - respond(usual[i]!, damp) + own;
    });
    if (loss < 0.04 || loss > 0.25) continue;
    places.push(faults);
    markNear(near, way, inside, 40);
  }
  return places;
}

/** Marks all moments within a distance of the marked ones (looked up on a grid of that size). */
function markNear(near: Uint8Array, way: Way, inside: Uint8Array, distanceM: number): void {
  const bin = (value: number): number => Math.floor(value / distanceM);
  const touched = new Set<string>();
  for (let i = 0; i < inside.length; i++) {
    if (!inside[i]) continue;
    for (const dx of [-1, 0, 1]) {
      for (const dy of [-1, 0, 1]) touched.add(`${bin(way.x[i]!) + dx}/${bin(way.y[i]!) + dy}`);
    }
  }
  for (let i = 0; i < near.length; i++) if (touched.has(`${bin(way.x[i]!)}/${bin(way.y[i]!)}`)) near[i] = 1;
}

/** True soil at each moment, and the map of it: moved, with an edge of its own, in blocks of 20 m. */
function drawSoil(random: Random, way: Way, world: World) {
  const surface = randomSurface(random, 5, 90);
  const heights = Float64Array.from(way.x, (x, i) => surface(x, way.y[i]!)).sort();
  const cut = [heights[Math.floor(heights.length * 0.34)]!, heights[Math.floor(heights.length * 0.7)]!];
  const classOf = (height: number): number => (height < cut[0]! ? 0 : height < cut[1]! ? 1 : 2);
  const at = Int32Array.from(way.x, (x, i) => classOf(surface(x, way.y[i]!)));
  const off = world === "steady" ? 10 : 18;
  const [dx, dy] = [between(random, -off, off), between(random, -off, off)];
  const edge = randomSurface(random, 1, 40);
  const step = 20;
  const strips: { zone: number; rings: [number, number][][] }[] = [];
  for (let y = -step; y < 620; y += step) {
    let [from, last] = [-60, -1];
    for (let x = -60; x <= 540; x += step) {
      const here = [x + step / 2 + dx, y + step / 2 + dy] as const;
      const soilHere = x < 540 ? classOf(surface(...here) + 0.08 * edge(...here)) : -2;
      if (soilHere === last) continue;
      if (last >= 0) strips.push({ zone: last, rings: [rectangle(from, y, x, y + step)] });
      [from, last] = [x, soilHere];
    }
  }
  const map = {
    names: [...SOILS],
    polygons: strips,
    texture: SOILS.map(textureOf),
    drainage: SOILS.map(() => null),
  };
  return { at, map };
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

/** Planting with nothing wrong. */
function usualPlanting(random: Random, way: Way, soil: Int32Array): Planting[] {
  const depth = randomSurface(random, 3, 50);
  const margin = randomSurface(random, 3, 50);
  const clayTakes = between(random, 20, 90);
  const speeds = Float64Array.from({ length: 64 }, () => 2.3 + 0.06 * normal(random));
  return Array.from({ length: way.count }, (_, i) => {
    const [x, y] = [way.x[i]!, way.y[i]!];
    const marginN = 490 + 40 * margin(x, y) - (soil[i] === CLAY ? clayTakes : 0);
    return {
      depthMm: 51 + 1.3 * depth(x, y),
      depthSdMm: 4.6,
      marginN,
      marginSdN: 0.27 * marginN,
      speedMetresPerSecond: speeds[way.pass[i]!]!,
      misses: 0.013,
      rate: 1,
    };
  });
}

/** The log: one record a row unit (steady) or a section (rough). */
function logOf(random: Random, world: World, way: Way, planting: readonly Planting[]) {
  const parts = world === "steady" ? ROWS : 4;
  const names = ["x", "y", "time", "depth", "margin", "speed", "misses", "population", "part"] as const;
  const column = Object.fromEntries(
    names.map((name) => [name, new Float64Array(way.count * parts)]),
  ) as Record<(typeof names)[number], Float64Array>;
  const unit = Array.from({ length: parts }, () => [0.5 * normal(random), 12 * normal(random)] as const);
  const momentOf = new Int32Array(way.count * parts);
  for (let i = 0; i < way.count; i++) {
    const own = planting[i]!;
    for (let part = 0; part < parts; part++) {
      const at = i * parts + part;
      const right = ((part + 0.5) / parts - 0.5) * BAR_M;
      const misses = Math.max(0, own.misses + (0.045 / Math.sqrt(ROWS / parts + 8)) * normal(random));
      momentOf[at] = i;
      column.x[at] = way.x[i]! + way.rightX[i]! * right;
      column.y[at] = way.y[i]! + way.rightY[i]! * right;
      column.time[at] = way.seconds[i]!;
      column.depth[at] = own.depthMm + unit[part]![0] + own.depthSdMm * normal(random);
      column.margin[at] = Math.max(0, own.marginN + unit[part]![1] + own.marginSdN * normal(random));
      column.speed[at] = own.speedMetresPerSecond + 0.03 * normal(random);
      column.misses[at] = misses;
      column.population[at] = TARGET_PER_HA * own.rate * (1 - misses) * (1 + 0.006 * normal(random));
      column.part[at] = part + 1;
    }
  }
  const field = buildField({
    x: column.x,
    y: column.y,
    values: {
      time: column.time,
      seedingDepth: column.depth,
      downForceMargin: column.margin,
      speed: column.speed,
      misses: column.misses,
      population: column.population,
      ...(world === "steady" ? { rowUnit: column.part } : {}),
    },
    ...(world === "rough" ? { labels: { section: Array.from(column.part, String) } } : {}),
    layout: world === "steady" ? "row-unit" : "section",
    hasClockTime: true,
    planter: { rowUnits: ROWS, rowSpacingM: ROW_SPACING_M },
    targets: { seedingDepthMm: 50.8, populationPerHa: TARGET_PER_HA },
  });
  return { field, momentOf };
}

type Stand = (moment: number, x: number, y: number) => number;

/** Stand (share of target) of a sound field at a place near a moment of the way. */
function drawStand(random: Random, world: World, soil: Int32Array): Stand {
  const levels = SOILS.map(() => 0.955 - between(random, 0, 0.07));
  const sd = between(random, 0.015, 0.035);
  const spread: Surface =
    world === "steady"
      ? randomSurface(random, 1, between(random, 12, 40))
      : roughSurface(random, between(random, 10, 24));
  const spot = between(random, 0.01, 0.02);
  return (moment, x, y) => {
    const own =
      world === "steady"
        ? spot * normal(random)
        : spot * heavyTailed(random) - (random() < 0.02 ? 0.06 * random() : 0);
    return levels[soil[moment]!]! + sd * spread(x, y) + own;
  };
}

/** A smooth field stronger in some parts than in others, on a slow trend. */
function roughSurface(random: Random, rangeM: number): Surface {
  const small = randomSurface(random, 3, rangeM);
  const strength = randomSurface(random, 5, 130);
  const trend = randomSurface(random, 5, 110);
  return (x, y) => 0.9 * small(x, y) * Math.exp(0.35 * strength(x, y)) + 0.4 * trend(x, y);
}

/** Counts four rows by hand at given places; the position is known as well as in {@link countStand}. */
function countPlaces(
  random: Random,
  world: World,
  way: Way,
  standAt: Stand,
  places: readonly { x: number; y: number }[],
): NonNullable<Field["standCounts"]> {
  const { rows, lengthM } = BY_HAND;
  const seeds = seedsCounted(rows, lengthM);
  const error = world === "steady" ? 0.7 : 2;
  const plants = Float64Array.from(places, ({ x, y }) => {
    let nearest = 0;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < way.count; i++) {
      const away = (way.x[i]! - x) ** 2 + (way.y[i]! - y) ** 2;
      if (away < least) {
        least = away;
        nearest = i;
      }
    }
    return binomial(random, seeds, Math.min(1, Math.max(0, standAt(nearest, x, y))));
  });
  const x = Float64Array.from(places, (place) => place.x + error * normal(random));
  const y = Float64Array.from(places, (place) => place.y + error * normal(random));
  return standCounts(x, y, plants, seeds, rows, lengthM);
}

const BY_HAND = { rows: 4, lengthM: 5.3 } as const;

function seedsCounted(rows: number, lengthM: number): number {
  return Math.round((TARGET_PER_HA * rows * ROW_SPACING_M * lengthM) / 10_000);
}

/** Counts the stand at spots spread over the field in strata. */
function countStand(
  random: Random,
  world: World,
  counting: Counting,
  way: Way,
  standAt: Stand,
): NonNullable<Field["standCounts"]> {
  const byHand = counting === "150 counts";
  const spotCount = byHand ? 150 : Math.floor(way.count / 4);
  const rows = byHand ? BY_HAND.rows : ROWS;
  const lengthM = byHand ? BY_HAND.lengthM : 4 * STEP_M;
  const seeds = seedsCounted(rows, lengthM);
  const error = world === "steady" ? 0.7 : 2;
  const x = new Float64Array(spotCount);
  const y = new Float64Array(spotCount);
  const plants = new Float64Array(spotCount);
  for (let s = 0; s < spotCount; s++) {
    const place = byHand ? ((s + random()) / spotCount) * way.count : 4 * s + 1.5;
    const right = byHand ? (random() - 0.5) * (BAR_M - rows * ROW_SPACING_M) : 0;
    const moments = byHand ? [Math.floor(place)] : [4 * s, 4 * s + 1, 4 * s + 2, 4 * s + 3];
    let stand = 0;
    for (const i of moments) {
      const [px, py] = [way.x[i]! + way.rightX[i]! * right, way.y[i]! + way.rightY[i]! * right];
      stand += standAt(i, px, py) / moments.length;
      x[s]! += px / moments.length;
      y[s]! += py / moments.length;
    }
    x[s]! += error * normal(random);
    y[s]! += error * normal(random);
    plants[s] = binomial(random, seeds, Math.min(1, Math.max(0, stand)));
  }
  return standCounts(x, y, plants, seeds, rows, lengthM);
}

/** Counts of `plants` where `seeds` were dropped at each spot. */
export function standCounts(
  x: Float64Array,
  y: Float64Array,
  plants: Float64Array,
  seeds: number,
  rows: number,
  lengthM: number,
): NonNullable<Field["standCounts"]> {
  const spotCount = x.length;
  const perSpot = (value: number): Float64Array => new Float64Array(spotCount).fill(value);
  return {
    spotCount,
    x,
    y,
    plants,
    standPerHa: plants.map((count) => (TARGET_PER_HA * count) / seeds),
    rowLengthM: perSpot(lengthM),
    rowsCounted: perSpot(rows),
    rowUnit: new Int16Array(spotCount),
    lateShare: perSpot(Number.NaN),
    leafStagesBehind: perSpot(Number.NaN),
    method: Array.from({ length: spotCount }, () => null),
  };
}
