/** The tables and charts under the map, and the furrow. */
import type { tables as english } from "../en/tables.ts";

export const tables: Partial<typeof english> = {
  caption: (title) => `${title}, Mittel jeder Überfahrt in jedem Boden`,
  noFigures: (pass, soil) => `Überfahrt ${pass} hat keine Werte in ${soil}`,
  cell: (pass, ends, soil, title, mean) =>
    `Überfahrt ${pass}${ends ? " (Vorgewende)" : ""} in ${soil}: ${title} ${mean}`,
  interval: (level, low, high) => ` (Intervall zu ${level}: ${low} bis ${high})`,
  againstPasses: (difference, interval) => `${difference} gegenüber den anderen Überfahrten dort${interval}`,
  againstRows: (difference, interval) =>
    `${difference} gegenüber den anderen im selben Augenblick${interval}`,
  unit: (unit, figure) => `Säaggregat ${unit}: ${figure}`,
  unitFigure: (unit, figure) => `Säaggregat ${unit} ${figure}`,
  chart: (title, rows, middle, apart) =>
    `${title} von ${rows} Säaggregaten; das mittlere hat ${middle}; ${apart === "" ? "keines weicht ab" : `abweichend: ${apart}`}`,
  noRows:
    "Das Protokoll hat keine Säaggregate zum Vergleichen: Es wurde für die ganze Maschine aufgezeichnet.",
  noPasses: "Es gibt keine Überfahrten, die sich innerhalb eines Bodens vergleichen lassen.",
  by: "Überfahrten und Böden nach",
  asList: "Dasselbe als Liste",
  listCaption: (title) =>
    `${title} jeder Überfahrt in jeder Bodenzone und wie weit sie von den anderen dort abliegt`,
  area: "Fläche",
  mean: "Mittel",
  spread: "Streuung (SD)",
  outside: "Außerhalb des Solls",
  against: "Gegen andere Überfahrten",
  levelInterval: (level) => `Intervall zu ${level}`,
  how: "Wie berechnet:",
  howMean: "Mittel",
  howSpread: "Streuung",
  howOutside: "außerhalb des Solls",
  howAgainst: "gegen andere Überfahrten",
  noCounts: "Weder Zählungen noch Grabungen liegen vor: Alles hier beruht nur auf dem Protokoll.",
  spot: "Punkt",
  standing: "Stehende Pflanzen",
  ninety: "Intervall zu 90 %",
  cameUp: "Von den Körnern aufgelaufen",
  late: "Spät",
  counted: "Gezählt",
  showCount: (spot) => `Zählung ${spot} auf der Karte zeigen`,
  dig: "Grabung",
  found: "Was gefunden wurde",
  showDig: (dig) => `Grabung ${dig} auf der Karte zeigen`,
  countsShown: (shown, all) =>
    `${shown} der ${all} Zählungen sind gezeichnet und aufgeführt, über die Datei verteilt; die Befunde beruhen auf allen.`,
  passBefore: "Vorige Überfahrt",
  nextPass: "Nächste Überfahrt",
  passShown: "Gezeigte Überfahrt",
  passOption: (pass, ends, named) =>
    `Überfahrt ${pass}${ends ? ", Vorgewende" : ""}${named ? " (im Befund)" : ""}`,
  closer: "Näher",
  passSaid: (length, units, shaded, large) =>
    `${length} lang${units ? `, ${units} Säaggregate` : ""}${shaded ? ", im Befund schattiert" : ""}${large ? `, große Körner: Säaggregat ${large}` : ""}`,
  choosePass:
    "Wählen Sie eine Überfahrt oder einen Befund der Bilanz, um die Furche im Längsschnitt zu sehen.",
  slider: (pass) =>
    `Furche der Überfahrt ${pass} im Längsschnitt; die Pfeiltasten gehen entlang und über die Säaggregate`,
  noPlace: "keine Stelle gewählt",
  wheel: "Last auf",
  load: "Rädern",
};
