import { describe, expect, it } from "vitest";
import { normal, type Random, seededRandom } from "../../src/numerics/random.ts";
import { closeCounts } from "../../src/stand/close-counts.ts";
import { type MeanStandInput, meanStand } from "../../src/stand/mean-stand.ts";

/** A field of 400 m x 400 m (16 ha), its ground in pieces of 10 m x 10 m. */
const SIDE_M = 400;
const ground = {
  x: Float64Array.from({ length: 1600 }, (_, i) => 10 * (i % 40) + 5),
  y: Float64Array.from({ length: 1600 }, (_, i) => 10 * Math.floor(i / 40) + 5),
  areaM2: new Float64Array(1600).fill(100),
};
const TARGET = 84_000;
/** A bad spot of this radius round this place; outside it stand 94 % of the target, inside 25 % fewer. */
const SPOT = { x: 300, y: 120, radiusM: 60 };
const SHORT = 0.25;

type Place = [x: number, y: number];

const anywhere = (random: Random): Place => [SIDE_M * random(), SIDE_M * random()];

function inSpot(random: Random): Place {
  const radius = SPOT.radiusM * Math.sqrt(random());
  const angle = 2 * Math.PI * random();
  return [SPOT.x + radius * Math.cos(angle), SPOT.y + radius * Math.sin(angle)];
}

/** Counts at places: passes of 12 m, each with an error of its own beside that of the count. */
function counted(
  places: readonly Place[],
  random: Random,
  { passSd = 0.02, short = SHORT } = {},
): MeanStandInput {
  const ofPass = Array.from({ length: 34 }, () => passSd * normal(random));
  const pass = places.map(([x]) => Math.floor(x / 12));
  const ofTarget = places.map(([x, y], i) => {
    const bad = Math.hypot(x - SPOT.x, y - SPOT.y) <= SPOT.radiusM;
    return 0.94 * (bad ? 1 - short : 1) + ofPass[pass[i]!]! + 0.03 * normal(random);
  });
  return {
    x: places.map(([x]) => x),
    y: places.map(([, y]) => y),
    standPerHa: ofTarget.map((share) => share * TARGET),
    ofTarget,
    lateShare: places.map(() => Number.NaN),
    pass,
    ground,
  };
}

/** Stand of the ground itself, share of the target. */
const truth = 0.94 * (1 - (SHORT * Math.PI * SPOT.radiusM ** 2) / SIDE_M ** 2);

const times = (count: number, make: () => Place): Place[] => Array.from({ length: count }, make);

describe("counts where it looked bad", () => {
  it("10 of 14 in one spot: said, and weighted by their ground", () => {
    const means: number[] = [];
    const plain: number[] = [];
    for (let seed = 1; seed <= 40; seed++) {
      const random = seededRandom(seed);
      const places = [...times(10, () => inSpot(random)), ...times(4, () => anywhere(random))];
      const mean = meanStand(counted(places, random))!;
      expect(mean.crowded?.counts, `seed ${seed}`).toBeGreaterThanOrEqual(6);
      expect(mean.speaksForField).toBe(true);
      means.push(mean.ofTarget!.estimate);
      plain.push(mean.plainPerHa / TARGET);
    }
    const average = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
    // The plain mean is pulled down by some 15 points; weighted, about 2 are left.
    expect(average(plain)).toBeLessThan(truth - 0.12);
    expect(Math.abs(average(means) - truth)).toBeLessThan(0.025);
  });

  it("all in one spot: nothing is said of the field", () => {
    const random = seededRandom(5);
    const mean = meanStand(
      counted(
        times(12, () => inSpot(random)),
        random,
      ),
    )!;
    expect(mean.speaksForField).toBe(false);
    expect(mean.crowded?.counts).toBe(12);
  });

  it("spots counted over and over have one vote each", () => {
    const random = seededRandom(8);
    const spots: Place[] = [[60, 60], [300, 120], [80, 330], [330, 350], [200, 200]]; // biome-ignore format: one line
    const places = spots.flatMap(([x, y], k) =>
      times(k === 1 ? 12 : 4, (): Place => [x + 2 * normal(random), y + 2 * normal(random)]),
    );
    const mean = meanStand(counted(places, random))!;
    expect(mean.speaksForField).toBe(true);
    // One spot of five lies on the bad ground.
    expect(mean.ofTarget!.estimate).toBeCloseTo(0.94 * (1 - SHORT / 5), 1);
    const { low, high } = mean.ofTarget!;
    expect(high - low).toBeGreaterThan(0.1);
  });
});

