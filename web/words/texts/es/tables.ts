/** The tables and charts under the map, and the furrow. */
import type { tables as english } from "../en/tables.ts";

export const tables: Partial<typeof english> = {
  caption: (title) => `${title}, media de cada pasada en cada suelo`,
  noFigures: (pass, soil) => `la pasada ${pass} no tiene cifras en ${soil}`,
  cell: (pass, ends, soil, title, mean) =>
    `pasada ${pass}${ends ? " (cabecera)" : ""} en ${soil}: ${title} ${mean}`,
  interval: (level, low, high) => ` (intervalo del ${level}: ${low} a ${high})`,
  againstPasses: (difference, interval) => `${difference} frente a las otras pasadas allí${interval}`,
  againstRows: (difference, interval) => `${difference} frente a los otros en los mismos momentos${interval}`,
  unit: (unit, figure) => `cuerpo de siembra ${unit}: ${figure}`,
  unitFigure: (unit, figure) => `cuerpo de siembra ${unit} ${figure}`,
  chart: (title, rows, middle, apart) =>
    `${title} de ${rows} cuerpos de siembra; el del medio tiene ${middle}; ${apart === "" ? "ninguno se aparta" : `se apartan de los otros: ${apart}`}`,
  noRows: "El registro no tiene cuerpos de siembra que comparar: se registró para toda la barra.",
  noPasses: "No hay pasadas que comparar dentro de un suelo.",
  by: "Pasadas y suelos según",
  asList: "Lo mismo como lista",
  listCaption: (title) =>
    `${title} de cada pasada en cada zona de suelo y cuánto dista de las otras pasadas allí`,
  area: "Superficie",
  mean: "Media",
  spread: "Dispersión (DE)",
  outside: "Fuera del objetivo",
  against: "Frente a otras pasadas",
  levelInterval: (level) => `intervalo del ${level}`,
  how: "Cómo se calcula:",
  howMean: "media",
  howSpread: "dispersión",
  howOutside: "fuera del objetivo",
  howAgainst: "frente a otras pasadas",
  noCounts: "No hay conteos ni excavaciones: todo aquí se basa solo en el registro.",
  spot: "Punto",
  standing: "Plantas en pie",
  ninety: "intervalo del 90 %",
  cameUp: "De las semillas emergieron",
  late: "Tardías",
  counted: "Contado",
  showCount: (spot) => `Mostrar el conteo ${spot} en el mapa`,
  dig: "Excavación",
  found: "Qué se encontró",
  showDig: (dig) => `Mostrar la excavación ${dig} en el mapa`,
  countsShown: (shown, all) =>
    `Se dibujan y listan ${shown} de los ${all} conteos, repartidos por el archivo; los hallazgos se basan en todos.`,
  passBefore: "Pasada anterior",
  nextPass: "Pasada siguiente",
  passShown: "Pasada mostrada",
  passOption: (pass, ends, named) =>
    `Pasada ${pass}${ends ? ", cabecera" : ""}${named ? " (en el hallazgo)" : ""}`,
  closer: "Más cerca",
  passSaid: (length, units, shaded, large) =>
    `${length} de largo${units ? `, ${units} cuerpos de siembra` : ""}${shaded ? ", sombreado en el hallazgo" : ""}${large ? `, semillas grandes: cuerpo de siembra ${large}` : ""}`,
  choosePass: "Elija una pasada, o un hallazgo del balance, para ver el corte de su surco.",
  slider: (pass) =>
    `Corte del surco de la pasada ${pass}; las flechas recorren el surco y los cuerpos de siembra`,
  noPlace: "ningún sitio elegido",
  wheel: "carga en",
  load: "ruedas",
};
