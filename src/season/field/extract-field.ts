/** From an analysed field to what a season keeps of it. */
import type { ComparisonRow } from "../../compare/tables/comparison.ts";
import { meanOverPasses } from "../../compare/tables/row-unit-difference.ts";
import type { Analysis } from "../../findings/analysis.ts";
import { crossesItself, holesLieWithin } from "../../ingest/rings.ts";
import { mean } from "../../numerics/descriptive.ts";
import { straightOutline } from "../../rate-zones/ground-outline.ts";
import { groupByMoment, rowUnitSeries } from "../../rows/row-unit-series.ts";
import type { LocalFrame, LocalPolygon } from "../../vocabulary/field.ts";
import { PLANTING_VARIABLES, type PlantingVariable } from "../../vocabulary/variables.ts";
import {
  type DegreePolygons,
  EXTRACT_SCHEMA,
  type ExtractedFinding,
  type ExtractedLot,
  type ExtractedPass,
  type ExtractedUnit,
  type ExtractedZone,
  type FieldExtract,
  type Means,
} from "./field-extract.ts";
import { UNIT_BANDS, UNIT_VARIABLES } from "./unit-variables.ts";

/** Outlines of fields are drawn small; a finding may be a strip as narrow as a row. */
const OUTLINE_TOLERANCE_M = 3;
const FINDING_TOLERANCE_M = 0.3;
/** A row unit's values are drawn in to so many times what matters, so that one wild reading does not make a pass. */
const WILDEST = 8;
const DIGITS = 6;

/** What a season keeps of the field. */
export function extractField(analysis: Analysis): FieldExtract {
  const { document, field, passes } = analysis;
  const { summary } = document;
  return {
    schema: EXTRACT_SCHEMA,
    name: document.field.name,
    season: document.field.season,
    crop: document.field.crop,
    planted: document.field.planted,
    areaHa: short(document.field.areaHa),
    affectedHa: short(summary.affectedHa),
    sentence: summary.sentence,
    form: summary.form,
    money: summary.money,
    speedTarget: field.targets.speedMetresPerSecond,
    rowUnits: passes.rowUnitCount,
    rowSpacingM: field.planter.rowSpacingM,
    machines: summary.ground?.machines ?? [],
    wanted: summary.wanted.map(({ key }) => key),
    departing: summary.departingRows
      .filter(({ set }) => set === null)
      .flatMap(({ rowUnits, variable }) => rowUnits.map((rowUnit) => ({ rowUnit, variable }))),
    stand: summary.stand && {
      counts: summary.stand.counts,
      perHa: summary.stand.perHa,
      ofTarget: summary.stand.ofTarget,
      lateShare: summary.stand.lateShare,
    },
    outline: inDegrees(analysis.outline, field.frame, OUTLINE_TOLERANCE_M),
    findings: findingsOf(analysis),
    passes: passesOf(analysis),
    units: unitsOf(analysis),
    zones: zonesOf(analysis),
    lots: lotsOf(analysis),
  };
}

function findingsOf({ document, findingDrafts, field }: Analysis): ExtractedFinding[] {
  return document.findings.map((finding, index) => ({
    id: finding.id,
    kind: finding.kind,
    cause: finding.cause,
    basis: finding.basis,
    probability: finding.probability,
    title: finding.words.title,
    place: finding.words.place,
    areaHa: short(finding.where.areaHa),
    rowUnits: finding.where.rowUnits,
    passes: finding.where.passes.length,
    soilZones: finding.where.soilZones,
    deficitShare: finding.stand.deficitShare,
    money: finding.loss.money,
    remedyCode: finding.remedy.code,
    remedy: finding.remedy.text,
    caution: finding.words.caution,
    polygons: inDegrees(findingDrafts[index]!.polygons, field.frame, FINDING_TOLERANCE_M),
  }));
}

function passesOf({ document, passes }: Analysis): ExtractedPass[] {
  const rows = groupRows(document.comparison, (row) =>
    row.pass !== null && row.soilZone === null && row.rowUnit === null ? String(row.pass) : null,
  );
  return passes.passes.map(({ number, date, headland, areaM2 }) => ({
    pass: number,
    date,
    headland,
    areaHa: short(areaM2 / 10_000),
    ...figuresOf(rows.get(String(number)) ?? []),
  }));
}

