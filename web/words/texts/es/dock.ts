/** The parts under the map, and what shows one part at a time. */
import type { dock as english } from "../en/dock.ts";

export const dock: Partial<typeof english> = {
  label: "Pasadas y cuerpos de siembra",
  furrow: "Surco",
  furrowWhole: "Corte longitudinal del surco",
  furrowSaid:
    "Un punto por tramo de la pasada de unos 12 m: profundidad media de todos los cuerpos de siembra, con la dispersión dentro de una línea como raya.",
  rows: "Cuerpos de siembra",
  passes: "Pasadas por suelo",
  firstRows: (count) => `Las ${count} filas primeras en este orden; todas están en passes.csv.`,
  counts: "Conteos y excavaciones",
  money: "Plantas y dinero",
  seasons: "Otra campaña",
  parts: "Partes de la página",
  ledger: "Balance",
  map: "Mapa",
  drawings: "Surco y cuerpos",
  tapMap: "Toque el mapa: aquí se lee lo que hay allí.",
  tapDrawing: "Toque el dibujo: aquí se lee lo que hay allí.",
  pointMap: "Señale el mapa: aquí se lee lo que hay allí.",
  pointBoth: "Señale el mapa o el dibujo: aquí se lee lo que hay allí.",
  understood: "Entendido",
  mapLabel: "Mapa del lote",
};
