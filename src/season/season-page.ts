/** The season's page: one file that opens by double click, a field's own report behind each entry. */
import {
  formatMoney,
  formatPercent,
  formatQuantity,
  groupThousands,
  unitLabel,
} from "../quantities/format.ts";
import { MACHINE_CAUTION } from "../words/finding-words.ts";
import { escapeMarkup } from "../write/markup.ts";
import type { KeptField } from "./field-result.ts";
import type { Repair } from "./repairs.ts";
import type { Season, SeasonDocument } from "./season-document.ts";
import { seasonMap } from "./season-map.ts";
import { methodParagraphs } from "./season-method.ts";
import {
  costSentence,
  counted,
  dayWords,
  departureWords,
  driverWords,
  evidenceWords,
  fieldsWhereWrong,
  lotWords,
  moneyRange,
  namesOf,
  neglectWords,
  repairWords,
  seasonHeadline,
  slopeLines,
  soilWords,
  wantedLines,
} from "./season-words.ts";
import { unitStrip } from "./unit-strip.ts";

const UNITS = "farm";
const PLACE = '<div id="season"></div>';
const TITLE = "<title>Evenstand season</title>";

/** Parts of a page, in their order. */
const PARTS = [
  "repairs",
  "ledger",
  "driving",
  "prescribed",
  "map",
  "fields",
  "left-out",
  "to-know",
  "method",
] as const;
type Part = (typeof PARTS)[number];

/** What a grower is handed: what was found on the own fields, not how planters and drivers compare. */
const GROWER_PARTS: readonly Part[] = ["ledger", "map", "fields", "left-out"];

export interface PageChoices {
  /** Ids of the fields that have a report. */
  linked: ReadonlySet<string>;
  /** A summary for one grower, one folder further down, in place of the season's page. */
  forGrower?: boolean;
}

/**
 * @param template text of the built template
 * @throws {Error} where the template does not hold one place for the content
 */
export function seasonPage(template: string, { document, kept }: Season, choices: PageChoices): string {
  const [before, after, ...more] = template.split(PLACE);
  if (before === undefined || after === undefined || more.length > 0)
    throw new Error("the season's template does not have one place for its content");
  const title = `<title>${escapeMarkup(document.name)}: the season</title>`;
  return before.replace(TITLE, () => title) + content(document, kept, choices) + after;
}

function content(
  document: SeasonDocument,
  kept: readonly KeptField[],
  { linked, forGrower = false }: PageChoices,
): string {
  const said = [document.season, counted(document.fields.length, "field"), area(document.areaHa)];
  const bodies: Record<Part, [title: string, body: () => string]> = {
    repairs: ["Before next spring", () => repairSection(document)],
    ledger: ["The ledger of the season", () => ledgerSection(document)],
    driving: ["Driving", () => drivingSection(document)],
    prescribed: ["Prescribed, and what came of it", () => prescribedSection(document)],
    map: ["Where the fields lie", () => mapSection(kept)],
    fields: ["Field by field", () => fieldsSection(document, linked, forGrower ? "../fields" : "fields")],
    "left-out": ["Left out", () => leftOutSection(document)],
    "to-know": ["To know", () => notesSection(document)],
    method: ["How it was worked out", () => methodSection(document)],
  };
  const sections = (forGrower ? GROWER_PARTS : PARTS)
    .map((id) => ({ id, title: bodies[id][0], body: bodies[id][1]() }))
    .filter(({ body }) => body !== "");
  const jumps = sections.map(({ id, title }) => `<a href="#${id}">${title}</a>`).join("");
  const parts = sections.map(
    ({ id, title, body }) =>
      `<section id="${id}"${id === "repairs" ? ' class="ledger"' : id === "method" ? ' class="methods"' : ""}><h2>${title}</h2>${body}</section>`,
  );
  const headline = forGrower ? costSentence(document, UNITS) : seasonHeadline(document, UNITS);
  return `<header class="top"><span class="brand">Evenstand</span><h1>${escapeMarkup(document.name)}<span class="field-said">${said.filter(Boolean).join(" · ")}</span></h1></header>
<main class="season-page${forGrower ? " grower-page" : ""}">
<section class="season-head"><p class="headline-sentence">${escapeMarkup(headline)}</p>
<nav class="season-jump" aria-label="Parts of the page">${jumps}</nav></section>
${parts.join("\n")}
<p class="season-foot">Made on this computer; nothing was sent anywhere. Letters: Source Sans 3, SIL Open Font License 1.1.</p>
</main>
`;
}

