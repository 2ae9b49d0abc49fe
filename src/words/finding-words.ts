/** A finding in a farmer's words: where, what was seen, what else could do it, the check, the caution. */
import type { Draft } from "../causes/draft.ts";
import { CAUSE_DEFINITIONS } from "../causes/evidence/cause-definitions.ts";
import type { FillEffect } from "../causes/find/fill-state.ts";
import type { Side } from "../findings/document-parts.ts";
import type { Finding, Measured, MeasuredKey } from "../findings/findings-document.ts";
import { formatPercent, formatQuantity, type QuantityKind } from "../quantities/format.ts";
import { SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";
import type { ContrastResult } from "../stand-model/contrast.ts";
import { FARM_ENGLISH, type Language, type Writing } from "../texts/language.ts";
import { textsOf } from "../texts/texts-of.ts";
import type { Sign } from "../vocabulary/causes.ts";
import { SHOWN_VARIABLES } from "../vocabulary/shown-variables.ts";
import type { ShownVariable } from "../vocabulary/variables.ts";
import { CAUSE_WORDS, causeTitle } from "./cause-names.ts";
import { contrastAdvice } from "./contrast-advice.ts";
import { departureWords } from "./departure-words.ts";
import { trendWords } from "./trend-words.ts";

/** The variable that a measured figure is of; figures of counts and digs are none of the log's. */
const MEASURED_VARIABLES = {
  downForceMarginN: "downForceMargin",
  downForceMarginP10N: "marginP10",
  noLoadShare: "noLoad",
  seedingDepthMm: "seedingDepth",
  depthSdMm: "depthSd",
  speedMetresPerSecond: "speed",
  missesShare: "misses",
  singulationShare: "singulation",
  multiplesShare: "multiples",
  populationPerHa: "population",
} as const satisfies Partial<Record<MeasuredKey, ShownVariable>>;

type MeasuredVariableKey = keyof typeof MEASURED_VARIABLES;

interface MeasuredWords {
  name: string;
  kind: QuantityKind;
}

const COUNTED_KINDS = {
  dugDepthMm: "depth",
  standPerHa: "plants",
  lateShare: "share",
} as const satisfies Record<Exclude<MeasuredKey, MeasuredVariableKey>, QuantityKind>;

/** The farmer's name and the kind of quantity of a measured figure; the page's tables use it too. */
export function measuredWords(key: MeasuredKey, language: Language = "en"): MeasuredWords {
  const { variableNames, countedNames } = textsOf(language);
  if (!isOfVariable(key)) return { name: countedNames[key], kind: COUNTED_KINDS[key] };
  const variable = MEASURED_VARIABLES[key];
  return { name: variableNames[variable], kind: SHOWN_VARIABLES[variable].kind };
}

function isOfVariable(key: MeasuredKey): key is MeasuredVariableKey {
  return key in MEASURED_VARIABLES;
}

const STAND_FIGURES: MeasuredKey[] = ["standPerHa", "lateShare"];

function sentenceOf(key: MeasuredKey, figure: Measured, writing: Writing): string | null {
  if (figure.inside === null) return null;
  const { findings } = textsOf(writing.language);
  const { name, kind } = measuredWords(key, writing.language);
  const say = (value: number): string => formatQuantity(value, kind, writing);
  const here = say(figure.inside);
  const said =
    figure.elsewhere === null
      ? findings.figure(name, here)
      : findings.figureElsewhere(name, here, say(figure.elsewhere));
  if (figure.target === null) return said;
  return findings.aim(
    said,
    typeof figure.target === "number"
      ? say(figure.target)
      : findings.range(say(figure.target[0]), say(figure.target[1])),
  );
}

/**
 * What the log is checked for where it explains nothing, and up to which difference a mean is as elsewhere: 0.12 in, 22 lb,
 * 0.25 m/s, 1 point, 4 % (our judgement, as for passes that depart).
 */
const LOG_CHECKS: readonly [key: MeasuredVariableKey, alike: number, relative?: true][] = [
  ["seedingDepthMm", 3.05],
  ["downForceMarginN", 98],
  ["speedMetresPerSecond", 0.25],
  ["missesShare", 0.01],
  ["populationPerHa", 0.04, true],
];

/** True where a figure inside is as on the rest of the field; where the rest is unknown there is nothing to differ from. */
function isAsElsewhere({ inside, elsewhere }: Measured, alike: number, relative: boolean): boolean {
  if (inside === null || elsewhere === null) return true;
  return Math.abs(inside - elsewhere) <= (relative ? alike * Math.abs(elsewhere) : alike);
}

/** What was seen, a line each: the telling figures, the digs, the stand. */
export function seenWords(
  draft: Draft,
  measured: Finding["measured"],
  digs: readonly SeenSign[],
  writing: Writing,
): string[] {
  const { findings, digSigns, variableShortNames } = textsOf(writing.language);
  const lines: string[] = [...departureWords(draft, writing)];
  const say = (keys: readonly MeasuredKey[]): void => {
    for (const key of keys) {
      const figure = measured[key];
      const line = figure ? sentenceOf(key, figure, writing) : null;
      if (line) lines.push(line);
    }
  };
  const groundLine = groundWords(draft, writing);
  if (groundLine) lines.push(groundLine);
  else if (draft.logDepartures) {
    // Said by the departures themselves.
  } else if (CAUSE_DEFINITIONS[draft.cause].withoutTrace) {
    const checked = LOG_CHECKS.filter(([key]) => measured[key]);
    const [alike, departing] = [true, false].map((same) =>
      checked.filter(
        ([key, most, relative]) => isAsElsewhere(measured[key]!, most, relative ?? false) === same,
      ),
    );
    if (alike!.length > 0)
      lines.push(findings.asElsewhere(alike!.map(([key]) => variableShortNames[MEASURED_VARIABLES[key]])));
    say(departing!.map(([key]) => key));
  } else {
    say(CAUSE_WORDS[draft.cause].telling ?? LOG_CHECKS.map(([key]) => key));
  }
  if (digs.length > 0) {
    lines.push(
      findings.digs(digs.map(({ sign, seen, looked }) => findings.sign(digSigns[sign], seen, looked))),
    );
  }
  say(STAND_FIGURES);
  if (draft.alongSoilBorder) {
    lines.push(findings.alongSoilBorder);
  }
  const wetLine = wetGroundWords(draft, writing);
  if (wetLine) lines.push(wetLine);
  if (draft.ground === "wait") lines.push(findings.tooWetThatDay);
  if (draft.fill) lines.push(fillWords(draft.fill, writing));
  if (draft.trend) lines.push(trendWords(draft.trend, writing));
  return lines;
}

/** Worth a line where most of the place is wet by nature and clearly more of it than of the rest (our judgement). */
const MOSTLY_WET = 0.5;
const CLEARLY_MORE = 0.2;

/** What the drainage classes of the soil map add; null where they tell nothing. */
function wetGroundWords({ cause, wetShares }: Draft, writing: Writing): string | null {
  if (!wetShares || !CAUSE_DEFINITIONS[cause].mayBeWetGround) return null;
  const { here, elsewhere } = wetShares;
  if (here < MOSTLY_WET || here < elsewhere + CLEARLY_MORE) return null;
  return textsOf(writing.language).findings.wetByNature(
    formatPercent(here, 0, writing.locale),
    formatPercent(elsewhere, 0, writing.locale),
  );
}

/** What the footprints of the log show of ground planted twice or left out; null for other causes. */
function groundWords(draft: Draft, writing: Writing): string | null {
  if (draft.cause !== "planted-twice" && draft.cause !== "not-planted") return null;
  const area = formatQuantity(draft.areaM2 / SQUARE_METRES_PER_HECTARE, "area", writing);
  const { findings } = textsOf(writing.language);
  return draft.cause === "planted-twice"
    ? findings.plantedTwice(area, draft.polygons.length)
    : findings.notPlanted(area, draft.polygons.length);
}

/** "the difference goes with the seed dropped since the last stop: 20 lb more each 1,000,000 seeds". */
function fillWords(fill: FillEffect, writing: Writing): string {
  const kind = fill.variable === "downForceMargin" ? "force" : "depth";
  const change = formatQuantity(Math.abs(fill.perMillionSeeds), kind, writing);
  const more = fill.perMillionSeeds > 0 ? "more" : "less";
  return `the difference from the other rows goes with the seed dropped since the last stop: ${change} ${more} for each million seeds, ${formatPercent(fill.explained, 0, writing.locale)} of its change from pass to pass`;
}

/** A sign seen in digs. */
export interface SeenSign {
  sign: Sign;
  seen: number;
  looked: number;
}

/** "a, b and c". */
export function listOf(names: readonly string[]): string {
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
}

/** Title: the farmer's name of the cause, of the detail where digs show one, with the unit for a row unit. */
export function titleWords(draft: Draft, { language }: Writing = FARM_ENGLISH): string {
  if (draft.contrast) return contrastTitle(draft.contrast);
  const { causePhrases, findings } = textsOf(language);
  const title = causeTitle(draft.cause, draft.detail, language);
  if (draft.cause === "undetermined") {
    const [first, second] = draft.alternatives;
    const names = [first, second]
      .filter((entry) => entry !== undefined)
      .map((entry) => causePhrases[entry.cause]);
    return findings.cannotTell(title, names);
  }
  const within = findings.isTitleLowered ? lowerFirst(title) : title;
  if (draft.kind === "row-unit") return findings.titleOfUnit(draft.rowUnits.join(", "), within);
  return draft.kind === "section" ? findings.titleOfRows(runsOf(draft.rowUnits), within) : title;
}

/** "Silty clay stands thin against the rest of the field". */
function contrastTitle({ name, against }: ContrastResult): string {
  const verb = /^(track rows|end rows|rows|the later passes)/.test(name) ? "stand" : "stands";
  return `${upperFirst(name)} ${verb} thin against ${against}`;
}

/** With a capital at its beginning. */
export function upperFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}

