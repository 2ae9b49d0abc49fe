/** Invented fields by the seed: outlines with holes, islands, needles and crossings, and soil maps as bad as they come. */

import { type Random, seededRandom } from "../../../src/numerics/random.ts";
import type { Ground, GroundLimits, GroundLoads } from "../../../src/rate-zones/ground.ts";
import type { LocalPolygon, SoilZones } from "../../../src/vocabulary/field.ts";

type Ring = [number, number][];

export interface RandomGround {
  ground: Ground;
  loads: GroundLoads;
  limits: GroundLimits;
  /** True where a ring goes round a spot twice: readers do not agree what that is. */
  loop: boolean;
}

export const LIMITS: GroundLimits = {
  smallestAreaHa: 0.6,
  smallestWidthBars: 2,
  mostRates: 8,
  mostPolygons: 100,
  mostVertices: 5000,
  proofStrips: true,
  shortestM: 70,
};

/** Field number `seed`: every kind of outline and of soil map comes round among a few dozen. */
export function randomGround(seed: number): RandomGround {
  const random = seededRandom(seed * 7919 + 11);
  const between = (low: number, high: number): number => low + random() * (high - low);
  const size = seed % 17 === 0 ? between(40, 90) : between(200, 900);
  const { outline, loop } = randomOutline(random, seed, size);
  const names = Array.from({ length: 1 + Math.floor(random() * 12) }, (_, k) => `soil ${k}`);
  const soilZones = seed % 23 === 0 ? null : randomSoil(random, seed, size, names);
  const soilLoads = Object.fromEntries(
    names.map((name) => {
      const todayN = 4 * Math.round(between(60, 160));
      return [name, { todayN, marginN: random() < 0.25 ? todayN : todayN + 40 * Math.round(between(-4, 4)) }];
    }),
  );
  return {
    ground: {
      outline,
      soilZones,
      swathWidthM: [3.048, 6.096, 9.144, 12.192, 18.288, 27.432][Math.floor(random() * 6)]!,
      headingDeg: seed % 5 === 0 ? 0 : between(0, 360),
    },
    loads: { soilZones: soilLoads, elsewhere: { marginN: 440, todayN: random() < 0.5 ? null : 400 } },
    limits: {
      ...LIMITS,
      mostRates: seed % 7 === 0 ? 3 : 8,
      mostPolygons: seed % 13 === 0 ? 4 : 100,
      mostVertices: seed % 11 === 0 ? 400 : 5000,
      proofStrips: seed % 3 !== 0,
    },
    loop,
  };
}

/** A star-shaped ring round a place, counter-clockwise, closed; roughness 0 is a circle. */
function star(
  random: Random,
  x: number,
  y: number,
  radius: number,
  corners: number,
  roughness: number,
): Ring {
  const turn = random() * 2 * Math.PI;
  const ring = Array.from({ length: corners }, (_, k): [number, number] => {
    const angle = turn + (2 * Math.PI * (k + 0.3 * random())) / corners;
    const reach = radius * (1 - roughness * random());
    return [x + reach * Math.cos(angle), y + reach * Math.sin(angle)];
  });
  return [...ring, ring[0]!];
}

function box(x: number, y: number, width: number, height: number, turnRad: number): Ring {
  const [c, s] = [Math.cos(turnRad), Math.sin(turnRad)];
  const corners = [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
    [0, 0],
  ];
  return corners.map(([u, v]): [number, number] => [x + u! * c - v! * s, y + u! * s + v! * c]);
}

