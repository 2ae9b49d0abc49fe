/** The parts under the map, and what shows one part at a time. */
import type { dock as english } from "../en/dock.ts";

export const dock: Partial<typeof english> = {
  label: "Überfahrten und Säaggregate",
  furrow: "Furche",
  furrowWhole: "Furche im Längsschnitt",
  furrowSaid:
    "Ein Punkt je etwa 12 m langem Stück der Überfahrt: mittlere Ablagetiefe aller Säaggregate, die Streuung innerhalb einer Reihe als Strich.",
  rows: "Säaggregate",
  passes: "Überfahrten nach Boden",
  firstRows: (count) => `Die ersten ${count} Zeilen in dieser Ordnung; alle stehen in passes.csv.`,
  counts: "Zählungen und Grabungen",
  money: "Bestand und Geld",
  seasons: "Andere Saison",
  parts: "Teile der Seite",
  ledger: "Bilanz",
  map: "Karte",
  drawings: "Furche und Reihen",
  tapMap: "Karte antippen: Hier steht, was dort liegt.",
  tapDrawing: "Zeichnung antippen: Hier steht, was dort liegt.",
  pointMap: "Auf die Karte zeigen: Hier steht, was dort liegt.",
  pointBoth: "Auf Karte oder Zeichnung zeigen: Hier steht, was dort liegt.",
  understood: "Verstanden",
  mapLabel: "Karte des Schlages",
};
