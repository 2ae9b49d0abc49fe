/**
 * The invented field with faults put into its log that whole sets of rows share, through the whole analysis: traffic
 * and sections are named as one finding, and no row unit of them is called bad.
 */
import { describe, expect, it } from "vitest";
import type { Finding, FindingsDocument } from "../../src/findings/findings-document.ts";
import { analyseField } from "../../src/jobs/analyse.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import type { Passes } from "../../src/passes/passes.ts";
import type { Field } from "../../src/vocabulary/field.ts";
import { larkspurFiles, loadLarkspur } from "../acceptance/support/larkspur.ts";

const TRACKS = [9, 10, 15, 16];

/** The document of the field after its log was changed; without counts and digs. */
async function documentOf(change: (field: Field, passes: Passes) => void): Promise<FindingsDocument> {
  const field = await loadLarkspur(larkspurFiles(1), ["standCounts", "digs"]);
  change(field, findPasses(field));
  return (await analyseField(field)).document;
}

async function findingsOf(change: (field: Field, passes: Passes) => void): Promise<Finding[]> {
  return (await documentOf(change)).findings;
}

/** Adds to the records that are chosen. */
function shift(values: Float64Array, by: number, chosen: (record: number) => boolean): void {
  for (let record = 0; record < values.length; record++) if (chosen(record)) values[record]! += by;
}

describe("rows behind tires", () => {
  const putTracks = (field: Field, passes: Passes): void =>
    shift(field.log.values.seedingDepth!, -16, (record) => TRACKS.includes(passes.rowUnitOf[record]!));

  it.each([[TRACKS], [[]]])("are one finding with the sheet naming %j", async (wheelTrackRows) => {
    const findings = await findingsOf((field, passes) => {
      field.planter.wheelTrackRows = wheelTrackRows;
      putTracks(field, passes);
    });
    const sections = findings.filter(({ kind }) => kind === "section");
    expect(sections).toHaveLength(1);
    expect(sections[0]).toMatchObject({ cause: "wheel-traffic", basis: "predicted" });
    expect(sections[0]!.where.rowUnits).toEqual(TRACKS);
    expect(sections[0]!.remedy.code).toBe("move-traffic");
    expect(sections[0]!.words.title).toBe("Rows 9-10, 15-16: tire and track rows");
    expect(sections[0]!.words.caution).toMatch(/operator's manual/);
    const units = findings.filter(({ kind }) => kind === "row-unit").flatMap(({ where }) => where.rowUnits);
    expect(units.toSorted((a, b) => a - b)).toEqual([5, 17]);
  });
});

it("a unit off by 0.20 in within the tolerance is told as departing, and no finding blames it", async () => {
  const { findings, summary } = await documentOf((field, passes) =>
    shift(
      field.log.values.seedingDepth!,
      5.08,
      (record) =>
        passes.rowUnitOf[record] === 12 && passes.passOf[record]! >= 20 && passes.passOf[record]! <= 25,
    ),
  );
  const departing = summary.departingRows.filter(({ rowUnits }) => rowUnits.includes(12));
  expect(departing).toHaveLength(1);
  expect(departing[0]).toMatchObject({ set: null, variable: "seedingDepth", unit: "mm", inFinding: false });
  expect(departing[0]!.passes).toEqual(expect.arrayContaining([20, 21, 22, 23, 24, 25]));
  expect(findings.filter(({ where }) => where.rowUnits.includes(12))).toEqual([]);
  const named = summary.departingRows
    .filter(({ inFinding }) => inFinding)
    .flatMap(({ rowUnits }) => rowUnits);
  expect([...new Set(named)].sort((a, b) => a - b)).toEqual([5, 17]);
});

describe("a wing", () => {
  const WINGS: [number, number][] = [
    [1, 8],
    [9, 16],
    [17, 24],
  ];

  it("that runs light is a section with the load as its cause; the fill state is told where it goes with it", async () => {
    const findings = await findingsOf((field, passes) => {
      field.planter.wings = WINGS;
      const { downForceMargin, time } = field.log.values;
      // The tanks are filled before each pass whose number is a multiple of 8 and lose 30 N a pass on the wing.
      const sinceFill = (pass: number): number => pass % 8;
      shift(downForceMargin!, -330, (record) => passes.rowUnitOf[record]! <= 8);
      for (let record = 0; record < time!.length; record++) {
        const pass = passes.passOf[record]!;
        if (passes.rowUnitOf[record]! <= 8) downForceMargin![record]! -= 30 * sinceFill(pass);
        time![record]! += 900 * Math.floor(pass / 8);
      }
    });
    const section = findings.find(({ kind }) => kind === "section")!;
    expect(section).toMatchObject({ cause: "lost-ground-contact", basis: "predicted" });
    expect(section.where.rowUnits).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
    expect(section.remedy.text).toMatch(/rows 1-8/);
    expect(section.words.seen.join("\n")).toMatch(
      /goes with the seed dropped since the last stop: \d+ lb less for each million/,
    );
    const units = findings.filter(({ kind }) => kind === "row-unit").flatMap(({ where }) => where.rowUnits);
    expect(units.filter((unit) => unit <= 8 && unit !== 5)).toEqual([]);
  });
});

describe("end rows", () => {
  it("that depart as a set are traffic, in one finding with their passes", async () => {
    let endRows: number[] = [];
    const findings = await findingsOf((field, passes) => {
      endRows = passes.passes.filter(({ headland }) => headland).map(({ number }) => number);
      shift(field.log.values.seedingDepth!, -18, (record) => endRows.includes(passes.passOf[record]!));
    });
    expect(endRows.length).toBeGreaterThanOrEqual(3);
    const traffic = findings.filter(({ cause }) => cause === "wheel-traffic");
    expect(traffic).toHaveLength(1);
    expect(traffic[0]).toMatchObject({ basis: "predicted", kind: "pass" });
    expect(traffic[0]!.where.passes).toEqual(endRows);
    expect(traffic[0]!.alternatives.map(({ cause }) => cause)).toContain("too-shallow");
    expect(traffic[0]!.remedy.text).toMatch(/end rows/);
  });

  it("of the field as it stands are not called", async () => {
    const findings = await findingsOf(() => {});
    expect(findings.filter(({ cause }) => cause === "wheel-traffic")).toEqual([]);
    expect(findings.filter(({ kind }) => kind === "section")).toEqual([]);
  });
});
