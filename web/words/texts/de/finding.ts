/** What stands behind an entry of the ledger. */
import type { finding as english } from "../en/finding.ts";

export const finding: Partial<typeof english> = {
  toMakeSure: "Zur Sicherheit: ",
  seen: "Was zu sehen war: ",
  furrowOf: (pass) => `Furche der Überfahrt ${pass} hier`,
  stripUnits: (pass, units) =>
    `Überfahrt ${pass}: Körner unter der Oberfläche, Last auf den Tiefenführungsrädern darüber, Boden darunter; die großen Körner sind die von Säaggregat ${units}.`,
  stripShaded: (pass) =>
    `Überfahrt ${pass}: Körner unter der Oberfläche, Last auf den Tiefenführungsrädern darüber, Boden darunter; schattiert, wo das Problem liegt.`,
  othersAlike: "Werte, die hier abweichen; die übrigen sind wie anderswo.",
  measured: "Gemessen",
  here: "hier",
  elsewhere: "anderswo",
  target: "Soll",
  change: "Änderung: ",
  fromTo: (from, to) => `von ${from} auf ${to}`,
  otherwise: "Was es sonst sein könnte: ",
  technical: "Fachname",
  meaning: "Was das bedeutet",
  passes: "Überfahrten",
  rowUnits: "Säaggregate",
  soilZones: "Bodenzonen",
  plantsShort: "Pflanzen weniger als auf den gesunden Flächen des Schlages",
  yieldLost: "Ertragsverlust dort",
  chance: "Wahrscheinlichkeit einer solchen Gruppe auf einem Schlag ohne Fehler",
  lessThan: (share) => `weniger als ${share}`,
  moneyLost: "Geldverlust dort",
  moneyRange: (money, range, level) => `${money} (${range}, Intervall zu ${level})`,
  howSure: "Wie sicher die Ursache ist",
  area: "Fläche",
  number: "Nummer in den Dateien",
  workedOut: "Woher die Zahlen kommen",
  predicted:
    "Hier wurde nichts gezählt: Der Verlust ist der, den veröffentlichte Ergebnisse bei solcher Saat erwarten lassen, daher ist das Intervall weit.",
  harmless:
    "Das Protokoll sieht hier schlecht aus, aber gezählte Pflanzen oder ausgegrabene Körner zeigen keinen Schaden.",
  counted:
    "Die hier gezählten Pflanzen werden mit dem verglichen, was derselbe Boden bei einwandfreier Saat trägt.",
};
