/**
 * What one screen says of the first passes, in words and figures ready to be shown; the command prints it and the page lays
 * it out, so that both say the same.
 */
import {
  formatNumber,
  formatPercent,
  formatQuantity,
  groupThousands,
  type QuantityKind,
  type UnitSystem,
} from "../quantities/format.ts";
import { writingIn } from "../texts/language.ts";
import { SHOWN_VARIABLES } from "../vocabulary/shown-variables.ts";
import { MACHINE_CAUTION, upperFirst } from "../words/finding-words.ts";
import { trendWords } from "../words/trend-words.ts";
import type { CheckFigure, CheckResult, CheckVariable } from "./check-result.ts";
import { changeWords, digSentence, rowWords } from "./check-words.ts";
import { FIGURE_NAMES } from "./judged.ts";

/** A line of the table; an empty text where there is nothing to say. */
export interface CheckLine {
  name: string;
  /** True for a line that goes on with the figure above it. */
  isPart: boolean;
  now: string;
  /** Where most readings lie. */
  tenths: string;
  /** With a star where the limit is a usual one. */
  wanted: string;
  lastYear: string;
}

export interface CheckScreen {
  units: UnitSystem;
  /** "planting, the log so far. Seen: 3 passes ..." */
  seen: string;
  /** What of the file was left out. */
  leftOut: string[];
  table: CheckLine[];
  hasLastYear: boolean;
  /** What the star means; empty where every figure has a target of its own. */
  star: string;
  /** Rows that stand off and ask for no change, and trends. */
  watch: string[];
  /** Worst first; `more` is how many there are beyond these. */
  changes: string[];
  more: number;
  /** Said in place of changes where there are none. */
  nothing: string;
  dig: string;
  notJudged: string;
  caution: string;
}

/** Usual limits by where they come from, short enough for a screen; in full in the figures (`source`) and in docs/check.md. */
const SHORT_SOURCES: Partial<Record<CheckVariable | "spread" | "no load", string>> = {
  seedingDepth: "depth: extension advice (Ohio State, Illinois, Iowa State, Michigan State)",
  downForceMargin: "load: our judgement, after the load classes of Hanna et al. 2010",
  misses: "skips, doubles, singulation: common practice, no source",
  multiples: "skips, doubles, singulation: common practice, no source",
  singulation: "skips, doubles, singulation: common practice, no source",
  speed: "speed: our judgement, after Ohio State 2002",
  spread: "spread and time without load: our judgement",
  "no load": "spread and time without load: our judgement",
};

/** Changes, rows and notes that one screen has room for; the others are counted. */
const MOST_CHANGES = 5;
const MOST_ROWS = 3;
const MOST_NOTES = 2;
/** Longer than this the time is said in hours. */
const LONG_MINUTES = 120;
/** The screen of a check. */
export function checkScreen(result: CheckResult, units: UnitSystem): CheckScreen {
  const changes = result.changes.map((change) => changeWords(change, result, units));
  return {
    units,
    seen: `${result.field.name}, the log so far. ${seenWords(result, units)}`,
    leftOut: fileNotes(result),
    table: table(result, units),
    hasLastYear: result.lastYear !== null,
    star: usualSources(result.figures),
    watch: [
      ...otherRows(result, units),
      ...result.trends.map((trend) => `${upperFirst(trendWords(trend, writingIn(units)))}.`),
    ],
    changes: changes.slice(0, MOST_CHANGES),
    more: Math.max(0, changes.length - MOST_CHANGES),
    nothing: changes.length === 0 ? nothingWords(result) : "",
    dig: digSentence(result.dig, units),
    notJudged: `Not judged: ${result.notJudged.map(({ what, why }) => `${what} (${why})`).join("; ")}.`,
    caution: `Caution: ${MACHINE_CAUTION}`,
  };
}

function seenWords({ seen, lastYear }: CheckResult, units: UnitSystem): string {
  const { minutes } = seen;
  const way = seen.bothWays ? "both ways" : "one way";
  const parts = [
    `${seen.passes} pass${seen.passes === 1 ? "" : "es"} (${way})`,
    formatQuantity(seen.areaHa, "area", units),
    ...(minutes === null
      ? []
      : [
          minutes > LONG_MINUTES
            ? `${Math.round(minutes / 60)} hours`
            : `${Math.max(1, Math.round(minutes))} min`,
        ]),
    `${groupThousands(String(seen.recordsOnPasses))} readings of ${seen.rowUnits > 0 ? `${seen.rowUnits} rows` : "the whole bar"}`,
  ];
  const beside = lastYear
    ? ` Last year: ${lastYear.field}${lastYear.season === null ? "" : `, ${lastYear.season}`}.${lastYear.doubts.length === 0 ? "" : ` Compare with care: ${lastYear.doubts.join("; ")}.`}`
    : "";
  return `Seen: ${parts.join(", ")}.${beside}`;
}

