/** A steady change from pass to pass, in words. */
import type { PassTrend } from "../causes/find/pass-trend.ts";
import { formatQuantity } from "../quantities/format.ts";
import type { Writing } from "../texts/language.ts";
import { SHOWN_VARIABLES } from "../vocabulary/shown-variables.ts";
import type { PlantingVariable } from "../vocabulary/variables.ts";

const NAMES: Partial<Record<PlantingVariable, string>> = {
  misses: "skips",
  multiples: "doubles",
  seedingDepth: "the depth reading",
  downForceMargin: "the load",
};

/** "a trend: skips rise from pass to pass, from about 0.4 % on the first to 8.9 % on the last of 30; ..." */
export function trendWords({ variable, first, last, passes }: PassTrend, writing: Writing): string {
  const name = NAMES[variable]!;
  const { kind } = SHOWN_VARIABLES[variable];
  // A line may cross zero where the values cannot.
  const say = (value: number): string =>
    formatQuantity(kind === "share" ? Math.max(0, value) : value, kind, writing);
  const verb = last > first ? "rise" : "fall";
  const said = `a trend: ${name} ${kind === "share" ? verb : `${verb}s`} from pass to pass, from about ${say(first)} on the first to ${say(last)} on the last of ${passes}`;
  return kind === "share" && last > first
    ? `${said}; what grows like this clogs or wears: look at disc, seal and brush, at seed treatment that builds up, and at talc or graphite`
    : said;
}
