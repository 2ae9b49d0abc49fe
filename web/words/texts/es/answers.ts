/** The short form of what was not said of a field. */
import type { answers as english } from "../en/answers.ts";

export const answers: Partial<typeof english> = {
  writeNumber: (title) => `${title}: escriba un número o deje la pregunta vacía.`,
  nothing: "Todavía no se respondió nada.",
  work: "Calcular con esto",
  leaveEmpty: "Lo que no sepa, déjelo vacío.",
  used: (what) => `Usado: ${what}.`,
  keeps: "conserva las respuestas junto a los archivos.",
  label: "Respuestas sobre el lote",
  would: "Respuestas que cambiarían esto",
  saidOf: "Lo que dijo del lote",
  sensed: "medida",
  onlySet: "solo ajustada",
};
