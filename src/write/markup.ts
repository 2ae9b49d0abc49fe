/** Text from the user's files inside HTML, SVG or XML. */

/** Text with the characters escaped that markup would take for its own, fit for content and for quoted attributes. */
export function escapeMarkup(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");
}

/**
 * A short text as XML 1.0 allows it: white space made single blanks, control characters and halves of surrogate pairs
 * dropped, cut to so many characters. Not escaped.
 */
export function plainText(text: string, mostCharacters: number): string {
  const clean = text
    .replace(/\s+/gu, " ")
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what XML forbids
    .replace(/[\u0000-\u001f\u007f-\u009f\ufffe\uffff]|\p{Surrogate}/gu, "")
    .trim();
  return [...clean].slice(0, mostCharacters).join("").trimEnd();
}
