/** prescription.csv: a line a soil zone or place, loads for each state of the ground, in the reader's units. */
import type { Prescription, Rates } from "../prescription/prescription.ts";
import { PASCAL_PER_PSI } from "../prescription/pressure.ts";
import type { UnitSystem } from "../quantities/format.ts";
import { convert } from "../quantities/units.ts";
import { csvTable, type TableCell, type TableColumn } from "../report/tables.ts";
import { writingIn } from "../texts/language.ts";
import type { LocalFrame } from "../vocabulary/field.ts";
import { MOISTURES } from "../vocabulary/moisture.ts";
import { channelText, type PrescriptionRow, prescriptionRows } from "../words/prescription-rows.ts";
import { fieldPosition } from "./field-position.ts";

/** Units of the table: what ends the headings, and one of them in inside units. */
const UNITS = {
  farm: {
    force: "lbf",
    newtons: convert(1, "lbf", "N"),
    pressure: "psi",
    pascal: PASCAL_PER_PSI,
    area: "ac",
    hectares: convert(1, "ac", "ha"),
  },
  metric: { force: "n", newtons: 1, pressure: "kpa", pascal: 1000, area: "ha", hectares: 1 },
} as const satisfies Record<UnitSystem, unknown>;

/** The table as CSV text; text that a spreadsheet would take for a formula is defused. */
export function prescriptionCsv(
  prescription: Prescription,
  frame: Pick<LocalFrame, "toLonLat">,
  units: UnitSystem = "farm",
): string {
  const { settings, field } = prescription;
  const position = fieldPosition(prescription, frame);
  const { moisture } = settings;
  const { force: f, newtons, pressure, pascal, area, hectares } = UNITS[units];
  const over = (value: number | null, unit: number): TableCell =>
    value === null ? null : Number((value / unit).toFixed(1));
  const force = (value: number | null): TableCell => over(value, newtons);
  const columns: TableColumn<PrescriptionRow>[] = [
    { heading: "soil_zone", cell: ({ decision }) => decision.soilZone },
    { heading: "place_of", cell: ({ decision }) => decision.place },
    { heading: "map_zones", cell: ({ numbers }) => numbers.join(" ") },
    { heading: `area_${area}`, cell: ({ decision }) => over(decision.areaHa, hectares) },
    { heading: "outcome", cell: ({ decision }) => decision.outcome },
    { heading: "grade", cell: ({ decision }) => decision.grade },
    { heading: `today_${f}`, cell: ({ decision }) => force(decision.currentMarginN) },
    ...MOISTURES.map(
      (state): TableColumn<PrescriptionRow> => ({
        heading: `${state}_${f}`,
        cell: ({ decision }) => force(decision.prescribedN[state]),
      }),
    ),
    { heading: "file_is_for", cell: () => moisture },
    { heading: `range_low_${f}`, cell: ({ decision }) => force(decision.best[moisture].lowN) },
    { heading: `range_high_${f}`, cell: ({ decision }) => force(decision.best[moisture].highN) },
    { heading: `added_force_${f}`, cell: ({ rates }) => force(rates?.forceN ?? null) },
    { heading: `pressure_${pressure}`, cell: ({ rates }) => over(rates?.pressurePa ?? null, pascal) },
    { heading: "gain_points", cell: ({ decision }) => points(decision.gainShare?.estimate) },
    { heading: "gain_low_points", cell: ({ decision }) => points(decision.gainShare?.low) },
    { heading: "gain_high_points", cell: ({ decision }) => points(decision.gainShare?.high) },
    { heading: `last_advised_${f}`, cell: ({ decision }) => force(decision.lastAdvisedN) },
    { heading: "sent", cell: ({ rates }) => sentCell(rates, prescription, units) },
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
    { heading: `field_area_${area}`, cell: () => over(field.areaHa, hectares) },
    { heading: "field_position", cell: () => position },
  ];
  return csvTable(columns, prescriptionRows(prescription));
}

/** What the files carry there, with its unit; empty where no rates are written. */
function sentCell(rates: Rates | null, prescription: Prescription, units: UnitSystem): TableCell {
  return rates === null || prescription.withheld !== null
    ? null
    : channelText(rates, prescription, writingIn(units));
}

/** Stand points: a hundredth of the target stand each. */
function points(share: number | undefined): TableCell {
  return share === undefined ? null : Number((share * 100).toFixed(1));
}
