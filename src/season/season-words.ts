/** The season in a farmer's words; page and terminal say the same. */
import type { MoneyEstimate } from "../findings/findings-document.ts";
import type { Estimate } from "../numerics/estimate.ts";
import {
  formatMoney,
  formatPercent,
  formatQuantity,
  groupThousands,
  roundMoney,
  type UnitSystem,
} from "../quantities/format.ts";
import { METRES_PER_SECOND_PER_MILE_PER_HOUR } from "../quantities/units.ts";
import { SHOWN_VARIABLES } from "../vocabulary/shown-variables.ts";
import { listOf } from "../words/finding-words.ts";
import type { DayEffect, OperatorEffect } from "./drive-effects.ts";
import type { DriveVariable } from "./field/field-driving.ts";
import type { UnitVariable } from "./field/unit-variables.ts";
import { calledAs, departureWhereWrong, type Repair } from "./repairs.ts";
import type { SeasonDocument } from "./season-document.ts";
import type { LotEffect, SoilEffect } from "./soil-effects.ts";
import type { UnitEffect } from "./unit-effects.ts";

/** "1 field", "12 fields". */
export function counted(count: number, noun: string): string {
  return `${groupThousands(String(count))} ${noun}${count === 1 ? "" : "s"}`;
}

/** "USD 1,300 (180 to 1,400)". */
export function moneyWords(money: MoneyEstimate): string {
  return `${formatMoney(money.estimate, money.currency)} (${moneyRange(money)})`;
}

/** "180 to 1,400". */
export function moneyRange({ low, high }: MoneyEstimate): string {
  return [low, high].map((value) => groupThousands(roundMoney(value).toFixed(0))).join(" to ");
}

/** What was found cost, over how much ground. */
export function costSentence(document: SeasonDocument, units: UnitSystem): string {
  const { fields, money, pricedFields } = document;
  if (fields.length === 0) return "No field of this season could be judged.";
  const over = `Over ${counted(fields.length, "field")} (${formatQuantity(document.areaHa, "area", units)})`;
  return money
    ? `${over} what was found cost about ${moneyWords(money)}${pricedFields < fields.length ? `, counted in ${pricedFields} of them` : ""}.`
    : `${over} nothing could be put into money.`;
}

/** What is said at the top. */
export function seasonHeadline(document: SeasonDocument, units: UnitSystem): string {
  const { fields, repairs, drivers } = document;
  const cost = costSentence(document, units);
  if (fields.length === 0) return cost;
  const [first] = [...repairs].sort((a, b) => worth(b) - worth(a));
  const next = first
    ? `Look first at row unit ${first.rowUnit} of ${first.planter}: ${departureWords(first.evidence[0]!, units)}, in ${fieldsStandingOut(first.evidence[0]!)}.`
    : document.units.length === 0
      ? "Nothing can be said of single row units: too few logs have records by row unit."
      : "No row unit lies apart from its bar over the season, as far as these logs can tell.";
  const driver = drivers.find(({ variable }) => variable === "speed");
  return [cost, next, driver ? driverWords(driver, units) : ""].filter(Boolean).join(" ");
}

function worth({ money, evidence }: Repair): number {
  return (money?.estimate ?? 0) + 1e-6 * fieldsWhereWrong(evidence[0]!).length;
}

/** "41 of 60 fields". */
export function fieldsStandingOut(one: UnitEffect): string {
  return `${fieldsWhereWrong(one).length} of ${counted(one.fields.length, "field")}`;
}

/** Ids of the fields where it stood out to the side it is called for. */
export function fieldsWhereWrong(one: UnitEffect): string[] {
  const side = Math.sign(departureWhereWrong(one));
  const isUnusual = calledAs(one) === "comes and goes";
  return one.fields
    .filter((field) => (isUnusual ? field.isUnusual : field.standsOut) && field.departure * side > 0)
    .map(({ id }) => id);
}

interface VariableWords {
  more: string;
  less: string;
}

const VARIABLES: Record<UnitVariable, VariableWords> = {
  misses: { more: "more skips", less: "fewer skips" },
  multiples: { more: "more doubles", less: "fewer doubles" },
  singulation: {
    more: "more seeds singled",
    less: "fewer seeds singled",
  },
  spacingVariation: {
    more: "more uneven spacing",
    less: "more even spacing",
  },
  population: {
    more: "more seeds dropped",
    less: "fewer seeds dropped",
  },
  downForceMargin: {
    more: "more load on the gauge wheels",
    less: "less load on the gauge wheels",
  },
  groundContact: {
    more: "more time in touch with the ground",
    less: "less time in touch with the ground",
  },
  seedingDepth: { more: "deeper", less: "shallower" },
};