function repairSection(document: SeasonDocument): string {
  const { repairs, units, fields } = document;
  if (units.length === 0)
    return "<p>Nothing can be said of single row units: it takes records by row unit from three fields of a planter or more.</p>";
  if (repairs.length === 0)
    return `<p>No row unit lies apart from its bar over ${counted(fields.length, "field")}, as far as the logs can tell.</p>`;
  const planters = [...new Set(repairs.map(({ planter }) => planter))];
  const lists = planters.map((planter) => {
    const own = repairs.filter((repair) => repair.planter === planter);
    return `<h3 class="planter-name">${escapeMarkup(planter)}</h3><ol class="entries">${own.map((repair) => repairEntry(repair, document)).join("")}</ol>`;
  });
  return `<p class="caution">${escapeMarkup(MACHINE_CAUTION)} What to look at is common practice; the manual and your mechanic know better.</p>${lists.join("")}`;
}

function repairEntry(repair: Repair, document: SeasonDocument): string {
  const { rowUnit, evidence, money } = repair;
  const first = evidence[0]!;
  const label = new Map(document.fields.map((field) => [field.id, field.label]));
  const out = fieldsWhereWrong(first).map((id) => label.get(id) ?? id);
  const price = money
    ? `<span class="money">${escapeMarkup(formatMoney(money.estimate, money.currency))} <span class="range">${moneyRange(money)}</span></span>`
    : "";
  const seen = evidence.map((effect) => `<li>${escapeMarkup(evidenceWords(effect, UNITS))}</li>`).join("");
  const where =
    out.length > 0
      ? `<details><summary>The ${counted(out.length, "field")} where it stood out</summary><p class="small">${escapeMarkup(out.join(", "))}</p></details>`
      : "";
  return `<li class="entry"><span class="entry-number">${rowUnit}</span>
<span class="entry-head"><span class="entry-title">Row unit ${rowUnit}: ${escapeMarkup(departureWords(first, UNITS))}</span>${price}</span>
<ul>${seen}</ul>
<figure class="unit-strip">${unitStrip(first)}<figcaption class="small">Each dot is a field, in order of planting; shaded is what does not matter.</figcaption></figure>
<p class="entry-do">${escapeMarkup(repairWords(repair))}</p>
<p class="small">${escapeMarkup(neglectWords(repair))}</p>${where}</li>`;
}

function ledgerSection({ ledger, money, fields }: SeasonDocument): string {
  if (ledger.length === 0)
    return "<p>No field has a finding. That speaks of what each field's report says was judged, and of no field left out.</p>";
  const most = Math.max(...ledger.map((entry) => entry.money?.estimate ?? 0));
  const rows = ledger.map(
    (entry) => `<tr><td class="name">${escapeMarkup(entry.title)}</td>
<td class="figure">${entry.money ? escapeMarkup(formatMoney(entry.money.estimate, entry.money.currency)) : "–"}</td>
<td class="figure spare">${entry.money ? moneyRange(entry.money) : ""}</td>
<td class="spare">${bar(most > 0 ? (entry.money?.estimate ?? 0) / most : 0)}</td>
<td class="figure">${entry.fields.length} of ${fields.length}</td>
<td class="spare">${bar(entry.fields.length / fields.length)}</td>
<td class="figure">${area(entry.areaHa)}</td></tr>`,
  );
  const total = money
    ? `<p>All fields together: <strong>${escapeMarkup(formatMoney(money.estimate, money.currency))}</strong> (${moneyRange(money)}; ground under two findings counted once). The limits are sums of the fields' limits, as if all erred the same way.</p>`
    : "";
  return `<div class="wide"><table><thead><tr><th>what</th><th class="figure">money</th><th class="figure spare">from, to</th><th class="spare"><span class="visually-hidden">money, drawn</span></th><th class="figure">fields</th><th class="spare"><span class="visually-hidden">fields, drawn</span></th><th class="figure">ground</th></tr></thead><tbody>${rows.join("")}</tbody></table></div>${total}`;
}

