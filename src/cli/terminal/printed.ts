/**
 * What is printed, cleaned in one place: texts of a user's files (names, columns, values) must not steer the
 * terminal or turn a line around.
 */
import { randomUUID } from "node:crypto";
import type { Io } from "./io.ts";

/** No text of a file can hold it, so that only our own marks become codes of the terminal. */
const SECRET = randomUUID();
const BOLD_ON = `\u001B[${SECRET};1m`;
const BOLD_OFF = `\u001B[${SECRET};22m`;
const LINE_ERASED = `\u001B[${SECRET};K`;

/** Our marks -> codes of ECMA-48: bold on and off, back to the line's start and erase it. */
const CODES: readonly (readonly [string, string])[] = [
  [BOLD_ON, "\u001B[1m"],
  [BOLD_OFF, "\u001B[22m"],
  [LINE_ERASED, "\r\u001B[K"],
];

/** A text in bold. */
export function bold(text: string): string {
  return `${BOLD_ON}${text}${BOLD_OFF}`;
}

/** Takes back what stands on the line. */
export function erasedLine(): string {
  return LINE_ERASED;
}

/**
 * Control characters, marks that change the direction of writing, what breaks a line unseen, and halves of
 * characters; the line feed and the joiners that some scripts need (U+200C, U+200D) are let through.
 */
const STEERING = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/gu;
const LET_THROUGH = new Set(["\n", "\u200C", "\u200D"]);

/** A text without characters that steer a terminal; each becomes a space. */
export function cleaned(text: string): string {
  return text.replace(STEERING, (character) => (LET_THROUGH.has(character) ? character : " "));
}

/** The same JSON with those characters written as escapes, so that it reads back as it was. */
export function cleanedJson(json: string): string {
  return json.replace(STEERING, (character) => {
    if (LET_THROUGH.has(character)) return character;
    const units = Array.from({ length: character.length }, (_, at) => character.charCodeAt(at));
    return units.map((unit) => `\\u${unit.toString(16).padStart(4, "0")}`).join("");
  });
}

/** An Io whose every text is cleaned before it is printed. */
export function cleaningIo(io: Io): Io {
  return {
    workingFolder: io.workingFolder,
    environment: io.environment,
    outIsTerminal: io.outIsTerminal,
    errIsTerminal: io.errIsTerminal,
    columns: io.columns,
    out: (text) => io.out(printed(text)),
    err: (text) => io.err(printed(text)),
    get stop() {
      return io.stop;
    },
  };
}

function printed(text: string): string {
  if (!text.includes(SECRET)) return cleaned(text);
  const marks = new RegExp(`(${CODES.map(([mark]) => mark.replace("[", "\\[")).join("|")})`);
  const codes = new Map(CODES);
  return text
    .split(marks)
    .map((part) => codes.get(part) ?? cleaned(part))
    .join("");
}
