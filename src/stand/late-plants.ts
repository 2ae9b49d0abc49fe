/** Yield lost to plants that came up late, from the published studies. */
import { median } from "../numerics/descriptive.ts";
import { RECOVERED_BY_NEIGHBOURS } from "./missing-plants.ts";
import {
  type LateLayout,
  lostIn1991,
  lostWhenAllAreLate,
  MIXED_UP_TO,
  NAFZIGER_1991,
  UNEVEN_TREATMENTS_1991,
} from "./uneven-emergence-1991.ts";

export interface LateStudy {
  /** The experiment it is part of, which has one weight however many of its rows are printed; null for a compilation. */
  experiment: string | null;
  source: string;
  /** Leaf stages the late plants are behind. */
  leafStagesBehind: 1 | 2 | 4;
  /** Where the source gives days we take 5-7 as one, 10-14 as two, 21-27 as four stages (our judgement, 82 degree days F a leaf). */
  stagesFrom: "reported" | "days";
  /** Share of the plants that are late. */
  lateShare: number;
  /** Yield lost against the even stand, share. */
  lossShare: number;
}

/** The mixtures within the row of the study of 1991. */
const MIXTURES_1991: readonly LateStudy[] = UNEVEN_TREATMENTS_1991.filter(
  ({ row }) => (row.early ?? 1) < 1,
).map((treatment) => ({
  experiment: NAFZIGER_1991,
  source: `${NAFZIGER_1991}, ${treatment.pattern}`,
  leafStagesBehind: treatment.row.medium ? 2 : 4,
  stagesFrom: "days",
  lateShare: 1 - treatment.row.early!,
  lossShare: lostIn1991(treatment),
}));

const LIU_2004 = "Liu, Tollenaar, Stewart & Deen 2004, Crop Sci. 44:847-854";
const MINNESOTA = "Univ. of Minnesota, every other plant (Ford & Hicks 1992, name and year from memory)";

/**
 * The studies, as printed. A compilation is an author's summary of work of others, very likely of rows that stand here
 * already: it widens the range and has no say in the estimate.
 */
export const LATE_STUDIES: readonly LateStudy[] = [
  ...MIXTURES_1991,
  {
    experiment: LIU_2004,
    source: LIU_2004,
    leafStagesBehind: 2,
    stagesFrom: "reported",
    lateShare: 1 / 6,
    lossShare: 0.04,
  },
  {
    experiment: LIU_2004,
    source: LIU_2004,
    leafStagesBehind: 4,
    stagesFrom: "reported",
    lateShare: 1 / 6,
    lossShare: 0.08,
  },
  {
    experiment: MINNESOTA,
    source: `${MINNESOTA}, planted 7 days later`,
    leafStagesBehind: 1,
    stagesFrom: "days",
    lateShare: 0.5,
    lossShare: 0.06,
  },
  {
    experiment: MINNESOTA,
    source: `${MINNESOTA}, planted 14 days later`,
    leafStagesBehind: 2,
    stagesFrom: "days",
    lateShare: 0.5,
    lossShare: 0.17,
  },
  {
    experiment: "North Dakota State Univ. 2013-14",
    source:
      "North Dakota State Univ., 38 fields 2013-14, most late plants 5-7 days behind; middle of 2.5 to 3 %",
    leafStagesBehind: 1,
    stagesFrom: "days",
    lateShare: 0.1,
    lossShare: 0.0275,
  },
  {
    experiment: null,
    source: "Iowa State Univ., Abendroth: one week",
    leafStagesBehind: 1,
    stagesFrom: "days",
    lateShare: 0.25,
    lossShare: 0.06,
  },
  {
    experiment: null,
    source: "Iowa State Univ., Abendroth: two weeks, up to",
    leafStagesBehind: 2,
    stagesFrom: "days",
    lateShare: 0.5,
    lossShare: 0.17,
  },
  {
    experiment: null,
    source: "Iowa State Univ., Elmore & Abendroth 2009, low end",
    leafStagesBehind: 2,
    stagesFrom: "reported",
    lateShare: 0.5,
    lossShare: 0.05,
  },
  {
    experiment: null,
    source: "Iowa State Univ., Elmore & Abendroth 2009, high end",
    leafStagesBehind: 2,
    stagesFrom: "reported",
    lateShare: 0.5,
    lossShare: 0.1,
  },
  {
    experiment: null,
    source:
      "Kansas State Univ., Roozeboom: under 3 % when all are up within two weeks; share not stated, read as half and one stage (our judgement)",
    leafStagesBehind: 1,
    stagesFrom: "days",
    lateShare: 0.5,
    lossShare: 0.03,
  },
];

/**
 * The range goes at least this share of the estimate to either side: two or three experiments do not know their own
 * spread (our judgement).
 */
export const LEAST_RANGE = 0.25;

/** A late plant costs no more than a missing one, and that costs at least this share of a plant (Nafziger 1991, 1996). */
const LEAST_OF_A_MISSING_PLANT = 1 - RECOVERED_BY_NEIGHBOURS[0]![1];

/**
 * Late share beyond which more late plants cost no more: in Nafziger 1991 three quarters late cost about what half
 * cost (7.6 against 9.3 %, 22.9 against 22.0 %).
 */
