/** What is said while a field is worked out. */
import type { work as english } from "../en/work.ts";

export const work: Partial<typeof english> = {
  passes: "Separando las pasadas",
  compare: "Comparando pasadas, cuerpos de siembra y suelos",
  cells: "Dividiendo el lote en partes",
  causes: "Buscando sitios que se agrupan y qué pudo causarlos",
  report: "Escribiendo el balance",
};
