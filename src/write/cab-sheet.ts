/** cab-sheet.html: one printed page for the cab. What to mend first, the loads by zone, the day's checks, cautions. */
import {
  type Advice,
  type Guard,
  isForceChannel,
  type Prescription,
  type ZoneDecision,
} from "../prescription/prescription.ts";
import { formatNumber, formatQuantity, type UnitSystem, unitLabel } from "../quantities/format.ts";
import { writingIn } from "../texts/language.ts";
import type { LocalFrame } from "../vocabulary/field.ts";
import { MOISTURES, type Moisture } from "../vocabulary/moisture.ts";
import {
  channelText,
  GRADE_WORDS,
  OUTCOME_WORDS,
  type PrescriptionRow,
  prescriptionRows,
  SQUEEZE_TEST,
  shortReason,
} from "../words/prescription-rows.ts";
import { cabSheetMap } from "./cab-sheet-map.ts";
import { CAB_SHEET_STYLE } from "./cab-sheet-style.ts";
import { fieldPosition } from "./field-position.ts";
import { escapeMarkup } from "./markup.ts";
import { sheetPage } from "./sheet-page.ts";

/** Guards on the drawing of zones: of no use in the cab, they stand in prescription.json. */
const GROUND_GUARDS =
  /^(smallest-area|smallest-width|most-|zone-length|whole-field|proof-|partition|outline)/;
/** Height of the page that the parts may take, and of the parts at full size, mm; measured on printed sheets. */
const PAGE_MM = 234;
const PARTS_MM = { fixed: 145, line: 4.4, zone: 15.5, nameLine: 5 };
/** Letters in a line over the whole width and over half of it. */
const LETTERS = { whole: 112, half: 52, name: 15 };
const SMALLEST_ZOOM = 0.7;

/** How much smaller all has to be set so that one page holds it. */
function zoomFor(prescription: Prescription): string {
  const { advice, decisions, channel, guards, cautions } = prescription;
  const lines = (texts: readonly string[], letters: number): number =>
    texts.reduce((sum, text) => sum + Math.ceil(text.length / letters), 0);
  const firstWords = advice.filter(isFirst).map(({ words: text }) => text);
  const left = [channel.reason ?? channel.formula, ...guards.filter(isForCab).map(({ words: text }) => text)];
  const right = advice.filter((entry) => !isFirst(entry)).map(({ words: text }) => text);
  const strips = prescription.zones.filter(({ proofStrip }) => proofStrip).length;
  const height =
    PARTS_MM.fixed +
    PARTS_MM.zone * decisions.length +
    PARTS_MM.nameLine *
      (lines(
        decisions.map(({ soilZone }) => soilZone),
        LETTERS.name,
      ) -
        decisions.length) +
    PARTS_MM.line *
      (lines(firstWords.slice(0, MOST_FIRST), LETTERS.whole) +
        lines([cautions.join(" ")], LETTERS.whole) +
        Math.max(lines(left, LETTERS.half) + 2, lines(right, LETTERS.half) + 3 + strips));
  // Smaller type takes fewer lines, so that the root is enough; a little less to be on the safe side.
  return Math.max(SMALLEST_ZOOM, Math.min(1, 0.985 * Math.sqrt(PAGE_MM / height))).toFixed(3);
}

function isFirst({ kind }: Advice): boolean {
  return kind === "repair" || kind === "speed" || kind === "depth";
}

function isForCab({ code, result }: Guard): boolean {
  return result !== "kept" && !GROUND_GUARDS.test(code);
}

/** Entries of a list that a page has room for; the rest is counted and stands in prescription.json. */
const MOST_FIRST = 4;

/** The sheet as one HTML page without scripts or anything from outside. */
export function cabSheet(prescription: Prescription, frame: LocalFrame, units: UnitSystem = "farm"): string {
  const { field, settings } = prescription;
  const rows = prescriptionRows(prescription);
  const name = escapeMarkup(field.name);
  return sheetPage(
    `${field.name}: down force, ${settings.moisture} ground`,
    CAB_SHEET_STYLE,
    `<article class="page" style="--zoom:${zoomFor(prescription)}">
<header><div><h1>${name} · down force</h1><p>${[field.season === null ? null : `from the ${field.season} log`, formatQuantity(field.areaHa, "area", units)].filter((part) => part !== null).join(" · ")} · ${fieldPosition(prescription, frame)}</p></div><div class="picked">${settings.moisture.toUpperCase()} ground</div></header>
${first(prescription)}
<div class="split top"><div>${cabSheetMap(prescription, units)}
<p class="small">On the map: ${mapWords(prescription, units)}, ${settings.moisture} ground. Hatched: proof strip.</p></div>
<div>${squeeze(settings.moisture)}</div></div>
<div class="table">${loads(rows, prescription, units)}</div>
<div class="split"><div>${machine(prescription, units)}</div><div>${digs(prescription)}${proof(prescription, rows, units)}</div></div>
<div class="caution small"><b>Cautions.</b> ${prescription.cautions.map(escapeMarkup).join(" ")}</div>
</article>`,
  );
}

