/** How many counts it takes to settle a place. */
import type { Analysis } from "../findings/analysis.ts";
import type { Finding } from "../findings/findings-document.ts";
import { mean, standardDeviation } from "../numerics/descriptive.ts";
import { Z90 } from "../numerics/distributions.ts";

/** Spread between counts of ordinary ground as a share of the mean, where nobody has counted yet (our judgement). */
export const USUAL_SPREAD = 0.08;
/** Loss of plants to be told from nothing where the log predicts none in figures (our judgement). */
const LOSS_TO_SEE = 0.08;
/** Fewest and most counts asked for inside one place (our judgement). */
const LEAST = 3;
const MOST = 10;

/**
 * Counts wanted inside: so many that the 90 % interval of their mean is no wider than the loss to be seen, to either
 * side half of it. A cause that counts have settled already (0.7 or more) wants no more than those.
 */
export function needOf({ field }: Analysis, finding: Finding): { wanted: number; already: number } {
  const stands = field.standCounts?.standPerHa;
  const spread = stands && stands.length >= 5 ? standardDeviation(stands) / mean(stands) : USUAL_SPREAD;
  const already = finding.stand.counts;
  if (finding.basis === "cleared") return { wanted: already, already };
  const loss = Math.max(0.04, finding.stand.deficitShare?.estimate ?? LOSS_TO_SEE);
  const wanted = Math.min(MOST, Math.max(LEAST, Math.ceil(((Z90 * spread) / (loss / 2)) ** 2)));
  return { wanted, already };
}
