/** The tables of what was judged, worlds of the tuning and of the judging side by side. */
import { exactBounds } from "./bounds.ts";
import type { ScoredField } from "./score.ts";
import { WORLDS, type WorldName } from "./worlds.ts";

type Hits = { hits: number; tries: number };

const isSound = ({ kind }: ScoredField): boolean => kind === "sound" || kind === "decoy";
const isHidden = ({ kind }: ScoredField): boolean => kind === "unlisted-on-decoy";
const PLANTING_IS_NOT = new Set([
  "soil-or-weather",
  "not-in-the-log",
  "seed-lot",
  "undetermined",
  "sensor-fault",
]);
const ROOT_KINDS = new Set(["zone", "day", "lot", "half", "field"]);
const CONTRAST_CAUSES = new Set(["soil-zone", "section", "field"]);

function share<Item>(list: readonly Item[], holds: (item: Item) => boolean): Hits {
  return { hits: list.filter(holds).length, tries: list.length };
}

interface Row {
  measure: string;
  goal: string;
  of(fields: readonly ScoredField[]): Hits | { value: number; tries: number };
}

const faulty = (fields: readonly ScoredField[]) => fields.filter((field) => !isHidden(field));
const findingsOf = (fields: readonly ScoredField[]) => faulty(fields).flatMap(({ findings }) => findings);
const eventsOf = (fields: readonly ScoredField[]) => faulty(fields).flatMap(({ events }) => events);
const places = (fields: readonly ScoredField[]) =>
  eventsOf(fields).filter(({ contrast, what }) => !contrast && !what.startsWith("row-"));
const contrastsAt = (points: number) => (fields: readonly ScoredField[]) =>
  faulty(fields)
    .filter(({ kind }) => kind.endsWith(`-${points}`) && ROOT_KINDS.has(kind.split("-")[0]!))
    .flatMap(({ events }) => events);
const ofKind = (fields: readonly ScoredField[], kind: string) =>
  fields.filter((field) => field.kind === kind).flatMap(({ events }) => events);

const ROWS: readonly Row[] = [
  {
    measure: "sound fields with an alarm",
    goal: "<= 0.05",
    of: (fields) => share(fields.filter(isSound), ({ findings }) => findings.length > 0),
  },
  {
    measure: "- of those with harmless departures in the log",
    goal: "",
    of: (fields) =>
      share(
        fields.filter(({ kind }) => kind === "decoy"),
        ({ findings }) => findings.length > 0,
      ),
  },
  {
    measure: "sound fields with a contrast called short",
    goal: "<= 0.02",
    of: (fields) =>
      share(
        fields.filter(isSound),
        ({ wrongContrasts, findings }) =>
          wrongContrasts.length > 0 || findings.some(({ kind }) => CONTRAST_CAUSES.has(kind)),
      ),
  },
  {
    measure: "places of 5 points and more found",
    goal: ">= 0.88",
    of: (fields) =>
      share(
        places(fields).filter(({ loss }) => loss >= 0.05),
        ({ found }) => found,
      ),
  },
  {
    measure: "- of those with 5 counts and more",
    goal: "",
    of: (fields) =>
      share(
        places(fields).filter(({ loss, counts }) => loss >= 0.05 && counts >= 5),
        ({ found }) => found,
      ),
  },
  {
    measure: "- of those of 10 points and more",
    goal: "",
    of: (fields) =>
      share(
        places(fields).filter(({ loss }) => loss >= 0.1),
        ({ found }) => found,
      ),
  },
  {
    measure: "counted findings where plants are missing",
    goal: "",
    of: (fields) => share(findingsOf(fields), ({ isTrue }) => isTrue),
  },
  {
    measure: "named cause right, of the named",
    goal: ">= 0.90",
    of: (fields) =>
      share(
        findingsOf(fields).filter(({ named, isTrue }) => named && isTrue),
        ({ right }) => right,
      ),
  },
  {
    measure: "named at 0.9 and more right (false places too)",
    goal: ">= 0.90",
    of: (fields) =>
      share(
        findingsOf(fields).filter(({ named, probability }) => named && probability >= 0.9),
        ({ right }) => right,
      ),
  },
  {
    measure: "true findings with a cause named",
    goal: "",
    of: (fields) =>
      share(
        findingsOf(fields).filter(({ isTrue }) => isTrue),
        ({ named }) => named,
      ),
  },
  { measure: "Brier of the likeliest cause", goal: "", of: brier },
  {
    measure: "90 % intervals of a place's deficit that hold",
    goal: "0.85 to 0.95",
    of: (fields) =>
      share(
        faulty(fields)
          .flatMap(({ findings }) => findings)
          .map(({ deficit }) => deficit)
          .filter((deficit) => deficit !== null),
        ({ low, truth, high }) => low <= truth && truth <= high,
      ),
  },
  {
    measure: "90 % intervals of a contrast that hold",
    goal: "0.85 to 0.95",
    of: (fields) =>
      share(
        fields.flatMap(({ contrastIntervals }) => contrastIntervals),
        ({ low, truth, high }) => low <= truth && truth <= high,
      ),
  },
  {
    measure: "contrasts (zone, day, lot, half, field) of 20 points found",
    goal: ">= 0.9",
    of: (fields) => share(contrastsAt(20)(fields), ({ found }) => found),
  },
  {
    measure: "- of 12 points found",
    goal: ">= 0.9",
    of: (fields) => share(contrastsAt(12)(fields), ({ found }) => found),
  },
  {
    measure: "- of 8 points listed as could be, or found",
    goal: ">= 0.5",
    of: (fields) => share(contrastsAt(8)(fields), ({ listed }) => listed),
  },
  {
    measure: "- shown as a place instead, of 12 points and more",
    goal: "",
    of: (fields) =>
      share([...contrastsAt(12)(fields), ...contrastsAt(20)(fields)], (event) => event.foundAsPlace),
  },
  {
    measure: "unlisted loss on a harmless departure: planting named at 0.9 and more",
    goal: "0",
    of: (fields) =>
      share(fields.filter(isHidden), ({ findings }) =>
        findings.some(
          ({ cause, named, probability }) => named && probability >= 0.9 && !PLANTING_IS_NOT.has(cause),
        ),
      ),
  },
  {
    measure: "- the loss found",
    goal: "",
    of: (fields) => share(ofKind(fields, "unlisted-on-decoy"), ({ found }) => found),
  },
  {
    measure: "row unit with real skips listed and not cleared",
    goal: "",
    of: (fields) => share(ofKind(fields, "row-skips"), ({ found }) => found),
  },
  {
    measure: "- cleared, or laid to its sensor",
    goal: "0",
    of: (fields) => share(ofKind(fields, "row-skips"), ({ cleared }) => cleared),
  },
  {
    measure: "row unit with a false sensor: planting named at 0.9 and more",
    goal: "",
    of: (fields) =>
      share(
        fields.filter(({ kind }) => kind === "row-sensor"),
        ({ findings }) =>
          findings.some(({ cause, probability }) => cause !== "sensor-fault" && probability >= 0.9),
      ),
  },
  {
    measure: "fields on which the tool failed",
    goal: "0",
    of: (fields) => share(fields, ({ failed }) => failed !== null),
  },
];

