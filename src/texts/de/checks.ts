/** The check to make in the field before money is spent. Not yet read by anyone who grew up with German. */
import type { ENGLISH } from "../en/english.ts";

export const checks: Partial<(typeof ENGLISH)["checks"]> = {
  digBoth:
    "Hier und zehn Schritte außerhalb graben, bei denselben Säaggregaten: Tiefe, Furchenwand und Zustand jedes Korns entscheiden.",
  depthOfUnit: (unit) =>
    `Die Sämaschine auf ebenen Boden stellen und Aggregat ${unit} auf Klötzen in Höhe der Solltiefe mit den Nachbarn vergleichen; zehn Körner dieser und zehn der nächsten Reihe ausgraben.`,
  depth: "Hier und außerhalb je zehn Körner ausgraben; mit dem Soll vergleichen.",
  depthOfTen: "Zehn aufeinanderfolgende Körner einer Reihe ausgraben und jede Tiefe aufschreiben.",
  contact:
    "Zehn Körner hier und zehn auf gewöhnlichem Boden daneben ausgraben, dieselben Säaggregate: Tiefe und Boden um das Korn.",
  pressed:
    "Hier graben und die Furchenwand ansehen: eine glänzende, verschmierte Wand, an der die Wurzeln entlanglaufen statt sie zu durchdringen. Eine Kugel Boden aus Saattiefe drücken: ist sie wie Kitt, warten.",
  rateOfRow:
    "Pflanzen auf 1/1000 acre in dieser und der nächsten Reihe zählen und mit den Körnern im Protokoll vergleichen.",
  rate: "Pflanzen auf 1/1000 acre hier und außerhalb zählen und mit den Körnern im Protokoll vergleichen.",
  gaps: "Vierzig Pflanzenabstände in einer Reihe hier und in der nächsten Reihe messen.",
  speed:
    "Zehn Körner hintereinander hier ausgraben und zehn, wo langsamer gefahren wurde: Tiefe, Fehlstellen und Doppelstellen.",
  sensor: (units) =>
    `Pflanzen auf 1/1000 acre in Reihe ${units} und in den Reihen daneben zählen: stimmen sie überein, ist der Sensor falsch, nicht die Vereinzelung.`,
  trafficOfRows: (units) =>
    `Zehn Körner in den Reihen ${units} und zehn in den Reihen daneben ausgraben: Tiefe, und wie hart der Boden um das Korn ist.`,
  traffic:
    "Zehn Körner auf dem Vorgewende und zehn eine Arbeitsbreite weiter innen ausgraben: Tiefe, und wie hart der Boden ist.",
  plantedTwice: "Hingehen und nach Reihen suchen, die sich kreuzen oder enger liegen als der Reihenabstand.",
  notPlanted:
    "Hingehen: ein Graben, ein Teich oder eine Baumreihe ist kein Fehler, aus der Feldgrenze herausnehmen; stehen dort Pflanzen, hat das Protokoll eine Lücke.",
  crust:
    "Entlang einer kahlen Stelle graben: unter einer harten Schicht ergrünte oder gekrümmte Keimlinge bedeuten Verkrustung.",
  ground: "Entlang einer kahlen Stelle graben und Tiefe und Zustand jedes Korns aufschreiben.",
};
