/** Width of the bar and of each record: by the log, the planter sheet and the distance between the passes, which must agree. */
import { ChoiceNeededError, type Note } from "../errors.ts";
import { median } from "../numerics/descriptive.ts";
import { quantileInPlace } from "../numerics/quantile.ts";
import { convert } from "../quantities/units.ts";
import type { Field } from "../vocabulary/field.ts";
import type { Moments } from "./moments.ts";
import type { PassSpacing } from "./pass-spacing.ts";
import type { RowUnits } from "./row-units.ts";
import type { Track } from "./track.ts";

export interface BarWidth {
  widthM: Float64Array;
  /** Width of the whole bar, m. */
  barWidthM: number;
  /** What was assumed, in plain words; empty where nothing was. */
  method: string;
}

/** Row spacing assumed where nothing tells the width: 30 in, the usual one for corn (common practice, no source). */
const ASSUMED_ROW_SPACING_M = 0.762;
/** Rows are planted between these distances, m: from drilled soybean to wide corn (common practice, no source). */
const ROW_SPACINGS_M: readonly [number, number] = [0.15, 1.2];
/** Widths within this share of each other are one (our judgement). */
const AGREES = 0.15;
/** A bar so many times as wide as its passes lie apart, or the other way round, is none: a unit is wrong, or a column (our judgement). */
const CONTRADICTS = 2;
/** The width of the full bar is the one that this share of the records do not exceed (our judgement): a few may be wrong. */
const FULL_BAR = 0.95;

/** Where so much of the log fits the passes it is followed (our judgement). */
const LOG_FITS_SHARE = 0.2;

const ACCEPTED = '"planter": { "rowUnits": 16, "rowSpacing": "30 in" } with its own figures';

/**
 * Widths; sources in order: the log, the planter sheet, the distance between the passes. Where log and sheet differ,
 * the passes decide.
 * @param notes takes what was assumed
 * @throws {ChoiceNeededError} where nothing tells the width, or the passes contradict the only source by twice or more
 */
export function widthsOfRecords(
  field: Field,
  moments: Moments,
  track: Track,
  rowUnits: RowUnits,
  spacing: PassSpacing | null,
  notes: Note[],
): BarWidth {
  const settledM = spacing?.isSettled ? spacing.spacingM : null;
  const width =
    field.log.layout === "row-unit"
      ? ofRowUnits(field, rowUnits, settledM, notes)
      : field.log.layout === "section"
        ? ofSections(field, moments, track, settledM, notes)
        : ofBar(field, settledM, notes);
  requireAgreement(field, width.barWidthM, settledM);
  return width;
}

function ofRowUnits(field: Field, rowUnits: RowUnits, settledM: number | null, notes: Note[]): BarWidth {
  const { planter } = field;
  const units = Math.max(rowUnits.count, planter.rowUnits ?? 0);
  const known = knownWidths(field);
  const swathM = known.length > 0 ? median(known) : null;
  const rowOf = (barM: number | null): number | null => {
    const row = barM === null ? Number.NaN : barM / units;
    return row >= ROW_SPACINGS_M[0] && row <= ROW_SPACINGS_M[1] ? row : null;
  };
  const measured = Number.isNaN(rowUnits.measuredSpacingM) ? null : rowUnits.measuredSpacingM;
  const loggedRow = swathM !== null && swathM <= ROW_SPACINGS_M[1] ? swathM : rowOf(swathM);
  const row = planter.rowSpacingM ?? measured ?? loggedRow ?? rowOf(settledM) ?? ASSUMED_ROW_SPACING_M;
  let method = "";
  if (planter.rowSpacingM === null && measured === null && loggedRow === null) {
    method = "; row spacing not given, ";
    method += rowOf(settledM) ? "taken from the distance between the passes" : "0.762 m assumed";
    notes.push(
      assumed(
        field,
        rowOf(settledM)
          ? `no row spacing in log or planter sheet: ${feet(row)} taken from the distance between the passes`
          : `no row spacing in log or planter sheet: ${feet(row)} (30 in) assumed`,
      ),
    );
  }
  const useSwath = swathM !== null && swathM < 2 * row;
  if (swathM !== null && !useSwath && !isNear(swathM, row * units)) {
    notes.push(
      assumed(
        field,
        `the width in the log, ${feet(swathM)}, is neither that of a row nor of the bar and is not used; its rows are taken as ${feet(row)} wide`,
        "swathWidth",
      ),
    );
  }
  return { widthM: filled(field, row, useSwath), barWidthM: row * units, method };
}

