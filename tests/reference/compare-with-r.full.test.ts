/** The comparison tables against R with data.table, to 1e-12, on 100,000 records. */
import { spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { joinSoilZones } from "../../src/compare/soil-join.ts";
import type { ComparisonRow } from "../../src/compare/tables/comparison.ts";
import { compareAll } from "../../src/compare/tables/tables.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const SCRIPT = fileURLToPath(new URL("./compare-with-r.R", import.meta.url));
const PLANTER = { rowUnits: 20, rowSpacingM: 0.762 };
const PASSES = 20;
const LENGTH = 500;
/** Relative to the figure, or for a difference that cancels to the mean of its variable. */
const TOLERANCE = 1e-12;

const FIGURES = [
  "records",
  "mean",
  "sd",
  "p10",
  "p50",
  "p90",
  "robustSd",
  "shareBelow",
  "shareAbove",
  "shareOutside",
  "spreadAlongRow",
  "noLoadShare",
  "difference",
  "low",
  "high",
] as const;

const hasR =
  spawnSync("Rscript", ["-e", "stopifnot(requireNamespace('data.table', quietly = TRUE))"]).status === 0;
const mustRun = process.env.CI !== undefined && process.env.CI !== "";

/** 20 units x 20 passes x 250 moments, three zones across the passes; figures rounded as a log rounds them. */
function hundredThousandRecords() {
  const random = seededRandom(41);
  const log = drive(upAndDown(PASSES, PLANTER.rowUnits * PLANTER.rowSpacingM, LENGTH), PLANTER);
  const seedingDepth = log.x.map((_, i) => round(51 + log.rowUnit[i]! / 10 + 4 * normal(random), 2));
  const downForceMargin = log.x.map((_, i) => round(420 - 20 * (log.line[i]! % 3) + 190 * normal(random), 1));
  const strip = (from: number, to: number): [number, number][][] => [
    [[-50, from], [400, from], [400, to], [-50, to], [-50, from]], // biome-ignore format: one line
  ];
  const field = buildField({
    ...log,
    layout: "row-unit",
    hasClockTime: true,
    planter: PLANTER,
    targets: { seedingDepthMm: 50.8, downForceMarginN: [267, 712] },
    values: { time: log.time, rowUnit: log.rowUnit, seedingDepth, downForceMargin },
    soilZones: [
      { name: "1", rings: strip(-1, 170) },
      { name: "2", rings: strip(170, 333) },
      { name: "3", rings: strip(333, 501) },
    ],
  });
  return { field, log };
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}

const keyOf = (pass: unknown, zone: unknown, unit: unknown, variable: unknown): string =>
  [pass ?? "NA", zone ?? "NA", unit ?? "NA", variable].join("/");

const title = hasR
  ? "every figure of every row equals R's"
  : "every figure of every row equals R's (needs Rscript with data.table: Debian packages r-base-core and r-cran-data.table)";

const folder = temporaryFolder();

it.skipIf(!hasR && !mustRun)(title, () => {
  const { field, log } = hundredThousandRecords();
  expect(field.log.recordCount).toBe(100_000);
  const passes = findPasses(field);
  const zones = joinSoilZones(field);
  const rows = compareAll(field, passes, zones);
  const [input, output] = [join(folder, "records.csv"), join(folder, "figures.csv")];
  const lines = log.x.map((_, i) =>
    [
      log.line[i]! + 1,
      field.soilZones!.names[zones[i]!],
      log.rowUnit[i],
      log.moment[i],
      field.log.values.seedingDepth![i],
      field.log.values.downForceMargin![i],
    ].join(","),
  );
  writeFileSync(input, `pass,zone,unit,moment,depth,margin\n${lines.join("\n")}\n`);
  const run = spawnSync("Rscript", [SCRIPT, input, output], { encoding: "utf8" });
  expect(run.status, run.stderr).toBe(0);

  const [heading, ...body] = readFileSync(output, "utf8").trim().split("\n");
  const names = heading!.split(",");
  const ofR = new Map(
    body.map((line) => {
      const cells = Object.fromEntries(line.split(",").map((cell, k) => [names[k]!, cell]));
      return [keyOf(cells.pass, cells.zone, cells.unit, cells.variable), cells] as const;
    }),
  );
  // 3 zones, 20 passes and 20 units, each over all and in each zone, of two variables.
  expect(ofR.size).toBe(2 * (3 + 4 * 20 + 4 * 20));
  expect(rows).toHaveLength(ofR.size);
  let compared = 0;
  for (const row of rows) {
    const name = row.variable === "seedingDepth" ? "depth" : "margin";
    const reference = ofR.get(keyOf(row.pass, row.soilZone, row.rowUnit, name))!;
    expect(reference, JSON.stringify(row)).toBeDefined();
    for (const figure of FIGURES) compared += same(row, figure, Number(reference[figure]), reference.mean!);
  }
  // All but the interval of passes (3 zone rows, 160 pass rows) and the figures that a variable does not have.
  expect(compared).toBeGreaterThan(3500);
});

/** 1 when the figure was there to compare, 0 when R does not give it. */
function same(row: ComparisonRow, figure: (typeof FIGURES)[number], reference: number, mean: string): number {
  if (Number.isNaN(reference)) return 0;
  const scale = Math.max(
    Math.abs(reference),
    ["difference", "low", "high"].includes(figure) ? Number(mean) : 0,
  );
  const error = Math.abs(row[figure]! - reference);
  expect(error, `${figure} of ${JSON.stringify(row)}, R ${reference}`).toBeLessThanOrEqual(TOLERANCE * scale);
  return 1;
}
