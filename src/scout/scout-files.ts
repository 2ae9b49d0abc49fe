/** The spots as files: GeoJSON for a map, CSV templates that read straight back in as counts and digs. */
import type { FeatureCollection, Point } from "geojson";
import { convert } from "../quantities/units.ts";
import { csvCell } from "../report/tables.ts";
import type { Field } from "../vocabulary/field.ts";
import { rowsCounted } from "./bar.ts";
import type { ScoutPlan, ScoutSpot } from "./scout-plan.ts";
import { findWords, rowsWords, whyWords } from "./spot-words.ts";

/** Decimals of a degree: about a centimetre on the ground. */
const DECIMALS = 7;

export interface SpotProperties {
  spot: number;
  finding: string | null;
  purpose: string;
  pass: number;
  rows: string;
  rowUnit: number | null;
  soilZone: string | null;
  dig: boolean;
  why: string;
  find: string;
}

/** scout.geojson: the spots in walking order. */
export function scoutGeoJson(plan: ScoutPlan, field: Field): FeatureCollection<Point, SpotProperties> {
  return {
    type: "FeatureCollection",
    features: plan.spots.map((spot) => ({
      type: "Feature",
      id: spot.number,
      geometry: { type: "Point", coordinates: degreesOf(spot, field) },
      properties: {
        spot: spot.number,
        finding: spot.finding,
        purpose: spot.purpose,
        pass: spot.pass,
        rows: rowsWords(spot.rows),
        rowUnit: spot.rows.rowUnit,
        soilZone: spot.soilZone,
        dig: spot.dig,
        why: whyWords(spot, plan),
        find: findWords(spot),
      },
    })),
  };
}

type Cell = (spot: ScoutSpot) => string;

/** scout.csv: a line a spot; the last columns are to be filled in. `standCounts` reads it as it is. */
export function countsTemplate(plan: ScoutPlan, field: Field): string {
  const rowLengthFt = convert(plan.rowLengthM, "m", "ft").toFixed(2);
  const rowSpacingIn = String(Number(convert(plan.rowSpacingM, "m", "in").toFixed(2)));
  return template(plan.spots, field, [
    ["why", (spot) => csvCell(whyWords(spot, plan))],
    ["find", (spot) => csvCell(findWords(spot))],
    ["row_unit", ({ rows }) => (rows.rowUnit === null ? "" : String(rows.rowUnit))],
    ["rows_counted", ({ rows }) => String(rowsCounted(rows))],
    ["row_length_ft", () => rowLengthFt],
    ["row_spacing_in", () => rowSpacingIn],
    ...empty("date", "plants", "late_plants", "leaf_stages_behind", "spacings_in"),
  ]);
}

/** scout-digs.csv: a line for each seed of the spots to dig at. `digs` reads it as it is. */
export function digsTemplate(plan: ScoutPlan, field: Field, digsASpot = DIGS_A_SPOT): string {
  const lines = plan.spots.filter(({ dig }) => dig).flatMap((spot) => Array(digsASpot).fill(spot));
  return template(lines, field, [
    ["find", (spot) => csvCell(findWords(spot))],
    ["row_unit", ({ rows }) => (rows.rowUnit ?? rows.first ?? "").toString()],
    ...empty("seed_depth_in", "mesocotyl_in", "smear", "furrow", "moisture", "seed_state"),
  ]);
}

/** Seeds dug in a run along the row at one spot (our judgement). */
export const DIGS_A_SPOT = 3;

function empty(...headings: string[]): [string, Cell][] {
  return headings.map((heading) => [heading, () => ""]);
}

function template(spots: readonly ScoutSpot[], field: Field, columns: readonly [string, Cell][]): string {
  const all: readonly [string, Cell][] = [
    ["spot", ({ number }) => String(number)],
    // Written as numbers, not through csvCell: seven decimals count, and a leading minus is no formula.
    ["lon", (spot) => degreesOf(spot, field)[0].toFixed(DECIMALS)],
    ["lat", (spot) => degreesOf(spot, field)[1].toFixed(DECIMALS)],
    ...columns,
  ];
  const lines = [all.map(([heading]) => heading), ...spots.map((spot) => all.map(([, cell]) => cell(spot)))];
  return lines.map((line) => `${line.join(",")}\r\n`).join("");
}

/** Longitude and latitude, rounded. */
export function degreesOf({ x, y }: ScoutSpot, field: Field): [number, number] {
  const [longitude, latitude] = field.frame.toLonLat(x, y);
  return [Number(longitude.toFixed(DECIMALS)), Number(latitude.toFixed(DECIMALS))];
}
