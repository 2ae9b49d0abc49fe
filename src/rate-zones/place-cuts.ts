/** Which places get a load of their own: those their soil zone's load does not mend, where the machine can follow. */
import type { Analysis } from "../findings/analysis.ts";
import { ratesFor, type TodaysPair } from "../prescription/channel.ts";
import { type CutPlace, type CutZones, cutOut, type WantedCut } from "../prescription/cut-places.ts";
import { chooseLoads, type LearntZone, sentGain } from "../prescription/decide.ts";
import { LIMITS } from "../prescription/limits.ts";
import { loadPlaces } from "../prescription/load-places.ts";
import type { PrescriptionSettings, Rates } from "../prescription/prescription.ts";
import { formatQuantity } from "../quantities/format.ts";
import type { LoadPhysics } from "../quantities/load-physics.ts";
import type { Writing } from "../texts/language.ts";
import { decided, type drawLoads } from "./draw-loads.ts";
import { drawNeverWorse } from "./never-worse.ts";
import { loadSent } from "./sent-loads.ts";

/** What an analysis teaches, the same for all settings. */
export interface Learnt {
  zones: LearntZone[];
  physics: LoadPhysics;
}

/** A place keeps its zone where it has at least this share of its ground there (our judgement). */
const OWN_GROUND_SHARE = 0.5;

/** Cuts the places out one by one less those that come to nothing, and says why those do. */
export function cutsOf(
  base: { analysis: Analysis; physics: LoadPhysics },
  zones: readonly LearntZone[],
  usual: TodaysPair,
  full: PrescriptionSettings,
  writing: Writing,
): CutZones {
  const whole: CutZones = { zones: [...zones], places: [], refused: [] };
  const { analysis, physics } = base;
  const unedited = {
    decisions: zones.map((zone) => decided(zone, full, null, writing).decision),
    settings: full,
    channel: { quantity: full.channel, formula: "", reason: null },
  };
  const waits = (soilZone: string): boolean => {
    const { outcome } = unedited.decisions.find((entry) => entry.soilZone === soilZone)!;
    return outcome === "held-back" || outcome === "no-evidence";
  };
  let wanted: WantedCut[] = loadPlaces(analysis, unedited, writing).filter(
    ({ mended, soilZone }) => !mended && !waits(soilZone),
  );
  const refused: CutZones["refused"] = [];
  while (wanted.length > 0) {
    const cuts = cutOut(analysis, physics, zones, wanted, full.smallestAreaHa, writing);
    refused.push(...cuts.refused);
    if (cuts.places.length === 0) break;
    let why = new Map<CutPlace, string>();
    for (const place of cuts.places) {
      const words = pointlessWords(place, cuts.zones, full);
      if (words !== null) why.set(place, words);
    }
    if (why.size === 0)
      why = groundless(
        cuts,
        drawNeverWorse(base, cuts, usual, full, () => null, writing),
        base,
        full,
        writing,
      );
    if (why.size === 0) return { ...cuts, refused };
    for (const [{ finding, soilZone }, words] of why) refused.push({ finding, soilZone, why: words });
    wanted = cuts.places.filter((place) => !why.has(place));
  }
  return { ...whole, refused };
}

/** Why a place gains nothing by a load of its own; null where it does. */
function pointlessWords(
  { name, soilZone }: CutPlace,
  zones: readonly LearntZone[],
  full: PrescriptionSettings,
): string | null {
  const decidedOf = (wanted: string) => {
    const zone = zones.find(({ evidence }) => evidence.name === wanted)!;
    const choice = chooseLoads(zone, full, null);
    return { zone, choice, rates: ratesFor(choice.prescribedN[full.moisture], choice.logged, full) };
  };
  const own = decidedOf(name);
  if (own.choice.outcome !== "change") return "no load within the limits promises more on it by itself";
  const gainOf = (rates: Rates): number =>
    sentGain(own.zone, own.choice, loadSent(rates, own.choice, full.channel, full), full)?.estimate ?? 0;
  return gainOf(own.rates) - gainOf(decidedOf(soilZone).rates) > LIMITS.worthChanging.value
    ? null
    : `a load of its own promises no more than that of ${soilZone}`;
}

/** Places that the drawing gave no ground of their own, and why. */
function groundless(
  { places }: CutZones,
  made: ReturnType<typeof drawLoads>,
  { analysis }: { analysis: Analysis },
  full: PrescriptionSettings,
  writing: Writing,
): Map<CutPlace, string> {
  const length = (metres: number): string => formatQuantity(metres, "length", writing);
  const widthM = full.smallestWidthBars * analysis.parts.swathWidthM;
  return new Map(
    places.flatMap((place): [CutPlace, string][] => {
      let [own, all] = [0, 0];
      for (const { soilZones, soilHa } of made.drawn.zones) {
        const areaHa = soilHa.find(({ soilZone }) => soilZone === place.name)?.areaHa ?? 0;
        all += areaHa;
        if (soilZones[0] === place.name) own += areaHa;
      }
      return all > 0 && own >= OWN_GROUND_SHARE * all
        ? []
        : [
            [
              place,
              `hardly any of it is ${length(widthM)} wide and ${length(Math.max(made.shortestM, widthM))} long in travel, what a zone of its own needs`,
            ],
          ];
    }),
  );
}