/** A departure's size without its direction: "2.1 points", "42 lb", "0.16 in", "3.0 %". */
export function departureSize(variable: UnitVariable, value: number, units: UnitSystem): string {
  const size = Math.abs(value);
  const { kind } = SHOWN_VARIABLES[variable];
  if (kind === "share") return `${(100 * size).toFixed(1)} points`;
  // Departures of the rate are shares of it.
  return kind === "seeds" ? formatPercent(size, 1) : formatQuantity(size, kind, units);
}

/** "2.1 points more skips than the rest of its bar"; of a fault that comes and goes, where it came. */
export function departureWords(one: UnitEffect, units: UnitSystem): string {
  const { more, less } = VARIABLES[one.variable];
  const departure = departureWhereWrong(one);
  return `${departureSize(one.variable, departure, units)} ${departure > 0 ? more : less} than the rest of its bar`;
}

/** "2.1 points more skips than the rest of its bar (1.8 points to 2.4 points; 90 % interval); stood out in 55 of 60 fields". */
export function evidenceWords(one: UnitEffect, units: UnitSystem): string {
  const { variable, effect } = one;
  const { low, high, level } = effect;
  const [near, far] = [low, high].sort((a, b) => Math.abs(a) - Math.abs(b));
  const range =
    low * high > 0
      ? `${departureSize(variable, near!, units)} to ${departureSize(variable, far!, units)}`
      : `at most ${departureSize(variable, far!, units)}`;
  if (calledAs(one) !== "comes and goes")
    return `${departureWords(one, units)} (${range}; ${formatPercent(level)} interval); stood out in ${fieldsStandingOut(one)}`;
  const wrong = new Set(fieldsWhereWrong(one));
  const sizes = one.fields.filter(({ id }) => wrong.has(id)).map(({ departure }) => Math.abs(departure));
  const [least, most] = [Math.min(...sizes), Math.max(...sizes)];
  return `${departureWords(one, units)} in ${fieldsStandingOut(one)} (${departureSize(variable, least, units)} to ${departureSize(variable, most, units)} in these); over all fields ${departureSize(variable, effect.estimate, units)} (${range})`;
}

/** What to look at on the unit: common practice, no source. */
export function repairWords({ evidence, rowUnit, comesAndGoes }: Repair): string {
  const advice: string[] = [];
  const say = (text: string): void => {
    if (!advice.includes(text)) advice.push(text);
  };
  // Seeds that were skipped are missing from the rate too: that needs no second errand.
  const meter = evidence.some(({ variable }) => variable === "misses" || variable === "singulation");
  for (const one of evidence) {
    const { variable } = one;
    const more = departureWhereWrong(one) > 0;
    if (variable === "misses" || variable === "singulation" || variable === "multiples")
      say(
        comesAndGoes
          ? "It comes and goes: look for what clogs it (seed tube, seed treatment built up in the meter, a leaking vacuum hose), then have the meter run on a test stand."
          : "Have its meter run on a test stand: disc, seal, brush, vacuum.",
      );
    else if (variable === "spacingVariation")
      say("Look at its seed tube or belt and at its drive: seeds leave the meter and land unevenly.");
    else if (variable === "population" && meter && !more) continue;
    else if (variable === "population")
      say("Look at its drive, its clutch and its seed sensor: it drops another rate than the rest.");
    else if (variable === "downForceMargin" || variable === "groundContact")
      say(
        more
          ? "Look at its spring or cylinder and its load sensor: it is pressed harder than the rest."
          : "Look at its spring or cylinder, gauge-wheel arms and load sensor: it is carried lighter than the rest.",
      );
    else
      say(
        "Look at its depth stop, gauge-wheel arms, discs and depth sensor, and dig to see where the seed lies.",
      );
  }
  return `Row unit ${rowUnit}: ${advice.join(" ")}`;
}

/** What leaving it costs, as far as it is known. */
export function neglectWords({ money }: Repair): string {
  return money
    ? `The fields' own findings on this unit come to ${moneyWords(money)} this season.`
    : "Not put into money: no field by itself shows a priced loss on this unit.";
}

const DRIVEN: Record<DriveVariable, string> = {
  speed: "speed",
  misses: "skips",
  multiples: "doubles",
  noLoad: "time without load on the gauge wheels",
};

/** "Where R. drove it went 2.1 mph faster than elsewhere (1.8 to 2.4; 14 fields against 46)". */
export function driverWords(effect: OperatorEffect, units: UnitSystem): string {
  const { operator, variable, difference, fields, otherFields } = effect;
  const against = `${counted(fields, "field")} against ${otherFields}`;
  if (variable === "speed")
    return `Where ${operator} drove it went ${formatQuantity(difference.estimate, "speed", units)} faster than elsewhere (${speedRange(difference, units)}; ${against}).`;
  return `Where ${operator} drove there were ${points(difference.estimate)} points more ${DRIVEN[variable]} (${points(difference.low)} to ${points(difference.high)}; ${against}).`;
}

