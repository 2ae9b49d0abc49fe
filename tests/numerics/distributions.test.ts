import { describe, expect, it } from "vitest";
import {
  betaQuantile,
  fUpperTail,
  normalCdf,
  normalDensity,
  normalQuantile,
  studentTCdf,
  studentTQuantile,
} from "../../src/numerics/distributions.ts";
import { logGamma } from "../../src/numerics/special-functions.ts";
import { expectRelative } from "../support/relative.ts";

// Reference values: R 4.2.2 Patched (r83330), functions pnorm, qnorm, pt, qt, pf, binom.test,
// printed with 15 digits; tolerance 1e-12 relative because the last printed digit is rounded.
const TOLERANCE = 1e-12;

describe("normal distribution", () => {
  it.each([
    [-8, 6.22096057427178e-16],
    [-5, 2.86651571879194e-7],
    [-3, 0.00134989803163009],
    [-1.959964, 0.0249999990964424],
    [0, 0.5],
    [1, 0.841344746068543],
    [3, 0.99865010196837],
  ])("pnorm(%f)", (z, probability) => expectRelative(normalCdf(z), probability, TOLERANCE));

  it.each([
    [1e-10, -6.36134090240406],
    [0.001, -3.09023230616781],
    [0.025, -1.95996398454005],
    [0.5, 0],
    [0.975, 1.95996398454005],
  ])("qnorm(%f)", (probability, z) => expectRelative(normalQuantile(probability), z, TOLERANCE));

  it("the ends and what lies outside", () => {
    expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
    expect(normalQuantile(1.2)).toBeNaN();
  });

  it("the density is the slope of the distribution function", () => {
    for (const z of [-2.5, -0.3, 0, 1.7]) {
      expect((normalCdf(z + 1e-5) - normalCdf(z - 1e-5)) / 2e-5).toBeCloseTo(normalDensity(z), 9);
    }
  });
});

describe("Student's t, F, chi-square, beta", () => {
  it.each([
    [1, 12.7062047361747],
    [2, 4.30265272974946],
    [3.5, 2.94008863798273],
    [10, 2.22813885198627],
    [30, 2.04227245630124],
    [200, 1.97189622363391],
  ])("qt(0.975, %f)", (df, t) => {
    expectRelative(studentTQuantile(0.975, df), t, TOLERANCE);
    expectRelative(studentTQuantile(0.025, df), -t, TOLERANCE);
  });

  it.each([
    [-5, 3, 0.00769621903665115],
    [2.2, 15, 0.978052212436252],
    [8, 35, 0.999999998972298],
  ])("pt(%f, %f)", (t, df, probability) => expectRelative(studentTCdf(t, df), probability, TOLERANCE));

  it("t with endless freedom is normal", () => {
    expect(studentTQuantile(0.975, Number.POSITIVE_INFINITY)).toBe(normalQuantile(0.975));
  });

  it.each([
    [21, 8, 180, 2.58326433726895e-22],
    [4.2, 3, 20, 0.0185574198348262],
    [1.1, 5, 66, 0.368918767939614],
  ])("pf(%f, %f, %f) upper tail", (f, d1, d2, probability) =>
    expectRelative(fUpperTail(f, d1, d2), probability, TOLERANCE),
  );

  it.each([
    [29, 34, 0.689434269604875, 0.950471544743823],
    [31, 34, 0.763224725713062, 0.98142049655916],
    [118, 136, 0.798911849416546, 0.919634883389029],
  ])("exact binomial limits of %i in %i from beta quantiles", (x, n, low, high) => {
    expectRelative(betaQuantile(0.025, x, n - x + 1), low, TOLERANCE);
    expectRelative(betaQuantile(0.975, x + 1, n - x), high, TOLERANCE);
  });

  it("log gamma meets factorials and the half", () => {
    expectRelative(Math.exp(logGamma(6)), 120, 1e-13);
    expectRelative(logGamma(0.5), 0.5 * Math.log(Math.PI), 1e-13);
    expectRelative(logGamma(171) - logGamma(170), Math.log(170), 1e-12);
  });
});
