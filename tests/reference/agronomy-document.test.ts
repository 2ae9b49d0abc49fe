/**
 * The tables of docs/agronomy.md are those the program uses, word for word. After a change of a table run this file
 * with EVENSTAND_WRITE_DOCS=1 to write them anew.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { DRYING } from "../../src/compare/ground-state.ts";
import { START_LOADS, START_LOADS_SOURCE, startLoads, THRESHOLDS } from "../../src/compare/thresholds.ts";
import { NEWTONS_PER_POUND_FORCE } from "../../src/quantities/units.ts";
import { EMERGENCE_ADJUSTMENTS_F, EMERGENCE_DEGREE_DAYS_F, FOR_AIR_ONLY } from "../../src/stand/emergence.ts";
import { LATE_STUDIES, lateLoss } from "../../src/stand/late-plants.ts";
import { STAND_DATE_TABLES, type StandDateTable } from "../../src/stand/published-tables.ts";
import { lostIn1991, UNEVEN_TREATMENTS_1991 } from "../../src/stand/uneven-emergence-1991.ts";
import { CAUSES } from "../../src/vocabulary/causes.ts";
import { causeName } from "../../src/words/cause-names.ts";

const file = new URL("../../docs/agronomy.md", import.meta.url);
const glossary = readFileSync(new URL("../../docs/glossary.md", import.meta.url), "utf8");

const percent = (share: number): string => String(Math.round(1000 * share) / 10);

function markdownTable(head: readonly string[], rows: readonly (readonly (string | number)[])[]): string {
  const line = (cells: readonly (string | number)[]): string => `| ${cells.join(" | ")} |`;
  return [line(head), line(head.map(() => "---")), ...rows.map(line)].join("\n");
}

function standDateTable(table: StandDateTable): string {
  return [
    `**${table.title}** (\`${table.id}\`). Source: ${table.source}. Limits: ${table.limits}.`,
    "",
    markdownTable(
      ["planted", ...table.thousandPlantsPerAcre.map((stand) => `${stand}k`)],
      table.dates.map((date, row) => [
        date,
        ...table.percent[row]!.map((value) => (value === null ? "-" : Math.round(10 * value) / 10)),
      ]),
    ),
  ].join("\n");
}

const sections: Record<string, string> = {
  thresholds: markdownTable(
    ["name", "figure", "what it decides", "source"],
    Object.entries(THRESHOLDS).map(([name, { farm, meaning, source }]) => [
      `\`${name}\``,
      farm,
      meaning,
      source,
    ]),
  ),
  margins: `${markdownTable(
    ["ground", "from practice, lb", "by load classes, lb", "shown, lb", "shown, N"],
    Object.entries(START_LOADS).map(([ground, { practice, classes }]) => {
      const said = (band: readonly number[] | null, unit = NEWTONS_PER_POUND_FORCE): string =>
        band === null ? "none" : band.map((newtons) => Math.round(newtons / unit)).join(" to ");
      const shown = ground === "sand" ? classes : startLoads(ground as "damp" | "fit" | "dry", false);
      return [ground, said(practice), said(classes), said(shown), said(shown, 1)];
    }),
  )}\n\nPractice: ${START_LOADS_SOURCE.practice}. Load classes: ${START_LOADS_SOURCE.classes}.`,
  drying: markdownTable(
    ["texture", "share kept a day", "damp from, mm", "wait from, mm", "dry after, drying days"],
    Object.entries(DRYING).map(([texture, { keptADay, dampMm, waitMm, dryAfterDays }]) => [
      texture,
      keptADay,
      dampMm,
      waitMm,
      dryAfterDays,
    ]),
  ),
  "stand tables": STAND_DATE_TABLES.map(standDateTable).join("\n\n"),
  "late studies": markdownTable(
    ["study", "leaf stages behind", "late %", "yield lost %"],
    LATE_STUDIES.map(({ source, leafStagesBehind, stagesFrom, lateShare, lossShare }) => [
      source,
      stagesFrom === "days" ? `${leafStagesBehind} (from days)` : leafStagesBehind,
      percent(lateShare),
      percent(lossShare),
    ]),
  ),
  "uneven treatments": markdownTable(
    ["row", "rows beside it", "Mg/ha", "yield lost %"],
    UNEVEN_TREATMENTS_1991.map((treatment) => [
      treatment.pattern,
      treatment.beside ?? "alike",
      treatment.grainMgPerHa.toFixed(1),
      percent(lostIn1991(treatment)),
    ]),
  ),
  "late losses": markdownTable(
    ["late plants", "1 leaf stage behind", "2 stages", "4 stages", "stages not counted"],
    [0.1, 0.25, 0.5].map((share) => [
      `${percent(share)} %`,
      ...[1, 2, 4, null].map((stages) => {
        const { estimate, low, high } = lateLoss(share, stages);
        return `${percent(estimate)} (${percent(low)} to ${percent(high)})`;
      }),
    ]),
  ),
  emergence: markdownTable(
    ["what", "degree days F"],
    [
      ...Object.entries(EMERGENCE_DEGREE_DAYS_F).map(([crop, { low, estimate, high }]) => [
        crop,
        `${estimate} (${low} to ${high})`,
      ]),
      ...Object.entries(EMERGENCE_ADJUSTMENTS_F).map(([name, [low, high]]) => [
        `corn: \`${name}\` (from memory${FOR_AIR_ONLY.some((one) => one === name) ? "; by air temperature only" : ""})`,
        low === high ? `+${low}` : `${low > 0 ? "+" : ""}${low} to ${high > 0 ? "+" : ""}${high}`,
      ]),
    ],
  ),
};

const begin = (name: string): string => `<!-- table: ${name} -->\n`;
const end = "\n<!-- end -->";

if (process.env.EVENSTAND_WRITE_DOCS === "1") {
  let text = readFileSync(file, "utf8");
  for (const [name, section] of Object.entries(sections)) {
    const from = text.indexOf(begin(name)) + begin(name).length;
    text = text.slice(0, from) + section + text.slice(text.indexOf(end, from - 1));
  }
  writeFileSync(file, text);
}

describe("docs/agronomy.md", () => {
  const text = readFileSync(file, "utf8");
  it.each(Object.entries(sections))("holds the program's own table: %s", (name, section) => {
    expect(text.split(begin(name))).toHaveLength(2);
    expect(text.split(begin(name))[1]!.split(end)[0]).toBe(section);
  });

  it("names a source or a mark for every limit", () => {
    for (const { source } of Object.values(THRESHOLDS))
      expect(source).toMatch(
        /our judgement|common practice|from memory|by definition|extension advice|\d{4}/,
      );
  });
});

describe("docs/glossary.md", () => {
  it.each(CAUSES)("explains %s under its farmer's name", (cause) => {
    expect(glossary).toContain(`| ${causeName(cause, "en").title} | \`${cause}\` |`);
  });
});
