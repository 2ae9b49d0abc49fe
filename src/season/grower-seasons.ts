/** The season of each grower: the own fields, by themselves. */
import type { FieldResult } from "./field-result.ts";
import { type Season, seasonOf } from "./season-document.ts";
import { fieldIds, type SeasonPlan } from "./season-plan.ts";

export interface GrowerSeason {
  /** Name of a file for it, without ending. */
  file: string;
  season: Season;
}

/**
 * One for each grower that the season's manifest names, by name.
 * @param whole the season of all: what counts there counts here, and what is left out there is left out here
 */
export function growerSeasons(
  plan: SeasonPlan,
  results: readonly FieldResult[],
  whole: Season,
): GrowerSeason[] {
  const names = new Set(plan.fields.map(({ grower }) => grower).filter((grower) => grower !== null));
  const growers = [...names].sort();
  const files = fieldIds(growers);
  const counts = new Set(whole.kept.map(({ id }) => id));
  return growers.map((grower, index) => {
    const fields = plan.fields.filter((field) => field.grower === grower);
    const ids = new Set(fields.map(({ id }) => id));
    const own = results.filter(({ field }) => ids.has(field.id) && counts.has(field.id));
    const season = seasonOf({ ...plan, name: grower, fields }, own);
    season.document.leftOut = whole.document.leftOut.filter(({ id }) => ids.has(id));
    return { file: files[index]!, season };
  });
}
