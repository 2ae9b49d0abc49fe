/** Drafts -> the findings document: figures, cost, words, place; ranked by what they cost. */
import type { Draft } from "../causes/draft.ts";
import { CAUSE_DEFINITIONS } from "../causes/evidence/cause-definitions.ts";
import { dugDepthTargetMm, signsSeen } from "../causes/evidence/dig-evidence.ts";
import { measure } from "../causes/measure.ts";
import { CELL_LENGTH_M } from "../cells/make-cells.ts";
import { THRESHOLDS } from "../compare/thresholds.ts";
import type { Loss, Uncertain } from "../cost/loss.ts";
import { type LossOnGround, totalLoss } from "../cost/total.ts";
import type { Note } from "../errors.ts";
import { loggedIn, wantedAnswers } from "../field/wanted-answers.ts";
import { type DocumentParts, plantedOf, sideOf } from "../findings/document-parts.ts";
import { emergencePart, weatherSeen } from "../findings/emergence-part.ts";
import {
  type DocumentGeometry,
  type Estimate,
  FINDINGS_SCHEMA,
  type Finding,
  type FindingsDocument,
} from "../findings/findings-document.ts";
import { groundPart } from "../findings/ground-part.ts";
import { moneyByPart } from "../findings/money-part.ts";
import { priceOf } from "../findings/price-draft.ts";
import { replantBasis } from "../findings/replant-basis.ts";
import { spacingPart } from "../findings/spacing-part.ts";
import { standPart } from "../findings/stand-part.ts";
import { remedyWorth, seedCost, seedWords } from "../findings/worth-part.ts";
import { LEVEL, Z90 } from "../numerics/distributions.ts";
import { physicsOf } from "../prescription/field-sense.ts";
import { hectares } from "../quantities/format.ts";
import type { LoadPhysics } from "../quantities/load-physics.ts";
import { meanStandOf } from "../stand/mean-stand.ts";
import { referencePopulation } from "../stand/spots.ts";
import { writingOf } from "../texts/language.ts";
import type { Field, LocalPolygon } from "../vocabulary/field.ts";
import { contrastWords } from "../words/contrast-words.ts";
import { countDoubts } from "../words/count-doubts.ts";
import { driverWords } from "../words/driver-words.ts";
import {
  cautionWords,
  checkWords,
  otherwiseWords,
  placeWords,
  seenWords,
  titleWords,
} from "../words/finding-words.ts";
import { groundLead, judgedHa } from "../words/ground-words.ts";
import { headline } from "../words/headline.ts";
import { loadLead } from "../words/load-doubts.ts";
import { notJudged } from "../words/not-judged.ts";
import { offTheMap } from "../words/off-the-map.ts";
import { remedyWords } from "../words/remedy-words.ts";

/** Puts the document together. */
export function buildDocument(parts: DocumentParts): FindingsDocument {
  return documentWithDrafts(parts).document;
}

