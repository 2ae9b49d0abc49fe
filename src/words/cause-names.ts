/** Each cause by a farmer's name, with what it means one step behind. */
import type { MeasuredKey } from "../findings/findings-document.ts";
import type { Language } from "../texts/language.ts";
import { type Texts, textsOf } from "../texts/texts-of.ts";
import type { Cause, FindingKind } from "../vocabulary/causes.ts";

export interface CauseName {
  /** Short name on the page. */
  title: string;
  /** The same, as part of a sentence ("what else could do it: ..."). */
  phrase: string;
  /** Technical definition. */
  definition: string;
}

/** What a finding of a cause says of itself. */
export interface CauseWords {
  /** Figures that speak for it, most telling first; null where the log says nothing of it. */
  telling: readonly MeasuredKey[] | null;
  /** The check to make in the field before money is spent. */
  check(texts: Texts, place: CheckedPlace): string;
  /** What has to be minded before anyone acts on it. */
  caution: Caution;
}

/** What the wording of a check depends on. */
export interface CheckedPlace {
  kind: FindingKind;
  detail: string | null;
  /** True where it departs by row unit or section. */
  byRow: boolean;
  /** Its row units, "3 to 5 and 9". */
  units: string;
}

/** `machine`: reaching under a planter; `dig`: treated seed; `dig-and-stand`: that, and working or destroying a stand. */
export type Caution = "machine" | "dig" | "dig-and-stand";

/** The names of a cause in a language. */
export function causeName(cause: Cause, language: Language): CauseName {
  const { causeTitles, causePhrases, causeDefinitions } = textsOf(language);
  return { title: causeTitles[cause], phrase: causePhrases[cause], definition: causeDefinitions[cause] };
}

/** A cause's name with what a place adds to it, as a heading. */
export function causeTitle(cause: Cause, detail: string | null, language: Language): string {
  const { causeDetails, causeTitles } = textsOf(language);
  return (detail !== null && (causeDetails as Record<string, string>)[detail]) || causeTitles[cause];
}

export const CAUSE_WORDS: Record<Cause, CauseWords> = {
  "too-shallow": { telling: ["seedingDepthMm", "dugDepthMm"], check: depthCheck, caution: "machine" },
  "too-deep": { telling: ["seedingDepthMm", "dugDepthMm"], check: depthCheck, caution: "machine" },
  "uneven-depth": { telling: ["depthSdMm"], check: ({ checks }) => checks.depthOfTen, caution: "machine" },
  "lost-ground-contact": {
    telling: ["downForceMarginN", "noLoadShare", "seedingDepthMm", "dugDepthMm"],
    check: ({ checks }) => checks.contact,
    caution: "machine",
  },
  "excess-down-force": {
    telling: ["downForceMarginN", "dugDepthMm"],
    check: ({ checks }) => checks.pressed,
    caution: "machine",
  },
  "rate-off-target": {
    telling: ["populationPerHa"],
    check: ({ checks }, { byRow }) => (byRow ? checks.rateOfRow : checks.rate),
    caution: "machine",
  },
  misses: {
    telling: ["missesShare", "populationPerHa"],
    check: ({ checks }) => checks.gaps,
    caution: "machine",
  },
  multiples: { telling: ["multiplesShare"], check: ({ checks }) => checks.gaps, caution: "machine" },
  "irregular-spacing": { telling: null, check: ({ checks }) => checks.gaps, caution: "machine" },
  "excess-speed": {
    telling: ["speedMetresPerSecond", "missesShare", "depthSdMm"],
    check: ({ checks }) => checks.speed,
    caution: "machine",
  },
  "sensor-fault": {
    telling: ["populationPerHa", "missesShare"],
    check: ({ checks }, { units }) => checks.sensor(units),
    caution: "machine",
  },
  "wheel-traffic": {
    telling: ["seedingDepthMm", "downForceMarginN", "noLoadShare", "dugDepthMm"],
    check: ({ checks }, { byRow, units }) => (byRow ? checks.trafficOfRows(units) : checks.traffic),
    caution: "machine",
  },
  "planted-twice": { telling: null, check: ({ checks }) => checks.plantedTwice, caution: "machine" },
  "not-planted": { telling: null, check: ({ checks }) => checks.notPlanted, caution: "machine" },
  "furrow-not-closed": { telling: null, check: ({ checks }) => checks.digBoth, caution: "machine" },
  "residue-in-furrow": { telling: null, check: ({ checks }) => checks.digBoth, caution: "machine" },
  "dry-seedbed": { telling: null, check: ({ checks }) => checks.digBoth, caution: "machine" },
  "worn-row-unit": { telling: null, check: ({ checks }) => checks.digBoth, caution: "machine" },
  "seed-lot": { telling: null, check: ({ checks }) => checks.digBoth, caution: "machine" },
  "not-in-the-log": {
    telling: null,
    check: ({ checks }, { detail }) => (detail === "crust" ? checks.crust : checks.ground),
    caution: "dig-and-stand",
  },
  "soil-or-weather": {
    telling: null,
    check: ({ checks }, { detail }) => (detail === "crust" ? checks.crust : checks.ground),
    caution: "dig-and-stand",
  },
  undetermined: { telling: null, check: ({ checks }) => checks.digBoth, caution: "dig" },
};

function depthCheck({ checks }: Texts, { kind, units }: CheckedPlace): string {
  return kind === "row-unit" ? checks.depthOfUnit(units) : checks.depth;
}