function ofBar(field: Field, settledM: number | null, notes: Note[]): BarWidth {
  const known = knownWidths(field);
  const loggedM = known.length > 0 ? quantileInPlace(known, FULL_BAR) : null;
  const { sheetM, isAssumed } = bySheet(field, settledM);
  if (loggedM === null) {
    const width = sheetM ?? settledM;
    if (width === null) throw widthUnknown(field);
    if (sheetM === null || isAssumed) notes.push(assumed(field, whyAssumed(field, width, sheetM, settledM)));
    return {
      widthM: filled(field, width, false),
      barWidthM: width,
      method:
        sheetM === null
          ? "; width of the bar taken from the distance between the passes"
          : isAssumed
            ? "; row spacing not given, 0.762 m assumed"
            : "",
    };
  }
  const sheetFits = sheetM !== null && !isAssumed && settledM !== null && isNear(sheetM, settledM);
  // Machines of two widths: the log's fit the passes of each.
  const fitting = known.filter((width) => settledM !== null && isNear(width, settledM)).length;
  if (sheetFits && !isNear(loggedM, sheetM) && fitting < LOG_FITS_SHARE * known.length) {
    notes.push(
      assumed(
        field,
        `the width in the log is ${feet(loggedM)}, the planter sheet says ${feet(sheetM)} and the passes lie ${feet(settledM)} apart; the planter sheet is followed`,
        "swathWidth",
      ),
    );
    return { widthM: filled(field, sheetM, false), barWidthM: sheetM, method: "" };
  }
  const barWidthM = sheetM !== null && !isAssumed ? Math.max(sheetM, loggedM) : loggedM;
  return { widthM: filled(field, sheetM ?? loggedM, true), barWidthM, method: "" };
}

function ofSections(
  field: Field,
  moments: Moments,
  track: Track,
  settledM: number | null,
  notes: Note[],
): BarWidth {
  const known = knownWidths(field);
  const loggedM = known.length > 0 ? quantileInPlace(known, FULL_BAR) : null;
  const sections = sectionsOfMoment(moments);
  const gapM = sectionGap(field, moments, track);
  const { sheetM, isAssumed } = bySheet(field, settledM);
  const byGap = gapM === null ? null : gapM * sections;
  if (loggedM === null) {
    const bar = sheetM ?? byGap ?? settledM;
    if (bar === null) throw widthUnknown(field);
    if (sheetM === null || isAssumed) notes.push(assumed(field, whyAssumed(field, bar, sheetM, settledM)));
    return { widthM: filled(field, bar / sections, false), barWidthM: bar, method: "" };
  }
  // A width that fits the whole bar, not so many of it, stands for the bar at each of its sections.
  const whole = settledM ?? (sheetM !== null && !isAssumed ? sheetM : byGap);
  if (sections > 1 && whole !== null && isNear(loggedM, whole) && !isNear(loggedM * sections, whole)) {
    notes.push(
      assumed(
        field,
        `the width in the log, ${feet(loggedM)}, is that of the whole bar; each of its ${sections} sections is taken as ${feet(loggedM / sections)} wide`,
        "swathWidth",
      ),
    );
    return { widthM: filled(field, loggedM / sections, false), barWidthM: loggedM, method: "" };
  }
  const bar =
    sheetM !== null && !isAssumed && isNear(sheetM, loggedM * sections) ? sheetM : loggedM * sections;
  return { widthM: filled(field, loggedM, true), barWidthM: bar, method: "" };
}

/** Rows times their spacing; the spacing from the passes, or the usual one, where the sheet names the rows alone. */
function bySheet(field: Field, settledM: number | null): { sheetM: number | null; isAssumed: boolean } {
  const { rowUnits, rowSpacingM } = field.planter;
  if (rowUnits === null) return { sheetM: null, isAssumed: false };
  if (rowSpacingM !== null) return { sheetM: rowUnits * rowSpacingM, isAssumed: false };
  const row = settledM === null ? Number.NaN : settledM / rowUnits;
  const fits = row >= ROW_SPACINGS_M[0] && row <= ROW_SPACINGS_M[1];
  return { sheetM: fits ? settledM : rowUnits * ASSUMED_ROW_SPACING_M, isAssumed: true };
}

