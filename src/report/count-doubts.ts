/** Counts that cannot be, or hardly can: kept, and flagged in the notes of their file. */
import type { Note } from "../errors.ts";
import { expectedEmergence } from "../stand/emergence.ts";
import { referencePopulation } from "../stand/spots.ts";
import type { DocumentParts } from "./document-parts.ts";
import { formatQuantity } from "./format.ts";

/** More plants than this share of the seeds dropped are not seed of that day (our judgement: a count errs by some). */
const MORE_THAN_SEEDS = 1.15;
/** Counts nearer to each other than this are of one spot, m (our judgement: about the error of a position). */
const ONE_SPOT_M = 1;

/** Notes on doubtful stand counts, each with the first offending value. */
export function countDoubts({ field, causes, passes, units = "farm" }: DocumentParts): Note[] {
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
      if (stand > MORE_THAN_SEEDS * seeds) offenders.push(formatQuantity(stand, "plants", units));
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
  flag("two counts of one spot; both are used, as if they were two spots", doubles(counts));
  return notes;
}

/** Places counted again in the same row unit, as "x, y" of the frame in whole metres. */
function doubles(counts: NonNullable<DocumentParts["field"]["standCounts"]>): string[] {
  const order = [...counts.x.keys()].sort((a, b) => counts.x[a]! - counts.x[b]! || a - b);
  const found: string[] = [];
  order.forEach((spot, k) => {
    for (let other = k + 1; other < order.length; other++) {
      const next = order[other]!;
      if (counts.x[next]! - counts.x[spot]! > ONE_SPOT_M) break;
      const away = Math.hypot(counts.x[next]! - counts.x[spot]!, counts.y[next]! - counts.y[spot]!);
      if (away > ONE_SPOT_M || counts.rowUnit[next] !== counts.rowUnit[spot]) continue;
      found.push(`spots ${Math.min(spot, next) + 1} and ${Math.max(spot, next) + 1} of those used`);
    }
  });
  return found;
}
