/** Guesses that are not sure enough to go on with. */
import type { OpenChoice } from "../errors.ts";
import type { ColumnGroup } from "./column-groups.ts";
import { readWords, splitName } from "./column-words.ts";
import { openUnsureChoice } from "./open-choice.ts";
import type { FoundVariable } from "./recognition.ts";

/** A guess less sure than this is the user's to confirm (our judgement). */
const CONFIDENCE_BAR = 0.6;

/**
 * Takes what is less sure than the bar out of the found variables and asks for it instead, the guess first.
 * @param isWritten whether a group was read from text, which says itself what it is
 */
export function takeOutUnsure(
  found: Map<string, FoundVariable>,
  role: string,
  isWritten: (group: ColumnGroup) => boolean,
): OpenChoice[] {
  const open: OpenChoice[] = [];
  for (const [variable, one] of found) {
    const { group, unit, confidence, reason, time } = one;
    const doubt = doubtOf(one, isWritten);
    if (confidence >= CONFIDENCE_BAR && doubt === null) continue;
    found.delete(variable);
    const plainUnit = unit === "1" || time !== null ? null : unit;
    open.push(openUnsureChoice(role, variable, group, plainUnit, doubt ?? reason));
  }
  return open;
}

function doubtOf(
  { description, group, confidence }: FoundVariable,
  isWritten: (group: ColumnGroup) => boolean,
): string | null {
  const { sureWord } = description;
  if (sureWord === undefined || confidence === 1 || isWritten(group)) return null;
  const words = readWords(splitName(group.stem), group.stem);
  return words.some((place) => place.words.has(sureWord.word)) ? null : sureWord.doubt;
}