/** The document, and the draft each of its findings was made from, in its order. */
export function documentWithDrafts(parts: DocumentParts): { document: FindingsDocument; drafts: Draft[] } {
  const { field, causes } = parts;
  const writing = writingOf(parts);
  const stand = meanStandOf(field, parts.passes, causes.spots);
  const priced = causes.drafts.map((draft) => ({ draft, loss: priceOf(parts, draft) }));
  const findings = priced
    .map(({ draft, loss }) => ({ draft, loss, finding: findingOf(parts, draft, loss) }))
    .sort((a, b) => worstMoneyFirst(a.finding, b.finding));
  findings.forEach((entry, k) => {
    entry.finding.id = `F${k + 1}`;
  });
  const { distanceM, widthM } = parts.passes;
  const pieceAreaM2 = new Float64Array(distanceM.length);
  for (let i = 0; i < pieceAreaM2.length; i++) pieceAreaM2[i] = distanceM[i]! * widthM[i]!;
  const losses = findings.map(
    ({ draft, loss }): LossOnGround => ({
      yieldShare: loss?.yieldShare ?? null,
      money: loss?.money ?? null,
      inside: draft.inside,
    }),
  );
  const total = totalLoss(losses, pieceAreaM2);
  const wanted = wantedAnswers({
    logged: loggedIn(field.log),
    depthSource: field.log.depthSource,
    targets: field.targets,
    prices: field.prices,
  });
  const ground = groundPart(parts);
  const troubles = findings.filter(({ finding }) => finding.basis !== "cleared").map(({ draft }) => draft);
  // Rounded first, so that the parts shown add up to the whole shown.
  const areaHa = round(hectares(parts.areaM2), 2);
  const affectedOf = (drafts: readonly Draft[]): number =>
    Math.min(areaHa, round(hectares(affectedGround(drafts, pieceAreaM2)), 2));
  const affectedHa = affectedOf(troubles);
  // Ground without a record is not among the judged.
  const isWhole = judgedHa(ground, areaHa) === areaHa;
  const affectedAmongJudgedHa = isWhole
    ? affectedHa
    : affectedOf(troubles.filter(({ cause }) => cause !== "not-planted"));
  const { zoneOfRecord } = parts;
  const physics = zoneOfRecord ? physicsOf({ ...parts, zoneOfRecord }, writing.units) : null;
  const verdict = headline({
    field,
    findings: findings.map(({ finding }) => finding),
    contrasts: causes.contrasts,
    stand,
    wanted,
    departures: causes.departures ?? [],
    loadDoubted: physics !== null && physics.refusal.load !== null,
    affectedHa: affectedAmongJudgedHa,
    areaHa: judgedHa(ground, areaHa),
    money: total.money?.estimate ?? null,
    writing,
  });
  const document: FindingsDocument = {
    schema: FINDINGS_SCHEMA,
    ...(writing.language === "en" && writing.locale === "en"
      ? {}
      : { written: { language: writing.language, locale: writing.locale } }),
    field: {
      name: field.name,
      season: field.season,
      crop: field.crop,
      planted: field.planted,
      areaHa,
    },
    settings: { ...settingsOf(parts), yieldTables: tablesUsed(priced.map(({ loss }) => loss)) },
    inputs: field.inputs.map(({ role, file, sha256, records, used, leftOut, notes }) => ({
      role,
      file,
      sha256,
      records,
      used,
      leftOut,
      notes: [...notes, ...laterNotes(parts, role, physics)],
    })),
    summary: {
      affectedHa,
      nothingFoundHa: Math.max(0, round(judgedHa(ground, areaHa) - affectedAmongJudgedHa, 2)),
      notJudged: [
        ...(zoneOfRecord ? offTheMap(writing, field, pieceAreaM2, zoneOfRecord, parts.passes.passOf) : []),
        ...notJudged(field, writing, stand, physics),
      ],
      sentence: `${loadLead(physics)}${groundLead(ground, areaHa, writing)}${verdict.sentence}`,
      form: verdict.form,
      wanted,
      stand: standPart(field, stand, writing),
      contrasts: causes.contrasts.map((contrast) => ({
        ...contrast,
        words: contrastWords(contrast, writing),
      })),
      money: total.money,
      moneyBy: moneyByPart(parts, losses, pieceAreaM2, total),
      ground,
      drivers: (parts.drivers ?? []).map((driver) => ({ ...driver, words: driverWords(driver, writing) })),
      departingRows: causes.departures ?? [],
      emergence: emergencePart(parts),
      spacing: spacingPart(field, writing),
      replant: replantBasis(field),
    },
    findings: findings.map(({ finding }) => finding),
    comparison: parts.comparison,
  };
  return { document, drafts: findings.map(({ draft }) => draft) };
}

/** What only the analysis could note about a file. */
function laterNotes(parts: DocumentParts, role: string, physics: LoadPhysics | null): Note[] {
  if (role === "plantingLog") return [...parts.comparisonNotes, ...(physics?.notes ?? [])];
  return role === "standCounts" ? countDoubts(parts) : [];
}

/** Counted problems first, then risks read from the log, then what was cleared. */
/** The one order of findings, everywhere: what costs most first, what costs nothing known after it, what was cleared last. */
function worstMoneyFirst(a: Finding, b: Finding): number {
  const rank = ({ basis, loss }: Finding): number => (basis === "cleared" ? 2 : loss.money ? 0 : 1);
  const cost = ({ loss }: Finding): number => loss.money?.estimate ?? loss.yieldShare?.estimate ?? 0;
  return rank(a) - rank(b) || cost(b) - cost(a) || b.where.areaHa - a.where.areaHa;
}

