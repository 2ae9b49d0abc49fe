/** Prices and yields as people write them: "4.50 USD/bu", "180 EUR/t", "200 bu/ac", "12.5 t/ha", "3.75 USD/1000". */

import { ManifestError } from "../errors.ts";
import type { Crop } from "./crops.ts";
import { ACRES_PER_HECTARE, KG_PER_BUSHEL } from "./units.ts";

const NUMBER = String.raw`(\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d*\.?\d+)`;
const KG_PER_TONNE = 1000;

function unreadable(text: string, field: string, accepted: string): ManifestError {
  return new ManifestError(`cannot read "${text}" of ${field}; write ${accepted}`, {
    field,
    value: text,
    accepted,
  });
}

function kgPerBushel(crop: Crop, text: string, field: string): number {
  if (crop !== "other") return KG_PER_BUSHEL[crop];
  throw new ManifestError(
    `"${text}" of ${field} cannot be turned into bushels for crop "other"; write it by the bushel (bu)`,
    { field, value: text, accepted: "bu" },
  );
}

/** Beyond any price, yield or count of a bag (our judgement): a slip of the keyboard. */
const MOST = 1e9;

function positiveNumber(text: string, raw: string, field: string, accepted: string): number {
  const value = Number(text.replaceAll(",", ""));
  if (!(value > 0 && value <= MOST)) throw unreadable(raw, field, accepted);
  return value;
}

/**
 * Price of grain by the bushel (56 lb of corn, 60 lb of soybeans, the US legal weights).
 * @throws {ManifestError} when the text is not a number, a three-letter currency and /bu, /t or /kg.
 */
export function parseGrainPrice(
  text: string,
  crop: Crop,
  field: string,
): { perBushel: number; currency: string } {
  const accepted = 'a number, a currency of three letters and /bu, /t or /kg, such as "4.50 USD/bu"';
  const match = new RegExp(`^\\s*${NUMBER}\\s*([A-Z]{3})\\s*/\\s*(bu|t|kg)\\s*$`).exec(text);
  if (!match) throw unreadable(text, field, accepted);
  const price = positiveNumber(match[1]!, text, field, accepted);
  const currency = match[2]!;
  if (match[3] === "bu") return { perBushel: price, currency };
  const perKg = match[3] === "t" ? price / KG_PER_TONNE : price;
  return { perBushel: perKg * kgPerBushel(crop, text, field), currency };
}

/**
 * Yield in bushels per acre.
 * @throws {ManifestError} when the text is not a number and bu/ac, t/ha or kg/ha.
 */
export function parseYield(text: string, crop: Crop, field: string): number {
  const accepted = 'a number and bu/ac, t/ha or kg/ha, such as "200 bu/ac"';
  const match = new RegExp(`^\\s*${NUMBER}\\s*(bu/ac|t/ha|kg/ha)\\s*$`).exec(text);
  if (!match) throw unreadable(text, field, accepted);
  const amount = positiveNumber(match[1]!, text, field, accepted);
  if (match[2] === "bu/ac") return possibleYield(amount, text, field);
  const kgPerHectare = match[2] === "t/ha" ? amount * KG_PER_TONNE : amount;
  return possibleYield(kgPerHectare / kgPerBushel(crop, text, field) / ACRES_PER_HECTARE, text, field);
}

/** Bushels per acre; half as much again as the best ever weighed in a contest, about 620 (our judgement). */
const MOST_BUSHELS_PER_ACRE = 1000;

function possibleYield(bushels: number, text: string, field: string): number {
  if (bushels <= MOST_BUSHELS_PER_ACRE) return bushels;
  throw unreadable(text, field, `a yield of at most ${MOST_BUSHELS_PER_ACRE} bu/ac`);
}

/**
 * An amount of money.
 * @throws {ManifestError} when the text is not a number and a three-letter currency.
 */
export function parseMoney(text: string, field: string): { amount: number; currency: string } {
  const accepted = 'a number and a currency of three letters, such as "450 USD"';
  const match = new RegExp(`^\\s*${NUMBER}\\s*([A-Z]{3})\\s*$`).exec(text);
  if (!match) throw unreadable(text, field, accepted);
  return { amount: positiveNumber(match[1]!, text, field, accepted), currency: match[2]! };
}

/**
 * Price of seed by 1000 seeds; the count after the slash may be that of a bag ("/1000", "/80000").
 * @throws {ManifestError} when the text is not a number, a three-letter currency and a count of seeds.
 */
export function parseSeedPrice(text: string, field: string): { per1000: number; currency: string } {
  const accepted =
    'a number, a currency of three letters and the count of seeds it buys, such as "3.75 USD/1000"';
  const match = new RegExp(`^\\s*${NUMBER}\\s*([A-Z]{3})\\s*/\\s*(\\d[\\d,]*)(?:\\s*seeds)?\\s*$`).exec(text);
  if (!match) throw unreadable(text, field, accepted);
  const price = positiveNumber(match[1]!, text, field, accepted);
  const count = positiveNumber(match[3]!, text, field, accepted);
  return { per1000: (price / count) * 1000, currency: match[2]! };
}
