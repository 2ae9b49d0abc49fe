/** Contrasts that came out short -> drafts: the whole field, a soil zone, a day, a lot, a part of the bar, a change from a pass on. */
import { FACTORS, type Factor } from "../cells/predicted-loss.ts";
import { Z90 } from "../numerics/distributions.ts";
import { type ContrastTest, likeliestOption, SHORT } from "../stand-model/contrasts-of.ts";
import type { StandView } from "../stand-model/stand-view.ts";
import type { Cause, FindingKind } from "../vocabulary/causes.ts";
import type { LocalPolygon } from "../vocabulary/field.ts";
import type { Draft } from "./draft.ts";
import type { DraftContext } from "./draft-place.ts";
import { nameCause } from "./evidence/attribution.ts";
import {
  causesShown,
  digLogLikelihood,
  digsInside,
  dugDepthTargetMm,
  soilDetail,
} from "./evidence/dig-evidence.ts";
import { groundSigns } from "./evidence/ground-evidence.ts";
import { placeWeights } from "./evidence/place-weights.ts";
import { wetShares } from "./evidence/wet-ground.ts";
import { outlineCells } from "./place-outline.ts";

const KIND: Partial<Record<ContrastTest["result"]["kind"], FindingKind>> = {
  field: "field",
  "soil-zone": "soil-zone",
  "planting-day": "pass",
  "seed-lot": "area",
  "bar-half": "section",
  section: "section",
  "track-rows": "section",
  "end-rows": "pass",
  direction: "pass",
  "change-point": "pass",
  trend: "field",
};
const WITH_GROUND: readonly ContrastTest["result"]["kind"][] = [
  "soil-zone",
  "planting-day",
  "seed-lot",
  "change-point",
  "end-rows",
];

/** True for contrasts of one part of the ground against the rest; false for the whole field and what runs across the bar. */
export function hasGroundOfItsOwn({ kind }: Pick<ContrastTest["result"], "kind">): boolean {
  return WITH_GROUND.includes(kind);
}

/** Cells that belong to a contrast's ground from this share on. */
const MOSTLY = 0.5;
/**
 * Rows that run in tracks and stand thin: traffic, against seed, hopper or wing that happen to feed the same rows (odds, our
 * judgement).
 */
const TRAFFIC_SHARE = 0.75;

/**
 * Drafts of the contrasts that are short.
 * @param outline ground of the whole field, with its area
 */
export function draftContrasts(
  context: DraftContext,
  view: StandView,
  tests: readonly ContrastTest[],
  outline: LocalPolygon[],
  areaM2: number,
): Draft[] {
  return tests.flatMap((test): Draft[] => {
    const members = groundOf(context, view, test);
    const loss = members.length > 0 ? view.posterior.lossOver(members, [test.key]) : null;
    // Ground of its own may be short by another term that fills it: then both are shown as causes of one finding.
    const leads = loss?.leading.get(test.key) ?? 0;
    const sure =
      loss && test.term.kind !== "field"
        ? Math.min(loss.probability, test.result.probability / Math.max(leads, 1e-9))
        : test.result.probability;
    if (sure < SHORT.from || test.result.probability < SHORT.couldBeFrom || !test.result.shortShare)
      return [];
    return [draftOf(context, view, test, members, outline, areaM2)];
  });
}

/** Cells of a contrast; none for what runs across the bar. */
function groundOf({ cells }: DraftContext, view: StandView, { term, key }: ContrastTest): Int32Array {
  const column = (likeliestOption(view, term, key) ?? term.options[0]!).column.cells;
  if (!column) return new Int32Array(0);
  return Int32Array.from([...Array(cells.count).keys()].filter((cell) => column[cell]! >= MOSTLY));
}

