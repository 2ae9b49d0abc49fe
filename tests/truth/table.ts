/** The table of what was measured: shares with their binomial bounds, gate and goal. */
import { median } from "../../src/numerics/descriptive.ts";
import { clopperPearsonInterval } from "../../src/stand/count-precision.ts";
import type { ScoredField, ScoredFinding } from "./areas.ts";

export interface Row {
  measure: string;
  /** Hits and tries of a share; null where the measure is no share. */
  hits: number | null;
  tries: number;
  /** Share or other value. */
  value: number;
  /** Limits of the 95 % interval (Clopper & Pearson 1934) of a share. */
  low: number | null;
  high: number | null;
  gate: string;
  goal: string;
}

const ADVERSARIAL = new Set(["two factors", "planting and crust", "crust on a harmless change"]);

/** Rows of the table for fields counted one way. */
export function tabulate(fields: readonly ScoredField[]): Row[] {
  const dense = fields[0]?.counting === "dense";
  const of = (kind: string): ScoredField[] => fields.filter((field) => field.kind === kind);
  const faulty = fields.filter(({ kind }) => kind !== "null" && kind !== "forgiving");
  const findings = faulty.flatMap((field) => field.findings);
  const events = faulty.flatMap((field) => field.events);
  const rows: Row[] = [];
  const share = (measure: string, hits: number, tries: number, gate = "", goal = ""): void => {
    rows.push({ measure, hits, tries, value: hits / tries, ...bounds(hits, tries), gate, goal });
  };
  const fieldsWith = (measure: string, kind: string, gate: string, goal: string): void => {
    const list = of(kind);
    share(measure, list.filter((field) => field.findings.length > 0).length, list.length, gate, goal);
  };
  const nulls = of("null");
  share(
    "Gi* with Benjamini-Hochberg alarms on null fields",
    count(nulls, (f) => f.hotSpotAlarm === true),
    nulls.length,
    ">= 0.90",
  );
  fieldsWith(
    "null fields with a confirmed place",
    "null",
    dense ? "<= 0.07" : "<= 0.08",
    dense ? "0.05" : "0.06",
  );
  fieldsWith("forgiving fields with one", "forgiving", "<= 0.10", "0.08");
  share(
    "precision of confirmed places",
    count(findings, (f) => f.isTrue),
    findings.length,
    dense ? ">= 0.92" : ">= 0.90",
    dense ? "0.95" : "0.92",
  );
  const atLeast = (points: number) => events.filter((event) => event.loss >= points / 100);
  const recall = (points: number, gate: string, goal: string): void =>
    share(
      `recall of places of ${points} points or more`,
      count(atLeast(points), (e) => e.found),
      atLeast(points).length,
      gate,
      goal,
    );
  recall(4, dense ? ">= 0.85" : ">= 0.70", dense ? "0.88" : "0.75");
  recall(9, dense ? ">= 0.95" : ">= 0.90", dense ? "0.97" : "0.95");
  const withCrust = events.filter(({ causes }) => causes.length === 1 && causes[0] === "soil-or-weather");
  share(
    "  of crusts alone (no trace in the log)",
    count(withCrust, (e) => e.found),
    withCrust.length,
  );
  const sum = (pick: (o: ScoredField["overlap"]) => number) =>
    fields.reduce((all, { overlap }) => all + pick(overlap), 0);
  const reported = sum((o) => o.reported) + sum((o) => o.hurt);
  plain(
    rows,
    "overlap (F1 of cells) of places found",
    (2 * sum((o) => o.both)) / reported,
    count(events, (e) => e.found),
    dense ? ">= 0.85" : "",
    dense ? "0.88" : "",
  );
  const judged = (kinds: (kind: string) => boolean): ScoredFinding[] =>
    faulty
      .filter((f) => kinds(f.kind))
      .flatMap((f) => f.findings)
      .filter((f) => f.causeIsRight !== null);
  const right = (measure: string, kind: string, gate: string, goal: string): void => {
    const list = judged((k) => k === kind);
    share(
      measure,
      count(list, (f) => f.causeIsRight!),
      list.length,
      gate,
      goal,
    );
  };
  right("likeliest cause right: one factor", "ordinary", ">= 0.92", "0.95");
  right("  two factors in one place", "two factors", ">= 0.80", "0.85");
  right("  planting and crust in one place", "planting and crust", ">= 0.65", "0.70");
  right("  crust on a harmless change", "crust on a harmless change", "", "");
  const named = (measure: string, list: ScoredFinding[], gate: string, goal: string): void => {
    const sure = list.filter((f) => f.probability >= 0.7);
    share(
      measure,
      count(sure, (f) => f.causeIsRight!),
      sure.length,
      gate,
      goal,
    );
  };
  const ordinary = judged((k) => k === "ordinary");
  named("named at 0.7 or more is right, ordinary", ordinary, ">= 0.90", "0.92");
  named(
    "named at 0.7 or more is right, adversarial",
    judged((k) => ADVERSARIAL.has(k)),
    ">= 0.65",
    "0.80",
  );
  share(
    "ordinary places that reach 0.7",
    count(ordinary, (f) => f.probability >= 0.7),
    ordinary.length,
    ">= 0.80",
    "0.85",
  );
  const measured = findings.filter((f) => f.isTrue && !Number.isNaN(f.estimate));
  share(
    "90 % intervals of the plants missing that cover",
    count(measured, (f) => f.low <= f.loss && f.loss <= f.high),
    measured.length,
    "0.86 to 0.96",
    "0.86 to 0.95",
  );
  const half = measured.map((f) => 50 * (f.high - f.low));
  plain(
    rows,
    "median half-width, points",
    half.length > 0 ? median(Float64Array.from(half)) : Number.NaN,
    half.length,
    dense ? "<= 2.2" : "<= 5",
    "",
  );
  const bias = measured.map((f) => 100 * (f.estimate - f.loss));
  plain(
    rows,
    "mean of estimate - truth, points",
    bias.reduce((a, b) => a + b, 0) / bias.length,
    bias.length,
    "",
    "",
  );
  return rows;
}

function plain(rows: Row[], measure: string, value: number, tries: number, gate: string, goal: string): void {
  rows.push({ measure, hits: null, tries, value, low: null, high: null, gate, goal });
}

function count<Item>(list: readonly Item[], holds: (item: Item) => boolean): number {
  return list.filter(holds).length;
}

function bounds(hits: number, tries: number): { low: number | null; high: number | null } {
  return tries === 0 ? { low: null, high: null } : clopperPearsonInterval(hits, tries);
}

/** The rows as a table in Markdown. */
export function asText(rows: readonly Row[]): string {
  const number = (value: number | null): string =>
    value === null || Number.isNaN(value) ? "" : value.toFixed(2);
  const lines = rows.map(({ measure, hits, tries, value, low, high, gate, goal }) => {
    const of = hits === null ? `${tries} places` : `${hits} of ${tries}`;
    const interval = low === null ? "" : `${number(low)} to ${number(high)}`;
    return `| ${measure.replace(/^ {2}/, "- ")} | ${number(value)} | ${of} | ${interval} | ${gate} | ${goal} |`;
  });
  return [
    "| measure | measured | of | 95 % bounds | gate | goal |",
    "|---|---|---|---|---|---|",
    ...lines,
  ].join("\n");
}
