/** Delimited text (RFC 4180, with comma, semicolon or tab) to rows of cells. */

export type Delimiter = "," | ";" | "\t";

/** The delimiter that occurs most often outside quotes in the first line; comma where none does. */
export function findDelimiter(text: string): Delimiter {
  const counts = { ",": 0, ";": 0, "\t": 0 };
  let quoted = false;
  for (const character of text) {
    if (character === '"') quoted = !quoted;
    else if (!quoted && (character === "\n" || character === "\r")) break;
    else if (!quoted && character in counts) counts[character as Delimiter]++;
  }
  if (counts["\t"] > counts[","] && counts["\t"] >= counts[";"]) return "\t";
  return counts[";"] > counts[","] ? ";" : ",";
}

/**
 * Calls `take` for every row that is not blank. Cells keep their inner spaces; the outer ones are cut off,
 * except within quotes. The cells array is reused from row to row.
 * @returns false where the text ends within quotes
 */
export function eachRow(
  text: string,
  delimiter: Delimiter,
  take: (cells: readonly string[], rowNumber: number) => void,
): boolean {
  const cells: string[] = [];
  const length = text.length;
  let at = 0;
  let rowNumber = 0;
  while (at < length) {
    cells.length = 0;
    let endOfRow = false;
    while (!endOfRow) {
      while (at < length && text[at] === " ") at++;
      let cell: string;
      if (text[at] === '"') {
        let inside = "";
        let from = at + 1;
        for (;;) {
          const close = text.indexOf('"', from);
          if (close < 0) return false;
          inside += text.slice(from, close);
          at = close + 1;
          if (text[at] !== '"') break;
          inside += '"';
          from = at + 1;
        }
        const end = endOfCell(text, at, delimiter);
        cell = inside + text.slice(at, end).trimEnd();
        at = end;
      } else {
        const end = endOfCell(text, at, delimiter);
        cell = text.slice(at, end).trim();
        at = end;
      }
      cells.push(cell);
      endOfRow = at >= length || text[at] !== delimiter;
      at++;
    }
    if (text[at - 1] === "\r" && text[at] === "\n") at++;
    if (cells.length > 1 || cells[0] !== "") take(cells, ++rowNumber);
  }
  return true;
}

function endOfCell(text: string, from: number, delimiter: Delimiter): number {
  let at = from;
  for (; at < text.length; at++) {
    const character = text[at];
    if (character === delimiter || character === "\n" || character === "\r") break;
  }
  return at;
}
