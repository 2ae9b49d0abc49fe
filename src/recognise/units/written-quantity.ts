/** Quantities as people write them into a cell: "1.5 in", "1 1/2\"", "17'5\"", "38 mm", "~2". */
import { METRES_PER_FOOT, MM_PER_INCH } from "../../quantities/units.ts";
import { writtenUnits } from "./unit-suffix.ts";

export interface WrittenQuantity {
  value: number;
  /** Units the ending may mean (names in `UNITS`); empty where the cell has a number alone. */
  units: readonly string[];
}

const INCHES_PER_FOOT = (METRES_PER_FOOT * 1000) / MM_PER_INCH;
const GLYPHS: Readonly<Record<string, string>> = {
  "½": "1/2",
  "¼": "1/4",
  "¾": "3/4",
  "⅛": "1/8",
  "⅜": "3/8",
  "⅝": "5/8",
  "⅞": "7/8",
};
const AMOUNT = String.raw`\d+[\s-]+\d+\s*/\s*\d+|\d+\s*/\s*\d+|-?\d+(?:[.,]\d+)*|-?[.,]\d+`;
const FEET_AND_INCHES = new RegExp(
  String.raw`^(\d+(?:\.\d+)?)\s*(?:'|ft\.?|feet|foot)[\s-]*(${AMOUNT})\s*(?:"|''|in\.?|inch(?:es)?)?$`,
  "i",
);
const ONE_AMOUNT = new RegExp(String.raw`^(${AMOUNT})\s*(.*)$`);

/** Reads a cell; null where it is no number, or a number followed by what is no unit. */
export function readWrittenQuantity(cell: string): WrittenQuantity | null {
  const text = cell
    .trim()
    .replaceAll(/[½¼¾⅛⅜⅝⅞]/g, (glyph) => ` ${GLYPHS[glyph]}`)
    .replaceAll(/[’′]/g, "'")
    .replaceAll(/[”″]/g, '"')
    .replace(/^[~≈]\s*/, "")
    .trim();
  const feet = FEET_AND_INCHES.exec(text);
  if (feet) {
    const inches = amountOf(feet[2]!);
    return inches < INCHES_PER_FOOT
      ? { value: Number(feet[1]) + inches / INCHES_PER_FOOT, units: ["ft"] }
      : null;
  }
  const plain = ONE_AMOUNT.exec(text);
  if (!plain) return null;
  const value = amountOf(plain[1]!);
  const ending = plain[2]!.replace(/\.$/, "");
  if (!Number.isFinite(value)) return null;
  if (ending === "") return { value, units: [] };
  const units = ending === '"' || ending === "''" ? ["in"] : ending === "'" ? ["ft"] : writtenUnits(ending);
  return units.length > 0 ? { value, units } : null;
}

/** "1 1/2", "1-1/2", "3/4", "1.5", "1,5" and "34,000" as numbers; NaN for anything else. */
function amountOf(text: string): number {
  const fraction = /^(?:(\d+)[\s-]+)?(\d+)\s*\/\s*(\d+)$/.exec(text);
  if (fraction) return Number(fraction[1] ?? 0) + Number(fraction[2]) / Number(fraction[3]);
  if (/^-?\d{1,3}(?:,\d{3})+(?:\.\d+)?$/.test(text)) return Number(text.replaceAll(",", ""));
  return Number(text.replace(",", "."));
}
