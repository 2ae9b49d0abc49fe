/** What to do about a finding, in a farmer's words. */
import type { Draft } from "../causes/draft.ts";
import type { Remedy } from "../causes/evidence/remedies.ts";
import { plantedState } from "../compare/ground-state.ts";
import type { Finding } from "../findings/findings-document.ts";
import { groundWords } from "../prescription/channel.ts";
import type { LoadPlace, Prescription } from "../prescription/prescription.ts";
import { formatQuantity, type QuantityKind } from "../quantities/format.ts";
import type { Writing } from "../texts/language.ts";
import { contrastAdvice } from "./contrast-advice.ts";
import { runsOf } from "./finding-words.ts";

/** The one thing to do. */
export function remedyWords(draft: Draft, remedy: Remedy, writing: Writing): string {
  const say = (value: number | null, kind: QuantityKind): string =>
    value === null ? "" : formatQuantity(value, kind, writing);
  const advice = draft.contrast && contrastAdvice(draft.contrast);
  if (advice) return advice.remedy;
  switch (remedy.code) {
    case "raise-margin":
      if (draft.kind === "section") {
        return `Carry more load on the gauge wheels of rows ${runsOf(draft.rowUnits)}: about ${say(remedy.to, "force")} instead of ${say(remedy.from, "force")}. Look at what feeds them: force setting of the section, weight on it, seed and liquid left in the tanks.`;
      }
      if (draft.kind === "row-unit") {
        return `Row unit ${runsOf(draft.rowUnits)} carries ${say(remedy.from, "force")} on its gauge wheels where about ${say(remedy.to, "force")} is wanted: look at its spring or cylinder and at its load sensor.`;
      }
      if (draft.kind === "field") {
        return `Carry more load on the gauge wheels over the whole field: about ${say(remedy.to, "force")} instead of ${say(remedy.from, "force")}, then dig to see that depth holds. ${startingFigure(draft)}`;
      }
      return `Carry more load on the gauge wheels on this ground: about ${say(remedy.to, "force")} instead of ${say(remedy.from, "force")}. One setting for the whole field cannot do that; let the force follow the ground, then dig to see that depth holds. ${startingFigure(draft)}`;
    case "lower-margin":
      if (draft.ground === "wait") {
        return `This ground was too wet to plant: wait until a ball of soil from seed depth crumbles between the fingers. Where it has to be planted damp, carry about ${say(remedy.to, "force")} instead of ${say(remedy.from, "force")}. ${startingFigure(draft)}`;
      }
      return draft.ground === "damp"
        ? `On ground this damp take load off: about ${say(remedy.to, "force")} instead of ${say(remedy.from, "force")}, or let it dry first. ${startingFigure(draft)}`
        : `Take load off here: about ${say(remedy.to, "force")} instead of ${say(remedy.from, "force")}, then dig to see that depth holds. ${startingFigure(draft)}`;
    case "set-depth":
      return `Set the depth at ${say(remedy.to, "depth")}, dig to prove it, and do not trust the notch alone.`;
    case "repair-row-unit":
      return `Look at row unit ${draft.rowUnits.join(", ")}: depth stop, gauge-wheel arms, discs. It reads ${say(remedy.from, "depth")} where the others read ${say(draft.departure ? remedy.from! - draft.departure.shift : remedy.to, "depth")}.`;
    case "check-depth-control":
      return "Look for what lets the depth jump: worn parallel arms, gauge-wheel arms, residue, speed.";
    case "slow-down":
      return `Drive this planter at about ${say(remedy.to, "speed")}, not ${say(remedy.from, "speed")}: that fast, the units bounce, depth scatters and seeds are skipped.`;
    case "service-meter":
      return draft.rowUnits.length > 0
        ? `Have the meter of row unit ${draft.rowUnits.join(", ")} run on a test stand: disc, seal, brush, vacuum.`
        : "Have the meters run on a test stand before spring: discs, seals, brushes, vacuum.";
    case "set-rate":
      return `Check the rate setting: ${say(remedy.from, "seeds")} were dropped where ${say(remedy.to, "seeds")} were wanted.`;
    case "clean-sensor":
      return draft.basis === "predicted"
        ? `Do not trust the sensor of row unit ${runsOf(draft.rowUnits)} yet, nor blame the unit: nothing was counted or dug in its row. Clean the sensor, then make the check.`
        : `Clean or replace the sensor of row unit ${runsOf(draft.rowUnits)} before trusting its figures; what was counted or dug in its row shows no harm.`;
    case "shut-off-rows":
      return "Switch rows off over ground that is planted already, or plant the end rows last; twice the plants crowd each other there and the seed is wasted.";
    case "check-guidance":
      return "Look at the guidance line, at where the bar is let down, and at rows that were switched off or ran empty here.";
    case "move-traffic":
      return draft.kind === "section" || draft.kind === "row-unit"
        ? "Look at tire and track spacing, pressure and row cleaners before blaming these units."
        : "The end rows are driven over at every turn: look at tire and track pressure, at planting them last, and at the load carried on them, before the planter is changed for the whole field.";
    case "close-the-furrow":
      return "Look at what shuts the furrow: closing wheels in line with the row, worn or not, how hard they press. Where damp ground will not shut over the seed, wait.";
    case "clear-residue":
      return "Keep residue out of the furrow: look at row cleaners, opener discs and what lies on the ground after harvest. Do not press residue in with more load.";
    case "plant-into-moisture":
      return "Dig for moisture before planting and set the depth to reach it, as deep as your local extension holds right for the crop; where it lies deeper, wait for rain.";
    case "watch-the-ground":
      return draft.detail === "crust"
        ? "Where a beating rain before emergence is followed by heat and wind, look under the crust within days; keeping residue or planting this pocket last helps. Ask your local extension before working a crusted stand."
        : "Nothing in this log explains it. Look at drainage, crust, insects and seed, and at closing, residue and fertiliser, which leave no trace in a log, before you change the planter.";
    case "dig-and-compare":
      if (draft.cause === "not-in-the-log")
        return "Nothing in the log explains it. Dig along a bare stretch: crust, wet or dry ground, open furrow, residue, insects, seed each leave their own sign.";
      return "Dig before you change anything: the figures fit more than one cause.";
  }
}

/** Why the prescription may name another load than the finding. */
function startingFigure(draft: Draft): string {
  return `That load is the usual start for ${plantedState(draft.ground)} ground; the prescription works it out from this field's counts, within its limits.`;
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
