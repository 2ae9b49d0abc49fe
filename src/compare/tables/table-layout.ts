/** Which records make up each row of the comparison tables. */
import type { Passes } from "../../passes/passes.ts";
import { groupBy } from "../../passes/record-groups.ts";
import type { Field } from "../../vocabulary/field.ts";
import {
  type Group,
  groupOf,
  layOut,
  layOutWhole,
  type OrderedRecords,
  orderRecords,
} from "./ordered-records.ts";
import { plantedRecords } from "./planted-records.ts";

/** A row of a table before its figures: null where it runs over all. */
export interface TableRow extends Group {
  pass: number | null;
  /** Index of the soil zone. */
  zone: number | null;
  rowUnit: number | null;
}

/** Records of one layout, with what every variable needs of them as laid out, and room for its own. */
export interface Layout {
  ordered: OrderedRecords;
  /** Ground of each record, m2. */
  areaM2: Float64Array;
  moment: Int32Array;
  pass: Int32Array;
  /** Overwritten by each variable. */
  room: { values: Float64Array; codes: Uint16Array };
}

export interface TableLayout {
  planted: Uint8Array;
  /** Planted records in order of planting. */
  inOrder: Int32Array;
  /** By zone and pass: rows of the zones, of the passes over all zones, of pass by zone. */
  byPass: Layout & { zones: TableRow[]; passes: TableRow[]; passesByZone: TableRow[] };
  /** By zone and row unit: rows of the row units over all zones, of row unit by zone. */
  byRowUnit: Layout & { rowUnits: TableRow[]; rowUnitsByZone: TableRow[] };
}

export function tableLayout(field: Field, passes: Passes, zoneOfRecord: Int32Array): TableLayout {
  const zoneCount = field.soilZones?.names.length ?? 0;
  const passCount = passes.passes.length;
  const { rowUnitCount } = passes;
  const planted = plantedRecords(field);
  const order = groupBy(passes.momentOf, passes.momentCount).records;
  const inOrder = planted.includes(0) ? order.filter((record) => planted[record] === 1) : order;
  const area = new Float64Array(planted.length);
  for (let i = 0; i < area.length; i++) area[i] = passes.distanceM[i]! * passes.widthM[i]!;
  const layoutOf = (ordered: OrderedRecords): Layout => {
    const places = ordered.records.length;
    return {
      ordered,
      areaM2: layOut(area, ordered, new Float64Array(places)),
      moment: layOutWhole(passes.momentOf, ordered, new Int32Array(places)),
      pass: layOutWhole(passes.passOf, ordered, new Int32Array(places)),
      room: {
        values: new Float64Array(places),
        codes: new Uint16Array(places),
      },
    };
  };
  const byPass = orderRecords(inOrder, zoneOfRecord, zoneCount, passes.passOf, passCount);
  const { rowUnitOf } = passes;
  const unitRecords = rowUnitOf.includes(0) ? inOrder.filter((record) => rowUnitOf[record]! > 0) : inOrder;
  const byUnit = orderRecords(unitRecords, zoneOfRecord, zoneCount, rowUnitOf, rowUnitCount);
  return {
    planted,
    inOrder,
    byPass: {
      ...layoutOf(byPass),
      zones: byZone(byPass, zoneCount),
      passes: byPart(byPass, passCount, (pass) => ({ pass, rowUnit: null })),
      passesByZone: byBoth(byPass, (pass) => ({ pass, rowUnit: null })),
    },
    byRowUnit: {
      ...layoutOf(byUnit),
      rowUnits: byPart(byUnit, rowUnitCount, (rowUnit) => ({ pass: null, rowUnit })),
      rowUnitsByZone: byBoth(byUnit, (rowUnit) => ({ pass: null, rowUnit })),
    },
  };
}

type PartName = (part: number) => Pick<TableRow, "pass" | "rowUnit">;

function byZone(ordered: OrderedRecords, zoneCount: number): TableRow[] {
  const runs = runsBy(ordered.zone, zoneCount);
  return runs.map((own, zone) => ({ pass: null, zone, rowUnit: null, ...groupOf(ordered, own) }));
}

function byPart(ordered: OrderedRecords, count: number, name: PartName): TableRow[] {
  const runs = runsBy(ordered.part, count + 1).slice(1);
  return runs.map((own, k) => ({ ...name(k + 1), zone: null, ...groupOf(ordered, own) }));
}

function byBoth(ordered: OrderedRecords, name: PartName): TableRow[] {
  const rows: TableRow[] = [];
  for (let run = 0; run < ordered.zone.length; run++) {
    const [zone, part] = [ordered.zone[run]!, ordered.part[run]!];
    if (zone >= 0 && part > 0) rows.push({ ...name(part), zone, ...groupOf(ordered, [run]) });
  }
  return rows;
}

function runsBy(labels: Int32Array, count: number): number[][] {
  const runs: number[][] = Array.from({ length: count }, () => []);
  labels.forEach((label, run) => {
    if (label >= 0) runs[label]!.push(run);
  });
  return runs;
}
