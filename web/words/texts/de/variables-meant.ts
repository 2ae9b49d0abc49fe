/** As in English, where each comes from the one definition of the library. */
import type { variablesMeant as english } from "../en/variables-meant.ts";

export const variablesMeant: Partial<typeof english> = {
  seedingDepth: "Ablagetiefe laut Protokoll",
  downForceMargin: "Gewicht, das auf den Tiefenführungsrädern bleibt, auch Lastreserve genannt",
  downForce: "Kraft, die das System einem Säaggregat zugibt",
  groundContact: "Anteil der Zeit mit Last auf den Tiefenführungsrädern",
  singulation: "Anteil einzeln abgelegter Körner",
  multiples: "Doppelbelegungen, Anteil der Körner",
  misses: "Fehlstellen, Anteil der Körner",
  population: "Saatstärke wie abgelegt",
  speed: "Fahrgeschwindigkeit",
  acceleration: "Beschleunigung entlang der Überfahrt",
  spacingVariation: "Variationskoeffizient der Kornabstände",
  depthSd: "Standardabweichung der Ablagetiefe innerhalb der Säaggregate",
  marginP10: "ein Messwert von zehn ist leichter: 10. Perzentil der Last",
  noLoad: "Anteil der Messwerte ohne Last auf den Tiefenführungsrädern",
};
