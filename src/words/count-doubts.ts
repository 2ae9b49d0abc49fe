/** Counts that cannot be, or hardly can: kept, and flagged in the notes of their file. */
import type { Note } from "../errors.ts";
import type { DocumentParts } from "../findings/document-parts.ts";
import type { NotJudged } from "../findings/findings-document.ts";
import { formatQuantity } from "../quantities/format.ts";
import { expectedEmergence } from "../stand/emergence.ts";
import { type RepeatCount, repeatCounts } from "../stand/repeat-counts.ts";
import { referencePopulation } from "../stand/spots.ts";
import { type Writing, writingOf } from "../texts/language.ts";
import type { Field, StandCounts } from "../vocabulary/field.ts";

/** More plants than this share of the seeds dropped are not seed of that day (our judgement: a count errs by some). */
const MORE_THAN_SEEDS = 1.15;

/** Notes on doubtful stand counts, each with the first offending value. */
export function countDoubts({ field, causes, passes, ...asked }: DocumentParts): Note[] {
  const writing = writingOf(asked);
  const { standCounts: counts, weather, planted, crop } = field;
  if (!counts) return [];
  const notes: Note[] = [];
  const flag = (reason: string, offenders: readonly string[], effect: "kept" | "left out" = "kept"): void => {
    const [first] = offenders;
    if (first !== undefined)
      notes.push({
        reason,
        effect,
        count: offenders.length,
        field: null,
        firstRecord: null,
        value: first,
      });
  };
  const reference = referencePopulation(field);
  const { spots } = causes;
  if (spots && spots.offGround > 0) {
    const used = new Set(spots.source);
    const off = [...counts.x.keys()].filter((spot) => !used.has(spot));
    flag(
      "no planted ground within 30 m of the count, or none beneath its rows; look at its position; the count is left out",
      off.map((spot) => `spot ${spot + 1} of those read`),
      "left out",
    );
  }
  if (spots && reference !== null) {
    const offenders: string[] = [];
    for (let s = 0; s < spots.count; s++) {
      const rate = spots.seedsPerHa[s]!;
      const seeds = Number.isNaN(rate) ? reference : rate;
      const stand = spots.response[s]! * reference;
      if (stand > MORE_THAN_SEEDS * seeds) offenders.push(formatQuantity(stand, "plants", writing));
    }
    flag("more plants counted than seeds dropped there; look at row length, rows and volunteers", offenders);
  }
  if (counts.dates && weather && planted && crop !== "other") {
    const last = passes.passes.reduce((latest, { date }) => (date && date > latest ? date : latest), planted);
    const { earliest } = expectedEmergence(weather, last, { crop });
    if (earliest !== null)
      flag(
        `counted before the last planted rows were to be up (${earliest} at the earliest); more plants may have come`,
        counts.dates.filter((date) => date !== null && date < earliest) as string[],
      );
  }
  flag(
    "two counts of one spot; both are used, as if they were two spots",
    repeatCounts(counts, reference).map((pair) => pairWords(counts, pair)),
  );
  return notes;
}

/** "spots 3 and 17 of those used": two counts of one spot, by their records where the file has them. */
function pairWords(counts: StandCounts, { first, second }: RepeatCount): string {
  const { fileRecord } = counts;
  return fileRecord
    ? `records ${fileRecord[first]!} and ${fileRecord[second]!}`
    : `spots ${first + 1} and ${second + 1} of those used`;
}

/** So many pairs are named one by one; the rest is their number (our judgement: nobody reads more). */
const MOST_NAMED = 30;

/** Counts of one spot that cannot both be right: a place may rest on them, so it is said beside the verdict. */
export function disagreeingCounts(field: Field, writing: Writing): NotJudged[] {
  const { standCounts: counts, inputs } = field;
  if (!counts) return [];
  const file = inputs.find(({ role }) => role === "standCounts")?.file ?? "the counts";
  const pairs = repeatCounts(counts, referencePopulation(field)).filter(({ disagree }) => disagree);
  const named = pairs.slice(0, MOST_NAMED).map((pair) => {
    const [first, second] = [pair.first, pair.second].map((spot) =>
      formatQuantity(counts.standPerHa[spot]!, "plants", writing),
    );
    return {
      what: "which of two counts of one spot is right",
      why: `${file}, ${pairWords(counts, pair)}: ${first} and ${second} within a metre of each other disagree by more than counting can explain; both are used, and a place that rests on them is doubtful; count there again and take the wrong one out`,
    };
  });
  if (pairs.length <= MOST_NAMED) return named;
  const rest = {
    what: "which of two counts of one spot is right",
    why: `${file}: ${pairs.length - MOST_NAMED} more pairs of counts within a metre of each other disagree by more than counting can explain; look at their positions`,
  };
  return [...named, rest];
}
