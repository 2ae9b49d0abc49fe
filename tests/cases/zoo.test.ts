/** A few animals of the zoo (see `zoo.full.test.ts`): planted ground and passes come out as they were driven. */
import { describe, expect, it } from "vitest";
import { animalOf, readAnimal } from "./support/zoo.ts";

/** One of each layout, in order and out of it, with one machine and two. */
const SEEDS = [2, 3, 16, 18, 28, 33, 46, 48, 75, 119, 166, 231, 1080];

describe("logs as they come", () => {
  it.each(SEEDS)(
    "animal %i: ground within a hundredth, passes as driven, no other column, no unit in silence",
    async (seed) => {
      const result = await readAnimal(animalOf(seed));
      expect(result.said).toBe("");
      expect(Math.abs(result.areaError)).toBeLessThan(0.01);
      expect(result.passIndex).toBeGreaterThanOrEqual(0.95);
      expect(result.wrongRoles).toEqual([]);
      expect(result.silentUnits).toEqual([]);
    },
  );
});
