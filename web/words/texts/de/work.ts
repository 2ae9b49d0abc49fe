/** What is said while a field is worked out. */
import type { work as english } from "../en/work.ts";

export const work: Partial<typeof english> = {
  passes: "Überfahrten werden unterschieden",
  compare: "Überfahrten, Säaggregate und Böden werden verglichen",
  cells: "Der Schlag wird in Stücke geteilt",
  causes: "Zusammenhängende Stellen und mögliche Ursachen werden gesucht",
  report: "Die Bilanz wird geschrieben",
};