/** Mean square of the probability of the likeliest cause less whether it is right. */
function brier(fields: readonly ScoredField[]): { value: number; tries: number } {
  const list = findingsOf(fields);
  const sum = list.reduce((all, { probability, right }) => all + (probability - (right ? 1 : 0)) ** 2, 0);
  return { value: sum / list.length, tries: list.length };
}

/** All tables in Markdown; fields whose depth source was not named stand in a table of their own, beside the same named. */
export function asMarkdown(all: readonly ScoredField[]): string {
  const unnamed = all.filter(({ depthSource }) => depthSource === "unnamed");
  const named = all.filter(({ depthSource }) => depthSource !== "unnamed");
  if (named.length === 0) return tables(unnamed);
  if (unnamed.length === 0) return tables(named);
  return `${tables(named)}\n\nDepth source named and not, on the same fields:\n\n${bySource(named, unnamed)}`;
}

function tables(fields: readonly ScoredField[]): string {
  const sets = (["tune", "judge"] as const).map((set) =>
    fields.filter(({ world }) => WORLDS[world as WorldName].set === set),
  );
  const heads = sets.map((list, k) => `${k === 0 ? "tuned on" : "judged"}: ${list.length} fields`);
  const main = [
    `| measure | goal | ${heads.join(" | ")} |`,
    "|---|---|---|---|",
    ...ROWS.map(
      ({ measure, goal, of }) =>
        `| ${measure} | ${goal} | ${sets.map((list) => cell(of(list))).join(" | ")} |`,
    ),
  ];
  return [
    main.join("\n"),
    `Probability of the likeliest cause against how often it was right:\n\n${reliability(sets, heads)}`,
    `Contrasts found / listed / laid, by points and counts:\n\n${power(sets)}`,
    `Places of 5 points and more by what is wrong:\n\n${byFault(sets, heads)}`,
    `By world:\n\n${byWorld(fields)}`,
  ].join("\n\n");
}

function cell(result: Hits | { value: number; tries: number }): string {
  if (result.tries === 0) return "none";
  if ("value" in result) return `${result.value.toFixed(3)} (${result.tries})`;
  const { low, high } = exactBounds(result.hits, result.tries);
  const value = (result.hits / result.tries).toFixed(2);
  return `${value} (${result.hits} of ${result.tries}; ${low.toFixed(2)} to ${high.toFixed(2)})`;
}

const BINS = [0, 0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 1.0001] as const;

