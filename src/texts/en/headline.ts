/** The first sentences of every output where places were found. Figures come with their units. */
import { lists } from "./lists.ts";

export interface PartShort {
  name: string;
  isPlural: boolean;
  area: string | null;
  share: string | null;
  against: string | null;
  isSure: boolean;
}

const places = (count: number): string => `${count} ${count === 1 ? "place" : "places"}`;

export const headline = {
  fieldShort: (share: string, sound: string): string =>
    `the whole field is short: ${share} of its target stands, where ${sound} and more would on sound ground; look at seed, season, depth and rate of the whole field, and at how the counts were made`,
  fieldLate: (share: string): string => `${share} of the plants came late, over the whole field`,
  placesShort: (count: number): string => `${places(count)} where plants are short`,
  placesAtRisk: (count: number): string => `${places(count)} at risk, from the log only`,
  placesRich: (count: number): string => `${places(count)} given more seed than asked for, from the log only`,
  placesUnlike: (count: number): string =>
    `${places(count)} planted unlike the rest of the field, from the log only`,
  all: (names: readonly string[]): string => lists.all(names),
  onGround: (said: string, affected: string, whole: string): string => `${said}, on ${affected} of ${whole}`,
  aboutMoney: (said: string, money: string): string => `${said}, about ${money}`,
  /** `name` as English has it in front of "is" or "are". */
  partShort: ({ name, isPlural, area, share, against, isSure }: PartShort): string =>
    `${name}${area === null ? "" : `, ${area},`} ${isPlural ? "are" : "is"}${isSure ? "" : " probably"} ${share === null ? "short" : `${share} short`}${against === null ? "" : ` of ${against}`}`,
  wholeField: "the whole field",
  soil: (name: string): string => `the ${name}`,
  rows: (count: number, numbers: string): string => `${count === 1 ? "row" : "rows"} ${numbers}`,
  theTarget: "the target",
  theRest: "the rest of the field",
};
