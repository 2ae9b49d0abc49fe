/** Which zones wait until iron, sensors, traffic or speed are settled, and how that is said. */
import { CAUSE_DEFINITIONS } from "../causes/evidence/cause-definitions.ts";
import { formatPercent } from "../quantities/format.ts";
import type { ZoneEvidence } from "./evidence.ts";
import { LIMITS } from "./limits.ts";
import type { InTheWay } from "./settle-first.ts";

export interface HoldBack {
  finding: string | null;
  words: string;
}

/**
 * What holds a zone's number back. A finding of one row unit of many does not stop a zone whose load shows in the
 * other rows: its records and counts are left out and it is named. The zone waits where such findings cover a fifth
 * of it or more, or where too few counts are left without them.
 */
export function holdBack({ taint }: ZoneEvidence): HoldBack[] {
  const { inTheWay, share, spots, spotsLeft } = taint;
  const covers = share >= LIMITS.taintedShare.value;
  const starves = spots >= LIMITS.fewestSpots.value && spotsLeft < LIMITS.fewestSpots.value;
  if (inTheWay.length === 0 || (!covers && !starves)) return [];
  return decisive(inTheWay, covers).map((entry) => ({
    finding: entry.finding.id,
    words: `${nameOf(entry)} (${formatPercent(entry.share)} of the zone): ${CAUSE_DEFINITIONS[entry.finding.draft.cause].toSettle}`,
  }));
}

/** The widest findings that together reach the share; all where it is the counts that are missing. */
function decisive(inTheWay: readonly InTheWay[], covers: boolean): InTheWay[] {
  const found: InTheWay[] = [];
  let sum = 0;
  for (const entry of inTheWay) {
    if (covers && sum >= LIMITS.taintedShare.value) break;
    found.push(entry);
    sum += entry.share;
  }
  return found;
}

function nameOf({ finding }: InTheWay): string {
  const { title, draft } = finding;
  const { passes } = draft;
  if (draft.kind !== "pass" || passes.length === 0) return title;
  return `${title}, ${passes.length === 1 ? `pass ${passes[0]}` : `passes ${passes[0]}-${passes.at(-1)}`}`;
}
