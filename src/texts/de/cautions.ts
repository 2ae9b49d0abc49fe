/** What has to be minded before anyone acts on an advice. Not yet read by anyone who grew up with German. */
import type { ENGLISH } from "../en/english.ts";

export const cautions: Partial<(typeof ENGLISH)["cautions"]> = {
  machine:
    "Bevor Sie unter die Sämaschine greifen: Betriebsanleitung befolgen, Maschine absenken oder abstützen, Motor abstellen und den Hydraulikdruck ablassen. Bei gebeiztem Saatgut Handschuhe tragen und das Saatgutetikett lesen.",
  dig: "Das Saatgut kann gebeizt sein: beim Graben Handschuhe tragen und das Saatgutetikett lesen.",
  stand:
    "Bevor Sie einen Bestand bearbeiten oder umbrechen: den Schadensgutachter der Versicherung fragen, die Etiketten von Herbizid und Saatgut lesen und die örtlichen Vorschriften befolgen.",
};
