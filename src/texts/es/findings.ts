/** A finding: its heading, where it lies, what was seen, what else could do it. Not yet read by anyone who grew up with Spanish. */
import type { ENGLISH } from "../en/english.ts";
import { lists } from "./lists.ts";

const inParts = (parts: number): string =>
  parts === 1
    ? "en una parte de al menos medio ancho de labor"
    : `en ${parts} partes de al menos medio ancho de labor`;

export const findings: Partial<(typeof ENGLISH)["findings"]> = {
  cannotTell: (title, causes) => `${title}: ${causes.join(" o ")}`,
  titleOfUnit: (rows, title) => `Cuerpo de siembra ${rows}: ${title}`,
  titleOfRows: (rows, title) => `Surcos ${rows}: ${title}`,
  isTitleLowered: true,
  under1Percent: "menos de 1 %",
  over99Percent: "más de 99 %",
  couldBe: (causes) => `Podría ser: ${causes}.`,
  couldAlsoBe: (causes) => `También podría ser: ${causes}.`,
  allOthers: (percent) => `Todas las demás causas juntas: ${percent}.`,
  soils: (names) => lists.all!(names),
  inEveryPass: "en cada pasada",
  inPasses: (some, all) => `en ${some} de ${all} pasadas`,
  passes: (count, numbers) => `${count === 1 ? "pasada" : "pasadas"} ${numbers}`,
  planted: (isoDate) => `sembrado ${isoDate}`,
  figure: (name, here) => `${name}: aquí ${here}`,
  figureElsewhere: (name, here, elsewhere) => `${name}: aquí ${here}, en el resto ${elsewhere}`,
  aim: (figure, target) => `${figure} (objetivo ${target})`,
  range: (low, high) => `${low} a ${high}`,
  asElsewhere: (names) => `el registro es aquí como en el resto: ${lists.all!(names)}`,
  digs: (signs) => `excavaciones: ${signs.join(", ")}`,
  sign: (sign, seen, looked) => `${sign} en ${seen} de ${looked}`,
  alongSoilBorder:
    "la mayor parte está a lo largo del límite de dos suelos: donde el mapa de suelos no es exacto, un suelo que solo es el otro parece tener pocas plantas",
  wetByNature: (here, elsewhere) =>
    `mapa de suelos: ${here} de esta parte tiene por naturaleza drenaje algo pobre o peor, ${elsewhere} del resto; los drenes puestos después no están en el mapa`,
  tooWetThatDay:
    "según el tiempo y el mapa de suelos, la mayor parte estaba ese día demasiado mojada para sembrar: el consejo habría sido esperar",
  plantedTwice: (area, parts) => `${area} están bajo dos pasadas o más, ${inParts(parts)}`,
  notPlanted: (area, parts) =>
    `el registro no tiene datos en ${area}, ${inParts(parts)}: sin sembrar, o sin registrar`,
};

export const digSigns: Partial<(typeof ENGLISH)["digSigns"]> = {
  "smeared wall": "pared del surco alisada",
  "leafed out underground": "hojas abiertas bajo tierra",
  rotted: "semilla podrida",
  swollen: "semilla hinchada, sin germinar",
  hollow: "semilla hueca",
  "dug shallow": "semilla más superficial que el objetivo",
  "dug deep": "semilla más profunda que el objetivo",
  "open furrow": "surco abierto",
  "residue in furrow": "rastrojo en el surco",
};