/** A probability in whole percent; what rounds to none or to certainty is said as a limit. */
export function sureText(probability: number, writing: Writing = FARM_ENGLISH): string {
  const { findings } = textsOf(writing.language);
  if (probability < 0.01) return findings.under1Percent;
  return probability > 0.99 ? findings.over99Percent : formatPercent(probability, 0, writing.locale);
}

/** What else could do it, and how sure this is. */
export function otherwiseWords(draft: Draft, writing: Writing = FARM_ENGLISH): string {
  const { causePhrases, findings } = textsOf(writing.language);
  const others = draft.alternatives.filter((entry) => entry.probability >= 0.03).slice(0, 3);
  const list = others
    .map(
      ({ cause, probability }) => `${causePhrases[cause]} ${formatPercent(probability, 0, writing.locale)}`,
    )
    .join(", ");
  if (draft.cause === "undetermined") return findings.couldBe(list);
  return others.length > 0
    ? findings.couldAlsoBe(list)
    : findings.allOthers(sureText(1 - draft.probability, writing));
}

/** In English: for sheets that are written in no other language yet. */
export const MACHINE_CAUTION = textsOf("en").cautions.machine;

export function cautionWords(draft: Draft, { language }: Writing = FARM_ENGLISH): string {
  const { machine, dig, stand } = textsOf(language).cautions;
  const { caution } = CAUSE_WORDS[draft.cause];
  return { machine, dig, "dig-and-stand": `${dig} ${stand}` }[caution];
}

