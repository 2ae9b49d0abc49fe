/** The check as one screen of text. */
import {
  formatNumber,
  formatPercent,
  formatQuantity,
  groupThousands,
  type QuantityKind,
  type UnitSystem,
} from "../quantities/format.ts";
import { SHOWN_VARIABLES } from "../vocabulary/shown-variables.ts";
import { MACHINE_CAUTION, upperFirst } from "../words/finding-words.ts";
import { trendWords } from "../words/trend-words.ts";
import { wrapped } from "../words/wrapped-text.ts";
import type { CheckFigure, CheckResult, CheckVariable } from "./check-result.ts";
import { changeWords, digSentence, rowWords } from "./check-words.ts";
import { FIGURE_NAMES } from "./judged.ts";

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
const HANG = 2;
/** Longer than this the time is said in hours. */
const LONG_MINUTES = 120;

/** @param width columns of the terminal */
export function checkText(result: CheckResult, width: number, units: UnitSystem = "farm"): string {
  const lines: string[] = [];
  const say = (text: string, lead = "", hang = HANG): void => {
    lines.push(...wrapped(text, width, lead, hang));
  };
  say(`${result.field.name}, the log so far. ${seenWords(result, units)}`);
  for (const note of fileNotes(result)) say(note);
  lines.push("", ...table(result, units));
  const sources = usualSources(result.figures);
  if (sources !== "") say(sources, "* ");
  for (const row of otherRows(result, units)) say(row);
  for (const trend of result.trends) say(`${upperFirst(trendWords(trend, units))}.`);
  lines.push("", "CHANGE NOW");
  const changes = result.changes.map((change) => changeWords(change, result, units));
  changes.slice(0, MOST_CHANGES).forEach((text, k) => {
    say(text, `${k + 1} `);
  });
  if (changes.length > MOST_CHANGES) say(`and ${changes.length - MOST_CHANGES} more, see --json`);
  if (changes.length === 0) say(nothingWords(result), "", 0);
  lines.push("", "WHERE TO DIG");
  say(digSentence(result.dig, units), "", 0);
  lines.push("");
  say(`Not judged: ${result.notJudged.map(({ what, why }) => `${what} (${why})`).join("; ")}.`);
  say(`Caution: ${MACHINE_CAUTION}`);
  return `${lines.join("\n")}\n`;
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
    ? ` Last year: ${lastYear.field}${lastYear.season === null ? "" : `, ${lastYear.season}`}.`
    : "";
  return `Seen: ${parts.join(", ")}.${beside}`;
}

/** What of the file was left out: it may be cut in the middle of a record while it grows. */
function fileNotes({ notes }: CheckResult): string[] {
  const left = notes.filter(({ effect }) => effect === "left out");
  const said = left
    .slice(0, MOST_NOTES)
    .map(({ count, reason }) => `Left out, ${groupThousands(String(count))} of the file: ${reason}.`);
  return left.length > MOST_NOTES
    ? [...said, `And ${left.length - MOST_NOTES} more notes, see --json.`]
    : said;
}

/** A line for each figure: what it is now, where most readings lie, what it should be, last year's. */
function table({ figures, lastYear }: CheckResult, units: UnitSystem): string[] {
  const last = lastYear ? ["last year"] : [];
  const lines: string[][] = [["", "now", "tenths, low-high", "wanted", ...last]];
  for (const figure of figures) {
    const kind = SHOWN_VARIABLES[figure.variable].kind;
    const say = (value: number): string => formatQuantity(value, kind, units);
    lines.push([
      FIGURE_NAMES[figure.variable],
      say(figure.mean),
      `${formatNumber(figure.p10, kind, units)} to ${formatNumber(figure.p90, kind, units)}`,
      aimWords(figure, kind, units),
      figure.lastYear === null ? "" : formatNumber(figure.lastYear, kind, units),
    ]);
    const { spreadAlongRow, spreadLimit, noLoadShare, noLoadLimit } = figure;
    if (spreadAlongRow !== null && spreadLimit !== null)
      lines.push(["  spread in row", say(spreadAlongRow), "", `to ${say(spreadLimit)} *`]);
    if (noLoadShare !== null && noLoadLimit !== null)
      lines.push([
        figure.variable === "groundContact" ? "  off the ground" : "  without load",
        formatPercent(noLoadShare, 1),
        "",
        `to ${formatPercent(noLoadLimit, 1)} *`,
      ]);
  }
  const widths = lines[0]!.map((_, column) => Math.max(...lines.map((line) => (line[column] ?? "").length)));
  return lines.map((line) =>
    widths
      .map((width, column) => (line[column] ?? "").padEnd(width))
      .join("  ")
      .trimEnd(),
  );
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
  return others.length > MOST_ROWS ? [...said, `And ${others.length - MOST_ROWS} more, see --json.`] : said;
}

function nothingWords({ judged, seen }: CheckResult): string {
  return judged.length === 0
    ? "Nothing could be judged yet."
    : `Nothing, of what was judged on ${seen.passes} pass${seen.passes === 1 ? "" : "es"}: ${judged.join(", ")}. That says nothing of the rest of the field.`;
}
