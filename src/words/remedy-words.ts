/** What to do about a finding, in a farmer's words. */
import type { Draft } from "../causes/draft.ts";
import type { Remedy } from "../causes/evidence/remedies.ts";
import { plantedState } from "../compare/ground-state.ts";
import type { Finding } from "../findings/findings-document.ts";
import { groundWords } from "../prescription/channel.ts";
import type { LoadPlace, Prescription } from "../prescription/prescription.ts";
import { formatQuantity, type QuantityKind } from "../quantities/format.ts";
import type { Writing } from "../texts/language.ts";
import { textsOf } from "../texts/texts-of.ts";
import { contrastAdvice } from "./contrast-advice.ts";
import { runsOf } from "./finding-words.ts";

/** The one thing to do. */
export function remedyWords(draft: Draft, remedy: Remedy, writing: Writing): string {
  const say = (value: number | null, kind: QuantityKind): string =>
    value === null ? "" : formatQuantity(value, kind, writing);
  const advice = draft.contrast && contrastAdvice(draft.contrast);
  if (advice) return advice.remedy;
  const { remedies } = textsOf(writing.language);
  const rows = runsOf(draft.rowUnits);
  const single = draft.rowUnits.join(", ");
  const byRow = draft.kind === "section" || draft.kind === "row-unit";
  const fromTo = (kind: QuantityKind) => ({
    from: say(remedy.from, kind),
    to: say(remedy.to, kind),
  });
  const load = fromTo("force");
  const start = startingFigure(draft, writing);
  switch (remedy.code) {
    case "raise-margin":
      if (draft.kind === "section") return remedies.moreLoadOnRows({ rows, ...load });
      if (draft.kind === "row-unit") return remedies.moreLoadOnUnit({ rows, ...load });
      return draft.kind === "field"
        ? `${remedies.moreLoadOnField(load)} ${start}`
        : `${remedies.moreLoadHere(load)} ${start}`;
    case "lower-margin":
      if (draft.ground === "wait") return `${remedies.waitOrLessLoad(load)} ${start}`;
      return draft.ground === "damp"
        ? `${remedies.lessLoadOnDamp(load)} ${start}`
        : `${remedies.lessLoadHere(load)} ${start}`;
    case "set-depth":
      return remedies.setDepth(say(remedy.to, "depth"));
    case "repair-row-unit":
      return remedies.repairUnit({
        rows: single,
        from: say(remedy.from, "depth"),
        to: say(draft.departure ? remedy.from! - draft.departure.shift : remedy.to, "depth"),
      });
    case "check-depth-control":
      return remedies.checkDepthControl;
    case "slow-down":
      return remedies.slowDown(fromTo("speed"));
    case "service-meter":
      return draft.rowUnits.length > 0 ? remedies.testMeterOf(single) : remedies.testMeters;
    case "set-rate":
      return remedies.setRate(fromTo("seeds"));
    case "clean-sensor":
      return draft.basis === "predicted" ? remedies.doubtSensor(rows) : remedies.cleanSensor(rows);
    case "shut-off-rows":
      return remedies.shutOffRows;
    case "check-guidance":
      return remedies.checkGuidance;
    case "move-traffic":
      return byRow ? remedies.trafficOfRows : remedies.traffic;
    case "close-the-furrow":
      return remedies.closeTheFurrow;
    case "clear-residue":
      return remedies.clearResidue;
    case "plant-into-moisture":
      return remedies.plantIntoMoisture;
    case "watch-the-ground":
      return draft.detail === "crust" ? remedies.crust : remedies.watchTheGround;
    case "dig-and-compare":
      return draft.cause === "not-in-the-log" ? remedies.digAlongBareStretch : remedies.digFirst;
  }
}

/** Why the prescription may name another load than the finding. */
function startingFigure(draft: Draft, { language }: Writing): string {
  const { usualStartDry, usualStartFit, usualStartDamp } = textsOf(language).remedies;
  return { dry: usualStartDry, fit: usualStartFit, damp: usualStartDamp }[plantedState(draft.ground)];
}

/** The advice of a finding of load with the loads of the prescription, and no other. */
export function prescribedRemedyWords(
  finding: Finding,
  places: readonly LoadPlace[],
  { decisions, settings }: Pick<Prescription, "decisions" | "settings">,
  writing: Writing,
): string {
  const force = (newtons: number): string => formatQuantity(newtons, "force", writing);
  const { moisture } = settings;
  const not = [...new Set(places.filter(({ mended }) => !mended).map(({ why }) => why))];
  const loads = places.map(({ soilZone }) => {
    const decision = decisions.find((entry) => entry.soilZone === soilZone)!;
    const load = force(decision.prescribedN[moisture]);
    if (decision.outcome === "change") return `${soilZone} ${load}`;
    // A place that ran otherwise comes to what the rest of its zone keeps.
    return not.length === 0 ? `${soilZone} ${load} as in the rest of it` : `${soilZone} stays at ${load}`;
  });
  const what =
    finding.remedy.code === "raise-margin"
      ? "Carry more load on the gauge wheels here"
      : finding.where.soilZones.length > 0 && moisture === "damp"
        ? "Take load off here, or let it dry first"
        : "Take load off here";
  const rest =
    not.length === 0
      ? "Dig to see that depth holds."
      : `The zone's load does not mend this place: ${not.join("; ")}. Set it here by hand in small steps, and dig.`;
  // The ledger shows the first sentence: it names the load to set.
  const ran = `it ran at ${force(places[0]!.loggedN)}`;
  const said = `the prescription for ${groundWords(moisture)}`;
  return not.length === 0
    ? `${what}: ${loads.join(", ")} by ${said}; ${ran}. ${rest}`
    : `${what}: ${ran}; ${said}: ${loads.join(", ")}. ${rest}`;
}
