/** The short form of what was not said of a field. */
import type { answers as english } from "../en/answers.ts";

export const answers: Partial<typeof english> = {
  writeNumber: (title) => `${title}: Schreiben Sie eine Zahl oder lassen Sie die Frage leer.`,
  nothing: "Noch wurde nichts beantwortet.",
  work: "Damit auswerten",
  leaveEmpty: "Was Sie nicht wissen, lassen Sie leer.",
  used: (what) => `Verwendet: ${what}.`,
  keeps: "bewahrt die Antworten neben den Dateien auf.",
  label: "Antworten zum Schlag",
  would: "Antworten, die das ändern würden",
  saidOf: "Was Sie zum Schlag gesagt haben",
  sensed: "gemessen",
  onlySet: "nur eingestellt",
};
