/** scout.html: the sheets to print and fill in, one page each for the map, eight spots, or three digs. */
import type { Analysis } from "../findings/analysis.ts";
import { formatQuantity } from "../quantities/format.ts";
import { convert } from "../quantities/units.ts";
import { escapeMarkup } from "../write/markup.ts";
import { sheetPage } from "../write/sheet-page.ts";
import { rowsCounted } from "./bar.ts";
import { DIGS_A_SPOT, degreesOf } from "./scout-files.ts";
import type { ScoutPlan, ScoutSpot } from "./scout-plan.ts";
import { sheetMap } from "./sheet-map.ts";
import { SHEET_STYLE } from "./sheet-style.ts";
import { findWords, whyWords } from "./spot-words.ts";

const SPOTS_A_PAGE = 8;
const DIGS_A_PAGE = 3;

export const SCOUT_CAUTIONS: readonly string[] = [
  "Seed may be treated: wear gloves when you dig, wash before you eat, and do what the seed label says.",
  "Open the furrow beside the row, not on it: put soil and seed back and firm them, so that the plants you dig between live on.",
  "Keep clear of moving machines, and of ground sprayed lately: the label says when you may walk in again.",
];

/** The sheets as one HTML page without scripts or anything from outside. */
export function scoutSheet(plan: ScoutPlan, analysis: Analysis): string {
  const { field } = analysis;
  const digs = plan.spots.filter(({ dig }) => dig);
  const pages = [
    firstPage(plan, analysis),
    ...chunks(plan.spots, SPOTS_A_PAGE).map((spots) =>
      page(
        `${escapeMarkup(field.name)} · counts`,
        spots.map((spot) => countBand(spot, plan, analysis)).join(""),
      ),
    ),
    ...chunks(digs, DIGS_A_PAGE).map((spots) =>
      page(`${escapeMarkup(field.name)} · digs`, `${DIG_HELP}${spots.map((spot) => digBand(spot)).join("")}`),
    ),
  ];
  return sheetPage(`${field.name}: where to count next`, SHEET_STYLE, pages.join("\n"));
}

function firstPage(plan: ScoutPlan, analysis: Analysis): string {
  const { field } = analysis;
  const length = `${feetAndInches(plan.rowLengthM)} (${plan.rowLengthM.toFixed(2)} m)`;
  const spacing = `${Number(convert(plan.rowSpacingM, "m", "in").toFixed(1))} in`;
  const needs = plan.needs
    .filter(({ inside, beside }) => inside + beside > 0)
    .map(
      ({ finding, title, inside, beside, already }) =>
        `<li><b>${finding}</b> ${escapeMarkup(title)}: ${inside} inside, ${beside} beside${already > 0 ? `, ${already} counted before` : ""}</li>`,
    );
  const cover = plan.spots.filter(({ finding }) => finding === null).length;
  return page(
    `${escapeMarkup(field.name)} · where to count next`,
    `${sheetMap(plan, analysis)}
<div class="two">
<div><h2>What the ${plan.spots.length} spots are for</h2>
<ul>${needs.join("")}<li>${cover} on soil zones and ground the log says nothing about</li></ul>
${plan.notes.map((note) => `<p>${escapeMarkup(note)}</p>`).join("")}</div>
<div><h2>At each spot</h2>
<ol>
<li>Lay a tape of <b>${length}</b> along the row: a thousandth of an acre in ${spacing} rows. Start where you stop, do not look for a good place.</li>
<li>Count every living plant in each row named. Write a row into each box.</li>
<li><b>Late</b>: plants two or more leaves behind their neighbours, all rows together; then how many leaves behind.</li>
<li>Nothing there? Write 0. Could not get there? Strike the spot out.</li>
</ol></div>
</div>
<div class="caution"><b>Before you start.</b> ${SCOUT_CAUTIONS.map(escapeMarkup).join(" ")}</div>
<p class="small">Type the sums into scout.csv and the digs into scout-digs.csv as they stand; name them "standCounts" and "digs" in field.json and run analyse again.</p>`,
  );
}

function countBand(spot: ScoutSpot, plan: ScoutPlan, analysis: Analysis): string {
  const rows = rowsCounted(spot.rows);
  const first = spot.rows.first;
  const boxes = [...Array(rows).keys()].map((k) =>
    box(first === null ? `row ${"abcd"[k] ?? k + 1}` : `row ${first + k}`),
  );
  const [longitude, latitude] = degreesOf(spot, analysis.field);
  return `<section class="band"><div class="number">${spot.number}</div>
<div class="where"><p><b>${escapeMarkup(findWords(spot))}</b></p>
<p>${latitude.toFixed(6)}, ${longitude.toFixed(6)} · ${escapeMarkup(whyWords(spot, plan))}${spot.dig ? " · <b>dig too</b>" : ""}</p>
<div class="boxes">${boxes.join("")}${rows > 1 ? box("sum", "strong") : ""}${box("late")}${box("leaves behind")}</div></div></section>`;
}

const DIG_HELP = `<p>Dig ${DIGS_A_SPOT} seeds in a run along the row named. Depth from the soil surface to the seed; with a plant already up, the length of the white stem between seed and crown (mesocotyl) is enough. Circle what you see.</p>`;

function digBand(spot: ScoutSpot): string {
  const choices = (words: readonly string[]): string => words.map((word) => `<span>${word}</span>`).join(" ");
  const seeds = [...Array(DIGS_A_SPOT).keys()].map(
    (k) => `<tr><th>${k + 1}</th><td></td><td></td>
<td>${choices(["none", "some", "heavy"])}</td><td>${choices(["closed", "open", "residue"])}</td><td>${choices(["dry", "fit", "damp"])}</td>
<td>${choices(["fine", "swollen", "rotted", "leafed out underground", "hollow", "none"])}</td></tr>`,
  );
  return `<section class="band"><div class="number">${spot.number}</div><div class="where"><p><b>${escapeMarkup(findWords(spot))}</b></p>
<table><thead><tr><th>seed</th><th>depth, in</th><th>meso-cotyl, in</th><th>smeared wall</th><th>furrow</th><th>moisture</th><th>state of the seed</th></tr></thead>
<tbody>${seeds.join("")}</tbody></table></div></section>`;
}

function box(label: string, kind = ""): string {
  return `<div class="box ${kind}"><span>${escapeMarkup(label)}</span></div>`;
}

function page(title: string, content: string): string {
  return `<article class="page"><header><h1>${title}</h1><p>Name ____________________ Date ______________</p></header>${content}</article>`;
}

/** "17 ft 5 in". */
function feetAndInches(lengthM: number): string {
  const inches = Math.round(convert(lengthM, "m", "in"));
  const feet = Math.floor(inches / 12);
  return inches % 12 === 0 ? formatQuantity(lengthM, "length", "farm") : `${feet} ft ${inches % 12} in`;
}

function chunks<Item>(items: readonly Item[], size: number): Item[][] {
  return Array.from({ length: Math.ceil(items.length / size) }, (_, k) =>
    items.slice(k * size, (k + 1) * size),
  );
}
