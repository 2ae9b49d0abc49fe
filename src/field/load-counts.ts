/** Stand counts: plants per hectare at each spot, and what else was counted there. */
import { NothingToAnalyseError } from "../errors.ts";
import { projectColumns } from "../ingest/crs/crs.ts";
import type { RawLayer } from "../ingest/layer.ts";
import { recordNumber } from "../ingest/record-number.ts";
import { isoDateOf } from "../ingest/values/times.ts";
import type { Manifest } from "../manifest/manifest-schema.ts";
import { standardDeviation } from "../numerics/descriptive.ts";
import { groupThousands } from "../quantities/format.ts";
import { convert, SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";
import { LayerReading, pick, recordsWithPosition } from "../recognise/layer-reading.ts";
import { findMixedUnits } from "../recognise/units/mixed-units.ts";
import { COUNT_CATALOGUE } from "../vocabulary/catalogue-spots.ts";
import type { InputReport, LocalFrame, PlanterSetup, StandCounts, Targets } from "../vocabulary/field.ts";
import { type CountedGround, countedGround } from "./counted-ground.ts";
import { expectedMiddles } from "./expected-middles.ts";
import { flagTests } from "./flag-tests.ts";

/** Stands that are not finite are left out; this one has had its note. */
const OTHER_UNIT = Number.NEGATIVE_INFINITY;

/**
 * Loads the stand counts. The counted ground is row length x rows x row spacing, or the hoop's circle.
 * @throws {NothingToAnalyseError} when no column gives a stand, or plants on a known piece of ground.
 * @throws {ChoiceNeededError} where a column or a unit is the user's to choose.
 */
export function loadCounts(
  layer: RawLayer,
  manifest: Manifest,
  frame: LocalFrame,
  planter: PlanterSetup,
  targets: Targets,
): { counts: StandCounts; report: InputReport } {
  const { x, y } = projectColumns(layer.x, layer.y, layer.crs, frame);
  const expected = expectedMiddles(planter, targets);
  const reading = new LayerReading(layer, "standCounts", COUNT_CATALOGUE, manifest.standCounts?.columns, {
    hints: { expected, crop: manifest.crop ?? "corn" },
  });
  const placed = recordsWithPosition(reading, x, y);
  const ground = countedGround(reading, placed, planter);
  const stand = withoutOtherUnits(standPerHa(reading, placed, ground), reading, placed, ground);
  const isKept = (_: number, index: number) => Number.isFinite(stand[index]!);
  const kept = placed.filter(isKept);
  const standPerHectare = stand.filter((value) => Number.isFinite(value));
  for (const [index, record] of placed.entries()) {
    if (Number.isFinite(stand[index]!) || stand[index] === OTHER_UNIT) continue;
    reading.notes.add({
      reason: "no stand, and no plants on a known piece of ground; the spot is left out",
      effect: "left out",
      record: recordNumber(reading.layer, record),
    });
  }
  if (kept.length === 0) throw noCounts(reading);
  const missing = () => new Float64Array(kept.length).fill(Number.NaN);
  const plants = ground.plants?.filter(isKept) ?? missing();
  const latePlants = ground.latePlants?.filter(isKept) ?? null;
  const spacings = spacingLists(reading, kept);
  const spacingSd = reading.numbers("spacingSd", kept) ?? spacingSdOf(spacings);
  const dates = datesOf(reading, kept);
  const flagged = flagTests(reading, kept);
  const counts: StandCounts = {
    spotCount: kept.length,
    fileRecord: kept.map((record) => recordNumber(reading.layer, record)),
    x: pick(x, kept),
    y: pick(y, kept),
    standPerHa: standPerHectare,
    plants,
    rowLengthM: ground.rowLengthM.filter(isKept),
    rowsCounted: ground.rowsCounted.filter(isKept),
    rowUnit: Int16Array.from(reading.numbers("rowUnit", kept) ?? missing().fill(0), (unit) =>
      Math.max(unit, 0),
    ),
    lateShare:
      reading.numbers("lateShare", kept) ?? lateShareOf(latePlants, plants, reading, kept) ?? missing(),
    leafStagesBehind: reading.numbers("leafStages", kept) ?? missing(),
    method: reading.texts("method", kept) ?? Array.from(kept, () => null),
    ...(spacingSd ? { spacingSdMm: spacingSd } : {}),
    ...(spacings ? { spacingsMm: spacings } : {}),
    ...(flagged ? { flagged } : {}),
    ...(dates ? { dates } : {}),
  };
  return { counts, report: reading.report(kept.length) };
}

/** Stands with those that were written in another unit than the rest marked {@link OTHER_UNIT}, and notes on them. */
function withoutOtherUnits(
  stand: Float64Array,
  reading: LayerReading,
  placed: Int32Array,
  { plants }: CountedGround,
): Float64Array {
  const mixed = findMixedUnits(stand, plants ?? new Float64Array(stand.length).fill(Number.NaN));
  if (!mixed) return stand;
  const field = (reading.found("stand") ?? reading.found("plants"))?.group.label;
  const middle = `${groupThousands(mixed.middle.toFixed(0))} plants/ha is the middle of the file`;
  const note = (index: number, effect: "left out" | "kept", reason: string): void =>
    reading.notes.add({
      reason,
      effect,
      ...(field ? { field } : {}),
      record: recordNumber(reading.layer, placed[index]!),
      value: `${groupThousands(stand[index]!.toFixed(0))} plants/ha`,
    });
  for (const index of mixed.impossible)
    note(
      index,
      "left out",
      `cannot be plants on this ground in the unit of the other counts (${middle}); write every count in one unit, such as plants/ac; the spot is left out`,
    );
  for (const index of mixed.doubtful)
    note(
      index,
      "kept",
      `is 0.4 times the others (${middle}): plants/ac among plants/ha would be; it is used as written, so look at its unit`,
    );
  return stand.map((value, index) => (mixed.impossible.has(index) ? OTHER_UNIT : value));
}

/** Each spot's list of plant spacings, mm, null where there is none; null altogether where the file has no lists. */
function spacingLists(reading: LayerReading, kept: Int32Array): (number[] | null)[] | null {
  const found = reading.found("spacings");
  const texts = reading.texts("spacings", kept);
  if (!found || !texts) return null;
  return texts.map((text, index) => {
    const parts = text?.split(/[;,|\s]+/).filter(Boolean) ?? [];
    const spacings = parts.map((part) => convert(Number(part), found.unit, "mm"));
    if (spacings.every((spacing) => Number.isFinite(spacing))) return spacings.length > 0 ? spacings : null;
    reading.notes.add({
      reason: 'is not a list of numbers such as "6.1; 5.9; 6.4"; the spacings of the spot are left out',
      effect: "left out",
      field: found.group.label,
      record: recordNumber(reading.layer, kept[index]!),
      value: text ?? "",
    });
    return null;
  });
}

/** Sample SD (n - 1) of each list, mm; NaN for fewer than two spacings. */
function spacingSdOf(lists: readonly (number[] | null)[] | null): Float64Array | null {
  if (!lists) return null;
  return Float64Array.from(lists, (list) => (list && list.length > 1 ? standardDeviation(list) : Number.NaN));
}

/** ISO date of each spot's count, null where it has none; null altogether where the file has no dates. */
function datesOf(reading: LayerReading, kept: Int32Array): (string | null)[] | null {
  const seconds = reading.found("date")?.time?.seconds;
  if (!seconds) return null;
  return Array.from(kept, (record) => (Number.isNaN(seconds[record]!) ? null : isoDateOf(seconds[record]!)));
}

function noCounts(reading: LayerReading): NothingToAnalyseError {
  const { file, columns } = reading.layer;
  const names = columns.map((column) => `"${column.name}"`).join(", ");
  const accepted =
    'stand, or plants with rowLength and rowSpacing (of the file, or "planter": { "rowSpacing": "30 in" } of the manifest), or plants with hoopDiameter';
  return new NothingToAnalyseError(
    `${file}: no spot gives a stand; its columns are ${names === "" ? "none" : names}. Needed are ${accepted}`,
    { file, accepted, value: names },
  );
}

/** Plants per hectare of each placed record; NaN where it cannot be told. */
function standPerHa(
  reading: LayerReading,
  placed: Int32Array,
  { plants, areaM2 }: CountedGround,
): Float64Array {
  const stand = reading.numbers("stand", placed);
  return Float64Array.from(placed, (_, index) => {
    const direct = stand?.[index] ?? Number.NaN;
    if (!Number.isNaN(direct)) return direct;
    const square = areaM2[index]!;
    return square > 0 ? ((plants?.[index] ?? Number.NaN) / square) * SQUARE_METRES_PER_HECTARE : Number.NaN;
  });
}

function lateShareOf(
  late: Float64Array | null,
  plants: Float64Array,
  reading: LayerReading,
  kept: Int32Array,
): Float64Array | null {
  return (
    late?.map((value, index) => {
      const share = value / plants[index]!;
      if (!(share > 1)) return share;
      reading.notes.add({
        reason: `more late plants than plants (${plants[index]}); the late plants are left out`,
        effect: "left out",
        field: reading.found("latePlants")!.group.label,
        record: recordNumber(reading.layer, kept[index]!),
        value: String(value),
      });
      return Number.NaN;
    }) ?? null
  );
}