function draftOf(
  context: DraftContext,
  view: StandView,
  { result, term, key }: ContrastTest,
  members: Int32Array,
  outline: LocalPolygon[],
  fieldAreaM2: number,
): Draft {
  const { field, passes, cells, cellOf, swathWidthM } = context;
  const across = members.length === 0;
  const whole = term.kind === "field" || across;
  const polygons = whole ? outline : outlineCells(cells, members, swathWidthM);
  const rows = rowsOf(view, result.kind, term.name);
  const inPlace = new Uint8Array(cells.count);
  for (const cell of members) inPlace[cell] = 1;
  const inside = Uint8Array.from(cellOf, (cell, record) => {
    if (whole && rows.length === 0) return passes.passOf[record]! > 0 ? 1 : 0;
    if (across) return passes.passOf[record]! > 0 && inRows(passes.rowUnitOf[record]!, rows) ? 1 : 0;
    return cell >= 0 ? inPlace[cell]! : 0;
  });
  let areaM2 = 0;
  if (whole) areaM2 = rows.length > 0 ? (fieldAreaM2 * rows.length) / view.exposure.rowUnits : fieldAreaM2;
  else for (const cell of members) areaM2 += cells.areaM2[cell]!;
  const touched = whole
    ? []
    : [...new Set(Array.from(members, (cell) => cells.pass[cell]!))].sort((a, b) => a - b);
  const digs = digsInside(field.digs, polygons, 0);
  const dates = (whole ? passes.passes : touched.map((number) => passes.passes[number - 1]!)).map(
    (pass) => pass.date,
  );
  const wet = across || term.kind === "field" ? null : wetShares(members, cells, field.soilZones);
  const support = (cause: Cause): number =>
    digLogLikelihood(field.digs, digs, cause, dugDepthTargetMm(field));
  const loss = across ? null : view.posterior.lossOver(members, [key]);
  const weights =
    loss && term.kind !== "seed-lot"
      ? placeWeights(loss, {
          counts: result.counts,
          signs: groundSigns(field, dates, wet),
          followsSoilBorder: term.kind === "soil-zone",
          repeated: false,
          depthSource: field.log.depthSource,
          digSupport: support,
          shownByDigs: causesShown(field.digs, digs),
        })
      : weightsOfBar(term.kind);
  const attribution = nameCause(weights);
  // What never comes up of sound seed is no loss of this field's.
  const soundShortfall = term.kind === "field" ? 1 - view.expectedLevel : 0;
  const estimate = result.shortShare!.estimate;
  const standardError = Math.max(0.005, (result.shortShare!.high - result.shortShare!.low) / (2 * Z90));
  return {
    ...attribution,
    kind: KIND[result.kind]!,
    basis: "counted",
    detail: attribution.cause === "soil-or-weather" ? soilDetail(field.digs, digs) : null,
    contrast: result,
    pValue: result.pValue,
    polygons,
    areaM2,
    inside,
    wetShares: wet,
    passes: touched.length === passes.passes.length ? [] : touched,
    rowUnits: rows,
    soilZones: term.kind === "soil-zone" ? [term.name] : [],
    ground: "fit",
    predicted: Object.fromEntries(FACTORS.map((factor) => [factor, 0])) as Record<Factor, number>,
    deficit: {
      // One figure for it everywhere: that of the contrast.
      estimate: estimate - soundShortfall,
      standardError,
    },
    spots: whole ? [...Array(view.spots.count).keys()] : view.spotsOn(members),
    digs,
    departure: null,
  };
}

/** Rows of a part of the bar; none for everything else. */
function rowsOf(view: StandView, kind: ContrastTest["result"]["kind"], name: string): number[] {
  const { rowUnits } = view.exposure;
  const all = Array.from({ length: rowUnits }, (_, k) => k + 1);
  if (kind === "bar-half")
    return all.filter((row) => (name === "left" ? row <= rowUnits / 2 : row > rowUnits - rowUnits / 2));
  if (kind === "section") {
    const [from, to] = name.split("-").map(Number);
    return all.filter((row) => row >= from! && row <= to!);
  }
  return kind === "track-rows" ? name.split(",").map(Number) : [];
}

function inRows(row: number, rows: readonly number[]): boolean {
  // Records of the whole bar or a section stand for these rows too.
  return row === 0 || rows.includes(row);
}

/** Causes of what runs across the bar or follows a lot. */
function weightsOfBar(kind: ContrastTest["term"]["kind"]): Map<Cause, number> {
  if (kind === "seed-lot")
    return new Map<Cause, number>([
      ["seed-lot", 0.85],
      ["not-in-the-log", 0.15],
    ]);
  if (kind === "track-rows")
    return new Map<Cause, number>([
      ["wheel-traffic", TRAFFIC_SHARE],
      ["not-in-the-log", 1 - TRAFFIC_SHARE],
    ]);
  // A part of the bar: what feeds it. A lot in those hoppers is the plainest, and the log carries none.
  return new Map<Cause, number>([
    ["not-in-the-log", 0.76],
    ["seed-lot", 0.24],
  ]);
}
