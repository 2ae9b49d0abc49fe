/** What the prescription is called on the page. */
import type { Channel, Outcome } from "../../src/prescription/prescription.ts";
import { shownValue, type UnitSystem, unitLabel } from "../../src/quantities/format.ts";
import { convert } from "../../src/quantities/units.ts";
import type { Moisture } from "../../src/vocabulary/moisture.ts";
import { SQUEEZE_TEST } from "../../src/words/prescription-rows.ts";
import { formatNumber, groupThousands } from "./format.ts";
import { texts } from "./texts/texts.ts";

/** The text of the topic that says what came of a zone. */
export const OUTCOME_WORDS = {
  change: "changeOutcome",
  keep: "keepOutcome",
  "held-back": "heldBack",
  "no-evidence": "noEvidence",
} as const satisfies Record<Outcome, string>;

/** States of the ground; the titles are looked up when they are read, in the language the page speaks then. */
export const MOISTURE_WORDS: Readonly<Record<Moisture, { readonly title: string; squeeze: string }>> = {
  dry: moistureWords("dry"),
  fit: moistureWords("fit"),
  damp: moistureWords("damp"),
};

function moistureWords(state: Moisture): { readonly title: string; squeeze: string } {
  return {
    get title() {
      return texts.value.prescription[state];
    },
    squeeze: SQUEEZE_TEST[state],
  };
}

export const PUTTY_WORDS = `If a handful ${SQUEEZE_TEST.putty}: wait. No load makes up for it.`;

export function channelWords(channel: Channel): { title: string; said: string } {
  const { prescription, variables } = texts.value;
  return {
    margin: { title: variables.downForceMargin, said: prescription.marginSaid },
    "added-force": { title: prescription.forceTitle, said: prescription.forceSaid },
    pressure: { title: prescription.pressureTitle, said: prescription.pressureSaid },
  }[channel];
}

/** "75 lb" to the unit, also in newtons, where the map of the field rounds to tens. */
export function loadText(marginN: number, system: UnitSystem): string {
  return `${loadFigure(marginN, system)} ${unitLabel("force", system)}`;
}

export function loadFigure(marginN: number, system: UnitSystem): string {
  return formatNumber(marginN, "force", system);
}

/** A load as a whole number of the page's unit, for a field to type into. */
export function loadNumber(marginN: number, system: UnitSystem): number {
  return Math.round(shownValue(marginN, "force", system));
}

/** The load in N of a number typed in the page's unit, moved to the nearest whole step. */
export function typedLoadN(shown: number, stepN: number, system: UnitSystem): number {
  const marginN = system === "farm" ? convert(shown, "lbf", "N") : shown;
  return Math.round(marginN / stepN) * stepN;
}

/** "+40 lb", "−15 lb", "0 lb". */
export function changeText(changeN: number, system: UnitSystem): string {
  const figure = loadFigure(Math.abs(changeN), system);
  const sign = figure === "0" ? "" : changeN < 0 ? "\u2212" : "+";
  return `${sign}${figure} ${unitLabel("force", system)}`;
}

/** Stand points with their sign: "+0.8". */
export function pointsFigure(share: number): string {
  const figure = Math.abs(share * 100).toFixed(1);
  const sign = figure === "0.0" ? "" : share < 0 ? "\u2212" : "+";
  return sign + groupThousands(figure);
}