/** The reliability diagram as a table: a bar of ten for what was right beside the mean probability. */
function reliability(sets: readonly (readonly ScoredField[])[], heads: readonly string[]): string {
  const lines = BINS.slice(0, -1).map((from, k) => {
    const to = BINS[k + 1]!;
    const cells = sets.map((fields) => {
      const own = findingsOf(fields).filter(({ probability }) => probability >= from && probability < to);
      if (own.length === 0) return "";
      const right = own.filter((finding) => finding.right).length;
      const said = own.reduce((sum, { probability }) => sum + probability, 0) / own.length;
      const bar = "#".repeat(Math.round((10 * right) / own.length)).padEnd(10, ".");
      return `said ${said.toFixed(2)}, right ${cell({ hits: right, tries: own.length })} \`${bar}\``;
    });
    return `| ${from} to ${Math.min(1, to)} | ${cells.join(" | ")} |`;
  });
  return [`| probability | ${heads.join(" | ")} |`, "|---|---|---|", ...lines].join("\n");
}

/** Found, listed and laid contrasts by kind and points and number of counts. */
function power(sets: readonly (readonly ScoredField[])[]): string {
  const all = sets.flat().filter(({ events }) => events.some(({ contrast }) => contrast));
  const kinds = [...new Set(all.map(({ kind }) => kind))].sort();
  const groups = [
    [0, 80],
    [80, 150],
    [150, 1000],
  ] as const;
  const lines = kinds.flatMap((kind) =>
    sets.map((fields, k) => {
      const cells = groups.map(([from, to]) => {
        const own = fields
          .filter((field) => field.kind === kind && field.counts >= from && field.counts < to)
          .flatMap(({ events }) => events);
        const found = own.filter((event) => event.found).length;
        return own.length > 0
          ? `${found} / ${own.filter((event) => event.listed).length} / ${own.length}`
          : "";
      });
      return `| ${kind} | ${k === 0 ? "tuned on" : "judged"} | ${cells.join(" | ")} |`;
    }),
  );
  return [
    "| contrast, points | worlds | about 60 counts | about 100 | about 200 |",
    "|---|---|---|---|---|",
    ...lines,
  ].join("\n");
}

function byFault(sets: readonly (readonly ScoredField[])[], heads: readonly string[]): string {
  const names = [...new Set(sets.flat().flatMap(({ events }) => events.map(({ what }) => what)))].sort();
  const lines = names
    .map((what) => {
      const cells = sets.map((fields) => {
        const own = fields
          .flatMap(({ events }) => events)
          .filter((event) => event.what === what && !event.contrast && event.loss >= 0.05);
        return own.length > 0 ? `${own.filter(({ found }) => found).length} of ${own.length} found` : "";
      });
      return cells.some(Boolean) ? `| ${what} | ${cells.join(" | ")} |` : null;
    })
    .filter((line) => line !== null);
  return [`| wrong | ${heads.join(" | ")} |`, "|---|---|---|", ...lines].join("\n");
}

const keyOf = ({ world, kind, seed }: ScoredField): string => `${world}/${kind}/${seed}`;

function bySource(named: readonly ScoredField[], unnamed: readonly ScoredField[]): string {
  const keys = new Set(unnamed.map(keyOf));
  const same = named.filter((field) => keys.has(keyOf(field)));
  const sameKeys = new Set(same.map(keyOf));
  const sides = [same, unnamed.filter((field) => sameKeys.has(keyOf(field)))].flatMap((list) =>
    (["tune", "judge"] as const).map((set) =>
      list.filter(({ world }) => WORLDS[world as WorldName].set === set),
    ),
  );
  const heads = ["tuned on, named", "judged, named", "tuned on, unnamed", "judged, unnamed"];
  return [
    `| measure | ${heads.map((head, k) => `${head}: ${sides[k]!.length}`).join(" | ")} |`,
    "|---|---|---|---|---|",
    ...[0, 3, 7, 8, 9, 10].map((k) => {
      const { measure, of } = ROWS[k]!;
      return `| ${measure} | ${sides.map((side) => cell(of(side))).join(" | ")} |`;
    }),
  ].join("\n");
}

function byWorld(fields: readonly ScoredField[]): string {
  const names = (Object.keys(WORLDS) as WorldName[]).filter((name) =>
    fields.some(({ world }) => world === name),
  );
  const picked = [0, 2, 3, 7, 8, 11, 14].map((k) => ROWS[k]!);
  return [
    `| measure | ${names.join(" | ")} |`,
    `|---|${names.map(() => "---").join("|")}|`,
    ...picked.map(
      ({ measure, of }) =>
        `| ${measure} | ${names.map((name) => cell(of(fields.filter(({ world }) => world === name)))).join(" | ")} |`,
    ),
    `| CPU s a field | ${names.map((name) => median(fields.filter(({ world }) => world === name).map(({ seconds }) => seconds))).join(" | ")} |`,
  ].join("\n");
}

function median(values: number[]): string {
  return values.sort((a, b) => a - b)[Math.floor(values.length / 2)]!.toFixed(1);
}
