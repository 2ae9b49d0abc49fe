/** Sentences of the findings with their figures as the reader writes numbers; the engine writes them as English does. */
import { groupThousands, type NumberLocale } from "../../src/quantities/format.ts";

/**
 * A figure with a decimal point or grouped thousands: not part of a word, a date, a file name or a DOI, which stay as
 * they are.
 */
const FIGURE =
  /(?<![\w.,/:])(?<!\w-)(?!10\.\d{4,}\/)(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+\.\d+)(?!\w|[.,:-]\d|\.[A-Za-z])/g;

/** The sentence with its figures in the locale. */
export function localised(sentence: string, locale: NumberLocale): string {
  if (locale === "en") return sentence;
  return sentence.replace(FIGURE, (figure) => groupThousands(figure.replaceAll(",", ""), locale));
}

/** Parts that hold sentences; everything else (names, codes, texts of files) stays as it is. */
const SENTENCES = new Set(["words", "notes", "what", "why", "sentence", "reason", "text"]);
/** Large parts without sentences. */
const WITHOUT = new Set(["geometry", "comparison"]);

/** A copy of a document of ours with its sentences in the locale; the document itself for English. */
export function withSentences<T>(document: T, locale: NumberLocale): T {
  return locale === "en" ? document : (copied(document, locale, "") as T);
}

function copied(value: unknown, locale: NumberLocale, key: string): unknown {
  if (typeof value === "string") return SENTENCES.has(key) ? localised(value, locale) : value;
  if (Array.isArray(value)) return value.map((part) => copied(part, locale, key));
  if (value === null || typeof value !== "object" || ArrayBuffer.isView(value)) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, part]) => [
      name,
      WITHOUT.has(name) ? part : copied(part, locale, key === "words" ? key : name),
    ]),
  );
}
