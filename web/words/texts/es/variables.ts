/** As in English, where each comes from the one definition of the library. */
import type { variables as english } from "../en/variables.ts";

export const variables: Partial<typeof english> = {
  seedingDepth: "Profundidad de siembra",
  downForceMargin: "Carga sobre las ruedas limitadoras",
  downForce: "Carga descendente agregada",
  groundContact: "Contacto con el suelo",
  singulation: "Singulación",
  multiples: "Dobles",
  misses: "Fallas",
  population: "Semillas depositadas",
  speed: "Velocidad",
  acceleration: "Cambio de velocidad",
  spacingVariation: "Variación del espaciamiento",
  depthSd: "Dispersión de la profundidad en la línea",
  marginP10: "Carga más liviana sobre las ruedas limitadoras",
  noLoad: "Lecturas sin carga",
};
