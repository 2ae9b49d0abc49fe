/** Quantities of planting as sentences and lists name them. Not yet read by anyone who grew up with German. */
import type { ENGLISH } from "../en/english.ts";

export const variableNames: Partial<(typeof ENGLISH)["variableNames"]> = {
  seedingDepth: "Ablagetiefe",
  downForceMargin: "Last auf den Tiefenführungsrädern",
  downForce: "zusätzlicher Schardruck",
  groundContact: "Bodenkontakt",
  singulation: "Vereinzelung",
  multiples: "Doppelstellen",
  misses: "Fehlstellen",
  population: "ausgebrachte Körner",
  speed: "Geschwindigkeit",
  acceleration: "Änderung der Geschwindigkeit",
  spacingVariation: "Streuung der Abstände",
  depthSd: "Streuung der Tiefe in der Reihe",
  marginP10: "kleinste Last auf den Tiefenführungsrädern",
  noLoad: "Messwerte ohne Last",
};

export const variableShortNames: Partial<(typeof ENGLISH)["variableShortNames"]> = {
  seedingDepth: "Tiefe",
  downForceMargin: "Last",
  downForce: "Schardruck",
  groundContact: "Kontakt",
  singulation: "Vereinzelung",
  multiples: "Doppelstellen",
  misses: "Fehlstellen",
  population: "Saatstärke",
  speed: "Geschwindigkeit",
  acceleration: "Geschwindigkeitsänderung",
  spacingVariation: "Abstände",
  depthSd: "Streuung der Tiefe",
  marginP10: "kleinste Last",
  noLoad: "ohne Last",
};

export const countedNames: Partial<(typeof ENGLISH)["countedNames"]> = {
  dugDepthMm: "gegrabene Tiefe",
  standPerHa: "stehende Pflanzen",
  lateShare: "späte Pflanzen",
};
