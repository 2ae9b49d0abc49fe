/** Findings, worst money first, and what stands around them. */
import type { ledger as english } from "../en/ledger.ts";

export const ledger: Partial<typeof english> = {
  title: "Bilanz",
  caution:
    "Bevor Sie eine Maschine, Saatgut oder einen Bestand anfassen: Betriebsanleitung, Etikett des Mittels, Sachverständiger der Versicherung und örtliche Vorschriften gehen vor.",
  cleared: "Sah im Protokoll schlecht aus, schadete nicht",
  fieldNote: "Notiz zum ganzen Schlag",
  placeNote: (number) => `Notiz zu Stelle ${number}`,
  restsOn: "Worauf es beruht",
  lost: "Verlust insgesamt",
  interval: (range, level) => `${range}, Intervall zu ${level}`,
  loadToCome: "Die Last für diese Stelle wird gerade ermittelt…",
  cantTell: "welche, lässt sich nicht sagen",
  sure: (how) => `sicher zu ${how}`,
  logOnly: "nur aus dem Protokoll",
  countsOf: (count, shown) => `${shown} ${count === 1 ? "Zählung" : "Zählungen"}`,
  digsOf: (count, shown) => `${shown} ${count === 1 ? "Grabung" : "Grabungen"}`,
  counts: "Zählungen",
  clearedBy: (seen) => `entkräftet durch ${seen}`,
  without: "Ohne Befund",
  onRest: "auf dem übrigen Schlag",
  onWhole: "auf dem ganzen Schlag: Was dort geprüft wurde, steht oben, was sich nicht beurteilen ließ, unten",
  covered: "Überfahrene Fläche",
  coveredSaid: (twice, left, within, doubt) =>
    `doppelt gesät ${twice}, ausgelassen ${left} innerhalb ${within === "boundary" ? "der Schlaggrenze" : "des Umrisses der gesäten Fläche"}${doubt ? ": so viel, dass Arbeitsbreite, Positionen oder Grenze zweifelhaft sind" : ""}`,
  notJudged: "Nicht zu beurteilen",
  tested: "Was geprüft wurde",
  saveField: "field.json speichern",
  saveFieldSaid: "welche Datei was ist und wie ihre Spalten gelesen werden; neben den Dateien aufbewahren",
  allUsed: (all) => `alle ${all} Datensätze verwendet`,
  someUsed: (taken, all, without) => `${taken} von ${all} Datensätzen verwendet, ${without} ausgelassen`,
  columnsRead: (unused) =>
    `Wie ihre Spalten gelesen wurden${unused > 0 ? ` und warum ${unused} nicht verwendet werden` : ""}`,
  columnAs: (column, variable, unit, reason) => `${column} als ${variable}${unit}: ${reason}`,
  columnUnused: (column, reason) => `${column} wird nicht verwendet: ${reason}`,
  noteRecords: (shown) => `${shown} Datensätze`,
  firstRecord: (record) => `erster Datensatz ${record}`,
};
