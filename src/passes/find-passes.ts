/** Records -> passes: what belongs to which run of the planter, and what ground each record stands for. */
import { NothingToAnalyseError } from "../errors.ts";
import { meanHeading } from "../numerics/angles.ts";
import type { Field, PlantingLog } from "../vocabulary/field.ts";
import { fieldOutline } from "./covered-ground.ts";
import { type Ground, groundOf } from "./ground.ts";
import { findHeadlands } from "./headlands.ts";
import { groupMoments, type Moments } from "./moments.ts";
import { cutPasses, type PassCuts } from "./pass-cuts.ts";
import type { Pass, Passes } from "./passes.ts";
import { pointOnStretch } from "./point-on-stretch.ts";
import { numberRowUnits } from "./row-units.ts";
import { followTrack, isPlanted, type Track } from "./track.ts";

export interface FindPassesOptions {
  /** Cut where the log's own pass number changes, too (default true); a resume on the same line stays one pass. */
  useLogPass?: boolean;
  /** Tell the end rows (default true); without, no pass is called one, which saves drawing the outline of the ground. */
  tellHeadlands?: boolean;
}

/**
 * Finds the passes of a planting log, the row unit of each record and the ground each record stands for.
 * Works for row-unit, section and whole-bar records, with clock times or with the order of the file alone.
 * @throws {NothingToAnalyseError} when no record was planted with a position
 * @throws {ChoiceNeededError} where nothing tells the width of the bar, or the passes contradict it
 */
export function findPasses(field: Field, options: FindPassesOptions = {}): Passes {
  const { log } = field;
  const moments = groupMoments(log);
  const track = followTrack(log, moments);
  if (track.length === 0) {
    throw new NothingToAnalyseError("no record of the planting log has a position and was planted", {
      field: "working",
      accepted: "records with coordinates, not all with working = 0",
    });
  }
  const rowUnits = numberRowUnits(log, moments, track);
  const ground = groundOf(field, moments, track, rowUnits);
  const label = options.useLogPass === false ? null : (log.labels.pass ?? null);
  const cuts = cutPasses(track, {
    barWidthM: ground.barWidthM,
    logPass: label ? firstOfEach(track, moments, label.codes) : null,
    machine: log.labels.machine ? firstOfEach(track, moments, log.labels.machine.codes) : null,
    hasClockTime: log.hasClockTime,
  });
  const records = spread(log, moments, track, cuts);
  const passes: Passes = {
    passes: [],
    ...records,
    momentOf: moments.of,
    momentCount: moments.count,
    rowUnitOf: rowUnits.of,
    rowUnitCount: rowUnits.count,
    distanceM: ground.distanceM,
    widthM: ground.widthM,
    offsetM: ground.offsetM,
    pointAt: pointOnStretch(field, moments, track, cuts, ground.barWidthM),
    spacing: ground.spacing,
    notes: ground.notes,
    method: describe(log, cuts, label !== null, [rowUnits.method, ground.method]),
  };
  const headland =
    options.tellHeadlands === false
      ? new Array<boolean>(cuts.count).fill(false)
      : findHeadlands(track, cuts, ground.barWidthM, field.boundary ?? fieldOutline(field, passes));
  passes.passes = summarise(log, passes, moments, track, cuts, ground, headland);
  return passes;
}

function firstOfEach(track: Track, moments: Moments, codes: Int32Array): Int32Array {
  return Int32Array.from(track.moment, (at) => codes[moments.groups.records[moments.groups.start[at]!]!]!);
}

/** Pass, place along it and heading of each record, from those of its moment. */
function spread(
  log: PlantingLog,
  moments: Moments,
  track: Track,
  cuts: PassCuts,
): Pick<Passes, "passOf" | "alongM" | "headingDeg"> {
  const passOf = new Int32Array(log.recordCount);
  const alongM = new Float64Array(log.recordCount);
  const headingDeg = new Float64Array(log.recordCount);
  const { start, records } = moments.groups;
  for (let place = 0; place < track.length; place++) {
    const at = track.moment[place]!;
    for (let index = start[at]!; index < start[at + 1]!; index++) {
      const record = records[index]!;
      if (!isPlanted(log, record)) continue;
      passOf[record] = cuts.pass[place]!;
      alongM[record] = cuts.alongM[place]!;
      headingDeg[record] = track.headingDeg[place] || 0;
    }
  }
  return { passOf, alongM, headingDeg };
}

function summarise(
  log: PlantingLog,
  passes: Passes,
  moments: Moments,
  track: Track,
  cuts: PassCuts,
  ground: Ground,
  headland: readonly boolean[],
): Pass[] {
  const list: Pass[] = headland.map((isHeadland, index) => ({
    number: index + 1,
    logPasses: [],
    headingDeg: 0,
    moments: 0,
    records: 0,
    lengthM: 0,
    areaM2: 0,
    headland: isHeadland,
    startTime: null,
    date: null,
  }));
  const headings: number[][] = list.map(() => []);
  const { start, records } = moments.groups;
  for (let place = 0; place < track.length; place++) {
    const pass = list[cuts.pass[place]! - 1]!;
    headings[pass.number - 1]!.push(track.headingDeg[place]!);
    pass.moments++;
    let way = 0;
    let planted = 0;
    for (let index = start[track.moment[place]!]!; index < start[track.moment[place]! + 1]!; index++) {
      const record = records[index]!;
      if (passes.passOf[record] === 0) continue;
      planted++;
      way += ground.distanceM[record]!;
      pass.areaM2 += ground.distanceM[record]! * ground.widthM[record]!;
      const seconds = log.values.time?.[record] ?? Number.NaN;
      if (pass.date === null && !Number.isNaN(seconds)) {
        pass.date = new Date(seconds * 1000).toISOString().slice(0, 10);
        if (log.hasClockTime) pass.startTime = seconds;
      }
    }
    pass.records += planted;
    pass.lengthM += way / planted;
  }
  const labels = logPassesOf(log, passes);
  for (const pass of list) {
    pass.headingDeg = meanHeading(headings[pass.number - 1]!) || 0;
    pass.logPasses = labels[pass.number - 1]!;
  }
  return list;
}

/** Labels of the log's passes on the records of each pass, in the order of the numbers in them. */
function logPassesOf(log: PlantingLog, passes: Passes): string[][] {
  const met: Set<number>[] = [];
  const label = log.labels.pass;
  for (let record = 0; record < log.recordCount; record++) {
    const number = passes.passOf[record]!;
    if (number === 0) continue;
    met[number - 1] ??= new Set();
    if (label && label.codes[record]! >= 0) met[number - 1]!.add(label.codes[record]!);
  }
  const inOrder = new Intl.Collator("en", { numeric: true });
  return met.map((codes) => Array.from(codes, (code) => label!.labels[code]!).sort(inOrder.compare));
}

function describe(log: PlantingLog, cuts: PassCuts, usedLogPass: boolean, parts: readonly string[]): string {
  const order = log.hasClockTime ? "clock times" : "the order of the records in the file";
  const number = usedLogPass ? ", and where the log's own pass number changes" : "";
  const kept = cuts.keptSideSteps
    ? "; without clock times, planting that went on beside its line in the same direction was left in its pass"
    : "";
  const rest = parts.filter((part) => part !== "").map((part) => (part.startsWith(";") ? part : `; ${part}`));
  return `cut at gaps, turns and corners along ${order}${number}${kept}${rest.join("")}`;
}
