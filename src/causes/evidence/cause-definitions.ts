/**
 * What the program does about each cause. One entry a cause: a new one does not compile until it is whole here and in
 * the words of `report/cause-names.ts`.
 */
import type { Arrangement } from "../../stand/missing-plants.ts";
import type { Cause, Sign } from "../../vocabulary/causes.ts";
import type { ShownVariable } from "../../vocabulary/variables.ts";
import {
  depthOf,
  marginOf,
  missesOf,
  NO_FIGURE,
  type Remedy,
  type RemedyContext,
  rateOf,
  speedOf,
} from "./remedies.ts";

export interface CauseDefinition {
  /** What to change, with the figures of the place. */
  remedy(context: RemedyContext): Remedy;
  /** True where a load on the gauge wheels is what is wrong: its counts speak of load. */
  ofLoad: boolean;
  /** When it has to be settled before a load is prescribed around it; a departure in the seed never has to. */
  settledFirst: "always" | "where-of-rows" | "unless-of-seed";
  /** What to do first where it stands before a load, as part of a sentence. */
  toSettle: string;
  /** What it asks for beside a load; what has to be settled first and what departs by row is a repair. */
  advice: "speed" | "depth" | null;
  /** How its missing plants lie: even along the row, in gaps, or nobody has looked (our judgement). */
  arrangement: Arrangement;
  /** Chance that one dig shows a sign under it, where that differs from the background (our judgement). */
  signs: Partial<Record<Sign, number>>;
  /** True where it leaves no trace in the log. */
  withoutTrace: boolean;
  /** True where ground that is wet by nature may be a part of it. */
  mayBeWetGround: boolean;
  /** Variables of the map that show it, best first; empty where none of the log's would. */
  shownBy: readonly ShownVariable[];
}

/** What most causes have in common. */
const USUAL = {
  ofLoad: false,
  settledFirst: "where-of-rows",
  toSettle: "mend the row units first, no load makes up for them",
  advice: null,
  arrangement: "unknown",
  signs: {},
  withoutTrace: false,
  mayBeWetGround: false,
  shownBy: [],
} as const satisfies Omit<CauseDefinition, "remedy">;

const LOAD_VARIABLES = ["downForceMargin", "groundContact", "downForce"] as const;

export const CAUSE_DEFINITIONS: Readonly<Record<Cause, CauseDefinition>> = {
  "too-shallow": {
    ...USUAL,
    remedy: setDepth,
    advice: "depth",
    signs: { "dug shallow": 0.8, swollen: 0.15 },
    shownBy: ["seedingDepth"],
  },
  "too-deep": {
    ...USUAL,
    remedy: setDepth,
    advice: "depth",
    signs: { "dug deep": 0.8, "leafed out underground": 0.2 },
    shownBy: ["seedingDepth"],
  },
  "uneven-depth": {
    ...USUAL,
    remedy: () => ({ code: "check-depth-control", ...NO_FIGURE }),
    advice: "depth",
    signs: { "dug shallow": 0.3, "dug deep": 0.2 },
    shownBy: ["depthSd", "seedingDepth"],
  },
  "lost-ground-contact": {
    ...USUAL,
    remedy: (context) => ({ code: "raise-margin", ...marginOf(context) }),
    ofLoad: true,
    signs: { "dug shallow": 0.7, swollen: 0.25, "open furrow": 0.2 },
    shownBy: LOAD_VARIABLES,
  },
  "excess-down-force": {
    ...USUAL,
    remedy: (context) => ({ code: "lower-margin", ...marginOf(context) }),
    ofLoad: true,
    signs: { "smeared wall": 0.75, "open furrow": 0.25 },
    mayBeWetGround: true,
    shownBy: LOAD_VARIABLES,
  },
  "rate-off-target": {
    ...USUAL,
    remedy: (context) => ({ code: "set-rate", ...rateOf(context) }),
    arrangement: "even",
    shownBy: ["population", "misses"],
  },
  misses: {
    ...USUAL,
    remedy: serviceMeter,
    arrangement: "gaps",
    shownBy: ["misses", "singulation"],
  },
  multiples: {
    ...USUAL,
    remedy: serviceMeter,
    shownBy: ["multiples", "singulation"],
  },
  "irregular-spacing": {
    ...USUAL,
    remedy: serviceMeter,
    shownBy: ["misses", "singulation"],
  },
  "excess-speed": {
    ...USUAL,
    remedy: (context) => ({ code: "slow-down", ...speedOf(context) }),
    settledFirst: "always",
    toSettle: "slow down first, the load follows the speed",
    advice: "speed",
    signs: { "dug shallow": 0.3 },
    shownBy: ["speed"],
  },
  "sensor-fault": {
    ...USUAL,
    remedy: () => ({ code: "clean-sensor", ...NO_FIGURE }),
    settledFirst: "unless-of-seed",
    toSettle: "zero and clean the sensor first, its readings are not to be trusted",
    shownBy: ["population", "misses"],
  },
  "wheel-traffic": {
    ...USUAL,
    remedy: () => ({ code: "move-traffic", ...NO_FIGURE }),
    settledFirst: "always",
    toSettle: "settle the traffic first, these rows run on packed ground",
    shownBy: LOAD_VARIABLES,
  },
  "planted-twice": { ...USUAL, remedy: () => ({ code: "shut-off-rows", ...NO_FIGURE }) },
  "not-planted": {
    ...USUAL,
    remedy: () => ({ code: "check-guidance", ...NO_FIGURE }),
    arrangement: "gaps",
  },
  "furrow-not-closed": {
    ...USUAL,
    remedy: () => ({ code: "close-the-furrow", ...NO_FIGURE }),
    signs: { "open furrow": 0.8, swollen: 0.2 },
    withoutTrace: true,
  },
  "residue-in-furrow": {
    ...USUAL,
    remedy: () => ({ code: "clear-residue", ...NO_FIGURE }),
    signs: { "residue in furrow": 0.8, swollen: 0.2 },
    withoutTrace: true,
  },
  "dry-seedbed": {
    ...USUAL,
    remedy: () => ({ code: "plant-into-moisture", ...NO_FIGURE }),
    signs: { swollen: 0.7 },
    withoutTrace: true,
  },
  "worn-row-unit": {
    ...USUAL,
    remedy: (context) => ({ code: "repair-row-unit", ...depthOf(context) }),
    settledFirst: "always",
    shownBy: ["seedingDepth"],
  },
  "seed-lot": { ...USUAL, remedy: digAndCompare },
  "not-in-the-log": { ...USUAL, remedy: digAndCompare, withoutTrace: true, mayBeWetGround: true },
  "soil-or-weather": {
    ...USUAL,
    remedy: () => ({ code: "watch-the-ground", ...NO_FIGURE }),
    signs: { "leafed out underground": 0.6, rotted: 0.3, hollow: 0.15, swollen: 0.15 },
    withoutTrace: true,
    mayBeWetGround: true,
  },
  undetermined: { ...USUAL, remedy: digAndCompare, mayBeWetGround: true },
};

function setDepth(context: RemedyContext): Remedy {
  return { code: context.kind === "row-unit" ? "repair-row-unit" : "set-depth", ...depthOf(context) };
}

function serviceMeter(context: RemedyContext): Remedy {
  return { code: "service-meter", ...missesOf(context) };
}

function digAndCompare(): Remedy {
  return { code: "dig-and-compare", ...NO_FIGURE };
}
