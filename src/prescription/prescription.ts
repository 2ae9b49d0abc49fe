/**
 * The down-force prescription: what is decided for each soil zone, the ground it is written for, and what the
 * machine is told. One shape from the decision to the file, the cab sheet and the page.
 */
import type { Note } from "../errors.ts";
import type { LocalPolygon } from "../vocabulary/field.ts";
import type { Moisture } from "../vocabulary/moisture.ts";

/**
 * What the machine's channel takes. `margin`: load on the gauge wheels, N. `added-force`: force added to a row
 * unit's own weight, N (ISO 11783-11 DDI 426). `pressure`: of the down-force system, Pa (DDI 365).
 */
export const CHANNELS = ["margin", "added-force", "pressure"] as const;
export type Channel = (typeof CHANNELS)[number];

/** True where the machine keeps a force, not a load: the load of every place then moves by the same. */
export function isForceChannel(channel: Channel | null): channel is "added-force" | "pressure" {
  return channel === "added-force" || channel === "pressure";
}

/** Air bags follow slowly at low pressures, hydraulic cylinders fast at high ones. */
export const DOWN_FORCE_SYSTEMS = ["air", "hydraulic"] as const;
export type DownForceSystem = (typeof DOWN_FORCE_SYSTEMS)[number];

/** What came out for a zone; "keep" is an answer of its own, not a lack of one. */
export type Outcome = "change" | "keep" | "held-back" | "no-evidence";

/** How far this field's own counts and digs carry the answer. */
export type EvidenceGrade = "settled" | "pointing" | "starting-point";

/** A load to aim for, N, with the range within which the expected stand is as good as the best (0.3 points). */
export interface MarginTarget {
  targetN: number;
  lowN: number;
  highN: number;
}

/** An estimate with its interval; level is the coverage the interval aims at, e.g. 0.9. */
export interface GainEstimate {
  estimate: number;
  low: number;
  high: number;
  level: number;
}

/** A finding of load on some ground, and whether the load sent there mends it. */
export interface LoadPlace {
  finding: string;
  title: string;
  /** Soil zone it lies in, or the place itself where it has a load of its own. */
  soilZone: string;
  /** Mean load logged in the place, N. */
  loggedN: number;
  /** Load on the wheels there under the prescription, N. */
  willBeN: number;
  mended: boolean;
  /** Why it is not mended, part of a sentence; empty where it is. */
  why: string;
}

/** One soil zone's answer, or that of a place cut out of one. Loads are gauge-wheel loads (margin), N. */
export interface ZoneDecision {
  soilZone: string;
  /** Finding whose place this is, cut out of its soil zone with a load of its own; null for a soil zone. */
  place: string | null;
  areaHa: number;
  /**
   * Mean and 10th percentile of the margin logged there last season, on the ground in the state most of the zone was
   * planted in: what steps are measured from. Null where the log has none.
   */
  currentMarginN: number | null;
  currentMarginP10N: number | null;
  /** Mean added force logged on the same ground; null where the log has none. */
  currentForceN: number | null;
  /** State of the ground when it was planted, and what says so ("dug", "rain before planting", "none"). */
  loggedMoisture: Moisture | null;
  loggedMoistureFrom: string;
  outcome: Outcome;
  grade: EvidenceGrade;
  /** Best load and its range for each state of the ground, before guard rails. */
  best: Record<Moisture, MarginTarget>;
  /** Load prescribed for each state of the ground, after guard rails and whole-number steps, N. */
  prescribedN: Record<Moisture, number>;
  /** Stand points (shares of target) gained against keeping today's load, in the picked state of the ground. */
  gainShare: GainEstimate | null;
  evidence: {
    spots: number;
    digs: number;
    /** 5th and 95th percentile of the margin at the spots, N; null without spots. */
    marginRangeN: [number, number] | null;
    /** False where that range is too narrow to learn from: the starting point is used. */
    informative: boolean;
  };
  /** What has to be settled first (finding ids and words); empty unless held back. */
  heldBackBy: { finding: string | null; words: string }[];
  /** Findings of load on this zone that its load does not mend, and why. */
  notMended: { finding: string; words: string }[];
  /** Plain words: why this number. */
  reason: string;
  /** What last year's prescription asked for here, N; null where the manifest does not say. */
  lastAdvisedN: number | null;
}

