/** Quantities of planting as sentences and lists name them. Not yet read by anyone who grew up with Spanish. */
import type { ENGLISH } from "../en/english.ts";

export const variableNames: Partial<(typeof ENGLISH)["variableNames"]> = {
  seedingDepth: "profundidad de siembra",
  downForceMargin: "carga sobre las ruedas limitadoras de profundidad",
  downForce: "fuerza agregada hacia abajo",
  groundContact: "contacto con el suelo",
  singulation: "singulación",
  multiples: "dobles",
  misses: "fallas",
  population: "semillas sembradas",
  speed: "velocidad",
  acceleration: "cambio de velocidad",
  spacingVariation: "variación del espaciamiento",
  depthSd: "dispersión de la profundidad a lo largo del surco",
  marginP10: "carga más baja sobre las ruedas limitadoras",
  noLoad: "lecturas sin carga",
};

export const variableShortNames: Partial<(typeof ENGLISH)["variableShortNames"]> = {
  seedingDepth: "profundidad",
  downForceMargin: "carga",
  downForce: "fuerza",
  groundContact: "contacto",
  singulation: "singulación",
  multiples: "dobles",
  misses: "fallas",
  population: "densidad",
  speed: "velocidad",
  acceleration: "cambio de velocidad",
  spacingVariation: "espaciamiento",
  depthSd: "dispersión de la profundidad",
  marginP10: "carga más baja",
  noLoad: "sin carga",
};

export const countedNames: Partial<(typeof ENGLISH)["countedNames"]> = {
  dugDepthMm: "profundidad excavada",
  standPerHa: "plantas logradas",
  lateShare: "plantas tardías",
};
