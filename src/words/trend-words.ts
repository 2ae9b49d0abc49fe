/** A steady change from pass to pass, in words. */
import type { PassTrend } from "../causes/find/pass-trend.ts";
import { formatQuantity, type QuantityKind, type UnitSystem } from "../quantities/format.ts";
import type { PlantingVariable } from "../vocabulary/variables.ts";

const KINDS: Partial<Record<PlantingVariable, { name: string; kind: QuantityKind }>> = {
  misses: { name: "skips", kind: "share" },
  multiples: { name: "doubles", kind: "share" },
  seedingDepth: { name: "the depth reading", kind: "depth" },
  downForceMargin: { name: "the load", kind: "force" },
};

/** "a trend: skips rise from pass to pass, from about 0.4 % on the first to 8.9 % on the last of 30; ..." */
export function trendWords({ variable, first, last, passes }: PassTrend, units: UnitSystem): string {
  const { name, kind } = KINDS[variable]!;
  // A line may cross zero where the values cannot.
  const say = (value: number): string =>
    formatQuantity(kind === "share" ? Math.max(0, value) : value, kind, units);
  const verb = last > first ? "rise" : "fall";
  const said = `a trend: ${name} ${kind === "share" ? verb : `${verb}s`} from pass to pass, from about ${say(first)} on the first to ${say(last)} on the last of ${passes}`;
  return kind === "share" && last > first
    ? `${said}; what grows like this clogs or wears: look at disc, seal and brush, at seed treatment that builds up, and at talc or graphite`
    : said;
}
