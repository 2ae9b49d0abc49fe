/** cab-sheet.html: one printed page for the cab. What to mend first, the loads by zone, the day's checks, cautions. */

import type { LocalFrame } from "../field/field.ts";
import { formatNumber, formatQuantity, type UnitSystem, unitLabel } from "../format.ts";
import { labelPlace } from "../numerics/label-point.ts";
import { type Advice, MOISTURES, type Moisture, type Prescription } from "../prescription/prescription.ts";
import {
  channelText,
  GRADE_WORDS,
  OUTCOME_WORDS,
  type PrescriptionRow,
  prescriptionRows,
  SQUEEZE_TEST,
} from "../report/prescription-rows.ts";
import { cabSheetMap } from "./cab-sheet-map.ts";
import { CAB_SHEET_STYLE } from "./cab-sheet-style.ts";
import { escapeMarkup } from "./markup.ts";

/** From so many soil zones on type is set smaller to keep the page one. */
const MANY = 6;
/** Entries of a list that a page has room for; the rest is counted and stands in prescription.json. */
const MOST_FIRST = 4;

/** The sheet as one HTML page without scripts or anything from outside. */
export function cabSheet(prescription: Prescription, frame: LocalFrame, units: UnitSystem = "farm"): string {
  const { field, settings } = prescription;
  const rows = prescriptionRows(prescription);
  const name = escapeMarkup(field.name);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${name}: down force, ${settings.moisture} ground</title>
<style>${CAB_SHEET_STYLE}</style>
</head>
<body>
<article class="page${rows.length >= MANY ? " many" : ""}">
<header><div><h1>${name} · down force</h1><p>${[field.season, formatQuantity(field.areaHa, "area", units), `learnt from the log and counts of the last season`].filter((part) => part !== null).join(" · ")} · ${place(prescription, frame)}</p></div><div class="picked">${settings.moisture.toUpperCase()} ground</div></header>
${first(prescription)}
<div class="split top"><div>${cabSheetMap(prescription, units)}
<p class="small">Number on the map: load on the gauge wheels, ${unitLabel("force", units)}, ${settings.moisture} ground. Hatched: proof strip.</p></div>
<div>${squeeze(settings.moisture)}${digs(prescription)}</div></div>
<div class="table">${loads(rows, prescription, units)}</div>
<div class="split"><div>${machine(prescription, units)}</div><div>${proof(prescription, rows, units)}</div></div>
<div class="caution small"><b>Cautions.</b> ${prescription.cautions.map(escapeMarkup).join(" ")}</div>
</article>
</body>
</html>
`;
}

/** Where the field is, so that a sheet is not taken for another field's. */
function place({ zones }: Prescription, frame: LocalFrame): string {
  const found = labelPlace(zones[0]?.polygon ?? []);
  if (!found) return "";
  const [longitude, latitude] = frame.toLonLat(...found.place);
  return `${latitude.toFixed(4)}, ${longitude.toFixed(4)}`;
}

function first({ advice }: Prescription): string {
  const entries = advice.filter(({ kind }) => kind === "repair" || kind === "speed" || kind === "depth");
  if (entries.length === 0) return "";
  const more = entries.length - MOST_FIRST;
  return `<section class="first"><h2>Settle first, before any load is changed</h2><ul>${entries
    .slice(0, MOST_FIRST)
    .map((entry) => `<li>${words(entry)}</li>`)
    .join("")}${more > 0 ? `<li>and ${more} more in prescription.json</li>` : ""}</ul></section>`;
}

function words({ finding, words: text }: Advice): string {
  return `${finding === null ? "" : `<b>${escapeMarkup(finding)}</b> `}${escapeMarkup(text)}`;
}

function squeeze(picked: Moisture): string {
  const line = (state: keyof typeof SQUEEZE_TEST, label: string): string =>
    `<tr${state === picked ? ' class="is-picked"' : ""}><td>${label}</td><td>${SQUEEZE_TEST[state]}</td></tr>`;
  return `<h2>On the day: squeeze soil from seed depth</h2>
<table class="squeeze"><tbody>${MOISTURES.map((state) => line(state, state.toUpperCase())).join("")}${line("putty", "WAIT")}</tbody></table>
<p class="small">Files and map are for ${picked} ground. Another answer: use its column below by hand, or write the files again.</p>`;
}

function digs({ advice }: Prescription): string {
  const entries = advice.filter(({ kind }) => kind === "dig");
  if (entries.length === 0) return "";
  return `<h2>Dig before you go on</h2><ul class="small">${entries.map((entry) => `<li>${words(entry)}</li>`).join("")}</ul>`;
}

function loads(rows: readonly PrescriptionRow[], prescription: Prescription, units: UnitSystem): string {
  const { moisture } = prescription.settings;
  const { quantity } = prescription.channel;
  const isForce = quantity === "added-force" || quantity === "pressure";
  const figure = (newtons: number): string => formatNumber(newtons, "force", units);
  const body = rows.map(({ decision, numbers, rates }) => {
    const { lowN, highN } = decision.best[moisture];
    const heldBack = decision.heldBackBy.map(({ words: why }) => escapeMarkup(why)).join("; ");
    const today = decision.currentMarginN === null ? "not logged" : figure(decision.currentMarginN);
    const last = decision.lastAdvisedN === null ? "" : `, advised last year ${figure(decision.lastAdvisedN)}`;
    const isHeld = decision.outcome === "held-back";
    return `<tr><td class="name">${escapeMarkup(decision.soilZone)}<small>${numbers.length > 0 ? `no. ${numbers.join(", ")} · ` : ""}${formatQuantity(decision.areaHa, "area", units)}</small><small>today ${today}${last}</small></td>
${MOISTURES.map((state) => `<td class="load${state === moisture ? " is-picked" : ""}">${figure(decision.prescribedN[state])}</td>`).join("")}
<td>${figure(lowN)}\u2013${figure(highN)}</td>${isForce ? `<td class="machine">${rates ? channelText(rates, prescription, units) : "\u2013"}</td>` : ""}
<td class="why"><b>${isHeld ? "HELD BACK" : `${capital(OUTCOME_WORDS[decision.outcome])} · ${GRADE_WORDS[decision.grade]}`}</b>${isHeld && heldBack ? `Today's load stays: ${heldBack}.` : escapeMarkup(decision.reason)}</td></tr>`;
  });
  return `<table class="loads"><thead><tr><th>Zone</th>${MOISTURES.map((state) => `<th>${state === moisture ? state.toUpperCase() : state}</th>`).join("")}<th>range, ${moisture}</th>${isForce ? "<th>machine</th>" : ""}<th>why</th></tr></thead><tbody>${body.join("")}</tbody></table>
<p class="small">Load on the gauge wheels in ${unitLabel("force", units)}. Range: loads as good as the best, before limits on the step.</p>`;
}

function machine(prescription: Prescription, units: UnitSystem): string {
  const { channel, defaults, guards } = prescription;
  const title = {
    margin: "load on the gauge wheels (margin)",
    "added-force": "added force, a row unit",
    pressure: "pressure of the down-force system",
  };
  const gave = guards.filter(({ result }) => result !== "kept").map(({ words: text }) => escapeMarkup(text));
  const quantity =
    channel.quantity === null
      ? `<p><b>No file for the machine.</b> ${escapeMarkup(channel.reason ?? "")}</p>`
      : `<p><b>It takes: ${title[channel.quantity]}.</b> ${escapeMarkup(channel.formula)}</p>
<p>Elsewhere: in the field ${channelText(defaults.inside, prescription, units)}, outside ${channelText(defaults.outside, prescription, units)}, position lost ${channelText(defaults.lostPosition, prescription, units)}.</p>`;
  return `<h2>The machine's channel</h2><div class="small">${quantity}${gave.length > 0 ? `<p><b>Limits:</b> ${gave.join(" ")}</p>` : ""}</div>`;
}

function proof(prescription: Prescription, rows: readonly PrescriptionRow[], units: UnitSystem): string {
  const strips = rows.flatMap(({ decision, strips: numbers }) =>
    numbers.map((number) => {
      const zone = prescription.zones.find((candidate) => candidate.number === number)!;
      return `<li>no. ${number} on ${escapeMarkup(decision.soilZone)}: ${channelText(zone.rates, prescription, units)}</li>`;
    }),
  );
  const tests = prescription.advice
    .filter(({ kind }) => kind === "test-strip")
    .map((entry) => `<li>${words(entry)}</li>`);
  if (strips.length + tests.length === 0) return "";
  return `<h2>Proof for next year</h2><div class="small">${strips.length > 0 ? "<p>Left at today's setting (hatched): plant them so, then count inside and beside.</p>" : ""}<ul>${[...strips, ...tests].join("")}</ul></div>`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
