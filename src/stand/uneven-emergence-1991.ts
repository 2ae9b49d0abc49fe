/**
 * The sixteen treatments of the study of uneven emergence, as printed: Nafziger, Carter & Graham 1991, Response of Corn to
 * Uneven Emergence, Crop Sci. 31:811-815 (7 environments in Illinois and Wisconsin, hand planted). Even stands, mixtures
 * within the row, and whole rows beside rows of another time.
 */

export const NAFZIGER_1991 = "Nafziger, Carter & Graham 1991, Crop Sci. 31:811-815";

/** Time of emergence: early May, 10-12 days later, 21-27 days later. */
export type EmergenceTime = "early" | "medium" | "late";

export interface UnevenTreatment {
  pattern: string;
  /** Times of the plants of the row and the share of each, 0..1; together 1. */
  row: Readonly<Partial<Record<EmergenceTime, number>>>;
  /** Time of the rows on both sides; null where they are as the row itself. */
  beside: EmergenceTime | null;
  /** Grain of the row, Mg/ha, as printed. */
  grainMgPerHa: number;
}

export const UNEVEN_TREATMENTS_1991: readonly UnevenTreatment[] = [
  { pattern: "all early", row: { early: 1 }, beside: null, grainMgPerHa: 11.8 },
  { pattern: "all 10-12 days late", row: { medium: 1 }, beside: null, grainMgPerHa: 11.1 },
  { pattern: "all 21-27 days late", row: { late: 1 }, beside: null, grainMgPerHa: 10.4 },
  mixture("every fourth plant 10-12 days late", "medium", 0.25, 11.0),
  mixture("every other plant 10-12 days late", "medium", 0.5, 10.7),
  mixture("half late in threes, 10-12 days", "medium", 0.5, 10.9),
  mixture("three of four 10-12 days late", "medium", 0.75, 10.9),
  mixture("every fourth plant 21-27 days late", "late", 0.25, 10.5),
  mixture("every other plant 21-27 days late", "late", 0.5, 9.2),
  mixture("half late in threes, 21-27 days", "late", 0.5, 9.4),
  mixture("three of four 21-27 days late", "late", 0.75, 9.1),
  wholeRow("early row between rows 10-12 days late", "early", "medium", 11.4),
  wholeRow("early row between rows 21-27 days late", "early", "late", 12.2),
  wholeRow("row 10-12 days late between early rows", "medium", "early", 10.5),
  wholeRow("row 21-27 days late between early rows", "late", "early", 7.9),
  wholeRow("row 10-12 days late between rows 21-27 days late", "medium", "late", 11.8),
];

function mixture(
  pattern: string,
  time: "medium" | "late",
  share: number,
  grainMgPerHa: number,
): UnevenTreatment {
  return { pattern, row: { early: 1 - share, [time]: share }, beside: null, grainMgPerHa };
}

function wholeRow(
  pattern: string,
  own: EmergenceTime,
  beside: EmergenceTime,
  grainMgPerHa: number,
): UnevenTreatment {
  return { pattern, row: { [own]: 1 }, beside, grainMgPerHa };
}

/** Yield of a treatment lost against the even early stand, share; below 0 where it yielded more. */
export function lostIn1991(treatment: UnevenTreatment): number {
  return 1 - treatment.grainMgPerHa / UNEVEN_TREATMENTS_1991[0]!.grainMgPerHa;
}

/** How the late plants of a place lie: among plants that were in time, in whole rows between such rows, or the place as a whole. */
export type LateLayout = "mixed" | "rows" | "ground";

/** From this share on (the last mixture of the study) what counts is whether the row or the ground as a whole is late. */
export const MIXED_UP_TO = 0.75;

/**
 * Yield lost where all plants are late, share: a whole row between early ones, or the whole ground.
 * @param leafStagesBehind 10-12 days are taken as two and 21-27 as four stages (our judgement); straight lines between
 * and down to none at 0 stages; beyond four stages as at four
 */
export function lostWhenAllAreLate(leafStagesBehind: number, layout: "rows" | "ground"): number {
  const beside = layout === "rows" ? "early" : null;
  const at = (time: "medium" | "late"): number =>
    lostIn1991(UNEVEN_TREATMENTS_1991.find((t) => t.row[time] === 1 && t.beside === beside)!);
  const [two, four] = [at("medium"), at("late")];
  const stages = Math.min(leafStagesBehind, 4);
  return stages <= 2 ? (two * stages) / 2 : two + ((four - two) * (stages - 2)) / 2;
}

/**
 * Yield lost to late plants by this study alone, share: straight lines between its treatments. Of the two with half the
 * plants late the one with every other plant is taken, which lies like seed that came up by chance.
 * @param lateShare late plants / emerged plants, 0..1
 * @param leafStagesBehind as above
 * @param layout where all plants are late; "mixed": as at three quarters late
 */
export function lateLossIn1991(lateShare: number, leafStagesBehind: number, layout: LateLayout): number {
  const stages = Math.min(leafStagesBehind, 4);
  const mixed = (time: "medium" | "late", share: number): number =>
    lostIn1991(UNEVEN_TREATMENTS_1991.find(({ row }) => row[time] === share)!);
  const atShare = (share: number): number => {
    if (share === 0) return 0;
    if (share === 1) {
      return layout === "mixed" ? atShare(MIXED_UP_TO) : lostWhenAllAreLate(stages, layout);
    }
    const [two, four] = [mixed("medium", share), mixed("late", share)];
    return stages <= 2 ? (two * stages) / 2 : two + ((four - two) * (stages - 2)) / 2;
  };
  const nodes = [0, 0.25, 0.5, MIXED_UP_TO, 1];
  const upper = Math.max(
    1,
    nodes.findIndex((node) => node >= lateShare),
  );
  const [from, to] = [nodes[upper - 1]!, nodes[upper]!];
  const weight = (lateShare - from) / (to - from);
  return atShare(from) + weight * (atShare(to) - atShare(from));
}
