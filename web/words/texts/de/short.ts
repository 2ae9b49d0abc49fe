/** The farmer's sheet and the frame of the report. */
import type { short as english } from "../en/short.ts";

export const short: Partial<typeof english> = {
  title: "Kurz gesagt",
  lost: (money, range) => `Verlust insgesamt: etwa ${money}; es können ${range} sein.`,
  before: "Vor der nächsten Saat, das Schlimmste zuerst",
  more: (count, shown) =>
    `Und ${shown} weitere ${count === 1 ? "Stelle" : "Stellen"}: siehe die Bilanz auf den nächsten Seiten.`,
  places: (count, shown) => `${shown} ${count === 1 ? "Stelle" : "Stellen"} unter der Karte`,
  each: ", jede mit dem, was zu tun ist, das Schlimmste zuerst.",
  caution:
    "Bevor Sie eine Maschine, gebeiztes Saatgut oder einen Bestand anfassen: Betriebsanleitung, Etikett des Mittels, Sachverständiger der Versicherung und örtliche Vorschriften gehen vor. Geldbeträge sind Schätzungen mit Spanne, keine Rechnung.",
  noFinding: (area, of) => `Kein Befund auf ${area} von ${of}.`,
  unknown: "Was noch nicht bekannt ist",
  logAlone: (count, shown) =>
    `${shown} ${count === 1 ? "Stelle beruht" : "Stellen beruhen"} nur auf dem Protokoll: Dort Pflanzen zu zählen, würde es klären. `,
  notJudged: (what) => `Nicht zu beurteilen: ${what}.`,
  about: (money) => `, etwa ${money}`,
  check: (what) => `Zuerst prüfen: ${what}`,
  mapAndReadout: "Karte und Anzeige",
  howWorked: "Wie das ermittelt wurde",
  notices: "Hinweise zur Software in dieser Datei",
};
