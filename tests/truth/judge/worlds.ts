/**
 * The worlds: fields that differ in kind, not only in numbers. The tool is adjusted on the worlds of `tune` and
 * reported on those of `judge`, which differ from them in layout of the log, law of the noise, shape of the response
 * and way of counting. All figures are invented.
 */
import type { NoiseLaw } from "./surface.ts";

/**
 * How a loss grows with the departure of the planting (the dose; 1 is a plain fault): in proportion, levelling off,
 * nothing below a threshold, or all at once.
 */
export type ResponseShape = "linear" | "saturating" | "threshold" | "step";

export interface WorldSpec {
  set: "tune" | "judge";
  /** A record for each row unit, each section or the whole bar. */
  layout: "row" | "section" | "bar";
  rowCounts: readonly number[];
  rowSpacingIn: 20 | 30;
  /** Way between records, m. */
  stepM: number;
  /** Way of a pass, m. */
  lengthM: number;
  passCount: number;
  /** Direction of the passes, degrees from north. */
  bearing: number;
  /** Whether the log writes seed depth and gauge-wheel load. */
  hasDepthAndLoad: boolean;
  shapes: readonly ResponseShape[];
  /** Limits of the loss at dose 1, share of the plants. */
  harm: readonly [number, number];
  noise: readonly NoiseLaw[];
  noiseRangeM: readonly [number, number];
  /** Limits of the SD of the noise and of what each spot has for itself, share of the plants. */
  noiseSd: readonly [number, number];
  nugget: readonly [number, number];
  /** Counts: at random in strata, or on the grid of a drone. */
  counting: "by hand" | "drone";
  rowsCounted: readonly number[];
  /** SD of the error of a count's position in each direction, m. */
  positionErrorM: readonly [number, number];
  /** Share of fields whose counts name the row unit (one row counted). */
  namesRow: number;
  /** Share of the counts made where it looked bad. */
  wherePoor: number;
  soil: "patches" | "bands";
  /** How far the soil map lies off, m. */
  mapErrorM: number;
  plantingDays: readonly [number, number];
  /** Share of the plants that a crust, a pond or a pest takes. */
  unlisted: readonly [number, number];
}

const PLAIN = {
  rowSpacingIn: 30,
  stepM: 10,
  lengthM: 480,
  passCount: 30,
  hasDepthAndLoad: true,
  harm: [0.05, 0.2],
  noiseSd: [0.015, 0.03],
  nugget: [0.01, 0.02],
  namesRow: 0,
  wherePoor: 0,
  soil: "patches",
  mapErrorM: 10,
  plantingDays: [1, 3],
  unlisted: [0.1, 0.45],
} as const satisfies Partial<WorldSpec>;

export const WORLDS = {
  bars: {
    ...PLAIN,
    set: "tune",
    layout: "bar",
    rowCounts: [16, 24],
    stepM: 6,
    passCount: 24,
    bearing: 0,
    shapes: ["linear", "saturating"],
    noise: ["exponential"],
    noiseRangeM: [20, 40],
    counting: "by hand",
    rowsCounted: [4],
    positionErrorM: [1, 2],
  },
  drone: {
    ...PLAIN,
    set: "tune",
    layout: "row",
    rowCounts: [16],
    bearing: 90,
    shapes: ["saturating", "linear"],
    noise: ["smooth"],
    noiseRangeM: [30, 60],
    counting: "drone",
    rowsCounted: [6],
    positionErrorM: [0.3, 0.8],
  },
  slopes: {
    ...PLAIN,
    set: "tune",
    layout: "row",
    rowCounts: [12, 16],
    bearing: 20,
    shapes: ["threshold", "step", "linear"],
    harm: [0.04, 0.25],
    noise: ["exponential", "trending"],
    noiseRangeM: [12, 30],
    counting: "by hand",
    rowsCounted: [1, 2],
    positionErrorM: [1, 2.5],
    namesRow: 0.5,
  },
  sections2: {
    ...PLAIN,
    set: "judge",
    layout: "section",
    rowCounts: [16, 24],
    stepM: 8,
    bearing: 145,
    shapes: ["saturating", "threshold"],
    harm: [0.05, 0.22],
    noise: ["patchy"],
    noiseRangeM: [20, 45],
    counting: "by hand",
    rowsCounted: [2, 4],
    positionErrorM: [1, 2.5],
    soil: "bands",
    mapErrorM: 14,
    plantingDays: [2, 4],
  },
  hard: {
    ...PLAIN,
    set: "judge",
    layout: "row",
    rowCounts: [12, 24],
    stepM: 12,
    bearing: 63,
    shapes: ["step", "threshold", "saturating", "linear"],
    harm: [0.04, 0.25],
    noise: ["patchy", "trending", "exponential"],
    noiseRangeM: [15, 60],
    noiseSd: [0.02, 0.035],
    nugget: [0.012, 0.025],
    counting: "by hand",
    rowsCounted: [1, 2, 4],
    positionErrorM: [1.5, 3],
    namesRow: 0.5,
    wherePoor: 0.15,
    mapErrorM: 18,
    unlisted: [0.1, 0.6],
  },
  other: {
    ...PLAIN,
    set: "judge",
    layout: "bar",
    rowCounts: [12, 16],
    rowSpacingIn: 20,
    stepM: 7,
    passCount: 44,
    bearing: 0,
    hasDepthAndLoad: false,
    shapes: ["linear", "saturating"],
    noise: ["smooth", "exponential"],
    noiseRangeM: [25, 60],
    counting: "drone",
    rowsCounted: [4, 8],
    positionErrorM: [0.5, 1.5],
    soil: "bands",
    plantingDays: [2, 3],
  },
} as const satisfies Record<string, WorldSpec>;

export type WorldName = keyof typeof WORLDS;

/** Names of the worlds of one set. */
export function worldsOf(set: WorldSpec["set"]): WorldName[] {
  return (Object.keys(WORLDS) as WorldName[]).filter((name) => WORLDS[name].set === set);
}
