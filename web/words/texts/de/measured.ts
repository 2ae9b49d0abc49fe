/** Figures of a finding, in the rows of its table. */
import type { measured as english } from "../en/measured.ts";

export const measured: Partial<typeof english> = {
  standPerHa: "Bestand",
  lateShare: "Spät aufgelaufene Pflanzen",
  downForceMarginN: "Last auf den Tiefen\u00adführungs\u00adrädern",
  downForceMarginP10N: "Leichteste Last auf den Tiefen\u00adführungs\u00adrädern",
  noLoadShare: "Messwerte ohne Last",
  seedingDepthMm: "Ablagetiefe",
  dugDepthMm: "Gegrabene Ablagetiefe",
  depthSdMm: "Streuung der Ablagetiefe in der Reihe",
  speedMetresPerSecond: "Geschwindigkeit",
  missesShare: "Fehlstellen",
  multiplesShare: "Doppelstellen",
  singulationShare: "Vereinzelung",
  populationPerHa: "Abgelegte Körner",
};
