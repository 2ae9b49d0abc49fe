/**
 * Trouble that stops the work, as tagged errors. Trouble with single records is not an error but a
 * {@link Note}: the rest of the file is used and the note says what was left out.
 */

/** What happened to the records a note speaks of. */
export type NoteEffect = "left out" | "kept" | "assumed" | "converted";

/** One kind of trouble (or assumption) met in one input, with how often it happened. */
export interface Note {
  /** What happened, in plain words, and what would have been accepted. */
  reason: string;
  effect: NoteEffect;
  /** Number of records concerned. */
  count: number;
  /** Column or property name as it stands in the file, null where the whole record is meant. */
  field: string | null;
  /** 1-based number of the first record concerned, null where the whole file is meant. */
  firstRecord: number | null;
  /** The offending value as text, null where there is none. */
  value: string | null;
}

export type ErrorTag =
  | "file-unusable"
  | "manifest-wrong"
  | "choice-needed"
  | "nothing-to-analyse"
  | "prescription-refused"
  | "command-line-wrong";

/** What recognition leaves to the user, with the manifest lines that settle it. */
export interface OpenChoice {
  /** Key of the layer in the manifest. */
  role: string;
  variable: string;
  /** What is unclear and why, in plain words. */
  question: string;
  /** Lines for `columns` of that layer (`"variable": ...`, JSON without the braces); one of them settles it. */
  lines: string[];
}

export interface ErrorDetails {
  /** File the trouble stands in, as the user named it. */
  file?: string | undefined;
  /** Column, property or manifest path. */
  field?: string | undefined;
  /** The offending value as text. */
  value?: string | undefined;
  /** What would have been accepted. */
  accepted?: string | undefined;
  /** Of a `choice-needed` error: what is to be chosen. */
  choices?: readonly OpenChoice[] | undefined;
  cause?: unknown;
}

/** Base of every error the library throws on purpose; anything else is a fault of ours. */
export class EvenstandError extends Error {
  readonly tag: ErrorTag;
  readonly details: ErrorDetails;
  constructor(tag: ErrorTag, message: string, details: ErrorDetails = {}) {
    super(message, details.cause === undefined ? undefined : { cause: details.cause });
    this.name = "EvenstandError";
    this.tag = tag;
    this.details = details;
  }
}

/** Thrown when a file cannot be used at all: damaged, wrong geometry, empty, no coordinate system. */
export class FileUnusableError extends EvenstandError {
  constructor(message: string, details: ErrorDetails = {}) {
    super("file-unusable", message, details);
  }
}

/** Thrown when the field manifest has an unknown key, a wrong type or an unreadable quantity. */
export class ManifestError extends EvenstandError {
  constructor(message: string, details: ErrorDetails = {}) {
    super("manifest-wrong", message, details);
  }
}

/** Thrown when a column could mean several things and the user has to choose. */
export class ChoiceNeededError extends EvenstandError {
  constructor(message: string, details: ErrorDetails = {}) {
    super("choice-needed", message, details);
  }
}

/** Thrown when the files are readable but hold nothing the job can work on. */
export class NothingToAnalyseError extends EvenstandError {
  constructor(message: string, details: ErrorDetails = {}) {
    super("nothing-to-analyse", message, details);
  }
}

/** Thrown when no prescription can be made of a field, or a file of it cannot be written honestly. */
export class PrescriptionError extends EvenstandError {
  constructor(message: string, details: ErrorDetails = {}) {
    super("prescription-refused", message, details);
  }
}

/** True for every error that is the user's to mend (exit 3), false for a fault of ours (exit 1). */
export function isEvenstandError(error: unknown): error is EvenstandError {
  return error instanceof EvenstandError;
}
