/** What files and sheets say of each soil zone of a prescription. */
import type {
  EvidenceGrade,
  Outcome,
  Prescription,
  Rates,
  RateZone,
  ZoneDecision,
} from "../prescription/prescription.ts";
import { pressureText } from "../prescription/pressure.ts";
import { formatQuantity, groupThousands } from "../quantities/format.ts";
import { zonesOf } from "../rate-zones/zones-of-soil.ts";
import type { Writing } from "../texts/language.ts";
import type { Moisture } from "../vocabulary/moisture.ts";

export const OUTCOME_WORDS: Record<Outcome, string> = {
  change: "change",
  keep: "keep today's load",
  "held-back": "held back",
  "no-evidence": "keep today's load: no evidence here yet",
};

export const GRADE_WORDS: Record<EvidenceGrade, string> = {
  settled: "settled by this field's counts",
  pointing: "counts point to it",
  "starting-point": "starting point, to be dug",
};

/** How to tell the state of the ground on the day (common practice, no source). */
export const SQUEEZE_TEST: Record<Moisture | "putty", string> = {
  dry: "falls apart in the hand",
  fit: "makes a ball that crumbles when poked",
  damp: "makes a ball that dents and holds",
  putty: "shines, ribbons or sticks like putty",
};

export interface PrescriptionRow {
  decision: ZoneDecision;
  /** Zones of the map and the files that carry the zone's rate, strips left out. */
  numbers: number[];
  /** Zones left at today's setting for proof. */
  strips: number[];
  /** What the machine is told there for the picked state of the ground; null where no zone of the map is its own. */
  rates: Rates | null;
}

export function prescriptionRows({ decisions, zones }: Prescription): PrescriptionRow[] {
  const numbersOf = (part: readonly RateZone[]) => part.map(({ number }) => number).sort((a, b) => a - b);
  return decisions.map((decision) => {
    const { zones: own, strips } = zonesOf(zones, decision.soilZone);
    return {
      decision,
      numbers: numbersOf(own),
      strips: numbersOf(strips),
      rates: own[0]?.rates ?? null,
    };
  });
}

/** What the machine's channel is told, with its unit: the gauge-wheel load where no channel is declared. */
export function channelText(
  rates: Rates,
  { channel }: Pick<Prescription, "channel">,
  writing: Writing,
): string {
  if (channel.quantity === "added-force" && rates.forceN !== null)
    return formatQuantity(rates.forceN, "force", writing);
  if (channel.quantity === "pressure" && rates.pressurePa !== null)
    return pressureText(rates.pressurePa, writing);
  return formatQuantity(rates.marginN, "force", writing);
}

/** The reason in few words, for a sheet that is read while driving. */
export function shortReason(decision: ZoneDecision, writing: Writing): string {
  const { outcome, evidence, gainShare, heldBackBy, currentMarginN, grade } = decision;
  const counts = evidence.spots === 1 ? "1 count" : `${evidence.spots} counts`;
  const points = (share: number): string => groupThousands((share * 100).toFixed(1), writing.locale);
  switch (outcome) {
    case "held-back":
      return `Today's load stays: ${heldBackBy.map(({ words }) => words).join("; ")}.`;
    case "no-evidence":
      return `Too few counts that speak of load (${evidence.spots}): today's load stays, try a strip first.`;
    case "keep":
      return evidence.informative
        ? `${counts}: no other load within the limits promises more.`
        : `${counts} at loads too much alike to learn from: no reason to change.`;
    case "change": {
      const ran =
        currentMarginN === null ? "" : `Ran at ${formatQuantity(currentMarginN, "force", writing)}. `;
      if (gainShare === null) return `${ran}${counts}, ${GRADE_WORDS[grade]}.`;
      const { estimate, low, high } = gainShare;
      return `${ran}${counts}: ${points(estimate)} plants in 100 expected (${points(low)} to ${points(high)}).`;
    }
  }
}
