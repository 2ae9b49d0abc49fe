import { describe, expect, it } from "vitest";
import { mean, standardDeviation } from "../../src/numerics/descriptive.ts";
import { expectRelative } from "../support/relative.ts";
import { oneWayAnova } from "./anova.ts";
import { ANOVA, simonLesage, UNIVARIATE } from "./nist-sets.ts";

/**
 * Digits that double precision leaves: the data themselves are rounded when read. With a constant lead of
 * 1e6 before a spread of 0.1 the spread keeps 9 digits, with 1e7 8, with 1e12 2.
 */
const UNIVARIATE_TOLERANCE: Record<string, number> = { NumAcc3: 2e-9, NumAcc4: 2e-8 };

describe("univariate sets of NIST", () => {
  it.each(UNIVARIATE)("$name", (set) => {
    const tolerance = UNIVARIATE_TOLERANCE[set.name] ?? 1e-13;
    expectRelative(mean(set.values), set.mean, 1e-14);
    expectRelative(standardDeviation(set.values), set.standardDeviation, tolerance);
  });
});

describe("one-way analysis of variance of NIST", () => {
  it.each(ANOVA)("$name", (set) => {
    const found = oneWayAnova(set.groups);
    // AtmWtAg has 7 constant leading digits: about 1e-9 relative is what rounding of the data leaves.
    const tolerance = set.name === "AtmWtAg" ? 2e-9 : 1e-11;
    expectRelative(found.betweenSumOfSquares, set.betweenSumOfSquares, tolerance);
    expectRelative(found.withinSumOfSquares, set.withinSumOfSquares, tolerance);
    expectRelative(found.f, set.f, tolerance);
    expectRelative(found.rSquared, set.rSquared, tolerance);
    expectRelative(found.residualSd, set.residualSd, tolerance);
  });

  it.each([
    // level, pairs a treatment, certified F, relative tolerance
    ["SmLs01", "1", 10, 21, 1e-12],
    ["SmLs02", "1", 100, 201, 1e-12],
    ["SmLs03", "1", 1000, 2001, 1e-12],
    ["SmLs04", "1000000", 10, 21, 1e-8],
    ["SmLs05", "1000000", 100, 201, 1e-8],
    ["SmLs06", "1000000", 1000, 2001, 1e-8],
    ["SmLs07", "1000000000000", 10, 21, 1e-2],
    ["SmLs08", "1000000000000", 100, 201, 1e-2],
    ["SmLs09", "1000000000000", 1000, 2001, 1e-2],
  ] as const)("%s", (_name, level, pairs, f, tolerance) => {
    const found = oneWayAnova(simonLesage(level, pairs));
    expect([found.betweenDf, found.withinDf]).toEqual([8, 9 * 2 * pairs]);
    expectRelative(found.f, f, tolerance);
    expectRelative(found.residualSd, 0.1, tolerance);
  });

  it("the p-value of SmLs01, F 21 on 8 and 180, as R 4.2.2 gives it", () => {
    expectRelative(oneWayAnova(simonLesage("1", 10)).pValue, 2.58326433726895e-22, 1e-9);
  });
});
