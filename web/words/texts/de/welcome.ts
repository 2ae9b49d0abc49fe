/** Before a field is on the page, and while it is worked on. */
import type { welcome as english } from "../en/welcome.ts";

export const welcome: Partial<typeof english> = {
  title: "Wo ist der Bestand ungleichmäßig aufgelaufen, und warum?",
  drop: (file) => [
    "Legen Sie hier das Protokoll der Sämaschine ab, dazu Bodenkarte, Bestandszählungen, Grabungen und Schlaggrenze, soweit vorhanden (Shapefile, gepackt oder einzeln, GeoJSON oder CSV), oder den ganzen Ordner eines Schlages mit seiner ",
    file,
    ". Das Protokoll allein genügt für den Anfang; alles andere macht die Antwort genauer.",
  ],
  choose: "Dateien wählen",
  sample: "Beispiel öffnen",
  backTo: (name) => `Zurück zu ${name}`,
  kept: "In diesem Browser aufbewahrt",
  size: (files, shown, megabytes) => `${shown} ${files === 1 ? "Datei" : "Dateien"}, ${megabytes} MB`,
  forget: "Vergessen",
  privacy:
    "Ihre Dateien bleiben auf diesem Rechner: Die Seite arbeitet selbst mit ihnen und sendet nichts. Das Beispiel ist ein erfundener Schlag. Eine früher gespeicherte Sitzungsdatei wird auf dieselbe Weise geöffnet.",
  filesOfField: "Dateien eines Schlages",
  ourFault: "Evenstand ist auf einen eigenen Fehler gestoßen.",
  unusable: "Diese Dateien konnten nicht verwendet werden.",
  accepted: (what) => `Angenommen würde: ${what}`,
  afterOurs:
    "Ihre Dateien sind unverändert. Versuchen Sie es noch einmal, oder nur mit dem Protokoll; kommt der Fehler wieder, melden Sie ihn mit den Worten oben.",
  afterTheirs:
    "Es wurde nichts verändert. Wählen Sie unten andere Dateien, oder berichtigen Sie diese und wählen Sie sie erneut.",
  atWork: "Bei der Arbeit",
  howFar: "Wie weit die Arbeit ist",
  step: (step, of) => `Schritt ${step} von ${of}`,
  cancel: "Abbrechen",
};
