/** What dropped files are taken for. */
import type { sorting as english } from "../en/sorting.ts";

export const sorting: Partial<typeof english> = {
  title: "Wofür diese Dateien gehalten werden",
  file: "Datei",
  takenFor: "Gehalten für",
  records: "Datensätze",
  onField: "Auf dem Schlag",
  twice: (roles) =>
    `Zwei Dateien sollen dasselbe sein (${roles.join(", ")}): Wählen Sie eine, die andere „nicht verwendet“.`,
  noLog:
    "Noch gilt keine Datei als Protokoll der Sämaschine: Wählen Sie sie unten. Ohne Protokoll lässt sich nichts ermitteln.",
  stillPlanting:
    "Wird noch gesät? „Erste Überfahrten ansehen“ sagt, was jetzt zu ändern und wo zu graben ist.",
  workOut: "Auswerten",
  firstPasses: "Erste Überfahrten ansehen",
  saveAs: "Als field.json speichern",
  chooseOther: "Andere Dateien wählen",
  whatIs: (file) => `Was ${file} ist`,
  notUsed: "nicht verwendet",
  asChosen: "wie von Ihnen gewählt",
  unusedColumns: (count) =>
    `${count === 1 ? "1 ihrer Spalten wird nicht verwendet" : `${count} ihrer Spalten werden nicht verwendet`}, und warum`,
  columnsUnused: (file) => `Spalten von ${file}, die nicht verwendet werden`,
  missing: "Was fehlt und was das ändert",
  lacks: (what) => `fehlt: ${what}`,
};