function bar(share: number): string {
  return `<svg class="bar" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true"><rect width="${(100 * share).toFixed(1)}" height="8"/></svg>`;
}

function drivingSection(document: SeasonDocument): string {
  const { drivers, bands, soils, lots, days, operators, tests } = document;
  const isSure = ({ qValue }: { qValue: number | null }): boolean =>
    qValue !== null && qValue <= tests.falseShare;
  const lines = [
    ...drivers.map((effect) => driverWords(effect, UNITS)),
    ...(operators.length > 0 && drivers.length === 0
      ? ["No driver stands apart from the others in speed, skips, doubles or load."]
      : []),
    ...days.filter((day) => day.matters && isSure(day)).map((day) => dayWords(day, UNITS)),
    ...slopeLines(document, UNITS),
  ];
  const list =
    lines.length > 0 ? `<ul>${lines.map((line) => `<li>${escapeMarkup(line)}</li>`).join("")}</ul>` : "";
  return (
    list +
    bandTable(bands) +
    foldedList(
      "By soil",
      soils.filter(isSure).map((soil) => soilWords(soil, UNITS)),
    ) +
    foldedList("By seed lot", lots.filter(isSure).map(lotWords))
  );
}

function bandTable(bands: SeasonDocument["bands"]): string {
  if (bands.length < 2) return "";
  const label = unitLabel("speed", UNITS);
  const percent = (value: number | null): string => (value === null ? "–" : formatPercent(value, 1));
  const rows = bands.map(({ from, to, areaHa, misses, multiples, noLoad }) => {
    const [low, high] = [from, to].map(
      (value) => value && formatQuantity(value, "speed", UNITS).replace(` ${label}`, ""),
    );
    const name = !low ? `below ${high}` : !high ? `${low} and more` : `${low} to ${high}`;
    return `<tr><td class="name">${name} ${label}</td><td class="figure">${area(areaHa)}</td><td class="figure">${percent(misses)}</td><td class="figure">${percent(multiples)}</td><td class="figure">${percent(noLoad)}</td></tr>`;
  });
  return `<div class="wide"><table><thead><tr><th>speed of the pass</th><th class="figure">ground</th><th class="figure">skips</th><th class="figure">doubles</th><th class="figure">without load</th></tr></thead><tbody>${rows.join("")}</tbody></table></div><p class="small">Plain means over all fields: soil and planter differ between the lines. The sentences above compare within a field.</p>`;
}

function foldedList(title: string, lines: readonly string[]): string {
  if (lines.length === 0) return "";
  return `<details><summary>${title}</summary><ul>${lines.map((line) => `<li>${escapeMarkup(line)}</li>`).join("")}</ul></details>`;
}

/** What the manifests say was prescribed, beside what the planters carried. */
function prescribedSection({ prescribed }: SeasonDocument): string {
  if (prescribed.length === 0) return "";
  const load = (newtons: number): string => formatQuantity(newtons, "force", UNITS);
  const rows = prescribed.map(({ soil, fields, areaHa, askedN, carriedN, noLoadShare, off }) => {
    const range = off ? `${load(off.difference.low)} to ${load(off.difference.high)}` : "–";
    return `<tr><td class="name">${escapeMarkup(soil)}</td><td class="figure">${fields}</td><td class="figure spare">${area(areaHa)}</td><td class="figure">${load(askedN)}</td><td class="figure">${load(carriedN)}</td><td class="figure spare">${range}</td><td class="figure">${noLoadShare === null ? "–" : formatPercent(noLoadShare, 1)}</td></tr>`;
  });
  return `<div class="wide"><table><thead><tr><th>soil</th><th class="figure">fields</th><th class="figure spare">ground</th><th class="figure">asked for</th><th class="figure">carried</th><th class="figure spare">carried above it, from, to</th><th class="figure">without load</th></tr></thead><tbody>${rows.join("")}</tbody></table></div><p class="small">Load on the gauge wheels, means by ground, of the fields whose field.json says what was prescribed ("prescription": { "last": ... }). The range is the 90 % interval over the fields, from three fields on.</p>`;
}