function findingOf(parts: DocumentParts, draft: Draft, loss: Loss | null): Finding {
  const { field, passes, causes } = parts;
  const writing = writingOf(parts);
  const measured = measure({
    field,
    passes,
    inside: draft.inside,
    ordinary: draft.rowUnits.length > 0 ? othersOf(parts, draft) : causes.ordinary,
    spots: causes.spots,
    insideSpots: draft.spots,
    ordinarySpots: causes.ordinarySpots,
    insideDigs: draft.digs,
    ordinaryDigs: causes.ordinaryDigs,
  });
  const remedy = CAUSE_DEFINITIONS[draft.cause].remedy({
    kind: draft.kind,
    ground: draft.ground,
    targets: field.targets,
    marginN: measured.downForceMarginN?.inside ?? null,
    depthMm: measured.seedingDepthMm?.inside ?? null,
    speedMetresPerSecond: measured.speedMetresPerSecond?.inside ?? null,
    populationPerHa: measured.populationPerHa?.inside ?? null,
    wantedPerHa: singleTarget(measured.populationPerHa?.target),
    missesShare: measured.missesShare?.inside ?? null,
    usual: {
      depthMm: measured.seedingDepthMm?.elsewhere ?? null,
      speedMetresPerSecond: measured.speedMetresPerSecond?.elsewhere ?? null,
      populationPerHa: measured.populationPerHa?.elsewhere ?? null,
      missesShare: measured.missesShare?.elsewhere ?? null,
    },
  });
  const seed = seedCost(field, draft, measured);
  const date = plantedOf(parts, draft);
  const severalDates = new Set(passes.passes.map((pass) => pass.date)).size > 1;
  return {
    id: "",
    kind: draft.kind,
    cause: draft.cause,
    detail: draft.detail,
    basis: draft.basis,
    probability: draft.probability,
    pValue: draft.pValue,
    alternatives: draft.alternatives,
    where: {
      geometry: toDegrees(field, draft.polygons),
      areaHa: round(hectares(draft.areaM2), 3),
      passes: draft.passes,
      logPasses: [...new Set(draft.passes.flatMap((pass) => passes.passes[pass - 1]!.logPasses))].sort(
        byNumberThenText,
      ),
      rowUnits: draft.rowUnits,
      soilZones: draft.soilZones,
    },
    measured,
    stand: {
      deficitShare: draft.deficit ? interval(draft.deficit) : null,
      lateShare: measured.lateShare ?? null,
      counts: draft.spots.length,
      digs: draft.digs.length,
    },
    loss: {
      yieldShare: loss?.yieldShare ?? null,
      money: loss?.money ?? null,
      seed,
      notes: [...(loss?.notes ?? []), ...(seed ? [seedWords(seed, writing)] : [])],
    },
    remedy: {
      ...remedy,
      text: remedyWords(draft, remedy, writing),
      worth: remedyWorth(field, draft, remedy, loss, writing),
    },
    words: {
      title: titleWords(draft, writing),
      place: placeWords(
        draft,
        sideOf(parts, draft),
        severalDates ? date : null,
        passes.passes.length,
        writing,
      ),
      seen: [
        ...seenWords(draft, measured, signsSeen(field.digs, draft.digs, dugDepthTargetMm(field)), writing),
        ...weatherSeen(parts, draft),
      ],
      otherwise: otherwiseWords(draft, writing),
      check: checkWords(draft, writing),
      caution: cautionWords(draft, writing),
    },
  };
}

/** The other row units on the same passes, places left out. */
function othersOf({ passes, causes }: DocumentParts, draft: Draft): Uint8Array {
  const touched = new Set(draft.passes);
  return Uint8Array.from(causes.ordinary, (ordinary, i) =>
    ordinary === 1 && (touched.size === 0 || touched.has(passes.passOf[i]!)) ? 1 : 0,
  );
}

function interval(deficit: Uncertain): Estimate {
  return {
    estimate: deficit.estimate,
    low: deficit.estimate - Z90 * deficit.standardError,
    high: deficit.estimate + Z90 * deficit.standardError,
    level: LEVEL,
  };
}

function singleTarget(target: number | [number, number] | null | undefined): number | null {
  return typeof target === "number" ? target : null;
}

function affectedGround(drafts: readonly Draft[], pieceAreaM2: Float64Array): number {
  const inside = new Uint8Array(pieceAreaM2.length);
  for (const draft of drafts) {
    for (let i = 0; i < inside.length; i++) inside[i]! |= draft.inside[i]!;
  }
  let sum = 0;
  for (let i = 0; i < inside.length; i++) if (inside[i]) sum += pieceAreaM2[i]!;
  // Ground left out has no records.
  for (const draft of drafts) if (draft.cause === "not-planted") sum += draft.areaM2;
  return sum;
}

function toDegrees(field: Field, polygons: readonly LocalPolygon[]): DocumentGeometry {
  return {
    type: "MultiPolygon",
    coordinates: polygons.map((rings) =>
      rings.map((ring) => ring.map(([x, y]) => field.frame.toLonLat(x, y).map((value) => round(value, 7)))),
    ),
  };
}

function settingsOf({ field, causes, passes, swathWidthM }: DocumentParts): Record<string, unknown> {
  const model = causes.view?.fit.model;
  return {
    thresholds: Object.fromEntries(
      Object.entries(THRESHOLDS).map(([name, row]) => [
        name,
        { value: row.value, unit: row.unit, source: row.source },
      ]),
    ),
    cellLengthM: CELL_LENGTH_M,
    swathWidthM: round(swathWidthM, 3),
    passMethod: passes.method,
    plantedFrom: field.plantedFrom,
    referencePopulationPerHa: referencePopulation(field),
    standModel: model ? { draws: causes.view!.fit.draws.length, terms: causes.view!.fit.terms.length } : null,
    covariance: model ? { method: model.method, ...model.covariance } : null,
    quantiles: "type 7 (Hyndman & Fan 1996)",
    coordinates: `EPSG:${field.frame.epsg}`,
  };
}

/** The published tables the losses stand on. */
function tablesUsed(losses: readonly (Loss | null)[]): { title: string; source: string }[] {
  const tables = new Map(
    losses.flatMap((loss) => (loss?.table ? [[loss.table.title, loss.table.source] as const] : [])),
  );
  return [...tables].map(([title, source]) => ({ title, source }));
}

function byNumberThenText(a: string, b: string): number {
  return Number(a) - Number(b) || a.localeCompare(b);
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}
