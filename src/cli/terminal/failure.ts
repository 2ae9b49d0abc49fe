/** From an error to its exit code and its one message. */
import { type ErrorDetails, EvenstandError, isEvenstandError } from "../../errors.ts";

export const EXIT = {
  done: 0,
  ourFault: 1,
  commandLineWrong: 2,
  inputUnusable: 3,
  fieldsLeftOut: 4,
} as const;

/** Thrown when the command line asks for something that cannot be done as asked (exit 2). */
export class CommandLineError extends EvenstandError {
  constructor(message: string, details: ErrorDetails = {}) {
    super("command-line-wrong", message, details);
  }
}

export interface Failure {
  exitCode: number;
  /** Text for standard error, ending in a line feed. */
  message: string;
}

/**
 * The exit code and message of an error. Errors thrown on purpose are the user's to mend (2 for the command
 * line, 3 for an input); anything else is a fault of ours (1) and says how to report it, with the stack where
 * `debug` is set.
 */
export function describeFailure(error: unknown, debug: boolean): Failure {
  if (!isEvenstandError(error)) return ourFault(error, debug);
  const { file, field, value, accepted } = error.details;
  const lines = [`evenstand: ${error.message}`];
  // The message usually names these already; what it leaves out is added.
  const rest: [string, string | undefined][] = [
    ["file", file],
    ["field", field],
    ["value", value],
    ["accepted", accepted],
  ];
  for (const [label, text] of rest) {
    if (text !== undefined && !says(error.message, text)) lines.push(`  ${label}: ${text}`);
  }
  if (debug) lines.push(stackOf(error));
  const exitCode = error.tag === "command-line-wrong" ? EXIT.commandLineWrong : EXIT.inputUnusable;
  return { exitCode, message: `${lines.join("\n")}\n` };
}

/** True where the message holds the text, or every item of a list. */
function says(message: string, text: string): boolean {
  return text.split(/\n|, /).every((part) => message.includes(part));
}

function ourFault(error: unknown, debug: boolean): Failure {
  const name = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  const lines = [
    `evenstand: a fault of ours, not of your files: ${name}`,
    "Please report it to whoever gave you Evenstand, with the command you typed and its output when run again",
    "with EVENSTAND_DEBUG=1 set. Nothing has been sent anywhere; your files stay on this machine.",
  ];
  if (debug) lines.push(stackOf(error));
  return { exitCode: EXIT.ourFault, message: `${lines.join("\n")}\n` };
}

function stackOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const cause = error.cause === undefined ? "" : `\ncaused by ${stackOf(error.cause)}`;
  return `${error.stack ?? error.message}${cause}`;
}