/** What of the file was left out: it may be cut in the middle of a record while it grows. */
function fileNotes({ notes }: CheckResult): string[] {
  const left = notes.filter(({ effect }) => effect === "left out");
  const said = left
    .slice(0, MOST_NOTES)
    .map(({ count, reason }) => `Left out, ${groupThousands(String(count))} of the file: ${reason}.`);
  return left.length > MOST_NOTES ? [...said, `And ${left.length - MOST_NOTES} more notes.`] : said;
}

/** A line for each figure: what it is now, where most readings lie, what it should be, last year's. */
function table({ figures }: CheckResult, units: UnitSystem): CheckLine[] {
  const lines: CheckLine[] = [];
  const part = (name: string, now: string, wanted: string): void => {
    lines.push({ name, isPart: true, now, tenths: "", wanted, lastYear: "" });
  };
  for (const figure of figures) {
    const kind = SHOWN_VARIABLES[figure.variable].kind;
    const say = (value: number): string => formatQuantity(value, kind, units);
    lines.push({
      name: FIGURE_NAMES[figure.variable],
      isPart: false,
      now: say(figure.mean),
      tenths: `${formatNumber(figure.p10, kind, units)} to ${formatNumber(figure.p90, kind, units)}`,
      wanted: aimWords(figure, kind, units),
      lastYear: figure.lastYear === null ? "" : formatNumber(figure.lastYear, kind, units),
    });
    const { spreadAlongRow, spreadLimit, noLoadShare, noLoadLimit } = figure;
    if (spreadAlongRow !== null && spreadLimit !== null)
      part("spread in row", say(spreadAlongRow), `to ${say(spreadLimit)} *`);
    if (noLoadShare !== null && noLoadLimit !== null)
      part(
        figure.variable === "groundContact" ? "off the ground" : "without load",
        formatPercent(noLoadShare, 1),
        `to ${formatPercent(noLoadLimit, 1)} *`,
      );
  }
  return lines;
}

function aimWords({ aim }: CheckFigure, kind: QuantityKind, units: UnitSystem): string {
  if (aim === null) return "no target";
  const mark = aim.from === "usual" ? " *" : "";
  const { low, high } = aim;
  if (low !== null && high !== null)
    return `${formatNumber(low, kind, units)} to ${formatNumber(high, kind, units)}${mark}`;
  if (high !== null) return `to ${formatQuantity(high, kind, units)}${mark}`;
  return `from ${formatQuantity(low!, kind, units)}${mark}`;
}

/** What the star means; "" where every figure has a target of its own. */
function usualSources(figures: readonly CheckFigure[]): string {
  const named = figures.flatMap(({ variable, aim, spreadLimit, noLoadLimit }) => [
    ...(aim?.from === "usual" ? [SHORT_SOURCES[variable]] : []),
    ...(spreadLimit === null ? [] : [SHORT_SOURCES.spread]),
    ...(noLoadLimit === null ? [] : [SHORT_SOURCES["no load"]]),
  ]);
  return named.length === 0 ? "" : `usual limits. ${upperFirst([...new Set(named)].join("; "))}.`;
}

/** Rows that stand off the bar and ask for no change, one line each. */
function otherRows({ rows, changes }: CheckResult, units: UnitSystem): string[] {
  const others = rows.filter(({ rowUnits }) =>
    changes.every((change) => rowUnits.some((unit) => !change.rowUnits.includes(unit))),
  );
  const said = others
    .slice(0, MOST_ROWS)
    .map((row) => `${upperFirst(rowWords(row, units))}: watch it, it asks for no change yet.`);
  return others.length > MOST_ROWS ? [...said, `And ${others.length - MOST_ROWS} more.`] : said;
}

function nothingWords({ judged, seen }: CheckResult): string {
  return judged.length === 0
    ? "Nothing could be judged yet."
    : `Nothing, of what was judged on ${seen.passes} pass${seen.passes === 1 ? "" : "es"}: ${judged.join(", ")}. That says nothing of the rest of the field.`;
}
