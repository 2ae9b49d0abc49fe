/** The coarse texture class that a zone's name or attributes suggest. */
import type { TextureClass } from "../vocabulary/field.ts";

/**
 * The twelve USDA texture classes (Soil Survey Manual, ch. 3) and usual variants -> the coarse class that drives
 * thresholds. Which coarse class each falls in is our judgement.
 */
const CLASS_OF_WORDS: Readonly<Record<string, Exclude<TextureClass, null>>> = {
  sand: "sand",
  "loamy sand": "sand",
  "loamy fine sand": "sand",
  "sandy loam": "sandy loam",
  "fine sandy loam": "sandy loam",
  "very fine sandy loam": "sandy loam",
  "coarse sandy loam": "sandy loam",
  loam: "loam",
  "silt loam": "silt loam",
  "silty loam": "silt loam",
  silt: "silt loam",
  "clay loam": "clay loam",
  "silty clay loam": "clay loam",
  "sandy clay loam": "clay loam",
  clay: "clay",
  "silty clay": "clay",
  "sandy clay": "clay",
  "heavy clay": "clay",
};

/** Letter codes of the USDA classes as soil maps write them; taken only where they are the whole name. */
const CLASS_OF_CODE: Readonly<Record<string, Exclude<TextureClass, null>>> = {
  LS: "sand",
  SL: "sandy loam",
  FSL: "sandy loam",
  SIL: "silt loam",
  CL: "clay loam",
  SICL: "clay loam",
  SCL: "clay loam",
  SIC: "clay",
  SC: "clay",
};

const LONGEST_FIRST = Object.keys(CLASS_OF_WORDS).sort((a, b) => b.length - a.length || (a < b ? -1 : 1));

/** Texture class by the longest texture words in the text ("silty clay loam" is not "clay"); null where none stands in it. */
export function textureOf(text: string): TextureClass {
  const code = CLASS_OF_CODE[text.trim().toUpperCase()];
  if (code) return code;
  const plain = ` ${text
    .toLowerCase()
    .replaceAll(/[^\p{L}]+/gu, " ")
    .replaceAll(/\b(loam|sand|clay|silt)s\b/g, "$1")} `;
  const words = LONGEST_FIRST.find((words) => plain.includes(` ${words} `));
  return words === undefined ? null : CLASS_OF_WORDS[words]!;
}
