/** What a draft cost, from its counts or, without counts, from what the log predicts. */
import type { Draft } from "../causes/draft.ts";
import { CAUSE_DEFINITIONS } from "../causes/evidence/cause-definitions.ts";
import { predictedTotal } from "../causes/find-causes.ts";
import { type Loss, type LossInput, lossOf, type Uncertain } from "../cost/loss.ts";
import { mean, standardDeviation } from "../numerics/descriptive.ts";
import { formatPercent } from "../quantities/format.ts";
import { SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";
import { lateLoss } from "../stand/late-plants.ts";
import { STAND_DATE_TABLES } from "../stand/published-tables.ts";
import { referencePopulation } from "../stand/spots.ts";
import { lateLossIn1991, NAFZIGER_1991 } from "../stand/uneven-emergence-1991.ts";
import { type Writing, writingOf } from "../texts/language.ts";
import { type DocumentParts, plantedOf } from "./document-parts.ts";

/** How wrong a loss predicted by the log alone may be: half its size (our judgement). */
const PREDICTED_ERROR = 0.5;

/** What a draft cost; null where it did no harm. */
export function priceOf(parts: DocumentParts, draft: Draft): Loss | null {
  const { field, causes } = parts;
  const writing = writingOf(parts);
  if (draft.basis === "cleared" || draft.cause === "sensor-fault") return null;
  const target = referencePopulation(field);
  const expected = predictedTotal(draft);
  const deficit = draft.basis === "counted" ? draft.deficit : null;
  // Nothing counted and nothing predicted: there is no figure to price.
  if (!deficit && expected === 0) return null;
  const input: LossInput = {
    crop: field.crop,
    plantedIsoDate: plantedOf(parts, draft) ?? field.planted,
    deficitShare: deficit ?? { estimate: expected, standardError: PREDICTED_ERROR * expected },
    targetPerHa: target,
    standElsewherePerHa:
      causes.spots && target && causes.ordinarySpots.length > 0
        ? mean(causes.ordinarySpots.map((spot) => causes.spots!.response[spot]! * target))
        : null,
    arrangement: CAUSE_DEFINITIONS[draft.cause].arrangement,
    lateShare: draft.basis === "counted" ? lateOf(parts, draft) : null,
    areaHa: draft.areaM2 / SQUARE_METRES_PER_HECTARE,
    prices: field.prices,
  };
  const loss = lossOf(input);
  return {
    ...loss,
    notes: [...loss.notes, ...otherTables(input, loss, writing), ...ofOneStudy(input.lateShare, writing)],
  };
}

/** Losses by two tables more than this apart are said to differ, share of yield (our judgement). */
const TABLES_DIFFER = 0.03;

/** A note for each other table of the crop whose loss is more than 3 points from that of the one used. */
function otherTables(input: LossInput, loss: Loss, writing: Writing): string[] {
  const { table, yieldShare } = loss;
  if (!table || !yieldShare) return [];
  return STAND_DATE_TABLES.filter((other) => other.crop === table.crop && other.id !== table.id).flatMap(
    (other) => {
      const share = lossOf({ ...input, table: other }).yieldShare;
      if (!share || Math.abs(share.estimate - yieldShare.estimate) <= TABLES_DIFFER) return [];
      return [
        `the published tables disagree here: ${formatPercent(share.estimate, 0, writing.locale)} less yield by ${other.title}, ${formatPercent(yieldShare.estimate, 0, writing.locale)} by ${table.title}, which is used`,
      ];
    },
  );
}

/** A note where the study with the most treatments, taken alone, gives another loss to late plants than all studies together. */
function ofOneStudy(late: LossInput["lateShare"], writing: Writing): string[] {
  if (!late || late.leafStagesBehind === null) return [];
  const share = late.inside.estimate;
  const { layout = "mixed" } = late;
  const alone = lateLossIn1991(share, late.leafStagesBehind, layout);
  const together = lateLoss(share, late.leafStagesBehind, layout).estimate;
  if (Math.abs(alone - together) <= TABLES_DIFFER) return [];
  return [
    `the studies of late plants disagree here: ${formatPercent(alone, 0, writing.locale)} less yield by ${NAFZIGER_1991} alone, ${formatPercent(together, 0, writing.locale)} by the middle of the studies, which is used`,
  ];
}

/** Late plants inside and elsewhere with their standard errors over spots; null with fewer than two spots. */
function lateOf({ field, causes }: DocumentParts, draft: Draft): LossInput["lateShare"] {
  const { spots } = causes;
  if (!spots) return null;
  const pick = (which: readonly number[]): number[] =>
    which.map((spot) => spots.lateShare[spot]!).filter((value) => !Number.isNaN(value));
  const inside = uncertain(pick(draft.spots));
  const elsewhere = uncertain(pick(causes.ordinarySpots));
  if (!inside || !elsewhere) return null;
  const behind = draft.spots
    .map((spot) => field.standCounts!.leafStagesBehind[spots.source[spot]!]!)
    .filter((value) => value > 0);
  const ofOneRow = draft.spots.every((spot) => field.standCounts!.rowsCounted[spots.source[spot]!] === 1);
  return {
    inside,
    elsewhere,
    leafStagesBehind: behind.length > 0 ? mean(behind) : null,
    layout: draft.kind !== "row-unit" ? "ground" : ofOneRow ? "rows" : "mixed",
  };
}

function uncertain(values: readonly number[]): Uncertain | null {
  if (values.length < 2) return null;
  return { estimate: mean(values), standardError: standardDeviation(values) / Math.sqrt(values.length) };
}
