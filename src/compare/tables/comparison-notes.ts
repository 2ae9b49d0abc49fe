/** What the comparison tables leave out or put in some rows only, counted. */
import type { Note } from "../../errors.ts";
import type { Passes } from "../../passes/passes.ts";
import { groupBy } from "../../passes/record-groups.ts";
import type { Field } from "../../vocabulary/field.ts";
import { LOG_VARIABLES, PLANTING_VARIABLES } from "../../vocabulary/variables.ts";
import { plantedRecords } from "./planted-records.ts";

/**
 * What the tables leave out, counted: lifted records, records without a value; and records that stand in some
 * rows only (on no pass, outside all soil zones) or that two zones claim, which are kept.
 * @param inSeveral 1 for records in polygons of more than one zone; null where that was not looked at
 */
export function comparisonNotes(
  field: Field,
  passes: Passes,
  zoneOfRecord: Int32Array,
  inSeveral: Uint8Array | null = null,
): Note[] {
  const planted = plantedRecords(field);
  const notes: Note[] = [];
  const add = (column: string | null, reason: string, leavesOut: (record: number) => boolean): void => {
    const effect = column === null ? "kept" : "left out";
    let count = 0;
    let first = -1;
    for (let record = 0; record < planted.length; record++) {
      if (!leavesOut(record)) continue;
      count++;
      if (first < 0) first = record;
    }
    if (count === 0) return;
    const firstRecord = field.log.fileRecord[first]!;
    notes.push({ reason, effect, count, field: column, firstRecord, value: null });
  };
  add("working", "lifted (working is 0): in no table", (record) => planted[record] === 0);
  add(null, "on no pass: in no pass row", (record) => planted[record] === 1 && passes.passOf[record] === 0);
  if (field.soilZones) {
    const between = betweenZones(passes, zoneOfRecord);
    add(
      null,
      "in a gap between soil zones: only in the rows that run over all of them",
      (record) => planted[record] === 1 && between[record] === 1,
    );
    add(
      null,
      "outside all soil zones: only in the rows that run over all of them",
      (record) => planted[record] === 1 && zoneOfRecord[record] === -1 && between[record] === 0,
    );
    if (inSeveral) {
      add(
        null,
        "where soil zones overlap: counted to the zone that the file names first",
        (record) => planted[record] === 1 && inSeveral[record] === 1,
      );
    }
  }
  for (const variable of PLANTING_VARIABLES) {
    const values = field.log.values[variable];
    if (!values) continue;
    add(
      variable,
      `no ${LOG_VARIABLES[variable].title}: not in its rows`,
      (record) => planted[record] === 1 && Number.isNaN(values[record]!),
    );
  }
  return notes;
}

/** 1 for records without a zone that have one before and behind them on their pass (and row unit): a gap or a sliver. */
function betweenZones(passes: Passes, zoneOfRecord: Int32Array): Uint8Array {
  if (!zoneOfRecord.includes(-1)) return new Uint8Array(zoneOfRecord.length);
  const order = groupBy(passes.momentOf, passes.momentCount).records;
  const stride = passes.rowUnitCount + 1;
  const between = new Uint8Array(zoneOfRecord.length);
  const mark = (record: number, seen: Uint8Array, flag: number): void => {
    if (passes.passOf[record] === 0) return;
    const key = passes.passOf[record]! * stride + passes.rowUnitOf[record]!;
    if (zoneOfRecord[record]! >= 0) seen[key] = 1;
    else if (seen[key] === 1) between[record]! |= flag;
  };
  const keys = (passes.passes.length + 1) * stride;
  const before = new Uint8Array(keys);
  for (let place = 0; place < order.length; place++) mark(order[place]!, before, 1);
  const behind = new Uint8Array(keys);
  for (let place = order.length - 1; place >= 0; place--) mark(order[place]!, behind, 2);
  return between.map((flags) => (flags === 3 ? 1 : 0));
}
