/** As in English, where each comes from the one definition of the library. */
import type { variables as english } from "../en/variables.ts";

export const variables: Partial<typeof english> = {
  seedingDepth: "Ablagetiefe",
  downForceMargin: "Last auf den Tiefenführungsrädern",
  downForce: "Zugegebene Schardruckkraft",
  groundContact: "Bodenkontakt",
  singulation: "Vereinzelung",
  multiples: "Doppelstellen",
  misses: "Fehlstellen",
  population: "Abgelegte Körner",
  speed: "Geschwindigkeit",
  acceleration: "Geschwindigkeitsänderung",
  spacingVariation: "Streuung der Kornabstände",
  depthSd: "Streuung der Ablagetiefe in der Reihe",
  marginP10: "Leichteste Last auf den Tiefenführungsrädern",
  noLoad: "Messwerte ohne Last",
};
