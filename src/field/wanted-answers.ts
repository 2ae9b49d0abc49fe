/** What a user could say in a word that would change the verdict: targets, prices, and whether the depth is sensed. */
import type { DepthSource, PlantingLog, Prices, Targets } from "../vocabulary/field.ts";

/** In the order in which they change what is said: depth and its source, load, rate, speed, then money. */
export const WANTED_KEYS = [
  "seedingDepth",
  "depthSensed",
  "downForceMargin",
  "population",
  "speed",
  "grain",
  "expectedYield",
] as const;

export type WantedKey = (typeof WANTED_KEYS)[number];

export interface WantedAnswer {
  key: WantedKey;
  /** The question as a sentence names it: "the target depth". */
  asked: string;
  /** What it would change. */
  why: string;
}

const WORDS: Record<WantedKey, Omit<WantedAnswer, "key">> = {
  seedingDepth: {
    asked: "the target depth",
    why: "without it a field planted too shallow or too deep all over does not show",
  },
  depthSensed: {
    asked: "whether the logged depth is sensed or only set",
    why: "a depth that was only set proves nothing about the seed",
  },
  downForceMargin: {
    asked: "the lowest and highest gauge-wheel load wanted",
    why: "without it a field run too light or too heavy all over does not show",
  },
  population: {
    asked: "the target rate",
    why: "without it the stand and the rate are held only against what was dropped",
  },
  speed: { asked: "the target speed", why: "without it a field driven too fast all over does not show" },
  grain: { asked: "the price of grain", why: "without it no loss is put into money" },
  expectedYield: { asked: "the yield expected", why: "without it no loss is put into money" },
};

/** What is known of a field without having loaded it whole. */
export interface KnownOfField {
  /** Names of the variables the log has. */
  logged: ReadonlySet<string>;
  depthSource: DepthSource;
  targets: Targets;
  prices: Pick<Prices, "grainPerBushel" | "expectedBushelPerAcre">;
}

/** The answers that are missing and would change something, the most telling first. */
export function wantedAnswers({ logged, depthSource, targets, prices }: KnownOfField): WantedAnswer[] {
  const depth = logged.has("seedingDepth") && depthSource !== "set";
  const wanted: Record<WantedKey, boolean> = {
    seedingDepth: depth && !logged.has("targetDepth") && targets.seedingDepthMm === null,
    depthSensed: logged.has("seedingDepth") && depthSource === "unknown",
    downForceMargin: logged.has("downForceMargin") && targets.downForceMarginN === null,
    population: !logged.has("targetPopulation") && targets.populationPerHa === null,
    speed: logged.has("speed") && targets.speedMetresPerSecond === null,
    grain: prices.grainPerBushel === null,
    expectedYield: prices.expectedBushelPerAcre === null,
  };
  return WANTED_KEYS.filter((key) => wanted[key]).map((key) => ({ key, ...WORDS[key] }));
}

/** Answers that bear on what is wrong, not only on what it costs. */
export function bearsOnVerdict({ key }: WantedAnswer): boolean {
  return key !== "grain" && key !== "expectedYield";
}

/** What the log of a loaded field has. */
export function loggedIn({ values }: Pick<PlantingLog, "values">): Set<string> {
  return new Set(Object.keys(values).filter((name) => values[name as keyof typeof values] !== undefined));
}
