/** The stand of the field as the document carries it: figures and a sentence. */
import { formatNumber, formatPercent, formatQuantity } from "../quantities/format.ts";
import type { MeanStand } from "../stand/mean-stand.ts";
import type { Writing } from "../texts/language.ts";
import type { Field } from "../vocabulary/field.ts";
import type { StandSummary } from "./findings-document.ts";

/** Null without counts. */
export function standPart(field: Field, stand: MeanStand | null, writing: Writing): StandSummary | null {
  if (!stand) return null;
  const { counts, perHa, ofTarget, lateShare, crowded } = stand;
  return {
    counts,
    perHa,
    ofTarget,
    lateShare,
    clustered: crowded !== null,
    words: standWords(field, stand, writing),
  };
}

function standWords(field: Field, stand: MeanStand, writing: Writing): string {
  const { counts, perHa, ofTarget, lateShare, crowded } = stand;
  const plants = (value: number): string => formatQuantity(value, "plants", writing);
  const number = (value: number): string => formatNumber(value, "plants", writing);
  const percent = (share: number): string => (share * 100).toFixed(0);
  const parts = [
    `Mean stand ${plants(perHa.estimate)} (${number(perHa.low)} to ${number(perHa.high)}; ${formatPercent(perHa.level, 0, writing.locale)} interval)`,
  ];
  if (ofTarget) {
    const whole =
      field.targets.populationPerHa || field.log.values.targetPopulation
        ? "the target"
        : "the usual rate dropped";
    parts.push(
      `${formatPercent(ofTarget.estimate, 0, writing.locale)} of ${whole} (${percent(ofTarget.low)} to ${percent(ofTarget.high)})`,
    );
  }
  if (lateShare)
    parts.push(
      `${formatPercent(lateShare.estimate, 0, writing.locale)} of the plants late (${percent(lateShare.low)} to ${percent(lateShare.high)})`,
    );
  const said = `${parts.join(", ")}; ${counts} ${counts === 1 ? "count" : "counts"}.`;
  if (counts === 1) return `${said} One count speaks for its own spot, not for the field.`;
  if (!crowded) return said;
  if (!stand.speaksForField)
    return `${said} All counts lie close together in ${crowded.spots === 1 ? "one spot" : `${crowded.spots} spots`}: this is the stand there, not of the field.`;
  return `${said} ${crowded.counts} of the ${counts} counts lie close together on ${groundText(crowded.groundShare, writing)} of the ground: they have the weight of that ground, not of their number. The plain mean of all counts, ${plants(stand.plainPerHa)}, would be biased.`;
}

function groundText(share: number, writing: Writing): string {
  return share < 0.005 ? "under 1 %" : formatPercent(share, 0, writing.locale);
}
