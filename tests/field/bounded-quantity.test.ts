/** Bounds of typed quantities: what a refusal offers is accepted when it is typed. */
import { describe, expect, it } from "vitest";
import { ManifestError } from "../../src/errors.ts";
import { MANIFEST_BOUNDS } from "../../src/manifest/manifest-quantities.ts";
import { MACHINE_BOUNDS, SETTING_BOUNDS } from "../../src/manifest/prescription-bounds.ts";
import { boundedQuantity } from "../../src/quantities/bounded-quantity.ts";

const bounds = Object.entries({ ...MANIFEST_BOUNDS, ...SETTING_BOUNDS, ...MACHINE_BOUNDS });

describe("a bounded quantity", () => {
  it.each(bounds)("%s: both ends as shown are accepted, a tenth beyond either is not", (name, bound) => {
    const ranges = [...bound.shown.matchAll(/([\d.,]+ [^\s()]+) to ([\d.,]+ [^\s()]+)/g)];
    expect(ranges.length).toBeGreaterThan(0);
    for (const [, low, high] of ranges) {
      const near = (text: string, end: number): void =>
        expect(Math.abs(boundedQuantity(text, bound, name) - end)).toBeLessThanOrEqual(end * 0.02);
      near(low!, bound.lowest);
      near(high!, bound.highest);
    }
    const refused = (value: number) => () => boundedQuantity(`${value} ${bound.unit}`, bound, name);
    expect(refused(1.1 * bound.highest)).toThrow(ManifestError);
    expect(refused(bound.lowest === 0 ? -0.1 : 0.9 * bound.lowest)).toThrow(ManifestError);
  });
});
