/** What the strips show, as one screen of text. */
import type { Estimate } from "../numerics/estimate.ts";
import { formatMoney, formatPercent, formatQuantity, type UnitSystem } from "../quantities/format.ts";
import { MACHINE_CAUTION } from "../words/finding-words.ts";
import { wrapped } from "../words/wrapped-text.ts";
import type { ProofResult, ProofSide, ProofStripResult } from "./proof-result.ts";

/** @param width columns of the terminal */
export function proofText(result: ProofResult, width: number, units: UnitSystem = "farm"): string {
  const lines: string[] = [];
  const say = (text: string, lead = "", hang = 2): void => {
    lines.push(...wrapped(text, width, lead, hang));
  };
  say(proofHeadline(result, units), "", 0);
  for (const strip of result.strips) {
    lines.push("");
    say(`STRIP: ZONE ${strip.zone}, ${strip.soil}`);
    lines.push(...tableOf(strip, units));
    if (strip.gain)
      say(
        `Of every hundred plants wanted ${moreOrFewer(strip.gain.estimate)} stand beside it (${rangeWords(strip.gain)}).`,
      );
    if (strip.carriedOut !== null) say(carriedWords(strip.carriedOut));
  }
  lines.push("");
  if (result.toCount.length > 0) say(countWords(result));
  for (const note of result.notes) say(note);
  say(MACHINE_CAUTION);
  return `${lines.join("\n")}\n`;
}

/** The verdict in one or two sentences. */
export function proofHeadline(result: ProofResult, units: UnitSystem): string {
  const { verdict, gain, countsToShow } = result;
  switch (verdict) {
    case "gained":
      return `It paid, as far as these strips tell: ${standWords(gain!)}.${worthWords(result, units)}`;
    case "lost":
      return `It did not pay: ${standWords(gain!)}.${worthWords(result, units)} Do not carry the new loads on before you know why.`;
    case "not-shown":
      return `Not shown either way: ${standWords(gain!)}. Three plants more in a hundred would show from about ${countsToShow} counts in the strips and as many beside them.`;
    case "too-few":
      return "It cannot be said yet: too few counts lie in the strips or beside them.";
    case "not-carried":
      return "The machine did not do what was asked: strips and ground beside them carried much the same load, so the stand says nothing of the loads. Look at the channel, the file on the terminal and whether the prescription was switched on.";
  }
}

function standWords(gain: Estimate): string {
  return `of every hundred plants wanted ${moreOrFewer(gain.estimate)} stand where the load was changed than in the strips left at the old load (${rangeWords(gain)})`;
}

/** "0.4 to 3.8 more", "2.0 fewer to 4.0 more". */
function rangeWords({ low, high }: Estimate): string {
  if (low < 0 !== high < 0) return `${moreOrFewer(low)} to ${moreOrFewer(high)}`;
  const [least, most] = low < 0 ? [high, low] : [low, high];
  return `${points(least)} to ${moreOrFewer(most)}`;
}

function moreOrFewer(share: number): string {
  return `${points(share)} ${share < 0 ? "fewer" : "more"}`;
}

function points(share: number): string {
  return Math.abs(100 * share).toFixed(1);
}

/** What the gain or loss comes to; nothing where it is not priced. */
function worthWords({ verdict, money, yieldShare, areaHa }: ProofResult, units: UnitSystem): string {
  const sized = <T extends Estimate>({ estimate, low, high }: T): [number, number, number] =>
    verdict === "lost" ? [-estimate, -high, -low] : [estimate, low, high];
  if (money) {
    const [about, least, most] = sized(money).map((value) => formatMoney(value, money.currency));
    const ground = formatQuantity(areaHa, "area", units);
    const what = verdict === "lost" ? "cost" : "was worth";
    return ` On the ${ground} with new loads that ${what} about ${about} (${least} to ${most}).`;
  }
  if (!yieldShare) return "";
  const [about, least, most] = sized(yieldShare).map((value) => formatPercent(value, 1));
  return ` In yield that is about ${about} (${least} to ${most}); with prices in the field's manifest it is money too.`;
}

function carriedWords(share: number): string {
  const percent = formatPercent(share);
  if (share < 0) return "The load changed the other way than asked.";
  return `Of the change in load that was asked for the machine carried ${percent}.`;
}

function countWords({ toCount }: ProofResult): string {
  const zones = [...new Set(toCount.map(({ zone }) => zone))];
  const each = zones.map((zone) => {
    const pairs = toCount.filter((spot) => spot.zone === zone && spot.side === "strip").length;
    return `${pairs} in the strip of zone ${zone} and ${pairs} beside it`;
  });
  return `Count: ${each.join(", ")}. With --out their places are written, for a phone and as a form.`;
}

const ROWS: readonly [name: string, cell: (side: ProofSide, units: UnitSystem) => string][] = [
  ["load asked for", ({ askedN }, units) => quantity(askedN, "force", units)],
  ["load carried", ({ carriedN }, units) => quantity(carriedN, "force", units)],
  ["time without load", ({ noLoadShare }) => (noLoadShare === null ? "-" : formatPercent(noLoadShare, 1))],
  ["depth", ({ depthMm }, units) => quantity(depthMm, "depth", units)],
  ["spread of the depth", ({ depthSdMm }, units) => quantity(depthSdMm, "depth", units)],
  ["ground in the log", ({ areaHa }, units) => quantity(areaHa, "area", units)],
  ["counts", ({ counts }) => String(counts)],
  ["plants standing", ({ standPerHa }, units) => quantity(standPerHa, "plants", units)],
];

function quantity(
  value: number | null,
  kind: "force" | "depth" | "area" | "plants",
  units: UnitSystem,
): string {
  return value === null ? "-" : formatQuantity(value, kind, units);
}

function tableOf({ strip, beside }: ProofStripResult, units: UnitSystem): string[] {
  const lines = [
    ["", "strip, old load", "beside, new load"],
    ...ROWS.map(([name, cell]) => [name, cell(strip, units), cell(beside, units)]),
  ];
  const widths = [0, 1].map((column) => Math.max(...lines.map((line) => line[column]!.length)));
  return lines.map(([name, ...cells]) =>
    [name!.padEnd(widths[0]!), cells[0]!.padEnd(widths[1]!), cells[1]!].join("  ").trimEnd(),
  );
}
