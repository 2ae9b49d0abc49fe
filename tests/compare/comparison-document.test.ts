/** The worked lines of docs/comparison.md come out of the code. */
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { seedCountIndices, summariseSpacings, theoreticalSpacingMm } from "../../src/compare/spacing.ts";
import { differencesOfPasses } from "../../src/compare/tables/pass-difference.ts";
import { differenceOfRowUnit } from "../../src/compare/tables/row-unit-difference.ts";
import { compareAll } from "../../src/compare/tables/tables.ts";
import { THRESHOLDS } from "../../src/compare/thresholds.ts";
import { clusteredLeastSquares } from "../../src/numerics/clustered-least-squares.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { groundBalance } from "../../src/passes/ground-balance.ts";
import { type DrivenLine, drive } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";

const text = readFileSync(new URL("../../docs/comparison.md", import.meta.url), "utf8").replaceAll(
  /\s+/g,
  " ",
);

function says(sentence: string): void {
  expect(text).toContain(sentence);
}

it("figures of a group", () => {
  const depth = [42, 44, 47, 49, 50, 51, 52, 53, 55, 62];
  const log = drive([{ way: [[0, 0], [0, 20]] }], { rowUnits: 1, rowSpacingM: 0.762, bar: true }); // biome-ignore format: one line
  const field = buildField({
    ...log,
    hasClockTime: true,
    values: { time: log.time, seedingDepth: depth },
    targets: { seedingDepthMm: 50.8 },
    planter: { rowUnits: 1, rowSpacingM: 0.762 },
  });
  const row = compareAll(field, findPasses(field), new Int32Array(10).fill(-1)).find(
    ({ pass }) => pass === 1,
  )!;
  says(`mean ${row.mean}, SD ${row.sd!.toFixed(3)}, robust SD ${row.robustSd!.toFixed(3)}`);
  says(`percentiles ${row.p10}, ${row.p50} and ${row.p90.toFixed(1)}`);
  says(`below ${row.shareBelow}, above ${row.shareAbove}, within 6 mm ${row.withinTolerance!.toFixed(1)}`);
  says(`the spread along the row would be ${row.spreadAlongRow!.toFixed(3)} mm`);
  says(`at or below ${THRESHOLDS.noLoad.value.toFixed(1)} N (${THRESHOLDS.noLoad.farm})`);
});

it("a pass against the others, a row unit against the others", () => {
  const flat = (mean: number) => ({ records: 100, mean, variance: 0, df: 1 });
  const [own] = differencesOfPasses([flat(47), flat(50), flat(52)]);
  says(`the difference is ${own!.difference}`);
  // The variance of 1 on one degree of freedom: t(0.975, 1) = 12.706.
  expect(own!.high! - own!.difference!).toBeCloseTo(12.7062, 3);

  const counts = [40, 40, 20];
  const unit = differenceOfRowUnit([-5 * 40, -6 * 40, -4 * 20], counts);
  says(`d = ${unit.difference!.toFixed(1)}`);
  says(`95 % interval ${unit.low!.toFixed(2)} to ${unit.high!.toFixed(2)}`);
});

it("ground, drivers, spacing", () => {
  const width = 12 * 0.762;
  const lines = [0, width, 1.4 * width].map((x): DrivenLine => ({ way: [[x, 0], [x, 200]] })); // biome-ignore format: one line
  const log = drive(lines, { rowUnits: 12, rowSpacingM: 0.762 });
  const field = buildField({
    ...log,
    layout: "row-unit",
    hasClockTime: true,
    planter: { rowUnits: 12, rowSpacingM: 0.762 },
    values: { time: log.time, rowUnit: log.rowUnit },
  });
  const { overlapM2, plantedM2 } = groundBalance(field, findPasses(field), []);
  const [, swept, overlap, planted] = /swept ([\d.]+) ha, overlap ([\d.]+) ha, planted ([\d.]+) ha/.exec(
    text,
  )!;
  // On a raster of 0.25 m.
  expect(Math.abs(overlapM2 / 10_000 - Number(overlap))).toBeLessThan(0.005);
  expect(Math.abs(plantedM2 / 10_000 - Number(planted))).toBeLessThan(0.005);
  expect(Number(swept)).toBeCloseTo((3 * width * 200) / 10_000, 3);

  const fit = clusteredLeastSquares({
    y: Float64Array.of(0, 1, 3, 6),
    columns: [Float64Array.of(-1, -1, 1, 1)],
    weights: new Float64Array(4).fill(1),
    levelOf: new Int32Array(4),
    levels: 1,
    clusterOf: Int32Array.of(0, 1, 1, 2),
    clusters: 3,
  })!;
  const [, error] = /= (0\.\d+)\. ## 8/.exec(text)!;
  expect(Math.abs(fit.standardErrors[0]! - Number(error))).toBeLessThan(0.003);

  const theory = theoreticalSpacingMm(84_000, 0.762);
  const spacings = [150, 160, 155, 310, 40, 158, 470, 149];
  const counted = summariseSpacings(spacings, theory);
  const seeds = seedCountIndices(spacings, theory);
  says(`T = ${theory.toFixed(1)} mm`);
  says(`${counted.multiples} multiples, ${counted.singles} singles, ${counted.misses} misses`);
  says(`counting seeds ${seeds.multiples}, ${seeds.singles} and ${seeds.misses}`);
  says(`${((84_000 * 24 * 0.762 * 603) / 1e10).toFixed(4)} million seeds on a pass of 603 m`);
});
