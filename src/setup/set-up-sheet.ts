/** set-up-sheet.html: what to go over on a planter before spring, to print and tick; what the season found stands first. */
import { MACHINE_CAUTION, runsOf } from "../words/finding-words.ts";
import { escapeMarkup } from "../write/markup.ts";
import { sheetPage } from "../write/sheet-page.ts";
import type { RepairItem } from "./repair-item.ts";
import { SET_UP_LINES, type SetUpLine } from "./set-up-lines.ts";
import { SET_UP_STYLE } from "./set-up-style.ts";

export interface SetUpPlanter {
  name: string;
  /** Null where no log told it: the sheet then has lines to write on. */
  rowUnits: number | null;
  /** Fields whose results it rests on. */
  fields: string[];
  items: RepairItem[];
  /** Loads of the prescriptions to begin with, one entry a soil zone of a field. */
  loads: SetUpLoad[];
}

export interface SetUpLoad {
  field: string;
  soilZone: string;
  /** As people read them, by state of the ground; "" where none is prescribed. */
  damp: string;
  fit: string;
  dry: string;
}

export const SET_UP_CAUTIONS: readonly string[] = [
  MACHINE_CAUTION,
  "Units and wings held up by hydraulics have to be locked and blocked mechanically before anyone reaches under them; pressure may stay in accumulators with the engine off.",
  "One person at the controls, in sight of the other; nobody under the bar while anything moves.",
  "The operator's manual governs: where it gives another figure than this sheet, its figure holds.",
];

/** The sheets as one HTML page without scripts or anything from outside, a planter after the other. */
export function setUpSheet(planters: readonly SetUpPlanter[]): string {
  return sheetPage("Planter set-up before spring", SET_UP_STYLE, planters.map(planterPages).join("\n"));
}

function planterPages(planter: SetUpPlanter): string {
  const { name, rowUnits, fields, items, loads } = planter;
  const named = (line: SetUpLine): RepairItem[] => items.filter(({ parts }) => parts.includes(line.part));
  // What the season's findings point at goes first; the rest keeps the order of work.
  const first = SET_UP_LINES.filter((line) => named(line).length > 0);
  const rest = SET_UP_LINES.filter((line) => named(line).length === 0);
  const marked =
    first.length === 0
      ? ""
      : `<h2>First: what the findings point at</h2>${first.map((line) => lineMarkup(line, named(line), rowUnits)).join("")}`;
  return `<article class="page"><header><h1>${escapeMarkup(name)} · set-up sheet</h1><p>Name ____________________ Date ______________</p></header>
<p class="small">From the results of ${escapeMarkup(fields.join(", ") || "no field")}. ${rowUnits === null ? "No log told its rows." : `${rowUnits} rows, numbered from the left looking forward.`} Tick what is done; write the measured figure into the box of its row.</p>
<div class="caution"><b>Before you start.</b> ${SET_UP_CAUTIONS.map(escapeMarkup).join(" ")}</div>
${foundMarkup(items)}
${loadsMarkup(loads)}
${marked}
<h2>${first.length === 0 ? "Go over" : "Then: the rest of the planter"}</h2>
${rest.map((line) => lineMarkup(line, [], rowUnits)).join("")}
</article>`;
}

function foundMarkup(items: readonly RepairItem[]): string {
  if (items.length === 0)
    return `<p><b>The findings name no row unit and no part of the planter.</b> That is no proof that it is sound: wear that does not show in a log is found by going over it.</p>`;
  const entries = items.map(
    ({ title, rowUnits, evidence, source }) =>
      `<li><b>${escapeMarkup(title)}</b> (${rowUnits.length === 0 ? "whole planter" : `row${rowUnits.length === 1 ? "" : "s"} ${runsOf(rowUnits)}`}; ${escapeMarkup(source)}). ${evidence.map((text) => escapeMarkup(sentence(text))).join(" ")}</li>`,
  );
  return `<h2>What the findings say</h2><ol class="found">${entries.join("")}</ol>`;
}

function sentence(text: string): string {
  const whole = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(whole) ? whole : `${whole}.`;
}

function loadsMarkup(loads: readonly SetUpLoad[]): string {
  if (loads.length === 0) return "";
  const rows = loads.map(
    ({ field, soilZone, damp, fit, dry }) =>
      `<tr><td>${escapeMarkup(field)}</td><td>${escapeMarkup(soilZone)}</td><td>${escapeMarkup(damp)}</td><td>${escapeMarkup(fit)}</td><td>${escapeMarkup(dry)}</td></tr>`,
  );
  return `<h2>Load on the gauge wheels to begin with, from the prescription</h2>
<table class="loads"><thead><tr><th>field</th><th>soil</th><th>damp</th><th>fit</th><th>dry</th></tr></thead><tbody>${rows.join("")}</tbody></table>`;
}

function lineMarkup(line: SetUpLine, items: readonly RepairItem[], rowUnits: number | null): string {
  const named = new Set(items.flatMap((item) => item.rowUnits));
  const isWhole = items.some((item) => item.rowUnits.length === 0);
  const who = [
    ...(named.size > 0 ? [`row${named.size === 1 ? "" : "s"} ${runsOf([...named])}`] : []),
    ...(isWhole ? ["the whole planter"] : []),
  ].join(" and ");
  return `<section class="line${items.length > 0 ? " is-marked" : ""}"><div class="tick"></div><div>
<h3>${line.title}${who === "" ? "" : `: ${who} first`}</h3>
<p>${line.how}</p>
<p><b>Limit:</b> ${line.limit} <i>(${line.source})</i>${line.perRow === null ? "" : ` <b>Write down by row:</b> ${line.perRow}`}</p>
${line.perRow === null ? placesMarkup(line.places) : rowsMarkup(line.perRow, rowUnits, named)}</div></section>`;
}

function rowsMarkup(label: string, rowUnits: number | null, named: ReadonlySet<number>): string {
  if (rowUnits === null) return placesMarkup([label, "", "", ""]);
  const boxes = Array.from({ length: rowUnits }, (_, k) => {
    const isNamed = named.has(k + 1);
    return `<div${isNamed ? ' class="is-named"' : ""}>${k + 1}${isNamed ? "!" : ""}</div>`;
  });
  return `<div class="rows">${boxes.join("")}</div>`;
}

function placesMarkup(places: readonly string[]): string {
  return `<div class="places">${places.map((place) => `<div>${place}</div>`).join("")}</div>`;
}
