/**
 * A look at an unfinished planting log, on the day. Only passes, comparison and the statistics of row units: no stand, no
 * counts, no money. Pure; the same log gives the same result.
 */
import { passTrend } from "../causes/find/pass-trend.ts";
import { NothingToAnalyseError } from "../errors.ts";
import { findPasses } from "../passes/find-passes.ts";
import type { Passes } from "../passes/passes.ts";
import { planterNotes } from "../passes/planter-notes.ts";
import { physicsOf } from "../prescription/field-sense.ts";
import type { UnitSystem } from "../quantities/format.ts";
import { SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";
import { OFF_THROUGHOUT } from "../recognise/usable-column.ts";
import type { Field } from "../vocabulary/field.ts";
import { changesNow } from "./changes.ts";
import { CHECK_SCHEMA, type CheckResult, type CheckSeen, type LastYear } from "./check-result.ts";
import { checkFigures } from "./figures.ts";
import { judgedAndNot } from "./judged.ts";
import { lastYearDoubts } from "./last-year.ts";
import { departingRows } from "./row-stretches.ts";
import { drivenBothWays, whereToDig } from "./where-to-dig.ts";

const SECONDS_PER_MINUTE = 60;

/** Variables whose steady change along the passes is looked for on the whole bar. */
const TRENDING = ["seedingDepth", "downForceMargin", "misses", "multiples"] as const;

/**
 * Checks the passes planted so far.
 * @param lastYear figures of last year's findings, null where none are given
 * @throws {NothingToAnalyseError} where no record lies on a pass with the planter down
 * @throws {ChoiceNeededError} where nothing tells the width of the bar
 */
export function checkPasses(
  field: Field,
  lastYear: LastYear | null = null,
  units: UnitSystem = "farm",
): CheckResult {
  refuseLifted(field);
  // The edge of a field is not known before the field is planted.
  const passes = findPasses(field, { tellHeadlands: false });
  if (passes.passes.length === 0) {
    throw new NothingToAnalyseError(
      "no record of the planting log lies on a pass with the planter down yet",
      {
        accepted: "records of at least a few metres of planting, in the order of planting or with times",
      },
    );
  }
  const doubts = physicsOf(
    { field, passes, zoneOfRecord: new Int32Array(field.log.recordCount).fill(-1) },
    units,
  );
  const figures = checkFigures(field, passes, lastYear);
  const seen = seenSoFar(field, passes);
  const { judged, names, notJudged } = judgedAndNot(field, passes, figures, seen, doubts);
  const rows = departingRows(field, passes, lastYear).filter(({ variable }) => judged.rows.has(variable));
  const changes = changesNow(
    figures.filter(({ variable }) => judged.bar.has(variable)),
    rows,
  );
  const trends = TRENDING.flatMap((variable) => {
    const values = field.log.values[variable];
    if (!values || !judged.bar.has(variable)) return [];
    return passTrend(variable, values, passes, () => true, null) ?? [];
  });
  return {
    schema: CHECK_SCHEMA,
    field: { name: field.name, crop: field.crop },
    seen,
    figures,
    rows,
    trends,
    changes,
    judged: names,
    notJudged,
    dig: whereToDig(field, passes, rows, changes),
    lastYear: lastYear && {
      field: lastYear.field,
      season: lastYear.season,
      doubts: lastYearDoubts(lastYear, field),
    },
    notes: [...field.inputs.flatMap(({ notes }) => notes), ...planterNotes(field, passes)],
  };
}

/** A finished log whose working flag is never set has a dead flag; one that has just begun is that of a planter still up. */
function refuseLifted({ log, inputs }: Field): void {
  if (log.values.working) return;
  const note = inputs.flatMap(({ notes }) => notes).find(({ reason }) => reason.startsWith(OFF_THROUGHOUT));
  if (!note) return;
  throw new NothingToAnalyseError(
    `${note.field} is 0 in every record: the planter was lifted, nothing is planted yet`,
    {
      ...(note.field === null ? {} : { field: note.field }),
      accepted: "records with the planter down; where the column means something else, a log without it",
    },
  );
}

function seenSoFar(field: Field, passes: Passes): CheckSeen {
  const { time } = field.log.values;
  let recordsOnPasses = 0;
  let [first, last] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let record = 0; record < passes.passOf.length; record++) {
    if (passes.passOf[record] === 0) continue;
    recordsOnPasses++;
    const at = time?.[record] ?? Number.NaN;
    if (at < first) first = at;
    if (at > last) last = at;
  }
  const sumOf = (of: (pass: Passes["passes"][number]) => number): number =>
    passes.passes.reduce((sum, pass) => sum + of(pass), 0);
  return {
    records: field.log.recordCount,
    recordsOnPasses,
    passes: passes.passes.length,
    bothWays: drivenBothWays(passes.passes),
    areaHa: sumOf(({ areaM2 }) => areaM2) / SQUARE_METRES_PER_HECTARE,
    lengthM: sumOf(({ lengthM }) => lengthM),
    minutes: field.log.hasClockTime && last >= first ? (last - first) / SECONDS_PER_MINUTE : null,
    rowUnits: passes.rowUnitCount,
  };
}
