/** What so little of a log lets be judged, and what it does not. */
import { FEWEST_TREND_PASSES } from "../causes/find/pass-trend.ts";
import { isSensedDepth } from "../field/depth-source.ts";
import type { NotJudged } from "../findings/findings-document.ts";
import type { Passes } from "../passes/passes.ts";
import type { LoadPhysics } from "../quantities/load-physics.ts";
import type { RowUnitVariable } from "../rows/row-unit-series.ts";
import type { Field } from "../vocabulary/field.ts";
import { loadDoubts } from "../words/load-doubts.ts";
import type { CheckFigure, CheckSeen, CheckVariable } from "./check-result.ts";

/** Moments of the bar on passes from which the bar as a whole is held against its limits (our judgement). */
const FEWEST_MOMENTS = 40;
/** Fewer row units than this cannot be told from each other. */
const FEWEST_ROW_UNITS = 4;

/** What a farmer calls the figures. */
export const FIGURE_NAMES: Record<CheckVariable, string> = {
  seedingDepth: "depth",
  downForceMargin: "gauge-wheel load",
  groundContact: "ground contact",
  misses: "skips",
  multiples: "doubles",
  singulation: "singulation",
  population: "population",
  speed: "speed",
};

export interface Judged {
  /** Variables held against their limits on the whole bar. */
  bar: ReadonlySet<CheckVariable>;
  /** Variables in which rows are held against the bar. */
  rows: ReadonlySet<RowUnitVariable>;
}

/** Which statements may be made, their names in plain words, and which may not, each with the reason. */
export function judgedAndNot(
  field: Field,
  passes: Passes,
  figures: readonly CheckFigure[],
  seen: CheckSeen,
  doubts: LoadPhysics,
): { judged: Judged; names: string[]; notJudged: NotJudged[] } {
  const notJudged: NotJudged[] = [...loadDoubts(doubts)];
  const has = new Map(figures.map((figure) => [figure.variable, figure]));
  const bar = new Set<CheckVariable>();
  const moments = passes.passes.reduce((sum, { moments }) => sum + moments, 0);
  for (const { variable, aim, spreadLimit } of figures) {
    if (variable === "seedingDepth" && !isSensedDepth(field.log.depthSource)) continue;
    if (variable === "downForceMargin" && doubts.refusal.load !== null) continue;
    if (aim !== null || spreadLimit !== null || variable === "groundContact") bar.add(variable);
  }
  if (moments < FEWEST_MOMENTS) {
    bar.clear();
    notJudged.push({
      what: "the bar against its target",
      why: `only ${moments} readings along the way, ${FEWEST_MOMENTS} are needed: run this again a few hundred feet on`,
    });
  }
  notJudged.push(...missing(field, has));

  const rows = new Set<RowUnitVariable>();
  if (seen.rowUnits < FEWEST_ROW_UNITS) {
    notJudged.push({
      what: "single rows",
      why:
        seen.rowUnits === 0
          ? "the log has no readings of single row units"
          : `${seen.rowUnits} row units are too few to tell one from the others`,
    });
  } else {
    for (const variable of ["seedingDepth", "downForceMargin", "misses", "multiples", "singulation"] as const)
      if (has.has(variable)) rows.add(variable);
    if (has.has("population")) rows.add("population");
    if (field.log.depthSource === "set") rows.delete("seedingDepth");
    if (seen.passes === 1)
      notJudged.push({
        what: "rows for sure",
        why: "on one pass a row cannot be told from the ground it ran over: it is named all the same where it stands far off the bar",
      });
  }
  if (seen.passes < FEWEST_TREND_PASSES)
    notJudged.push({
      what: "wear, clogging and tanks running low",
      why: `that takes ${FEWEST_TREND_PASSES} passes`,
    });
  if (!seen.bothWays) notJudged.push({ what: "one way against the other", why: "all was driven one way" });
  notJudged.push({ what: "end rows against the inside", why: "the edge is known when the field is done" });
  notJudged.push({ what: "the stand", why: "no count is looked at here" });
  const names = figures
    .filter(({ variable }) => bar.has(variable))
    .map(({ variable }) => FIGURE_NAMES[variable]);
  if (rows.size > 0) names.push("rows against each other");
  return { judged: { bar, rows }, names, notJudged };
}

function missing({ log, crop }: Field, has: ReadonlyMap<CheckVariable, CheckFigure>): NotJudged[] {
  const list: NotJudged[] = [];
  const depth = has.get("seedingDepth");
  if (!depth) list.push({ what: "depth", why: "the log has no column for it" });
  else if (!isSensedDepth(log.depthSource))
    list.push({
      what: "depth",
      why:
        log.depthSource === "set"
          ? "the log has only the depth set, which proves nothing about the seed"
          : "nobody says whether the logged depth is sensed or only set",
    });
  else if (depth.aim === null)
    list.push({ what: "depth", why: `no target was given, and we know no usual depth of ${crop} crops` });
  if (!has.has("downForceMargin") && !has.has("groundContact"))
    list.push({ what: "load on the gauge wheels", why: "the log has no column for it" });
  if (!has.has("misses") && !has.has("multiples") && !has.has("singulation"))
    list.push({ what: "skips and doubles", why: "the log has no column for them" });
  if (!has.has("population")) list.push({ what: "population", why: "the log has no column for it" });
  else if (has.get("population")!.aim === null) list.push({ what: "population", why: "no target was given" });
  if (!has.has("speed")) list.push({ what: "speed", why: "the log has no column for it" });
  return list;
}
