/** Places that findings put down to load, against what the prescription sends to their soil zone. */
import type { Analysis } from "../analyse.ts";
import { formatQuantity, type UnitSystem } from "../format.ts";
import { WHOLE_FIELD } from "./evidence.ts";
import type { Prescription, ZoneDecision } from "./prescription.ts";
import { LOAD_CAUSES, settledFindings } from "./taint.ts";

/** A finding of load on a soil zone, and whether the zone's own load mends it. */
export interface LoadPlace {
  finding: string;
  title: string;
  soilZone: string;
  /** Mean load logged in the place, N. */
  loggedN: number;
  /** Load on the wheels there under the prescription, N. */
  willBeN: number;
  mended: boolean;
  /** Why it is not mended, part of a sentence; empty where it is. */
  why: string;
}

/** Findings of load that reach a zone; those of single row units are mended at the unit. */
export function loadPlaces(
  analysis: Pick<Analysis, "document" | "findingDrafts">,
  { decisions, settings, channel }: Pick<Prescription, "decisions" | "settings" | "channel">,
  units: UnitSystem,
): LoadPlace[] {
  return settledFindings(analysis).flatMap(({ id, title, draft }, k) => {
    const loggedN = analysis.document.findings[k]!.measured.downForceMarginN?.inside ?? null;
    if (!LOAD_CAUSES.includes(draft.cause) || draft.kind === "row-unit" || loggedN === null || id === null)
      return [];
    return decisions
      .filter(({ soilZone }) => soilZone === WHOLE_FIELD || draft.soilZones.includes(soilZone))
      .map((decision): LoadPlace => {
        const sentN = decision.prescribedN[settings.moisture];
        const isForce = channel.quantity === "added-force" || channel.quantity === "pressure";
        // A load that is held is the same everywhere; an added force moves every place by the same.
        const willBeN =
          isForce && decision.currentMarginN !== null ? loggedN + sentN - decision.currentMarginN : sentN;
        const { lowN, highN } = decision.best[settings.moisture];
        const raises = draft.cause === "lost-ground-contact";
        const rightWay = raises ? willBeN > loggedN : willBeN < loggedN;
        const mended =
          rightWay && willBeN >= lowN - settings.rateStepN && willBeN <= highN + settings.rateStepN;
        return {
          finding: id,
          title,
          soilZone: decision.soilZone,
          loggedN,
          willBeN,
          mended,
          why: mended ? "" : whyNot(decision, isForce, formatQuantity(willBeN, "force", units)),
        };
      });
  });
}

function whyNot({ outcome, soilZone }: ZoneDecision, isForce: boolean, willBe: string): string {
  switch (outcome) {
    case "held-back":
      return `${soilZone} waits until what comes first is settled`;
    case "no-evidence":
      return `too few counts on ${soilZone} speak of load to move it`;
    case "keep":
      return isForce
        ? `the force on ${soilZone} stays, so that this place stays as it was`
        : `${soilZone} as a whole promises no more from another load`;
    case "change":
      return `the zone's own load leaves about ${willBe} here, outside the range that is as good as the best`;
  }
}