function randomOutline(random: Random, seed: number, size: number) {
  const outline: LocalPolygon[] = [];
  let loop = false;
  const corners = [4, 5, 9, 30, 200][seed % 5]!;
  const main: LocalPolygon =
    seed % 4 === 0
      ? [box(0, 0, size, size * (0.3 + 0.7 * random()), random())]
      : [star(random, size / 2, size / 2, size / 2, corners, seed % 4 === 1 ? 0.6 : 0.15)];
  if (seed % 4 === 3) {
    // Holes well inside: the ring reaches in no further than 0.85 of the radius.
    const count = 1 + Math.floor(random() * 3);
    for (let k = 0; k < count; k++) {
      const angle = (2 * Math.PI * (k + 0.5 * random())) / count;
      const [x, y] = [
        size / 2 + (size / 4) * 0.8 * Math.cos(angle),
        size / 2 + (size / 4) * 0.8 * Math.sin(angle),
      ];
      const hole =
        random() < 0.3
          ? box(x, y, 1 + random(), size / 12, random() * 6)
          : star(random, x, y, size / 14, 3 + Math.floor(random() * 9), 0.5);
      main.push(hole.toReversed());
    }
  }
  outline.push(main);
  if (seed % 6 === 1)
    outline.push([star(random, size * 1.8, size / 2, size * (0.05 + 0.3 * random()), 7, 0.3)]);
  if (seed % 9 === 4) {
    // A walked boundary: a bow-tie, or a small loop where it was closed.
    const ring = main[0]!;
    if (random() < 0.5 || ring.length < 8) outline.push([bowTie(random, size)]);
    else {
      loop = true;
      const [a, b] = [ring[2]!, ring[3]!];
      ring.splice(3, 0, [b[0] + 3, b[1] - 2], [a[0] - 2, a[1] + 4], [b[0] - 1, b[1] + 5]);
    }
  }
  if (seed % 10 === 7) {
    // A needle: a lane a few metres wide that leads out of the field.
    outline.push([box(size / 2, size / 2, size * 1.1, 1 + 8 * random(), random() * 6)]);
  }
  return { outline, loop };
}

function bowTie(random: Random, size: number): Ring {
  const [x, y, reach] = [-size, size / 2, size * (0.2 + 0.3 * random())];
  return [
    [x, y],
    [x + reach, y + reach * 0.9],
    [x + reach, y],
    [x, y + reach],
    [x, y],
  ];
}

function randomSoil(random: Random, seed: number, size: number, names: readonly string[]): SoilZones {
  const polygons: SoilZones["polygons"] = [];
  const add = (rings: LocalPolygon): void => {
    polygons.push({ zone: Math.floor(random() * names.length), rings });
  };
  const anywhere = (): number => size * (-0.1 + 1.2 * random());
  const kind = seed % 4;
  if (kind === 0) {
    // Strips that leave slivers between them, stop short of the boundary, and overlap a little.
    let x = size * 0.05;
    while (x < size) {
      const width = 5 + random() * size * 0.3;
      add([box(x, size * 0.04, width + (random() - 0.4) * 4, size * 0.9, 0)]);
      x += width;
    }
  } else if (kind === 1) {
    add([star(random, size / 2, size / 2, size, 12, 0.1)]);
    for (let k = 0; k < 12; k++) {
      const [x, y] = [anywhere(), anywhere()];
      const rings: LocalPolygon = [star(random, x, y, size * (0.03 + 0.25 * random()), 12, 0.4)];
      if (random() < 0.3) rings.push(star(random, x, y, size * 0.01, 5, 0.2).toReversed());
      add(rings);
    }
  } else if (kind === 2) {
    // A chequered map with small gaps, and needles across it.
    const step = size / (2 + Math.floor(random() * 8));
    for (let x = 0; x < size; x += step)
      for (let y = 0; y < size; y += step) add([box(x, y, step - 0.5 * random(), step + 0.5 * random(), 0)]);
    for (let k = 0; k < 8; k++)
      add([box(anywhere(), anywhere(), 0.5 + 15 * random(), size * 0.8, random() * 6)]);
  } else {
    for (let k = 0; k < 5; k++) add([star(random, anywhere(), anywhere(), size * 0.4, 40, 0.5 * random())]);
  }
  return { names: [...names], polygons, texture: names.map(() => null), drainage: names.map(() => null) };
}
