import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { holm } from "../../src/numerics/holm.ts";

/**
 * The fifteen p-values of Benjamini & Hochberg 1995 (J. R. Stat. Soc. B 57:289-300, section 3.2), corrected by p.adjust of
 * R 4.2.2 Patched (r83330), method "holm".
 */
const PUBLISHED = {
  p: [
    0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528,
    0.759, 1,
  ],
  holm: [0.0015, 0.0056, 0.0247, 0.114, 0.2211, 0.278, 0.278, 0.278, 0.3213, 1, 1, 1, 1, 1, 1],
};

const close = (values: readonly number[]) => values.map((value) => expect.closeTo(value, 12));

describe("Holm's correction", () => {
  it("agrees with R on the p-values of Benjamini & Hochberg, in whatever order they come", () => {
    expect(holm(PUBLISHED.p)).toEqual(close(PUBLISHED.holm));
    expect(holm(PUBLISHED.p.toReversed())).toEqual(close(PUBLISHED.holm.toReversed()));
  });

  const folder = process.env.EVENSTAND_REFERENCE;
  it.skipIf(!folder)("agrees with the reference file itself", () => {
    const file = JSON.parse(
      readFileSync(join(folder!, "reference/statistics/quantile_fdr_robust.json"), "utf8"),
    );
    const { p, holm: corrected } = file.benjamini_hochberg_1995 as { p: number[]; holm: number[] };
    expect(p).toHaveLength(15);
    expect(holm(p)).toEqual(close(corrected));
  });

  it("leaves one p-value alone, never lowers any, keeps their order and stays at most 1", () => {
    expect(holm([0.03])).toEqual([0.03]);
    expect(holm([])).toEqual([]);
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.array(share, { minLength: 2, maxLength: 12 }), (p) => {
        const corrected = holm(p);
        corrected.forEach((value, k) => {
          expect(value).toBeGreaterThanOrEqual(p[k]!);
          expect(value).toBeLessThanOrEqual(1);
          p.forEach((other, j) => {
            if (other < p[k]!) expect(corrected[j]).toBeLessThanOrEqual(value);
          });
        });
        const smallest = p.indexOf(Math.min(...p));
        expect(corrected[smallest]).toBeCloseTo(Math.min(1, p.length * p[smallest]!), 12);
      }),
    );
  });
});
