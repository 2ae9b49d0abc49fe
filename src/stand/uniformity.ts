/**
 * Which plants of a stand came up late. Two published definitions are in use and are not the same thing, so both
 * are named and neither is called "the" limit. Claims of loss within 24 to 48 hours come from demonstration plots.
 */

/** A late plant is one that came up more than 3 days after the first (86 soil degree days F in that study). */
export const LATE_AFTER_DAYS = {
  days: 3,
  soilDegreeDaysF: 86,
  source:
    "Nemergut et al. 2021, Agron. J. 113:3351: little loss within 3 days, then 5 % of a plant's yield a day",
} as const;

/** A stand is even when all of it comes up within 20 to 25 degree days F, be that one day or five. */
export const LATE_AFTER_DEGREE_DAYS = {
  degreeDaysF: [20, 25],
  source: "Nafziger, Univ. of Illinois, article on degree days and corn emergence in the trade press",
} as const;

/** Plants flagged at one visit. */
export interface EmergedCohort {
  plants: number;
  /** Days after the first plant of the row came up. */
  daysAfterFirst: number;
  /** Degree days F after the first plant, null where the weather is not known. */
  degreeDaysFAfterFirst: number | null;
}

export interface LateShares {
  /** Share later than 3 days; null without plants. */
  byDays: number | null;
  /** Share later than 25 degree days F; null where a cohort's degree days are not known. */
  byDegreeDays: number | null;
}

/** Share of late plants of a flagged row by either definition, 0..1. */
export function lateSharesOf(cohorts: readonly EmergedCohort[]): LateShares {
  const all = cohorts.reduce((sum, cohort) => sum + cohort.plants, 0);
  if (!(all > 0)) return { byDays: null, byDegreeDays: null };
  const share = (isLate: (cohort: EmergedCohort) => boolean): number =>
    cohorts.reduce((sum, cohort) => sum + (isLate(cohort) ? cohort.plants : 0), 0) / all;
  const limitF = LATE_AFTER_DEGREE_DAYS.degreeDaysF[1];
  return {
    byDays: share((cohort) => cohort.daysAfterFirst > LATE_AFTER_DAYS.days),
    byDegreeDays: cohorts.some((cohort) => cohort.degreeDaysFAfterFirst === null)
      ? null
      : share((cohort) => cohort.degreeDaysFAfterFirst! > limitF),
  };
}
