/**
 * The whole job on the invented field, for several seeds: what was put in is found, and nothing else. The
 * ground is the same for every seed, the noise of log, counts and digs is not.
 */
import { readdirSync, readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { makeLarkspurDrawTruth } from "../../sample-data/larkspur-draw.ts";
import type { LarkspurDrawTruth } from "../../sample-data/truth.ts";
import type { Finding, FindingsDocument } from "../../src/findings/findings-document.ts";
import { analyseField } from "../../src/jobs/analyse.ts";
import { larkspurFiles, loadLarkspur, overlap } from "./support/larkspur.ts";

/** Seeds 3 to 9 are looked at by the longer tests (tests/truth/other-seeds). */
const SEEDS = [1, 2];
/** Least overlap with the true outline; measured on these seeds: 0.87 to 0.98, the pocket 0.56 to 0.76. */
const LEAST_OVERLAP = { drawnByTheLog: 0.8, drawnByCounts: 0.45 };

const LARKSPUR_PLACES = ["knoll", "swaleDayTwo", "fastPasses", "pocket"] as const;

describe.each(SEEDS)("the invented field, seed %i", (seed) => {
  let truth: LarkspurDrawTruth;
  let document: FindingsDocument;
  let logAlone: FindingsDocument;
  let fastPasses: number[];

  beforeAll(async () => {
    truth = makeLarkspurDrawTruth(seed);
    fastPasses = truth.passes.filter((pass) => pass.fast).map((pass) => pass.number);
    const files = larkspurFiles(seed);
    document = (await analyseField(await loadLarkspur(files))).document;
    logAlone = (await analyseField(await loadLarkspur(files, ["standCounts", "digs"]))).document;
  });

  const counted = (): Finding[] => document.findings.filter((finding) => finding.basis === "counted");
  const only = (findings: readonly Finding[], cause: Finding["cause"]): Finding => {
    const found = findings.filter((finding) => finding.cause === cause);
    expect(found, cause).toHaveLength(1);
    return found[0]!;
  };
  const overlapWith = (finding: Finding, place: (typeof LARKSPUR_PLACES)[number]): number =>
    overlap(finding, truth, (longitude, latitude) => truth.places[place].contains(longitude, latitude));

  it("the five places are found, each with cause, kind and detail", () => {
    expect(
      counted()
        .map(({ cause, kind, detail }) => [cause, kind, detail])
        .sort(),
    ).toEqual([
      ["excess-down-force", "area", null],
      ["excess-speed", "pass", null],
      ["lost-ground-contact", "area", null],
      ["soil-or-weather", "area", "crust"],
      ["too-shallow", "row-unit", null],
    ]);
  });

  it("causes are those put in", () => {
    for (const place of LARKSPUR_PLACES) {
      const finding = only(counted(), truth.places[place].cause);
      for (const other of LARKSPUR_PLACES) {
        if (other !== place) expect(overlapWith(finding, other), `${place} over ${other}`).toBeLessThan(0.02);
      }
    }
    expect(only(counted(), truth.shallowRow.cause).where.rowUnits).toEqual([truth.shallowRow.rowUnit]);
  });

  it("outlines overlap the true ones", () => {
    for (const place of LARKSPUR_PLACES) {
      const least = place === "pocket" ? LEAST_OVERLAP.drawnByCounts : LEAST_OVERLAP.drawnByTheLog;
      expect(overlapWith(only(counted(), truth.places[place].cause), place), place).toBeGreaterThan(least);
    }
  });

  it("the fast passes are named by number, the slipped unit is so in every pass", () => {
    expect(only(counted(), "excess-speed").where.passes).toEqual(fastPasses);
    expect(only(counted(), "too-shallow").where.passes).toEqual([]);
  });

  it("the second day's swale lies on passes of the second day only", () => {
    const dates = only(counted(), "excess-down-force").where.passes.map(
      (number) => truth.passes[number - 1]!.date,
    );
    expect(new Set(dates)).toEqual(new Set([truth.passes.at(-1)!.date]));
  });

  it("the decoy is a sensor, on its day's passes, and nothing else is flagged", () => {
    const others = document.findings.filter((finding) => finding.basis !== "counted");
    for (const finding of others) {
      expect(finding).toMatchObject({
        cause: truth.dustySensorRow.cause,
        kind: "row-unit",
        basis: "cleared",
      });
      expect(finding.where.rowUnits).toEqual([truth.dustySensorRow.rowUnit]);
    }
    expect(others.length).toBeLessThanOrEqual(1);
    expect(
      document.findings.filter(
        (finding) =>
          finding.where.rowUnits.includes(truth.dustySensorRow.rowUnit) && finding.cause !== "sensor-fault",
      ),
    ).toEqual([]);
  });

  it("intervals of the plants missing hold what was put in, or miss it by little", () => {
    // Ten intervals of 90 % a seed cannot all hold; none may be off by more than its own width.
    for (const place of LARKSPUR_PLACES) {
      const { deficitShare } = only(counted(), truth.places[place].cause).stand;
      const real = (truth.ordinary.plantsPerAcre - truth.places[place].numbers.plantsPerAcre) / 34_000;
      const width = deficitShare!.high - deficitShare!.low;
      expect(deficitShare!.low - width / 2, place).toBeLessThan(real);
      expect(deficitShare!.high + width / 2, place).toBeGreaterThan(real);
      expect(deficitShare!.low, place).toBeLessThan(deficitShare!.high);
    }
  });

  it("with the log alone the pocket is not seen and everything rests on the log", () => {
    for (const finding of logAlone.findings) {
      expect(finding.basis).toBe("predicted");
      expect(finding.cause).not.toBe("soil-or-weather");
      expect(finding.stand.deficitShare).toBeNull();
      expect(finding.stand.counts + finding.stand.digs).toBe(0);
      expect(overlapWith(finding, "pocket")).toBeLessThan(0.02);
    }
    for (const place of ["knoll", "swaleDayTwo", "fastPasses"] as const) {
      expect(overlapWith(only(logAlone.findings, truth.places[place].cause), place), place).toBeGreaterThan(
        LEAST_OVERLAP.drawnByTheLog,
      );
    }
    expect(logAlone.findings.filter((finding) => finding.kind === "row-unit").length).toBeLessThanOrEqual(2);
    expect(logAlone.summary.notJudged.map(({ what }) => what)).toEqual(
      expect.arrayContaining(["the stand", "the furrow"]),
    );
  });

  it("sums add up and findings are numbered in order", () => {
    for (const { findings, summary, field } of [document, logAlone]) {
      expect(findings.map(({ id }) => id)).toEqual(findings.map((_, k) => `F${k + 1}`));
      for (const { probability, alternatives } of findings) {
        const sum = alternatives.reduce((total, entry) => total + entry.probability, probability);
        expect(Math.abs(sum - 1)).toBeLessThan(1e-9);
      }
      expect(Math.abs(summary.affectedHa + summary.nothingFoundHa - field.areaHa)).toBeLessThan(1e-9);
      expect(field.areaHa).toBeCloseTo(truth.field.areaHa, 1);
    }
  });
});

it("the same input gives the same bytes", async () => {
  const files = larkspurFiles(1);
  const [first, second] = [await loadLarkspur(files), await loadLarkspur(files)];
  expect(second.log).toEqual(first.log);
  const text = JSON.stringify((await analyseField(first)).document);
  // Analysing changes nothing in the field that was loaded.
  expect(second.log).toEqual(first.log);
  expect(JSON.stringify((await analyseField(second)).document)).toBe(text);
});

it("no file of the library knows the sample data", () => {
  const root = new URL("../../src/", import.meta.url);
  const paths = readdirSync(root, { recursive: true, encoding: "utf8" }).filter((path) =>
    path.endsWith(".ts"),
  );
  expect(paths.length).toBeGreaterThan(100);
  const guilty = paths.filter((path) =>
    /sample-data|larkspur/i.test(readFileSync(new URL(path, root), "utf8").replace(/\/\*[\s\S]*?\*\//g, "")),
  );
  expect(guilty).toEqual([]);
});
