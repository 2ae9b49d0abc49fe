/** Places that findings put down to load, against what the prescription sends to their ground. */
import { CAUSE_DEFINITIONS } from "../causes/evidence/cause-definitions.ts";
import type { Analysis } from "../findings/analysis.ts";
import { formatQuantity } from "../quantities/format.ts";
import type { Writing } from "../texts/language.ts";
import type { CutZones } from "./cut-places.ts";
import { WHOLE_FIELD } from "./evidence.ts";
import { isForceChannel, type LoadPlace, type Prescription, type ZoneDecision } from "./prescription.ts";
import { settledFindings } from "./settle-first.ts";

type Decided = Pick<Prescription, "decisions" | "settings" | "channel">;

/** Places with a load of their own, and why others have none. */
export type Cuts = Pick<CutZones, "places" | "refused">;

const NO_CUTS: Cuts = { places: [], refused: [] };

/** Findings of load that reach a zone; those of single row units are mended at the unit. */
export function loadPlaces(
  analysis: Pick<Analysis, "document" | "findingDrafts">,
  { decisions, settings, channel }: Decided,
  writing: Writing,
  cuts: Cuts = NO_CUTS,
): LoadPlace[] {
  return settledFindings(analysis).flatMap(({ id, title, draft }, k) => {
    const loggedN = analysis.document.findings[k]!.measured.downForceMarginN?.inside ?? null;
    if (
      !CAUSE_DEFINITIONS[draft.cause].ofLoad ||
      draft.kind === "row-unit" ||
      loggedN === null ||
      id === null
    )
      return [];
    const reached = decisions.filter(
      ({ soilZone, place }) =>
        place === null && (soilZone === WHOLE_FIELD || draft.soilZones.includes(soilZone)),
    );
    return reached.map((zone): LoadPlace => {
      const isHere = (cut: { finding: string; soilZone: string }): boolean =>
        cut.finding === id && cut.soilZone === zone.soilZone;
      const cut = cuts.places.find(isHere);
      const decision = decisions.find(({ soilZone }) => soilZone === cut?.name) ?? zone;
      const sentN = decision.prescribedN[settings.moisture];
      const isForce = isForceChannel(channel.quantity);
      // A load that is held is the same everywhere; an added force moves every place by the same.
      const willBeN =
        isForce && decision.currentMarginN !== null ? loggedN + sentN - decision.currentMarginN : sentN;
      const { lowN, highN } = decision.best[settings.moisture];
      const raises = draft.cause === "lost-ground-contact";
      const rightWay = raises ? willBeN > loggedN : willBeN < loggedN;
      const mended =
        rightWay && willBeN >= lowN - settings.rateStepN && willBeN <= highN + settings.rateStepN;
      const refusal = cuts.refused.find(isHere);
      const alone = refusal ? `; no load of its own, since ${refusal.why}` : "";
      return {
        finding: id,
        title,
        soilZone: decision.soilZone,
        loggedN,
        willBeN,
        mended,
        why: mended ? "" : `${whyNot(decision, isForce, formatQuantity(willBeN, "force", writing))}${alone}`,
      };
    });
  });
}

function whyNot({ outcome, soilZone, place }: ZoneDecision, isForce: boolean, willBe: string): string {
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
      return place === null
        ? `the zone's own load leaves about ${willBe} here, outside the range that is as good as the best`
        : `its own load of about ${willBe} is as far as the limits let it go this season`;
  }
}
