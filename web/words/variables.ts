/**
 * How the page speaks of variables and draws them: the names of the one definition with a capital, what kind of quantity
 * each is, and whether its colours run in one direction or around a target.
 */
import type { MeasuredKey } from "../../src/findings/findings-document.ts";
import type { QuantityKind } from "../../src/quantities/format.ts";
import type { Targets } from "../../src/vocabulary/field.ts";
import { type RampWay, SHOWN_VARIABLES } from "../../src/vocabulary/shown-variables.ts";
import { measuredWords } from "../../src/words/finding-words.ts";
import type { ValueName } from "../protocol/ground.ts";
import { language } from "./language.ts";
import { texts } from "./texts/texts.ts";

export interface QuantityWords {
  title: string;
  kind: QuantityKind;
}

export interface VariableWords extends QuantityWords {
  /** The title as it stands within a sentence; German keeps its capital. */
  named: string;
  technical: string;
  colours: RampWay;
}

/** Names are looked up when they are read, in the language the page speaks then. */
export const VARIABLES = Object.fromEntries(
  (Object.keys(SHOWN_VARIABLES) as ValueName[]).map((variable): [ValueName, VariableWords] => [
    variable,
    {
      get title() {
        return texts.value.variables[variable];
      },
      get named() {
        const { title } = this;
        return language.value === "de" ? title : title.toLowerCase();
      },
      get technical() {
        return texts.value.variablesMeant[variable];
      },
      kind: SHOWN_VARIABLES[variable].kind,
      colours: SHOWN_VARIABLES[variable].ramp,
    },
  ]),
) as Readonly<Record<ValueName, VariableWords>>;

/** In the order they are offered. */
export const VARIABLE_ORDER = Object.keys(VARIABLES) as ValueName[];

export function measuredTitle(key: MeasuredKey): QuantityWords {
  return { title: texts.value.measured[key], kind: measuredWords(key).kind };
}

/** Target of a variable as one value or low and high limit, inside units; null where none is set. */
export function targetOf(variable: ValueName, targets: Targets): number | [number, number] | null {
  return SHOWN_VARIABLES[variable].target?.(targets) ?? null;
}
