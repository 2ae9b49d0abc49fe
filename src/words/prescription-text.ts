/** The prescription in words, for a terminal: what to settle first, the loads by zone, what the machine takes. */
import type { Prescription } from "../prescription/prescription.ts";
import { formatNumber, formatQuantity } from "../quantities/format.ts";
import { FARM_ENGLISH } from "../texts/language.ts";
import { MOISTURES } from "../vocabulary/moisture.ts";
import {
  channelText,
  GRADE_WORDS,
  OUTCOME_WORDS,
  type PrescriptionRow,
  prescriptionRows,
} from "./prescription-rows.ts";
import { wrapped } from "./wrapped-text.ts";

export interface TextStyle {
  width: number;
  /** Marks a heading, e.g. bold. */
  emphasise: (text: string) => string;
}

/** Text of at most `width` columns, ending in a line feed. */
export function prescriptionText(prescription: Prescription, { width, emphasise }: TextStyle): string {
  const { field, settings, advice, channel, guards, defaults, notes, cautions } = prescription;
  const lines: string[] = [];
  const say = (text: string, indent = ""): void => {
    lines.push(...wrapped(text, width, indent, indent.length === 2 ? 4 : indent.length));
  };
  const head = (text: string): void => {
    lines.push("", emphasise(text));
  };
  say(
    `${field.name}: down force for ${settings.moisture} ground, ${formatQuantity(field.areaHa, "area", "farm")}`,
  );
  const kinds = [
    { title: "Settle first", kinds: ["repair", "speed", "depth"] },
    { title: "Dig and try", kinds: ["dig", "test-strip"] },
  ];
  const list = ({ title, kinds: wanted }: { title: string; kinds: string[] }): void => {
    const entries = advice.filter(({ kind }) => wanted.includes(kind));
    if (entries.length === 0) return;
    head(title);
    for (const { finding, words } of entries) say(`${finding === null ? "" : `${finding} `}${words}`, "  ");
  };
  list(kinds[0]!);
  head("Load on the gauge wheels, lb");
  for (const row of prescriptionRows(prescription)) zoneLines(row, prescription, say);
  const strips = prescription.zones.filter(({ proofStrip }) => proofStrip);
  if (strips.length > 0)
    say(`Proof strips at today's load: zone ${strips.map(({ number }) => number).join(", ")} of the map.`);
  list(kinds[1]!);
  head("The machine's channel");
  if (prescription.withheld !== null) say(`No file of rates is written: ${prescription.withheld}.`, "  ");
  else if (channel.quantity === null) say(`No file for the machine: ${channel.reason}.`, "  ");
  else {
    say(`${channel.formula}.`, "  ");
    const text = (rates: Parameters<typeof channelText>[0]): string =>
      channelText(rates, prescription, FARM_ENGLISH);
    say(
      `Elsewhere in the field ${text(defaults.inside)}, outside ${text(defaults.outside)}, position lost ${text(defaults.lostPosition)}.`,
      "  ",
    );
  }
  const gave = guards.filter(({ result }) => result !== "kept");
  if (gave.length + notes.length > 0) head("Limits and notes");
  for (const { words } of gave) say(words, "  ");
  for (const { reason } of notes) say(`${reason}.`, "  ");
  head("Before any load is set");
  for (const caution of cautions) say(caution, "  ");
  return `${lines.join("\n")}\n`;
}

function zoneLines(
  { decision, numbers, rates }: PrescriptionRow,
  prescription: Prescription,
  say: (text: string, indent?: string) => void,
): void {
  const { moisture } = prescription.settings;
  const figure = (newtons: number): string => formatNumber(newtons, "force", "farm");
  const states = MOISTURES.map((state) => {
    const load = figure(decision.prescribedN[state]);
    return state === moisture ? `${state} [${load}]` : `${state} ${load}`;
  });
  const { lowN, highN } = decision.best[moisture];
  const told =
    rates !== null && prescription.channel.quantity !== null && prescription.channel.quantity !== "margin"
      ? `; the machine is told ${channelText(rates, prescription, FARM_ENGLISH)}`
      : "";
  const where = numbers.length > 0 ? ` (map ${numbers.join(", ")})` : "";
  say(
    `${decision.soilZone}${where}: ${states.join(", ")}; range ${figure(lowN)} to ${figure(highN)}${told}; ${OUTCOME_WORDS[decision.outcome]}, ${GRADE_WORDS[decision.grade]}.`,
    "  ",
  );
  say(decision.reason, "    ");
  for (const { finding, words } of decision.notMended) say(`Does not mend ${finding}: ${words}.`, "    ");
}
