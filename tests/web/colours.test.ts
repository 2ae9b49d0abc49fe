/** Colour scales: the target is neutral, order is kept, missing values stay without colour. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourColumn, scaleOf, shareOf } from "../../web/colours/colour-scale.ts";
import { colourAt, inkOn } from "../../web/colours/palettes.ts";

const TARGETS = {
  seedingDepthMm: 50.8,
  populationPerHa: null,
  downForceMarginN: [267, 712] as [number, number],
  speedMetresPerSecond: null,
};

const margins = fc.array(fc.double({ min: -100, max: 2000, noNaN: true }), { minLength: 3, maxLength: 60 });

describe("a scale around a target", () => {
  it("is neutral at the target, orange below and purple above it", () => {
    const scale = scaleOf("seedingDepth", Float32Array.from([30, 45, 50.8, 55, 70]), TARGETS);
    expect(shareOf(scale, 50.8)).toBe(0.5);
    // The middle class of PuOr, 11 classes (ColorBrewer): #f7f7f7.
    expect(colourAt(scale.palette, 0.5)).toEqual([247, 247, 247]);
    const [shallowRed, , shallowBlue] = colourAt(scale.palette, shareOf(scale, 35));
    expect(shallowRed).toBeGreaterThan(shallowBlue);
    const [deepRed, , deepBlue] = colourAt(scale.palette, shareOf(scale, 65));
    expect(deepBlue).toBeGreaterThan(deepRed);
  });

  it("is neutral all through a band and never turns round", () => {
    fc.assert(
      fc.property(margins, (values) => {
        const scale = scaleOf("downForceMargin", Float32Array.from(values), TARGETS);
        for (const value of [267, 400, 712]) expect(shareOf(scale, value)).toBe(0.5);
        const sorted = [...values].sort((a, b) => a - b);
        const shares = sorted.map((value) => shareOf(scale, value));
        for (let i = 1; i < shares.length; i++) expect(shares[i]!).toBeGreaterThanOrEqual(shares[i - 1]!);
      }),
    );
  });

  it("shows an even field as even: small noise stays pale", () => {
    const values = Float32Array.from({ length: 500 }, (_, i) => 50.8 + 0.8 * Math.sin(i * 2.7));
    const scale = scaleOf("seedingDepth", values, TARGETS);
    const palest = Math.max(...[...values].map((value) => Math.abs(shareOf(scale, value) - 0.5)));
    expect(palest).toBeLessThan(0.08);
  });
});

describe("a scale in one direction", () => {
  it("puts the bad end of skips at the dark end", () => {
    const scale = scaleOf("misses", Float32Array.from([0, 0.01, 0.05, 0.1]), TARGETS);
    const light = colourAt(scale.palette, shareOf(scale, 0)).reduce((sum, part) => sum + part);
    const dark = colourAt(scale.palette, shareOf(scale, 0.1)).reduce((sum, part) => sum + part);
    expect(dark).toBeLessThan(light);
  });

  it("gives no colour where there is no value", () => {
    const values = Float32Array.from([0.01, Number.NaN, 0.03]);
    const colours = colourColumn(scaleOf("misses", values, TARGETS), values);
    expect([colours[3], colours[7], colours[11]]).toEqual([255, 0, 255]);
  });
});

describe("numbers on colours", () => {
  it("keep a contrast of 4.5 to 1 on every colour of every ramp (WCAG 2.2, 1.4.3)", () => {
    // Written out from the definition of relative luminance, apart from the code under test.
    const linear = (value: number) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4);
    for (const palette of ["cividis", "cividis-reversed", "puor"] as const) {
      for (let share = 0; share <= 1; share += 1 / 512) {
        const rgb = colourAt(palette, share);
        const light =
          0.2126 * linear(rgb[0] / 255) + 0.7152 * linear(rgb[1] / 255) + 0.0722 * linear(rgb[2] / 255);
        const contrast = inkOn(rgb) === "#fff" ? 1.05 / (light + 0.05) : (light + 0.05) / 0.05;
        expect(contrast, `${palette} ${share}`).toBeGreaterThanOrEqual(4.5);
      }
    }
  });
});
