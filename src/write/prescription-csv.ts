/** prescription.csv: a line a soil zone, loads for each state of the ground, in pounds and newtons. */
import type { LocalFrame } from "../field/field.ts";
import { MOISTURES, type Prescription, type Rates } from "../prescription/prescription.ts";
import { channelText, type PrescriptionRow, prescriptionRows } from "../report/prescription-rows.ts";
import { csvTable, type TableCell, type TableColumn } from "../report/tables.ts";
import { convert } from "../units.ts";
import { fieldPosition } from "./field-position.ts";

/** The table as CSV text; text that a spreadsheet would take for a formula is defused. */
export function prescriptionCsv(prescription: Prescription, frame: Pick<LocalFrame, "toLonLat">): string {
  const { settings, field } = prescription;
  const position = fieldPosition(prescription, frame);
  const { moisture } = settings;
  const columns: TableColumn<PrescriptionRow>[] = [
    { heading: "soil_zone", cell: ({ decision }) => decision.soilZone },
    { heading: "map_zones", cell: ({ numbers }) => numbers.join(" ") },
    { heading: "area_ac", cell: ({ decision }) => acres(decision.areaHa) },
    { heading: "outcome", cell: ({ decision }) => decision.outcome },
    { heading: "grade", cell: ({ decision }) => decision.grade },
    { heading: "today_lbf", cell: ({ decision }) => pounds(decision.currentMarginN) },
    ...MOISTURES.map(
      (state): TableColumn<PrescriptionRow> => ({
        heading: `${state}_lbf`,
        cell: ({ decision }) => pounds(decision.prescribedN[state]),
      }),
    ),
    ...MOISTURES.map(
      (state): TableColumn<PrescriptionRow> => ({
        heading: `${state}_n`,
        cell: ({ decision }) => newtons(decision.prescribedN[state]),
      }),
    ),
    { heading: "file_is_for", cell: () => moisture },
    { heading: "range_low_lbf", cell: ({ decision }) => pounds(decision.best[moisture].lowN) },
    { heading: "range_high_lbf", cell: ({ decision }) => pounds(decision.best[moisture].highN) },
    { heading: "added_force_lbf", cell: ({ rates }) => pounds(rates?.forceN ?? null) },
    { heading: "pressure_pa", cell: ({ rates }) => rates?.pressurePa ?? null },
    { heading: "gain_points", cell: ({ decision }) => points(decision.gainShare?.estimate) },
    { heading: "gain_low_points", cell: ({ decision }) => points(decision.gainShare?.low) },
    { heading: "gain_high_points", cell: ({ decision }) => points(decision.gainShare?.high) },
    { heading: "last_advised_lbf", cell: ({ decision }) => pounds(decision.lastAdvisedN) },
    { heading: "sent", cell: ({ rates }) => sentCell(rates, prescription) },
    { heading: "reason", cell: ({ decision }) => decision.reason },
    {
      heading: "held_back_by",
      cell: ({ decision }) =>
        decision.heldBackBy
          .map(({ finding, words }) => (finding === null ? words : `${finding}: ${words}`))
          .join("; "),
    },
    {
      heading: "not_mended",
      cell: ({ decision }) =>
        decision.notMended.map(({ finding, words }) => `${finding}: ${words}`).join("; "),
    },
    { heading: "field", cell: () => field.name },
    { heading: "field_area_ac", cell: () => acres(field.areaHa) },
    { heading: "field_position", cell: () => position },
  ];
  return csvTable(columns, prescriptionRows(prescription));
}

/** What the files carry there, with its unit; empty where no rates are written. */
function sentCell(rates: Rates | null, prescription: Prescription): TableCell {
  return rates === null || prescription.withheld !== null ? null : channelText(rates, prescription, "farm");
}

function pounds(value: number | null): TableCell {
  return value === null ? null : Number(convert(value, "N", "lbf").toFixed(1));
}

function newtons(value: number): TableCell {
  return Number(value.toFixed(1));
}

function acres(areaHa: number): TableCell {
  return Number(convert(areaHa, "ha", "ac").toFixed(1));
}

/** Stand points: a hundredth of the target stand each. */
function points(share: number | undefined): TableCell {
  return share === undefined ? null : Number((share * 100).toFixed(1));
}
