/** What a handful of counts settles and what it cannot. */
import type { NotJudged } from "../findings/findings-document.ts";
import { mean, standardDeviation } from "../numerics/descriptive.ts";
import { formatPercent, formatQuantity } from "../quantities/format.ts";
import type { MeanStand } from "../stand/mean-stand.ts";
import { FEWEST_COUNTS } from "../stand-model/stand-view.ts";
import type { Writing } from "../texts/language.ts";
import type { Field } from "../vocabulary/field.ts";

/** From more counts than this on nothing is said: places of the usual size are found (our judgement). */
const MANY_COUNTS = 15;
/** Counts that have to lie in a place to speak for it. */
const COUNTS_IN_A_PLACE = 3;
/** Standard errors a place has to stand out by, since many places are looked at (our judgement). */
const STANDS_OUT = 2.5;

/** Words for 1 to 15 counts; null for none and for more. */
export function fewCounts(field: Field, stand: MeanStand | null, writing: Writing): NotJudged | null {
  const stands = field.standCounts?.standPerHa;
  if (!stand || !stands || stands.length === 0 || stands.length > MANY_COUNTS) return null;
  const count = stands.length;
  const scout = '"evenstand scout" says where to count next';
  if (count === 1)
    return {
      what: "places short of plants",
      why: `one count tells the stand of its own spot and nothing of the field; ${scout}`,
    };
  const middle = mean(stands);
  const spread = standardDeviation(stands);
  const plants = (perHa: number): string => formatQuantity(perHa, "plants", writing);
  // The one figure of the field's stand: a plain mean would be that of where the counts crowd.
  const { estimate, low, high, level } = stand.perHa;
  const of = stand.speaksForField
    ? "settle the mean stand of the field"
    : "lie close together and settle the stand of their own ground alone";
  const settled = `${count} counts ${of}, ${plants(estimate)} (${plants(low)} to ${plants(high)}; ${formatPercent(level, 0, writing.locale)} interval)`;
  if (count < FEWEST_COUNTS)
    return {
      what: "places short of plants",
      why: `${settled}, but not where it is short: that takes ${FEWEST_COUNTS} counts or more over the field; ${scout}`,
    };
  const inside = COUNTS_IN_A_PLACE;
  const seen = (STANDS_OUT * spread * Math.sqrt(1 / inside + 1 / (count - inside))) / middle;
  return {
    what: "small places short of plants",
    why: `${settled}; a place where ${inside} of them lie shows only if it is short by about ${formatPercent(seen, 0, writing.locale)} or more; ${scout}`,
  };
}
