/** The first sentences of every output where places were found. Not yet read by anyone who grew up with Spanish. */
import type { ENGLISH } from "../en/english.ts";
import { lists } from "./lists.ts";

const places = (count: number): string => `${count} ${count === 1 ? "lugar" : "lugares"}`;

export const headline: Partial<(typeof ENGLISH)["headline"]> = {
  fieldShort: (share, sound) =>
    `faltan plantas en todo el lote: está en pie ${share} del objetivo, cuando en suelo sano estaría ${sound} o más; mire la semilla, la campaña, la profundidad y la densidad de todo el lote, y cómo se hicieron los conteos`,
  fieldLate: (share) => `${share} de las plantas emergieron tarde, en todo el lote`,
  placesShort: (count) => `${places(count)} donde faltan plantas`,
  placesAtRisk: (count) => `${places(count)} en riesgo, solo según el registro`,
  placesRich: (count) => `${places(count)} con más semilla que la pedida, solo según el registro`,
  placesUnlike: (count) => `${places(count)} con siembra distinta del resto del lote, solo según el registro`,
  all: (names) => lists.all!(names),
  onGround: (said, affected, whole) => `${said}, en ${affected} de ${whole}`,
  aboutMoney: (said, money) => `${said}, unos ${money}`,
  partShort: ({ name, area, share, against, isSure }) =>
    `${name}${area === null ? "" : ` (${area})`}: ${isSure ? "" : "probablemente "}${share === null ? "" : `${share} `}menos plantas${against === null ? " de lo esperado" : ` que ${against}`}`,
  wholeField: "todo el lote",
  soil: (name) => `suelo ${name}`,
  rows: (count, numbers) => `${count === 1 ? "surco" : "surcos"} ${numbers}`,
  theTarget: "el objetivo",
  theRest: "el resto del lote",
};
