/** Guesses that are not sure enough to go on with. */
import { type OpenChoice, openUnsureChoice } from "./open-choice.ts";
import type { FoundVariable } from "./recognition.ts";

/** A guess less sure than this is the user's to confirm (our judgement). */
const CONFIDENCE_BAR = 0.6;

/** Takes what is less sure than the bar out of the found variables and asks for it instead, the guess first. */
export function takeOutUnsure(found: Map<string, FoundVariable>, role: string): OpenChoice[] {
  const open: OpenChoice[] = [];
  for (const [variable, { group, unit, confidence, reason, time }] of found) {
    if (confidence >= CONFIDENCE_BAR) continue;
    found.delete(variable);
    open.push(openUnsureChoice(role, variable, group, unit === "1" || time !== null ? null : unit, reason));
  }
  return open;
}