export const LATE_SHARE_PLATEAU = 0.5;

/** Stages taken where nobody counted them, with the limits of the range then shown (our judgement). */
const STAGES_WHEN_UNKNOWN = { low: 1, estimate: 2, high: 4 } as const;

export interface LateLoss {
  /** Yield lost, share 0..1: the median of the experiments, the least and the greatest of the studies. Not a confidence interval. */
  estimate: number;
  low: number;
  high: number;
  /** True where the plants are further behind than any study went (four stages); then four is used. */
  beyondStudies: boolean;
}

interface Slope {
  low: number;
  estimate: number;
  high: number;
}

/**
 * Yield lost to late plants, against a stand of as many plants all up in time (corn).
 *
 * loss = slope(stages) x min(late share, 0.5). The slope of a row of {@link LATE_STUDIES} is its loss / min(its late
 * share, 0.5). For one, two and four stages the estimate is the median over experiments of the median of each one's own
 * rows; low and high are the least and the greatest of all rows, compilations too, and at least a quarter of the estimate
 * away ({@link LEAST_RANGE}); between the classes and from 0 stages the line is straight (our judgement). So a late plant
 * costs about 0.20, 0.24 and 0.46 of a plant; a missing one in a full stand costs about 0.8, and late plants never cost
 * more than missing ones in Nafziger 1991.
 *
 * Where more than three quarters are late it matters whether they are a whole row between rows in time, which press on it
 * (11 and 33 % lost at two and four stages), or the whole ground, which then is a stand planted later (6 and 12 %): from
 * there on the line goes straight to the figure of Nafziger 1991 for all plants, with the relative range of the studies.
 * @param lateShare late plants / emerged plants, 0..1
 * @param leafStagesBehind leaf stages behind, >= 0; null where not counted, which widens the range to 1..4 stages
 * @param layout how the late plants lie; "mixed" where nobody can tell
 * @throws {RangeError} when the share or the stages are out of range
 */
export function lateLoss(
  lateShare: number,
  leafStagesBehind: number | null,
  layout: LateLayout = "mixed",
): LateLoss {
  if (!(lateShare >= 0 && lateShare <= 1))
    throw new RangeError(`late share must lie between 0 and 1, not ${lateShare}`);
  if (leafStagesBehind !== null && !(leafStagesBehind >= 0))
    throw new RangeError(`leaf stages behind must be 0 or more, not ${leafStagesBehind}`);
  const stages = leafStagesBehind ?? STAGES_WHEN_UNKNOWN.estimate;
  const at = (key: keyof Slope, ofStages: number): number => {
    const slope = slopeAt(ofStages);
    const mixed = slope[key] * Math.min(lateShare, LATE_SHARE_PLATEAU);
    if (layout === "mixed" || lateShare <= MIXED_UP_TO || slope.estimate === 0) return mixed;
    const whole = (lostWhenAllAreLate(ofStages, layout) * slope[key]) / slope.estimate;
    return mixed + ((lateShare - MIXED_UP_TO) / (1 - MIXED_UP_TO)) * (whole - mixed);
  };
  return {
    estimate: at("estimate", stages),
    low: at("low", leafStagesBehind ?? STAGES_WHEN_UNKNOWN.low),
    high: at("high", leafStagesBehind ?? STAGES_WHEN_UNKNOWN.high),
    beyondStudies: stages > STAGE_CLASSES.at(-1)![0],
  };
}

const STAGE_CLASSES: readonly (readonly [number, Slope])[] = [
  [0, { low: 0, estimate: 0, high: 0 }],
  ...([1, 2, 4] as const).map((stages): readonly [number, Slope] => {
    const studies = LATE_STUDIES.filter((study) => study.leafStagesBehind === stages);
    const slopes = studies.map(slopeOf);
    const experiments = [...new Set(studies.flatMap(({ experiment }) => experiment ?? []))];
    const estimate = median(
      experiments.map((name) => median(studies.filter(({ experiment }) => experiment === name).map(slopeOf))),
    );
    return [
      stages,
      {
        low: Math.min(...slopes, (1 - LEAST_RANGE) * estimate),
        estimate,
        high: Math.min(Math.max(...slopes, (1 + LEAST_RANGE) * estimate), LEAST_OF_A_MISSING_PLANT),
      },
    ];
  }),
];

function slopeOf({ lossShare, lateShare }: LateStudy): number {
  return lossShare / Math.min(lateShare, LATE_SHARE_PLATEAU);
}

function slopeAt(stages: number): Slope {
  const above = STAGE_CLASSES.findIndex(([knot]) => knot >= stages);
  if (above === 0) return STAGE_CLASSES[0]![1];
  const [highStages, highSlope] = STAGE_CLASSES.at(above)!;
  if (above < 0) return highSlope;
  const [lowStages, lowSlope] = STAGE_CLASSES[above - 1]!;
  const weight = (stages - lowStages) / (highStages - lowStages);
  const between = (key: keyof Slope): number => lowSlope[key] + weight * (highSlope[key] - lowSlope[key]);
  return { low: between("low"), estimate: between("estimate"), high: between("high") };
}
