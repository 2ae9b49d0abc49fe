import { describe, expect, it } from "vitest";
import { kriging } from "../../src/cluster/kriging.ts";
import meuse from "./data/meuse.json" with { type: "json" };

describe("kriging with a fixed model against gstat (see data/meuse.json)", () => {
  const known = {
    x: Float64Array.from(meuse.x),
    y: Float64Array.from(meuse.y),
    columns: [new Float64Array(meuse.x.length).fill(1)],
    countingVariance: null,
    patchiness: null,
  };
  const krige = kriging(known, Float64Array.from(meuse.logZinc), {
    spatialVariance: 0.6,
    rangeM: 400,
    nuggetVariance: 0.05,
  });
  it.each(meuse.at.map((at, k) => ({ ...at, k })))(
    "gives prediction and variance at $x, $y to 1e-10",
    (at) => {
      const result = krige({
        x: Float64Array.of(at.x),
        y: Float64Array.of(at.y),
        columns: [Float64Array.of(1)],
        countingVariance: null,
        patchiness: null,
      });
      expect(result.mean).toBeCloseTo(meuse.ordinary.prediction[at.k]!, 10);
      expect(result.variance).toBeCloseTo(meuse.ordinary.variance[at.k]!, 10);
    },
  );
});
