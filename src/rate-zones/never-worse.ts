/** The drawing, again until no zone loses by its own reckoning. */
import type { TodaysPair } from "../prescription/channel.ts";
import type { CutZones } from "../prescription/cut-places.ts";
import type { LearntZone } from "../prescription/decide.ts";
import type { PrescriptionSettings } from "../prescription/prescription.ts";
import type { Writing } from "../texts/language.ts";
import { drawLoads } from "./draw-loads.ts";

/** What the drawing makes of the loads is reckoned again; a zone that would lose by it keeps today's, and so on. */
export function drawNeverWorse(
  base: Parameters<typeof drawLoads>[0],
  cuts: Pick<CutZones, "zones" | "places">,
  usual: TodaysPair,
  full: PrescriptionSettings,
  editOf: (zone: LearntZone) => number | null,
  writing: Writing,
): ReturnType<typeof drawLoads> {
  const stays = new Set<LearntZone>();
  let made = drawLoads(base, cuts, usual, full, editOf, stays, writing);
  for (let round = 0; round < cuts.zones.length; round++) {
    const worse = made.all.filter(
      ({ zone, choice, sent }) =>
        choice.outcome === "change" && editOf(zone) === null && sent !== null && sent.estimate < 0,
    );
    if (worse.length === 0) break;
    for (const { zone } of worse) stays.add(zone);
    made = drawLoads(base, cuts, usual, full, editOf, stays, writing);
  }
  return made;
}
