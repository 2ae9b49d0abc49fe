/** Figures of a finding, in the rows of its table. */
import type { measured as english } from "../en/measured.ts";

export const measured: Partial<typeof english> = {
  standPerHa: "Plantas logradas",
  lateShare: "Plantas tardías",
  downForceMarginN: "Carga sobre las ruedas limitadoras",
  downForceMarginP10N: "Carga más liviana sobre las ruedas limitadoras",
  noLoadShare: "Lecturas sin carga",
  seedingDepthMm: "Profundidad de siembra",
  dugDepthMm: "Profundidad excavada",
  depthSdMm: "Dispersión de la profundidad en la línea",
  speedMetresPerSecond: "Velocidad",
  missesShare: "Fallas",
  multiplesShare: "Dobles",
  singulationShare: "Singulación",
  populationPerHa: "Semillas depositadas",
};