function mapSection(kept: readonly KeptField[]): string {
  const map = seasonMap(kept);
  return map === ""
    ? ""
    : `<figure class="season-map">${map}<figcaption class="small">A ring's area goes with the field's loss; the costliest carry their names. Each leads to its line below.</figcaption></figure>`;
}

function fieldsSection({ fields }: SeasonDocument, linked: ReadonlySet<string>, folder: string): string {
  const sorted = [...fields].sort(
    (a, b) => (b.money?.estimate ?? -1) - (a.money?.estimate ?? -1) || b.findings - a.findings,
  );
  const rows = sorted.map((field) => {
    const { id, label, areaHa, money, findings, planted, planter, sentence } = field;
    const name = linked.has(id)
      ? `<a href="${folder}/${encodeURIComponent(id)}/report.html">${escapeMarkup(label)}</a>`
      : escapeMarkup(label);
    const price = money ? escapeMarkup(formatMoney(money.estimate, money.currency)) : "–";
    return `<tr id="field-${id}"><td class="name">${name}</td><td class="figure">${price}</td><td class="figure spare">${findings}</td><td class="figure spare">${area(areaHa)}</td><td class="figure spare">${planted ?? "–"}</td><td class="spare">${escapeMarkup(planter)}</td><td>${escapeMarkup(sentence)}</td></tr>`;
  });
  return `<div class="wide"><table><thead><tr><th>field</th><th class="figure">money</th><th class="figure spare">findings</th><th class="figure spare">ground</th><th class="figure spare">planted</th><th class="spare">planter</th><th>in short</th></tr></thead><tbody>${rows.join("")}</tbody></table></div>`;
}

function leftOutSection({ leftOut }: SeasonDocument): string {
  if (leftOut.length === 0) return "";
  const items = leftOut.map(({ label, path, reason }) => {
    const name = label === path ? label : `${label} (${path})`;
    return `<li><strong>${escapeMarkup(name)}</strong>: ${escapeMarkup(reason)}</li>`;
  });
  return `<p>${counted(leftOut.length, "field")} could not be counted in; nothing above speaks of them.</p><ul>${items.join("")}</ul>`;
}

function notesSection(document: SeasonDocument): string {
  const lines = wantedLines(document);
  const wanted =
    lines.length > 0
      ? `<p>Not said, and would tell more; answer once under "defaults" in season.json:</p><pre>${escapeMarkup(lines.join("\n"))}</pre>`
      : "";
  const notes = document.notes.map((note) => `<li>${escapeMarkup(note)}</li>`).join("");
  return wanted + (notes ? `<ul>${notes}</ul>` : "");
}

function methodSection(document: SeasonDocument): string {
  const growers = [...new Set(document.fields.map(({ grower }) => grower).filter((name) => name !== null))];
  const whose = growers.length > 0 ? `<p>Growers: ${escapeMarkup(namesOf(growers, 12))}.</p>` : "";
  const tests = `<p>${groupThousands(String(document.tests.count))} tests were held together.</p>`;
  return (
    whose +
    methodParagraphs(document.tests.falseShare)
      .map((text) => `<p>${escapeMarkup(text)}</p>`)
      .join("") +
    tests
  );
}

function area(areaHa: number): string {
  return formatQuantity(areaHa, "area", UNITS);
}
