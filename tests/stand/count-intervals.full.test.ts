/** How often the 90 % intervals of single counts hold the truth, by method of counting: between 86 and 96 %. */
import { describe, expect, it } from "vitest";
import { type Method, simulateCounts } from "./count-simulation.ts";

const METHODS: readonly (readonly [string, Method])[] = [
  ["one row of 1/1000 acre", { kind: "row", rows: 1, lengthM: 5.31 }],
  ["two rows of 1/1000 acre", { kind: "row", rows: 2, lengthM: 5.31 }],
  ["four rows of 1/1000 acre", { kind: "row", rows: 4, lengthM: 5.31 }],
  ["four rows of 10 m", { kind: "row", rows: 4, lengthM: 10 }],
  ["a wheel, 150 plants", { kind: "wheel" }],
  ["a hoop of 28.25 in", { kind: "hoop", diameterM: 0.7176 }],
  ["a hoop of 36 in", { kind: "hoop", diameterM: 0.9144 }],
];
const FIELDS = 8;
const SPOTS = 400;

describe.each(METHODS)("counted by %s", (name, method) => {
  it("90 % intervals hold the truth in 86 to 96 % of the counts", () => {
    const sum = { counts: 0, stand: 0, emerged: 0 };
    for (let k = 0; k < FIELDS; k++) {
      const { counts, stand, emerged } = simulateCounts(method, SPOTS, 7_000 + k);
      sum.counts += counts;
      sum.stand += stand;
      sum.emerged += emerged;
    }
    const [stand, emerged] = [sum.stand / sum.counts, sum.emerged / sum.counts];
    console.info(
      `${name}: stand ${stand.toFixed(3)}, share come up ${emerged.toFixed(3)} of ${sum.counts} counts`,
    );
    for (const share of [stand, emerged]) {
      expect(share).toBeGreaterThanOrEqual(0.86);
      expect(share).toBeLessThanOrEqual(0.96);
    }
  });
});
