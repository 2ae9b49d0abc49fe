/** The check to make in the field before money is spent. Not yet read by anyone who grew up with Spanish. */
import type { ENGLISH } from "../en/english.ts";

export const checks: Partial<(typeof ENGLISH)["checks"]> = {
  digBoth:
    "Excave aquí y a diez pasos afuera, en los mismos cuerpos de siembra: la profundidad, la pared del surco y el estado de cada semilla lo deciden.",
  depthOfUnit: (unit) =>
    `Ponga la sembradora sobre un piso nivelado y compare el cuerpo ${unit} con sus vecinos sobre tacos de la profundidad objetivo; desentierre diez semillas de este surco y diez del siguiente.`,
  depth: "Desentierre diez semillas aquí y diez afuera; compare con el objetivo.",
  depthOfTen: "Desentierre diez semillas seguidas de un surco y anote cada profundidad.",
  contact:
    "Desentierre diez semillas aquí y diez en suelo común al lado, en los mismos cuerpos: profundidad y suelo alrededor de la semilla.",
  pressed:
    "Excave aquí y mire la pared del surco: un lado brillante y alisado que las raíces siguen en vez de atravesar. Apriete una bola de suelo de la profundidad de siembra: si es como masilla, espere.",
  rateOfRow:
    "Cuente las plantas en 1/1000 de acre en este surco y en el siguiente, y compare con las semillas del registro.",
  rate: "Cuente las plantas en 1/1000 de acre aquí y afuera, y compare con las semillas del registro.",
  gaps: "Mida cuarenta distancias entre plantas en un surco aquí y en el surco siguiente.",
  speed:
    "Desentierre diez semillas seguidas aquí y diez donde se anduvo más despacio: profundidad, fallas y dobles.",
  sensor: (units) =>
    `Cuente las plantas en 1/1000 de acre en el surco ${units} y en los surcos de al lado: si coinciden, el que está mal es el sensor, no el dosificador.`,
  trafficOfRows: (units) =>
    `Desentierre diez semillas en los surcos ${units} y diez en los de al lado: profundidad, y qué tan duro está el suelo alrededor de la semilla.`,
  traffic:
    "Desentierre diez semillas en la cabecera y diez un ancho de labor más adentro: profundidad, y qué tan duro está el suelo.",
  plantedTwice: "Vaya y busque surcos que se cruzan o que están más juntos que la distancia entre surcos.",
  notPlanted:
    "Vaya: un desagüe, una laguna o una hilera de árboles no es una falla, sáquelos del límite; si hay plantas, al registro le falta una parte.",
  crust:
    "Excave a lo largo de un tramo sin plantas: brotes con hojas o doblados debajo de una capa dura indican costra.",
  ground: "Excave a lo largo de un tramo sin plantas y anote la profundidad y el estado de cada semilla.",
};
