/** Where the planter sheet and the log do not fit each other, and passes too short to say anything. */
import type { Note } from "../errors.ts";
import type { Field } from "../vocabulary/field.ts";
import type { Passes } from "./passes.ts";

/** A pass of no more moments than this has no figures of its own worth a comparison (our judgement). */
const SHORT_PASS_MOMENTS = 3;

/** Notes for the planting log, with counts; nothing is changed by them. */
export function planterNotes(field: Field, passes: Passes): Note[] {
  const notes: Note[] = [...(passes.notes ?? [])];
  const { planter, log } = field;
  const units = passes.rowUnitCount;
  if (log.layout === "row-unit" && units > 0) {
    if (planter.rowUnits !== null && planter.rowUnits !== units) {
      const beyond = recordsWhere(passes, (record) => passes.rowUnitOf[record]! > planter.rowUnits!);
      notes.push({
        reason: `the log has ${units} row units, the planter sheet ${planter.rowUnits}: the log's count is used`,
        effect: "kept",
        count: beyond.count,
        field: "planter.rowUnits",
        firstRecord: beyond.first < 0 ? null : log.fileRecord[beyond.first]!,
        value: String(planter.rowUnits),
      });
    }
    const unnumbered = recordsWhere(
      passes,
      (record) => passes.passOf[record]! > 0 && passes.rowUnitOf[record] === 0,
    );
    if (unnumbered.count > 0) {
      notes.push({
        reason: "no row number from 1 upwards: in no row-unit row",
        effect: "kept",
        count: unnumbered.count,
        field: "rowUnit",
        firstRecord: log.fileRecord[unnumbered.first]!,
        value: null,
      });
    }
    const outside = (rows: readonly number[]): number[] => rows.filter((row) => row < 1 || row > units);
    const sheet: [string, number[]][] = [
      ["planter.wheelTrackRows", outside(planter.wheelTrackRows)],
      ["planter.wings", outside(planter.wings.flat())],
    ];
    for (const [name, rows] of sheet) {
      if (rows.length === 0) continue;
      notes.push({
        reason: `names rows that the log has not; accepted are rows 1 to ${units}`,
        effect: "left out",
        count: rows.length,
        field: name,
        firstRecord: null,
        value: rows.join(", "),
      });
    }
  }
  const short = new Set(
    passes.passes.filter(({ moments }) => moments <= SHORT_PASS_MOMENTS).map(({ number }) => number),
  );
  const onShort = recordsWhere(passes, (record) => short.has(passes.passOf[record]!));
  if (onShort.count > 0) {
    notes.push({
      reason: `on ${short.size} ${short.size === 1 ? "pass" : "passes"} of ${SHORT_PASS_MOMENTS} moments or fewer: too short to be compared with others`,
      effect: "kept",
      count: onShort.count,
      field: null,
      firstRecord: log.fileRecord[onShort.first]!,
      value: null,
    });
  }
  return notes;
}

/** How many records are meant and the first of them, -1 where none is. */
function recordsWhere(passes: Passes, chosen: (record: number) => boolean): { count: number; first: number } {
  let count = 0;
  let first = -1;
  for (let record = 0; record < passes.passOf.length; record++) {
    if (!chosen(record)) continue;
    count++;
    if (first < 0) first = record;
  }
  return { count, first };
}
