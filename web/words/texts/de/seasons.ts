/** Another season of the field beside the open one. */
import type { seasons as english } from "../en/seasons.ts";

export const seasons: Partial<typeof english> = {
  intro:
    "Öffnen Sie den Bericht einer anderen Saison dieses Schlages. Beide Karten bewegen sich dann gemeinsam und sind gleich gefärbt. Die Datei bleibt auf diesem Rechner.",
  choose: "Bericht wählen",
  file: "report.html oder everything.zip einer anderen Saison",
  close: (name) => `${name} schließen`,
  whole: "Der ganze Schlag",
  soil: (name) => `Boden: ${name}`,
  caution:
    "Mittel über die gesäte Fläche, wie sie das Protokoll jeder Saison hat. Wetter, Saatgut und Tage unterscheiden sich: Ein besserer Bestand hier beweist nicht, dass sich eine Änderung an der Sämaschine gelohnt hat. Nebeneinander gesäte Streifen in einer Saison tun es.",
  meanOf: "Mittel von",
  less: (one, other) => `${one} minus ${other}`,
  middle: "Mitte der Bestandszählungen",
  counts: (stand, counts) => `${stand} (${counts} Zählungen)`,
  noneCounted: "keine gezählt",
  confirmed: "Stellen, die Zählungen bestätigen",
  sameColours: (title) => `${title}, in denselben Farben wie auf der ersten Karte; Mittel über 12 m.`,
  noFigures: (title) => `Diese Saison hat keine Werte für ${title}.`,
  both: "Beide in Zahlen",
};