function first({ advice }: Prescription): string {
  const entries = advice.filter(isFirst);
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

/** What to key in, largest of all; the load behind it and the other states of the ground small beside it. */
function loads(rows: readonly PrescriptionRow[], prescription: Prescription, units: UnitSystem): string {
  const { moisture } = prescription.settings;
  const { quantity } = prescription.channel;
  const isForce = isForceChannel(quantity);
  const figure = (newtons: number): string => formatNumber(newtons, "force", units);
  const others = MOISTURES.filter((state) => state !== moisture);
  const unit = quantity === "pressure" ? pressureUnit(units) : unitLabel("force", units);
  const body = rows.map(({ decision, numbers, rates }) => {
    const { lowN, highN } = decision.best[moisture];
    const today = decision.currentMarginN === null ? "not logged" : figure(decision.currentMarginN);
    const last = decision.lastAdvisedN === null ? "" : `, advised last year ${figure(decision.lastAdvisedN)}`;
    const keyed = isForce
      ? rates
        ? channelText(rates, prescription, writingIn(units)).split(" ")[0]!
        : "\u2013"
      : figure(rates?.marginN ?? decision.prescribedN[moisture]);
    return `<tr><td class="name">${numbers.length > 0 ? `<span class="number">${numbers.join(", ")}</span> ` : ""}${escapeMarkup(decision.soilZone)}<small>${formatQuantity(decision.areaHa, "area", units)} · today ${today}${last}</small></td>
<td class="key">${keyed}</td>${isForce ? `<td class="load">${figure(rates?.marginN ?? decision.prescribedN[moisture])}</td>` : ""}
${others.map((state) => `<td class="load">${figure(decision.prescribedN[state])}</td>`).join("")}
<td class="load">${figure(lowN)}\u2013${figure(highN)}</td>
<td class="why"><b>${decision.outcome === "held-back" ? "HELD BACK" : `${capital(OUTCOME_WORDS[decision.outcome])} · ${GRADE_WORDS[decision.grade]}`}.</b> ${escapeMarkup(shortReason(decision, writingIn(units)))}${notMended(decision)}</td></tr>`;
  });
  const load = unitLabel("force", units);
  const title = quantity === null ? `LOAD, ${unit}` : `KEY IN, ${unit}`;
  return `<table class="loads"><thead><tr><th>No. and zone</th><th class="is-head is-key">${title}<small>${moisture} ground</small></th>${isForce ? `<th class="is-head">load behind it, ${load}</th>` : ""}${others.map((state) => `<th class="is-head">load if ${state}, ${load}</th>`).join("")}<th class="is-head">as good, ${load}</th><th>why</th></tr></thead><tbody>${body.join("")}</tbody></table>
<p class="small">${capital(mapWords(prescription, units))}. Load: on the gauge wheels of one row unit. As good: loads as good as the best on ${moisture} ground, before limits on the step.</p>`;
}

function notMended({ notMended: entries, place }: ZoneDecision): string {
  if (entries.length === 0) return "";
  const partly = entries.some(({ finding }) => finding === place);
  return ` ${partly ? "Not wholly mended this season" : "Not mended by it"}: ${entries.map(({ finding }) => finding).join(", ")}.`;
}

function pressureUnit(units: UnitSystem): string {
  return units === "farm" ? "psi" : "kPa";
}

const CHANNEL_WORDS = {
  margin: "load on the gauge wheels (margin)",
  "added-force": "force added to one row unit",
  pressure: "pressure of the down-force system",
};

/** What the numbers on the map are. */
function mapWords({ channel: { quantity } }: Prescription, units: UnitSystem): string {
  return isForceChannel(quantity)
    ? `what the machine is told: ${CHANNEL_WORDS[quantity]}, ${quantity === "pressure" ? pressureUnit(units) : unitLabel("force", units)}`
    : `load on the gauge wheels, ${unitLabel("force", units)}`;
}

function machine(prescription: Prescription, units: UnitSystem): string {
  const { channel, defaults, guards } = prescription;
  const gave = guards.filter(isForCab).map(({ words: text }) => escapeMarkup(text));
  const quantity =
    prescription.withheld !== null
      ? `<p><b>No file of rates is written:</b> ${escapeMarkup(prescription.withheld)}.</p>`
      : channel.quantity === null
        ? `<p><b>No file for the machine.</b> ${escapeMarkup(capital(channel.reason ?? ""))}</p>`
        : `<p><b>It takes: ${CHANNEL_WORDS[channel.quantity]}.</b> ${escapeMarkup(capital(channel.formula))}.</p>
<p>Elsewhere: in the field ${channelText(defaults.inside, prescription, writingIn(units))}, outside ${channelText(defaults.outside, prescription, writingIn(units))}, position lost ${channelText(defaults.lostPosition, prescription, writingIn(units))}.</p>`;
  return `<h2>The machine's channel</h2><div class="small">${quantity}${gave.length > 0 ? `<p><b>Limits:</b> ${gave.join(" ")}</p>` : ""}</div>`;
}

function proof(prescription: Prescription, rows: readonly PrescriptionRow[], units: UnitSystem): string {
  const strips = rows.flatMap(({ decision, strips: numbers }) =>
    numbers.map((number) => {
      const zone = prescription.zones.find((candidate) => candidate.number === number)!;
      return `<li>no. ${number} on ${escapeMarkup(decision.soilZone)}: ${channelText(zone.rates, prescription, writingIn(units))}</li>`;
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