/** The check to make in the field before money is spent. */
export function checkWords(draft: Draft, { language }: Writing = FARM_ENGLISH): string {
  const advice = draft.contrast && contrastAdvice(draft.contrast);
  if (advice) return advice.check;
  return CAUSE_WORDS[draft.cause].check(textsOf(language), {
    kind: draft.kind,
    detail: draft.detail,
    byRow: draft.kind === "row-unit" || draft.kind === "section",
    units: runsOf(draft.rowUnits),
  });
}

/** Where it is: soil, side of the field, day, passes. */
export function placeWords(
  draft: Draft,
  side: Side,
  date: string | null,
  passCount: number,
  { language }: Writing = FARM_ENGLISH,
): string {
  const { findings, sides } = textsOf(language);
  const parts: string[] = [];
  if (draft.soilZones.length > 0 && draft.soilZones.length <= 2) parts.push(findings.soils(draft.soilZones));
  if (draft.kind === "row-unit" || draft.kind === "section") {
    parts.unshift(
      draft.passes.length === 0 ? findings.inEveryPass : findings.inPasses(draft.passes.length, passCount),
    );
  } else {
    parts.push(sides[side]);
    if (draft.kind === "pass") parts.push(findings.passes(draft.passes.length, runsOf(draft.passes)));
  }
  if (date) parts.push(findings.planted(date));
  return parts.join(", ");
}

/** "12-15, 18" from [12,13,14,15,18]. */
export function runsOf(numbers: readonly number[]): string {
  const sorted = [...numbers].sort((a, b) => a - b);
  const runs: string[] = [];
  for (let i = 0; i < sorted.length; ) {
    let j = i;
    while (j + 1 < sorted.length && sorted[j + 1] === sorted[j]! + 1) j++;
    runs.push(i === j ? `${sorted[i]}` : `${sorted[i]}-${sorted[j]}`);
    i = j + 1;
  }
  return runs.join(", ");
}
