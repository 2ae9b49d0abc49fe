/** What the answer lacked: inputs and columns that were not there, and what could not be judged for want of them. */
import { SENSED_BY_LOOK_CEILING } from "../field/depth-source.ts";
import type { NotJudged } from "../findings/findings-document.ts";
import { formatPercent } from "../quantities/format.ts";
import type { LoadPhysics } from "../quantities/load-physics.ts";
import { lateShareAt } from "../stand/late-share.ts";
import type { MeanStand } from "../stand/mean-stand.ts";
import type { Writing } from "../texts/language.ts";
import type { Field } from "../vocabulary/field.ts";
import { disagreeingCounts } from "./count-doubts.ts";
import { fewCounts } from "./few-counts.ts";
import { listOf } from "./finding-words.ts";
import { loadDoubts } from "./load-doubts.ts";

/**
 * Figures that cannot be what they are called first, then in the order of importance of planting: depth, contact,
 * metering, speed, then stand, soil and weather.
 */
export function notJudged(
  field: Field,
  writing: Writing,
  stand: MeanStand | null,
  physics: LoadPhysics | null,
): NotJudged[] {
  const { values } = field.log;
  const list: NotJudged[] = loadDoubts(physics);
  if (!values.seedingDepth) list.push({ what: "seeding depth", why: "the log has no column for it" });
  else if (field.log.depthSource === "set") {
    list.push({
      what: "seeding depth",
      why: "the log has only the depth set, which proves nothing about the depth of the seed",
    });
  } else if (field.log.depthSource === "unknown") {
    list.push({
      what: "seeding depth",
      why: 'nobody says whether the logged depth is sensed or only set; write "source": "sensed" in the manifest if it is',
    });
  } else if (field.log.depthSource === "sensed-by-look") {
    list.push({
      what: "whether the logged depth is sensed",
      why: `nobody says so; it moves from record to record like a measurement and is taken as one, so a cause in the depth is called at most ${formatPercent(SENSED_BY_LOOK_CEILING, 0, writing.locale)} likely until digs bear it out; write "source": "sensed" in the manifest if it is, or "set"`,
    });
  }
  if (!values.downForceMargin) list.push({ what: "gauge-wheel load", why: "the log has no column for it" });
  if (!values.singulation) list.push({ what: "singulation", why: "the log has no column for it" });
  if (!values.misses) list.push({ what: "skips", why: "the log has no column for them" });
  if (!values.population) list.push({ what: "seeding rate", why: "the log has no column for it" });
  if (!values.speed) list.push({ what: "speed", why: "the log has no column for it" });
  list.push(...droppedColumns(field));
  const untargeted = withoutTarget(field);
  if (untargeted.length > 0) {
    list.push({
      what: `whether ${listOf(untargeted)} suited the whole field`,
      why: "no target was given: only departures from the rest of the field are looked for",
    });
  }
  if (field.log.layout !== "row-unit") {
    list.push({
      what: "single row units",
      why: "the log has one record for the whole bar or section, not one for each row unit",
    });
  }
  if (!field.standCounts) {
    list.push({
      what: "the stand",
      why: "no stand counts were given: what is found is a risk read from the log, not a confirmed problem",
    });
  } else {
    const few = fewCounts(field, stand, writing);
    if (few) list.push(few);
    list.push(...disagreeingCounts(field, writing));
  }
  const { standCounts } = field;
  if (standCounts?.lateShare.every((_, spot) => Number.isNaN(lateShareAt(standCounts, spot)))) {
    list.push({ what: "late plants", why: "the counts do not tell late plants from early ones" });
  }
  if (!field.digs)
    list.push({
      what: "the furrow",
      why: "no digs were given: depth sensors, smear and seed state are not checked",
    });
  if (!field.soilZones)
    list.push({
      what: "soil zones",
      why: "no soil map was given: soil and planting cannot be told apart by zone",
    });
  if (!field.weather)
    list.push({
      what: "moisture and weather",
      why: "no weather was given: wet ground is guessed from the soil alone",
    });
  if (field.prices.grainPerBushel === null || field.prices.expectedBushelPerAcre === null) {
    list.push({ what: "money", why: "no grain price or expected yield was given" });
  } else if (!field.prices.remedyCosts)
    list.push({
      what: "whether mending pays",
      why: 'no cost of a remedy was given ("remedies" among the prices of the field)',
    });
  return list;
}

/** Columns of the planting log that were recognised as something and left out as a whole, each with its reason. */
function droppedColumns({ inputs }: Field): NotJudged[] {
  const notes = inputs.find(({ role }) => role === "plantingLog")?.notes ?? [];
  return notes
    .filter(
      ({ effect, field, firstRecord }) => effect === "left out" && field !== null && firstRecord === null,
    )
    .map(({ field, reason }) => ({ what: `the column "${field}"`, why: reason }));
}

/** Logged variables without a target to hold the whole field against. */
function withoutTarget({ log, targets }: Field): string[] {
  const { values } = log;
  const names: string[] = [];
  if (values.seedingDepth && !values.targetDepth && targets.seedingDepthMm === null) names.push("depth");
  if (values.downForceMargin && !targets.downForceMarginN) names.push("gauge-wheel load");
  if (values.population && !values.targetPopulation && targets.populationPerHa === null) names.push("rate");
  if (values.speed && targets.speedMetresPerSecond === null) names.push("speed");
  return names;
}
