/** The top line, and which part of the page is shown. */
import type { header as english } from "../en/header.ts";

export const header: Partial<typeof english> = {
  noField: "Kein Schlag geöffnet",
  planted: (date) => `gesät ${date}`,
  open: "Öffnen…",
  printTwo: "Zwei Seiten drucken",
  printAll: "Alles drucken",
  undo: "Rückgängig",
  redo: "Wiederholen",
  besideMap: "Neben der Karte",
  wrong: "Was schiefging",
  toSet: "Was einstellen",
};