function zonesOf({ document, field }: Analysis): ExtractedZone[] {
  const rows = groupRows(document.comparison, (row) =>
    row.pass === null && row.rowUnit === null ? row.soilZone : null,
  );
  return [...rows].map(([soilZone, ofZone]) => ({
    soilZone,
    texture: field.soilZones?.texture[field.soilZones.names.indexOf(soilZone)] ?? null,
    areaHa: short(Math.max(...ofZone.map(({ areaHa }) => areaHa))),
    ...figuresOf(ofZone),
    prescribedN: field.prescription?.last[soilZone] ?? null,
  }));
}

/** Means of each seed lot over its records on passes. */
function lotsOf({ field: { log }, passes }: Analysis): ExtractedLot[] {
  const lots = log.labels.seedLot;
  if (!lots || lots.labels.length < 2) return [];
  const onPasses = [...lots.codes.keys()].filter((record) => passes.passOf[record]! > 0);
  return lots.labels.flatMap((lot, code) => {
    const own = onPasses.filter((record) => lots.codes[record] === code);
    if (own.length === 0) return [];
    const means: Means = {};
    for (const variable of PLANTING_VARIABLES) {
      const column = log.values[variable];
      const known = column ? own.filter((record) => !Number.isNaN(column[record]!)) : [];
      if (known.length > 0) means[variable] = short(mean(known.map((record) => column![record]!)));
    }
    return [{ lot, share: short(own.length / onPasses.length), means }];
  });
}

function groupRows(
  rows: readonly ComparisonRow[],
  keyOf: (row: ComparisonRow) => string | null,
): Map<string, ComparisonRow[]> {
  const groups = new Map<string, ComparisonRow[]>();
  for (const row of rows) {
    const key = keyOf(row);
    if (key === null) continue;
    const group = groups.get(key);
    if (group) group.push(row);
    else groups.set(key, [row]);
  }
  return groups;
}

function figuresOf(rows: readonly ComparisonRow[]): { means: Means; noLoadShare: number | null } {
  const planting: readonly string[] = PLANTING_VARIABLES;
  const kept = rows.filter(({ variable }) => planting.includes(variable));
  const load = rows.find(({ variable }) => variable === "downForceMargin");
  return {
    means: Object.fromEntries(kept.map(({ variable, mean }) => [variable, short(mean)])) as Partial<
      Record<PlantingVariable, number>
    >,
    noLoadShare: load?.noLoadShare == null ? null : short(load.noLoadShare),
  };
}

/** Every row unit in every variable that tells units apart; empty for logs without row-unit records. */
function unitsOf({ field, passes }: Analysis): ExtractedUnit[] {
  if (passes.rowUnitCount === 0) return [];
  const moments = groupByMoment(field, passes);
  const { values, depthSource } = field.log;
  return UNIT_VARIABLES.flatMap((variable) => {
    const column = values[variable];
    if (!column || (variable === "seedingDepth" && depthSource === "set")) return [];
    // Skips and doubles say the same and say it apart.
    if (variable === "singulation" && values.misses && values.multiples) return [];
    const { matters, relative } = UNIT_BANDS[variable];
    return rowUnitSeries(column, moments, passes, WILDEST * matters, relative).map((series) => {
      const sums = series.departure.map((value, k) => value * series.weight[k]!);
      const { mean: departure, variance } = meanOverPasses(sums, series.weight)!;
      return {
        rowUnit: series.rowUnit,
        variable,
        passes: series.passes.length,
        departure: short(departure),
        variance: variance === null ? null : short(variance),
      };
    });
  });
}

function inDegrees(polygons: readonly LocalPolygon[], frame: LocalFrame, toleranceM: number): DegreePolygons {
  return polygons.map((rings) =>
    straightened(rings, toleranceM).map((ring) =>
      ring.map(([x, y]): [number, number] => {
        const [longitude, latitude] = frame.toLonLat(x, y);
        return [Number(longitude.toFixed(7)), Number(latitude.toFixed(7))];
      }),
    ),
  );
}

/** Rings straightened within the tolerance; as they were where a straightened one collapses, crosses itself or leaves its outer. */
export function straightened(rings: LocalPolygon, toleranceM: number): LocalPolygon {
  const [simple] = straightOutline([rings], toleranceM);
  const isSound = simple!.every((ring) => crossesItself(ring) === false) && holesLieWithin(simple!) !== false;
  return isSound ? simple! : rings;
}

function short(value: number): number {
  return Number(value.toPrecision(DIGITS));
}
