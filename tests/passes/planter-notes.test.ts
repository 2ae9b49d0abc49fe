import { describe, expect, it } from "vitest";
import { analyseField } from "../../src/jobs/analyse.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { planterNotes } from "../../src/passes/planter-notes.ts";
import type { Field } from "../../src/vocabulary/field.ts";
import { type DrivenLine, drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";

const PLANTER = { rowUnits: 6, rowSpacingM: 0.762 };
const WIDTH = 6 * 0.762;

function fieldOf(
  lines: DrivenLine[],
  planter: Partial<Field["planter"]>,
  change = (unit: number) => unit,
): Field {
  const log = drive(lines, PLANTER);
  return buildField({
    ...log,
    layout: "row-unit",
    hasClockTime: true,
    planter: { ...PLANTER, ...planter },
    values: { time: log.time, rowUnit: log.rowUnit.map(change), seedingDepth: log.x.map(() => 50) },
  });
}

describe("where sheet and log do not fit", () => {
  it("a sheet that fits says nothing", () => {
    const field = fieldOf(upAndDown(4, WIDTH, 60), { wheelTrackRows: [2, 5], wings: [[1, 3]] });
    expect(planterNotes(field, findPasses(field))).toEqual([]);
  });

  it("another number of rows, rows that are not there, records without a row", async () => {
    const planter = { rowUnits: 4, wheelTrackRows: [2, 5, 9], wings: [[1, 12]] as [number, number][] };
    const field = fieldOf(upAndDown(4, WIDTH, 60), planter, (unit) => (unit === 1 ? Number.NaN : unit));
    const passes = findPasses(field);
    const notes = planterNotes(field, passes);
    const perUnit = field.log.recordCount / 6;
    expect(notes.map(({ field: name, effect, count, value }) => [name, effect, count, value])).toEqual([
      ["planter.rowUnits", "kept", 2 * perUnit, "4"],
      ["rowUnit", "kept", perUnit, null],
      ["planter.wheelTrackRows", "left out", 1, "9"],
      ["planter.wings", "left out", 1, "12"],
    ]);
    expect(notes[2]!.reason).toMatch(/rows 1 to 6/);
    const { document } = await analyseField(field);
    expect(document.comparison.filter(({ rowUnit }) => rowUnit !== null).length).toBeGreaterThan(0);
  });

  it("a pass of three records is counted and the rest analysed, with the notes in the document", async () => {
    const stub: DrivenLine = { way: [[WIDTH * 6, 0], [WIDTH * 6, 6]] }; // biome-ignore format: one line
    const field = fieldOf([...upAndDown(4, WIDTH, 60), stub], {});
    field.inputs = [
      {
        role: "plantingLog",
        file: "planting.csv",
        sha256: null,
        records: field.log.recordCount,
        used: field.log.recordCount,
        leftOut: 0,
        crs: "EPSG:32615",
        recognised: [],
        unrecognised: [],
        notes: [],
      },
    ];
    const { document, passes } = await analyseField(field);
    expect(passes.passes).toHaveLength(5);
    const note = document.inputs[0]!.notes.find(({ reason }) => reason.includes("too short"))!;
    expect(note).toMatchObject({ effect: "kept", count: 3 * 6 });
    expect(new Set(document.comparison.map(({ pass }) => pass))).toContain(4);
  });
});
