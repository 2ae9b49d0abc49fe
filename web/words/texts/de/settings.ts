/** How the page speaks and looks. */
import type { settings as english } from "../en/settings.ts";

export const settings: Partial<typeof english> = {
  title: "Einstellungen",
  units: "Einheiten",
  farm: "Acre, Zoll",
  metric: "metrisch",
  numbers: "Schreibweise der Zahlen",
  automaticNumbers: (sample) => `${sample} (automatisch)`,
  language: "Sprache",
  automaticLanguage: (name) => `${name} (automatisch)`,
  unchecked:
    "Spanisch und Deutsch sind noch nicht fertig: einige Sätze stehen noch auf Englisch, und niemand mit dieser Muttersprache hat sie geprüft.",
  look: "Hell oder dunkel",
  device: "wie das Gerät",
  light: "hell",
  dark: "dunkel",
  layOut: "Teile neu anordnen",
  notices: "Hinweise",
  noticesSaid: ": Software, Schriften und Farben, die nicht von uns sind",
};
