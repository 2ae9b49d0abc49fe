/** The first sentences of every output where places were found. Not yet read by anyone who grew up with German. */
import type { ENGLISH } from "../en/english.ts";
import { lists } from "./lists.ts";

const places = (count: number): string => `${count} ${count === 1 ? "Stelle" : "Stellen"}`;

export const headline: Partial<(typeof ENGLISH)["headline"]> = {
  fieldShort: (share, sound) =>
    `auf dem ganzen Schlag fehlen Pflanzen: ${share} des Solls stehen, wo es auf gesundem Boden ${sound} und mehr wären; Saatgut, Jahr, Tiefe und Saatstärke des ganzen Schlags ansehen, und wie gezählt wurde`,
  fieldLate: (share) => `${share} der Pflanzen kamen spät, auf dem ganzen Schlag`,
  placesShort: (count) => `${places(count)} mit zu wenig Pflanzen`,
  placesAtRisk: (count) => `${places(count)} gefährdet, nur nach dem Protokoll`,
  placesRich: (count) => `${places(count)} mit mehr Saatgut als verlangt, nur nach dem Protokoll`,
  placesUnlike: (count) => `${places(count)} anders gesät als der übrige Schlag, nur nach dem Protokoll`,
  all: (names) => lists.all!(names),
  onGround: (said, affected, whole) => `${said}, auf ${affected} von ${whole}`,
  aboutMoney: (said, money) => `${said}, etwa ${money}`,
  partShort: ({ name, area, share, against, isSure }) =>
    `${name}${area === null ? "" : ` (${area})`}: ${isSure ? "" : "wahrscheinlich "}${share === null ? "" : `${share} `}zu wenig Pflanzen${against === null ? "" : ` gegenüber ${against}`}`,
  wholeField: "ganzer Schlag",
  soil: (name) => `Boden ${name}`,
  rows: (count, numbers) => `${count === 1 ? "Reihe" : "Reihen"} ${numbers}`,
  theTarget: "dem Soll",
  theRest: "dem übrigen Schlag",
};
