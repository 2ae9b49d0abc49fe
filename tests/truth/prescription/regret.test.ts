/** A few fields of the tuning seeds: a change that spoils the decision shows here. The table is measured apart. */
import { describe, expect, it } from "vitest";
import { CHANNELS } from "../../../src/prescription/prescription.ts";
import { regretOf } from "./regret.ts";
import { FIRST_SEED } from "./worlds.ts";

/** Fields whose loads of last spring cost two points and more. */
const SEEDS = [1, 10].map((k) => FIRST_SEED.tuning + k);

describe("on two invented fields whose response is known", () => {
  it("the decision leaves half a point of what last spring's loads cost, and what each channel sends makes no field worse", async () => {
    for (const seed of SEEDS) {
      const field = await regretOf("trapezoid", seed, 100);
      expect(field.today, String(seed)).toBeGreaterThan(2);
      expect(field.decided, String(seed)).toBeLessThan(0.5);
      for (const channel of CHANNELS) {
        const { written, gained } = field.sent[channel];
        expect(written, `${seed} ${channel}`).toBe(true);
        expect(gained, `${seed} ${channel}`).toBeGreaterThan(0.3);
      }
    }
  });
});