describe("counts spread over the field", () => {
  it("chance does not make them crowded: at most 1 of 100 fields", () => {
    let crowded = 0;
    for (let seed = 1; seed <= 300; seed++) {
      const random = seededRandom(1000 + seed);
      const places = times(6 + (seed % 80), () => anywhere(random));
      const found = closeCounts(
        places.map(([x]) => x),
        places.map(([, y]) => y),
        ground,
      );
      if (found.length > 0) crowded++;
    }
    expect(crowded).toBeLessThanOrEqual(3);
  });

  it.each([
    { count: 8, short: 0, least: 0.86 },
    { count: 20, short: 0, least: 0.86 },
    { count: 60, short: 0, least: 0.86 },
    // A rare bad spot makes the counts skew: few of them miss it and are too sure of themselves.
    { count: 20, short: SHORT, least: 0.82 },
    { count: 60, short: SHORT, least: 0.86 },
  ])("the 90 % interval holds, passes as clusters: $count counts, a spot $short short", (world) => {
    const { count, short, least } = world;
    const runs = 400;
    let held = 0;
    for (let seed = 1; seed <= runs; seed++) {
      const random = seededRandom(7 * seed + count);
      const input = counted(
        times(count, () => anywhere(random)),
        random,
        { passSd: 0.03, short },
      );
      const { low, high } = meanStand(input)!.ofTarget!;
      const real = 0.94 * (1 - (short * Math.PI * SPOT.radiusM ** 2) / SIDE_M ** 2);
      if (low <= real && real <= high) held++;
    }
    expect(held / runs).toBeGreaterThan(least);
    expect(held / runs).toBeLessThan(0.95);
  });

  it("late plants over the counts that looked for them", () => {
    const random = seededRandom(3);
    const input = counted(
      times(10, () => anywhere(random)),
      random,
    );
    const lateShare = input.lateShare as number[];
    lateShare.splice(0, 4, 0.1, 0.2, 0.1, 0.2);
    const late = meanStand(input)!.lateShare!;
    expect(late.estimate).toBeCloseTo(0.15, 12);
    expect(late.low).toBeGreaterThanOrEqual(0);
    expect(
      meanStand(
        counted(
          times(10, () => anywhere(random)),
          random,
        ),
      )!.lateShare,
    ).toBeNull();
  });

  it("one count has an interval as wide as counts differ in a field; none has none", () => {
    const random = seededRandom(4);
    const { perHa } = meanStand(counted([[100, 100]], random))!;
    expect((perHa.high - perHa.low) / perHa.estimate).toBeCloseTo(2 * 1.6449 * 0.08, 3);
    expect(meanStand(counted([], random))).toBeNull();
  });
});

describe("counts in great number", () => {
  it("a picture from the air every five metres is no one spot: the interval is that of many counts", () => {
    const random = seededRandom(11);
    const places = times(6400, () => [0, 0]).map(
      (_, k): Place => [5 * (k % 80) + 2, 5 * Math.floor(k / 80) + 2],
    );
    const mean = meanStand(counted(places, random))!;
    expect(mean.speaksForField).toBe(true);
    expect(mean.crowded).toBeNull();
    const { estimate, low, high } = mean.ofTarget!;
    expect(estimate).toBeCloseTo(truth, 2);
    expect(high - low).toBeLessThan(0.03);
  });

  it.each([3, 5000])("%i counts of one spot say nothing of the rest", (count) => {
    const mean = meanStand(
      counted(
        times(count, () => [100, 100]),
        seededRandom(12),
      ),
    )!;
    expect(mean.speaksForField).toBe(false);
  });

  it("a line across the field speaks for no more than its ground", () => {
    const places = times(5000, () => [0, 0]).map((_, k): Place => [100, (SIDE_M * k) / 5000]);
    const mean = meanStand(counted(places, seededRandom(13)))!;
    expect(mean.speaksForField).toBe(false);
  });
});
