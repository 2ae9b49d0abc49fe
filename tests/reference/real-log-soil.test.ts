import { describe, expect, it } from "vitest";
import { joinSoilZones } from "../../src/compare/soil-join.ts";
import { compareAll } from "../../src/compare/tables/tables.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { HAS_OHIO_LOG, readOhioField, readOhioJson } from "../support/ohio-log.ts";
import { expectRelative } from "../support/relative.ts";
import { oneWayAnova } from "./anova.ts";

interface Oracle {
  points_without_soil: number;
  by_musym: {
    musym: string;
    n: number;
    pop_mean: number;
    pop_sd: number;
    df_mean: number;
    speed_mean: number;
  }[];
  anova_pop_by_musym: { df: [number, number]; SS: [number, number]; F: number; p: number };
}

/** A real log of 2017 joined to its soil map, against R 4.2.2 with sf 1.0.9, planar in EPSG:32617. */
describe.skipIf(!HAS_OHIO_LOG)("a real log by soil", () => {
  const field = HAS_OHIO_LOG ? readOhioField(true) : undefined;
  const oracle = HAS_OHIO_LOG ? (readOhioJson("oracle.json") as Oracle) : undefined;

  it("records without a soil", () => {
    const outside = joinSoilZones(field!).filter((zone) => zone < 0).length;
    expect(outside).toBe(oracle!.points_without_soil);
    expect(outside).toBe(2472);
  });

  it("counts, means and SDs per soil to 1e-9", () => {
    const rows = compareAll(field!, findPasses(field!), joinSoilZones(field!)).filter(
      (row) => row.pass === null && row.rowUnit === null,
    );
    const row = (soil: string, variable: string) =>
      rows.find((candidate) => candidate.soilZone === soil && candidate.variable === variable)!;
    for (const soil of oracle!.by_musym) {
      expect(row(soil.musym, "population").records).toBe(soil.n);
      expectRelative(row(soil.musym, "population").mean, soil.pop_mean, 1e-9);
      expectRelative(row(soil.musym, "population").sd!, soil.pop_sd, 1e-9);
      expectRelative(row(soil.musym, "downForceMargin").mean, soil.df_mean, 1e-9);
      expectRelative(row(soil.musym, "speed").mean, soil.speed_mean, 1e-9);
    }
    expect(new Set(rows.map((candidate) => candidate.soilZone)).size).toBe(oracle!.by_musym.length);
  });

  it("analysis of variance of population by soil", () => {
    const zones = joinSoilZones(field!);
    const population = field!.log.values.population!;
    const groups = field!.soilZones!.names.map((_, zone) =>
      population.filter((_, record) => zones[record] === zone),
    );
    const found = oneWayAnova(groups.filter((group) => group.length > 0));
    const expected = oracle!.anova_pop_by_musym;
    expect([found.betweenDf, found.withinDf]).toEqual(expected.df);
    expectRelative(found.betweenSumOfSquares, expected.SS[0], 1e-9);
    expectRelative(found.withinSumOfSquares, expected.SS[1], 1e-9);
    expectRelative(found.f, expected.F, 1e-9);
    expectRelative(found.pValue, expected.p, 1e-8);
  });
});
