/** Changes, departing rows and digs of a check, in a farmer's words. */
import { compassPoint } from "../numerics/angles.ts";
import { formatPercent, formatQuantity, type QuantityKind, type UnitSystem } from "../quantities/format.ts";
import { SHOWN_VARIABLES } from "../vocabulary/shown-variables.ts";
import { runsOf, upperFirst } from "../words/finding-words.ts";
import type { CheckChange, CheckDig, CheckResult, CheckRow } from "./check-result.ts";

/** "row 13 reads 0.31 in shallower than the bar on 3 of 3 passes". */
export function rowWords(row: CheckRow, units: UnitSystem): string {
  const { rowUnits, set, passes, ofPasses, lastYear } = row;
  const name = `${rowUnits.length === 1 ? "row" : "rows"} ${runsOf(rowUnits)}${set === null ? "" : set === "wheel-track" ? " (a pattern as of tires or tracks)" : " (side by side)"}`;
  const again = lastYear ? "; last year too" : "";
  return `${name} ${shiftWords(row, units)} on ${passes.length} of ${ofPasses} ${ofPasses === 1 ? "pass" : "passes"}${again}`;
}

function shiftWords({ variable, shift, rowUnits }: CheckRow, units: UnitSystem): string {
  const many = rowUnits.length > 1;
  const say = (kind: QuantityKind): string => formatQuantity(Math.abs(shift), kind, units);
  const points = `${(Math.abs(shift) * 100).toFixed(1)} points`;
  const more = shift > 0 ? "more" : "fewer";
  switch (variable) {
    case "seedingDepth":
      return `${many ? "read" : "reads"} ${say("depth")} ${shift < 0 ? "shallower" : "deeper"} than the bar`;
    case "downForceMargin":
      return `${many ? "carry" : "carries"} ${say("force")} ${shift < 0 ? "less" : "more"} than the bar`;
    case "misses":
      return `${many ? "skip" : "skips"} ${points} ${more} seeds than the bar`;
    case "multiples":
      return `${many ? "drop" : "drops"} ${points} ${more} doubles than the bar`;
    case "singulation":
      return `${many ? "single" : "singles"} ${points} ${more} seeds than the bar`;
    case "population":
      return `${many ? "drop" : "drops"} ${formatPercent(Math.abs(shift), 1)} ${more} seeds than the bar`;
  }
}

/** What to do, one or two sentences. */
export function changeWords(change: CheckChange, { rows }: CheckResult, units: UnitSystem): string {
  const { cause, rowUnits, variable } = change;
  if (rowUnits.length > 0) {
    const row = rows.find(
      (entry) =>
        entry.variable === variable &&
        entry.rowUnits.length === rowUnits.length &&
        entry.rowUnits[0] === rowUnits[0],
    )!;
    return `${upperFirst(rowWords(row, units))}: ${rowRemedy(change, row)}`;
  }
  const kind = change.measure === "time without load" ? "share" : SHOWN_VARIABLES[variable].kind;
  const say = (value: number): string => formatQuantity(value, kind, units);
  const [now, limit] = [say(change.value), change.limit === null ? "" : say(change.limit)];
  switch (cause) {
    case "too-shallow":
      return `Depth: ${now} on the mean, most of it shallower than ${limit}. Dig; if the seed lies so, set the depth deeper and look whether the load holds it there.`;
    case "too-deep":
      return `Depth: ${now} on the mean, most of it deeper than ${limit}. Dig; if the seed lies so, set the depth shallower.`;
    case "uneven-depth":
      return `Depth jumps along the row: spread ${now}, the usual limit is ${limit}. Slow down and dig again; then look at arms, residue and load.`;
    case "lost-ground-contact":
      return change.measure === "mean"
        ? `Load: ${now} on the mean, most of it under ${limit}. Carry more load, in small steps, and dig after each.`
        : `Gauge wheels without load ${now} of the time, the usual limit is ${limit}. Carry more load, in small steps, or slow down, and dig after each.`;
    case "excess-down-force":
      return `Load: ${now} on the mean, most of it over ${limit}. Take load off in small steps, and dig: a wall that shines or smears is pressed too hard.`;
    case "rate-off-target":
      return `Population: ${now} dropped, ${change.value < (change.limit ?? 0) ? "under" : "over"} the limit of ${limit}. Check the rate setting, the meter drive and the seed size it is set for.`;
    case "multiples":
      return `Doubles: ${now} on the usual row, the limit is ${limit}. Check vacuum or pressure, singulator setting and disc for this seed.`;
    case "excess-speed":
      return `Speed: ${now}, over ${limit} most of the way. Slow down first: load, depth and skips follow speed.`;
    default:
      return `Skips: ${now} on the usual row, the limit is ${limit}. Check vacuum or pressure, disc, seed treatment and talc or graphite.`;
  }
}

function rowRemedy({ matter }: CheckChange, { set }: CheckRow): string {
  if (set === "wheel-track")
    return "tires or tracks run there as like as not; dig there before any unit is touched.";
  if (set === "wing") return "look at what feeds them alike: section force, wing, hose, module.";
  switch (matter) {
    case "depth":
      return "dig behind it; if the seed lies so, look at depth stop, gauge-wheel arms and discs. If not, the sensor reads wrong.";
    case "contact":
    case "pressure":
      return "look at its spring or cylinder and its arms; if those are sound, at its load sensor.";
    case "population":
      return "look at its meter drive and seed flow, then at its seed sensor.";
    default:
      return "look at its meter: disc, seal, brush, vacuum, treatment build-up; wipe its seed sensor, which may be what is wrong.";
  }
}

/** Where to stop and behind which rows to dig, in one or two sentences. */
export function digSentence(dig: CheckDig, units: UnitSystem): string {
  const { leftM, withinM } = dig;
  const say = (lengthM: number): string => formatQuantity(lengthM, "length", units);
  const way = compassPoint(dig.headingDeg);
  const where =
    leftM === null
      ? `In the next ${say(withinM)} of pass ${dig.pass}, going ${way}`
      : leftM < withinM / 3
        ? `Before the ${way} end of pass ${dig.pass}, or in the first ${say(withinM)} of the next one`
        : `In the next ${say(Math.min(withinM, leftM))} of pass ${dig.pass}, going ${way}, before its end (about ${say(leftM)} off)`;
  const list = (rows: readonly number[]): string => rows.join(", ");
  const many = dig.departing.length > 1;
  const places = [
    ...(dig.departing.length > 0
      ? [
          `row${many ? "s" : ""} ${list(dig.departing)} (off the bar) and a row beside ${many ? "each" : "it"} to compare`,
        ]
      : []),
    dig.middle.length > 0 ? `a centre row (${list(dig.middle)})` : "a row in the middle of the bar",
    dig.wings.length > 0 ? `a row on each wing (${list(dig.wings)}; wings lift first)` : "a row on each wing",
    dig.wheels.length > 0
      ? `the rows in wheel tracks (${list(dig.wheels)}; packed ground)`
      : "a row in a wheel track (which ones nobody says)",
  ];
  return `${where}: stop, lower or block the planter, and dig three seeds behind ${places.join("; ")}. Look at depth, contact, and a furrow wall that crumbles.`;
}