function speedRange({ low, high }: Estimate, units: UnitSystem): string {
  return `${formatQuantity(low, "speed", units)} to ${formatQuantity(high, "speed", units)}`;
}

function points(share: number): string {
  return groupThousands((100 * share).toFixed(1));
}

/** Change that is worth a word, for each m/s: a tenth of a point for each mph or so. */
const LEAST_SLOPE = 0.002;

/** "Within a field a pass 1 mph faster has 0.8 points more skips (0.5 to 1.1; 40 fields)"; what hardly changes is left out. */
export function slopeLines({ slopes, tests }: SeasonDocument, units: UnitSystem): string[] {
  const [step, label] =
    units === "farm" ? [METRES_PER_SECOND_PER_MILE_PER_HOUR, "1 mph"] : [1 / 3.6, "1 km/h"];
  return slopes
    .filter(
      ({ qValue, slope }) =>
        qValue !== null && qValue <= tests.falseShare && Math.abs(slope.estimate) >= LEAST_SLOPE,
    )
    .map(({ variable, slope, fields }) => {
      const sign = Math.sign(slope.estimate);
      const [at, ...limits] = [slope.estimate, slope.low, slope.high].map((value) => sign * value * step);
      const [low, high] = limits.sort((a, b) => a - b);
      return `Within a field a pass ${label} faster has ${points(at!)} points ${sign > 0 ? "more" : "less"} ${DRIVEN[variable]} (${points(low!)} to ${points(high!)}; ${counted(fields, "field")}).`;
    });
}

/** "clay: 40 lb less load than the rest of its field (20 to 60; 30 fields)". */
export function soilWords({ soil, variable, difference, fields }: SoilEffect, units: UnitSystem): string {
  const { estimate, low, high } = difference;
  const size = (value: number): string =>
    variable === "downForceMargin"
      ? formatQuantity(value, "force", units)
      : variable === "seedingDepth"
        ? formatQuantity(value, "depth", units)
        : `${points(value)} points`;
  const what = {
    downForceMargin: ["more load", "less load"],
    noLoad: ["more time without load", "less time without load"],
    seedingDepth: ["deeper", "shallower"],
    misses: ["more skips", "fewer skips"],
  }[variable];
  return `${soil}: ${size(Math.abs(estimate))} ${estimate > 0 ? what[0] : what[1]} than the rest of its field (${size(low)} to ${size(high)}; ${counted(fields, "field")})`;
}

/** "lot A12: 0.8 points more skips than the other lots of its field (0.4 to 1.2; 5 fields)". */
export function lotWords({ lot, variable, difference, fields }: LotEffect): string {
  const { estimate, low, high } = difference;
  return `${lot}: ${points(Math.abs(estimate))} points ${estimate > 0 ? "more" : "fewer"} ${DRIVEN[variable]} than the other lots of its field (${points(low)} to ${points(high)}; ${counted(fields, "field")})`;
}

/** "Fields begun on 2026-04-24 had 1.2 points more skips than the others (0.6 to 1.8; 5 fields against 40)." */
export function dayWords(effect: DayEffect, units: UnitSystem): string {
  const { day, variable, difference, fields, otherFields } = effect;
  const against = `${counted(fields, "field")} against ${otherFields}`;
  if (variable === "speed")
    return `Fields begun on ${day} were planted ${formatQuantity(difference.estimate, "speed", units)} faster than the others (${speedRange(difference, units)}; ${against}).`;
  return `Fields begun on ${day} had ${points(difference.estimate)} points more ${DRIVEN[variable]} than the others (${points(difference.low)} to ${points(difference.high)}; ${against}).`;
}

const WANTED: Record<string, string> = {
  seedingDepth: '"targets": { "seedingDepth": "2.0 in" }',
  depthSensed: '"plantingLog": { "columns": { "seedingDepth": { "column": ..., "source": "sensed" } } }',
  downForceMargin: '"targets": { "downForceMargin": ["60 lbf", "160 lbf"] }',
  population: '"targets": { "population": "34000 seeds/ac" }',
  speed: '"targets": { "speed": "5.5 mi/h" }',
  grain: '"prices": { "grain": "4.50 USD/bu" }',
  expectedYield: '"prices": { "expectedYield": "200 bu/ac" }',
};

/** What the fields lack, each with the line of `defaults` in season.json that says it for all of them. */
export function wantedLines({ wanted }: SeasonDocument): string[] {
  return wanted.map(({ key, fields }) => `in ${counted(fields, "field")}: ${WANTED[key]}`);
}

/** "row units 3, 9". */
export function namesOf(names: readonly string[], most: number): string {
  return names.length > most
    ? `${names.slice(0, most).join(", ")} and ${names.length - most} more`
    : listOf(names);
}
