/** The invented fields are what they say: noise of the stated law, faults of the stated size, the same each time. */
import { describe, expect, it } from "vitest";
import { mean, variance } from "../../src/numerics/descriptive.ts";
import { seededRandom } from "../../src/numerics/random.ts";
import { clopperPearsonInterval } from "../../src/stand/count-precision.ts";
import { isSame, type ScoredField } from "./areas.ts";
import { type FIRST_SEED, planFields } from "./plan.ts";
import { tabulate } from "./table.ts";
import { FIELD_KINDS, makeField, WORLDS } from "./worlds/make-field.ts";
import { randomSurface } from "./worlds/noise.ts";

describe("a random surface", () => {
  it("has variance 1 and an exponential correlation (400 surfaces, within 0.15)", () => {
    const random = seededRandom(1);
    const rangeM = 30;
    const at = [0, rangeM, 2 * rangeM];
    const heights = Array.from({ length: 400 }, () => {
      const surface = randomSurface(random, 1, rangeM);
      return at.map((x) => surface(x, 5));
    });
    const products = (lag: number): number => mean(Float64Array.from(heights, (row) => row[0]! * row[lag]!));
    expect(Math.abs(variance(Float64Array.from(heights, (row) => row[0]!)) - 1)).toBeLessThan(0.15);
    expect(Math.abs(products(1) - Math.exp(-1))).toBeLessThan(0.15);
    expect(Math.abs(products(2) - Math.exp(-2))).toBeLessThan(0.15);
  });
});

describe.each(WORLDS)("the world %s", (world) => {
  it("makes the same field from the same seed", () => {
    const [one, other] = [0, 1].map(() => makeField(world, "ordinary", "150 counts", 7));
    expect(one!.field.log.values).toEqual(other!.field.log.values);
    expect(one!.field.standCounts).toEqual(other!.field.standCounts);
    expect(one!.loss).toEqual(other!.loss);
  });

  it("harms where a fault lies and nowhere else", () => {
    const { loss, events } = makeField(world, "ordinary", "150 counts", 7);
    expect(events.length).toBeGreaterThan(0);
    for (const event of events) expect(event.loss).toBeGreaterThan(0.03);
    const sound = loss.filter((_, i) => events.every((event) => !event.inside[i]));
    // Harmless changes and the ordinary spread of the planting move it by a point or two.
    expect(Math.abs(mean(sound))).toBeLessThan(0.01);
    expect(Math.max(...makeField(world, "null", "150 counts", 7).loss)).toBeLessThan(0.03);
  });

  it("forgives nearly all in a forgiving spring", () => {
    const { events } = makeField(world, "forgiving", "150 counts", 8);
    expect(events.length).toBeGreaterThan(0);
    for (const event of events) expect(event.loss).toBeLessThan(0.025);
  });

  it("counts about as many plants as stand there", () => {
    const { field } = makeField(world, "null", "dense", 9);
    const stand = mean(field.standCounts!.standPerHa) / field.targets.populationPerHa!;
    expect(stand).toBeGreaterThan(0.84);
    expect(stand).toBeLessThan(0.98);
  });
});

describe("the plan", () => {
  it("never judges on a seed of the tuning", () => {
    const seeds = (set: keyof typeof FIRST_SEED): number[] => [
      ...planFields(set, "150 counts", 1000).map(({ seed }) => seed),
      ...planFields(set, "dense", 1000).map(({ seed }) => seed),
    ];
    const tuning = new Set(seeds("tuning"));
    expect(seeds("judging").filter((seed) => tuning.has(seed))).toEqual([]);
  });

  it("has every kind of field in every world, three in ten of them sound", () => {
    const fields = planFields("judging", "150 counts", 200);
    for (const world of WORLDS) {
      const own = fields.filter((field) => field.world === world);
      expect(own.filter(({ kind }) => kind === "null")).toHaveLength(30);
      for (const kind of FIELD_KINDS) expect(own.some((field) => field.kind === kind)).toBe(true);
    }
  });
});

it("the ground and what is not in the log count alike for a loss without a trace, and for no other", () => {
  expect(isSame("not-in-the-log", "soil-or-weather")).toBe(true);
  expect(isSame("soil-or-weather", "soil-or-weather")).toBe(true);
  for (const cause of ["not-in-the-log", "soil-or-weather", "misses"])
    expect(isSame(cause, "too-shallow")).toBe(false);
  expect(isSame("too-shallow", "soil-or-weather")).toBe(false);
});

it("the table counts an alarm on a null field against it, with exact bounds", () => {
  const field = (alarm: boolean): ScoredField => ({
    world: "steady",
    kind: "null",
    counting: "150 counts",
    seed: 1,
    findings: alarm
      ? [
          {
            isTrue: false,
            loss: 0,
            estimate: 0.1,
            low: 0,
            high: 0.2,
            cause: "misses",
            probability: 0.8,
            causeIsRight: null,
          },
        ]
      : [],
    events: [],
    overlap: { both: 0, reported: 0, hurt: 0 },
    hotSpotAlarm: true,
    otherConfirmed: 0,
  });
  const rows = tabulate([field(true), field(false), field(false), field(false)]);
  const row = rows.find(({ measure }) => measure === "null fields with a confirmed place")!;
  const { low, high } = clopperPearsonInterval(1, 4);
  expect([row.hits, row.tries, row.low, row.high]).toEqual([1, 4, low, high]);
});
