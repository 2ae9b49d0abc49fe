/** Plain text for a terminal: wrapped, and free of what a terminal would obey. */

/**
 * Breaks text at spaces. The first line starts with `lead`, the others `hang` columns in. A word longer than
 * a line stands alone.
 */
export function wrapped(text: string, width: number, lead: string, hang: number): string[] {
  const lines: string[] = [];
  let line = lead;
  let empty = true;
  for (const word of plain(text).split(/\s+/).filter(Boolean)) {
    const joined = empty ? line + word : `${line} ${word}`;
    if (empty || joined.length <= width) {
      line = joined;
    } else {
      lines.push(line);
      line = " ".repeat(hang) + word;
    }
    empty = false;
  }
  return [...lines, line.trimEnd()];
}

/** Text without control and direction characters: none from a file may reach a terminal. */
export function plain(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}]/gu, " ");
}
