/** How the page speaks and looks. */
import type { settings as english } from "../en/settings.ts";

export const settings: Partial<typeof english> = {
  title: "Ajustes",
  units: "Unidades",
  farm: "acres, pulgadas",
  metric: "métricas",
  numbers: "Cómo se escriben los números",
  automaticNumbers: (sample) => `${sample} (automático)`,
  language: "Idioma",
  automaticLanguage: (name) => `${name} (automático)`,
  unchecked:
    "El español y el alemán no están terminados: algunas frases siguen en inglés y ningún hablante nativo las ha revisado.",
  look: "Claro u oscuro",
  device: "como el equipo",
  light: "claro",
  dark: "oscuro",
  layOut: "Ordenar de nuevo las partes",
  notices: "Avisos",
  noticesSaid: ": programas, letras y colores que no son nuestros",
};