/** What the machine is told on a piece of ground; null where the channel cannot be worked out honestly. */
export interface Rates {
  marginN: number;
  forceN: number | null;
  pressurePa: number | null;
}

/** A piece of ground with one rate: a single part, holes allowed, shared borders identical, no overlaps. */
export interface RateZone {
  /** 1, 2, 3 ... by soil zone, then from south to north, strips last; what stands in the files. */
  number: number;
  /** Soil zones and places of its ground, the one with the most of it first. */
  soilZones: string[];
  /** True where today's setting is left on purpose, for next year's proof. */
  proofStrip: boolean;
  areaHa: number;
  /** Local metres; outer ring counter-clockwise, holes clockwise, closed. */
  polygon: LocalPolygon;
  rates: Rates;
}

/** One limit: what it is, what it allows, what it did. */
export interface Guard {
  code: string;
  /**
   * "kept": nothing had to give way; "changed": numbers were moved to keep it; "refused": it cannot be kept;
   * "unchecked": what it needs is not known, and nothing is assumed.
   */
  result: "kept" | "changed" | "refused" | "unchecked";
  words: string;
}

export interface Advice {
  kind: "repair" | "speed" | "depth" | "dig" | "test-strip";
  soilZone: string | null;
  rowUnits: number[];
  finding: string | null;
  words: string;
}

/** The user's choices; all have defaults but the channel and what only the user knows. */
export interface PrescriptionSettings {
  /** State of the ground the file is written for. */
  moisture: Moisture;
  /** Null until the user says what the machine takes: then only the cab sheet and the margin layer are written. */
  channel: Channel | null;
  minimumMarginN: number;
  maximumMarginN: number;
  /** Largest step from today's setting, N. */
  largestStepN: number;
  /** Rates are whole multiples of this, N (of the farm unit unless set). */
  rateStepN: number;
  /** Kind of down-force system, for its lag and the pressures it can have; null where nobody said. */
  system: DownForceSystem | null;
  /** Lag of the down-force system, s. */
  lagS: number;
  smallestAreaHa: number;
  /** In bar widths. */
  smallestWidthBars: number;
  /** At most 16. */
  mostRates: number;
  mostPolygons: number;
  mostVertices: number;
  proofStrips: boolean;
  /** Load prescribed outside the boundary and on lost position, N; today's mean where null. */
  outsideMarginN: number | null;
  lostPositionMarginN: number | null;
  /** Weight the centre and one wing can spare at the least fill, N, and the row units each carries. */
  usableWeight: { centreN: number; wingN: number; centreRowUnits: number; wingRowUnits: number } | null;
  /**
   * The user's own cylinder: pressure, Pa, for each N of added force, and at no added force; good between the two
   * forces it was given at, N.
   */
  cylinder: { pascalPerNewton: number; pascalAtNoForce: number; forceN: readonly [number, number] } | null;
  gridCellM: number;
  /** True where one load over the whole field is wanted as files, though no zone changes. */
  flat: boolean;
  /** True where ground outside boundary or soil map has been looked at and is right as it is. */
  allowUncovered: boolean;
}

/** Loads set by hand, N, by soil zone, for the picked moisture. */
export type ZoneEdits = Readonly<Record<string, number>>;

export interface Prescription {
  field: { name: string; season: number | null; areaHa: number };
  settings: PrescriptionSettings;
  decisions: ZoneDecision[];
  zones: RateZone[];
  /** Findings of load, each with what the load sent there does. */
  places: LoadPlace[];
  /** What is sent where nothing else is said: inside, outside the boundary, on lost position. */
  defaults: { inside: Rates; outside: Rates; lostPosition: Rates };
  /** The channel the files carry, how it was worked out (a formula in words), or why there is none. */
  channel: { quantity: Channel | null; formula: string; reason: string | null };
  /** Why no file of rates is written, a sentence; null where files may be written. */
  withheld: string | null;
  guards: Guard[];
  advice: Advice[];
  notes: Note[];
  cautions: string[];
}