function whyAssumed(field: Field, width: number, sheetM: number | null, settledM: number | null): string {
  const { rowUnits } = field.planter;
  if (sheetM !== null && width !== settledM)
    return `no row spacing in log or planter sheet: 0.762 m (30 in) assumed, which makes a bar of ${feet(width)} with ${rowUnits} rows`;
  return `no width of the planter in log or planter sheet: ${feet(width)} taken from the distance between the passes; write ${ACCEPTED} into the manifest`;
}

function widthUnknown(field: Field): ChoiceNeededError {
  const file = field.inputs.find(({ role }) => role === "plantingLog")?.file ?? "planting log";
  return new ChoiceNeededError(
    `${file}: no column and no planter sheet gives the width of the bar, and no passes lie side by side to tell it; write ${ACCEPTED} into the manifest`,
    { file, field: "planter.rowUnits", accepted: ACCEPTED },
  );
}

/** @throws {ChoiceNeededError} where width and passes contradict each other and no planter sheet confirms the width */
function requireAgreement(field: Field, barWidthM: number, settledM: number | null): void {
  if (settledM === null) return;
  const ratio = settledM / barWidthM;
  if (ratio < CONTRADICTS && ratio > 1 / CONTRADICTS) return;
  const { rowUnits, rowSpacingM } = field.planter;
  if (rowUnits !== null && rowSpacingM !== null && isNear(rowUnits * rowSpacingM, barWidthM)) return;
  const file = field.inputs.find(({ role }) => role === "plantingLog")?.file ?? "planting log";
  throw new ChoiceNeededError(
    `${file}: the bar would be ${feet(barWidthM)} wide, but the passes lie ${feet(settledM)} apart; a column, a unit or the planter sheet is wrong. Write ${ACCEPTED}, or "swathWidth": { "column": ..., "unit": ... } with the right unit, into the manifest`,
    { file, field: "swathWidth", value: `${barWidthM.toFixed(2)} m`, accepted: ACCEPTED },
  );
}

function knownWidths(field: Field): Float64Array {
  return field.log.values.swathWidth?.filter((width) => width > 0) ?? new Float64Array(0);
}

function filled(field: Field, usual: number, useSwath: boolean): Float64Array {
  const swath = field.log.values.swathWidth;
  const widthM = new Float64Array(field.log.recordCount).fill(usual);
  if (!useSwath || !swath) return widthM;
  for (let record = 0; record < widthM.length; record++) {
    if (swath[record]! >= 0) widthM[record] = swath[record]!;
  }
  return widthM;
}

/** Sections that full moments have; a few moments may hold more by a coarse clock. */
function sectionsOfMoment({ groups, count }: Moments): number {
  const sizes = Float64Array.from({ length: count }, (_, at) => groups.start[at + 1]! - groups.start[at]!);
  return Math.max(1, Math.round(quantileInPlace(sizes, FULL_BAR)));
}

/** Distance between neighbouring sections across the heading, m; null where they share one position. */
function sectionGap({ log }: Field, moments: Moments, track: Track): number | null {
  const { start, records } = moments.groups;
  const gaps: number[] = [];
  const stride = Math.max(1, Math.floor(track.length / 400));
  for (let place = 0; place < track.length; place += stride) {
    const at = track.moment[place]!;
    const heading = (track.headingDeg[place]! * Math.PI) / 180;
    const across = Array.from(
      records.subarray(start[at]!, start[at + 1]!),
      (record) => log.x[record]! * Math.cos(heading) - log.y[record]! * Math.sin(heading),
    ).sort((a, b) => a - b);
    for (let k = 1; k < across.length; k++) gaps.push(across[k]! - across[k - 1]!);
  }
  const gap = gaps.length > 0 ? median(Float64Array.from(gaps)) : 0;
  return gap > 0.1 ? gap : null;
}

function isNear(one: number, other: number): boolean {
  return Math.abs(one / other - 1) <= AGREES;
}

function feet(metres: number): string {
  return `${metres.toFixed(2)} m (${convert(metres, "m", "ft").toFixed(1)} ft)`;
}

function assumed(field: Field, reason: string, column: string | null = null): Note {
  return {
    reason,
    effect: "assumed",
    count: field.log.recordCount,
    field: column,
    firstRecord: null,
    value: null,
  };
}
