/** Delimited text (RFC 4180, with comma, semicolon, tab or bar) to rows of cells. */
import { MOST_COLUMNS } from "../most-columns.ts";

export type Delimiter = "," | ";" | "\t" | "|";

/** The delimiter that occurs most often outside quotes in the first line; comma where none does. */
export function findDelimiter(text: string): Delimiter {
  const counts = { ",": 0, ";": 0, "\t": 0, "|": 0 };
  let quoted = false;
  for (const character of text) {
    if (character === '"') quoted = !quoted;
    else if (!quoted && (character === "\n" || character === "\r")) break;
    else if (!quoted && character in counts) counts[character as Delimiter]++;
  }
  const others: readonly Delimiter[] = ["\t", ";", "|"];
  return others.reduce((best, other) => (counts[other] > counts[best] ? other : best), ",");
}

/**
 * Calls `take` for every row that is not blank. Cells keep their inner spaces; the outer ones are cut off,
 * except within quotes. The cells array is reused from row to row
 * and takes no more cells than columns are read, and one. A quote that is not closed before a
 * delimiter or the end of a line is passed over: else one stray quote would swallow all rows behind.
 * @returns how many such stray quotes there are
 */
export function eachRow(
  text: string,
  delimiter: Delimiter,
  take: (cells: readonly string[], rowNumber: number) => void,
): number {
  const cells: string[] = [];
  const length = text.length;
  let at = 0;
  let rowNumber = 0;
  let strayQuotes = 0;
  while (at < length) {
    cells.length = 0;
    let endOfRow = false;
    while (!endOfRow) {
      while (at < length && text[at] === " ") at++;
      let cell: string;
      const quoted = text[at] === '"' ? quotedCell(text, at, delimiter) : null;
      if (quoted) {
        cell = quoted.cell;
        at = quoted.end;
      } else {
        if (text[at] === '"') {
          strayQuotes++;
          at++;
        }
        const end = endOfCell(text, at, delimiter);
        cell = text.slice(at, end).trim();
        at = end;
      }
      // One more than is read, so that it shows that there are more.
      if (cells.length <= MOST_COLUMNS) cells.push(cell);
      endOfRow = at >= length || text[at] !== delimiter;
      at++;
    }
    if (text[at - 1] === "\r" && text[at] === "\n") at++;
    if (cells.length > 1 || cells[0] !== "") take(cells, ++rowNumber);
  }
  return strayQuotes;
}

/** Cells that run over more characters than this are no remark but a quote that was never meant as one. */
const LONGEST_QUOTED = 1 << 16;

/** The quoted cell that begins at `begin` (a quote), or null where the quote is a stray one. */
function quotedCell(text: string, begin: number, delimiter: Delimiter): { cell: string; end: number } | null {
  let inside = "";
  let from = begin + 1;
  for (;;) {
    const close = text.indexOf('"', from);
    if (close < 0 || close - begin > LONGEST_QUOTED) return null;
    inside += text.slice(from, close);
    if (text[close + 1] !== '"') {
      const end = endOfCell(text, close + 1, delimiter);
      const behind = text.slice(close + 1, end).trim();
      // Writers that do not double their quotes ("6 "in" deep") stay within their cell.
      if (behind !== "" && (/[\r\n]/.test(inside) || inside.includes(delimiter))) return null;
      return { cell: inside + text.slice(close + 1, end).trimEnd(), end };
    }
    inside += '"';
    from = close + 2;
  }
}

function endOfCell(text: string, from: number, delimiter: Delimiter): number {
  let at = from;
  for (; at < text.length; at++) {
    const character = text[at];
    if (character === delimiter || character === "\n" || character === "\r") break;
  }
  return at;
}
