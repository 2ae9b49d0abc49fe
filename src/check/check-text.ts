/** The check as one screen of text. */
import type { UnitSystem } from "../quantities/format.ts";
import { wrapped } from "../words/wrapped-text.ts";
import type { CheckResult } from "./check-result.ts";
import { type CheckScreen, checkScreen } from "./check-screen.ts";

const HANG = 2;

/** @param width columns of the terminal */
export function checkText(result: CheckResult, width: number, units: UnitSystem = "farm"): string {
  const screen = checkScreen(result, units);
  const lines: string[] = [];
  const say = (text: string, lead = "", hang = HANG): void => {
    lines.push(...wrapped(text, width, lead, hang));
  };
  say(screen.seen);
  for (const note of screen.leftOut) say(note);
  lines.push("", ...tableLines(screen));
  if (screen.star !== "") say(screen.star, "* ");
  for (const line of screen.watch) say(line);
  lines.push("", "CHANGE NOW");
  screen.changes.forEach((text, k) => {
    say(text, `${k + 1} `);
  });
  if (screen.more > 0) say(`and ${screen.more} more, see --json`);
  if (screen.nothing !== "") say(screen.nothing, "", 0);
  lines.push("", "WHERE TO DIG");
  say(screen.dig, "", 0);
  lines.push("");
  say(screen.notJudged);
  say(screen.caution);
  return `${lines.join("\n")}\n`;
}

function tableLines({ table, hasLastYear }: CheckScreen): string[] {
  const last = (text: string): string[] => (hasLastYear ? [text] : []);
  const lines = [
    ["", "now", "tenths, low-high", "wanted", ...last("last year")],
    ...table.map(({ name, isPart, now, tenths, wanted, lastYear }) => [
      isPart ? `  ${name}` : name,
      now,
      tenths,
      wanted,
      ...last(lastYear),
    ]),
  ];
  const widths = lines[0]!.map((_, column) => Math.max(...lines.map((line) => line[column]!.length)));
  return lines.map((line) =>
    widths
      .map((width, column) => line[column]!.padEnd(width))
      .join("  ")
      .trimEnd(),
  );
}
