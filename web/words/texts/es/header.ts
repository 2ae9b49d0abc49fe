/** The top line, and which part of the page is shown. */
import type { header as english } from "../en/header.ts";

export const header: Partial<typeof english> = {
  noField: "Ningún lote abierto",
  planted: (date) => `sembrado ${date}`,
  open: "Abrir…",
  printTwo: "Imprimir dos páginas",
  printAll: "Imprimir todo",
  undo: "Deshacer",
  redo: "Rehacer",
  besideMap: "Junto al mapa",
  wrong: "Qué falló",
  toSet: "Qué ajustar",
};
