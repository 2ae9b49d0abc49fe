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
  unchecked: "Ningún hablante nativo ha revisado todavía el español ni el alemán.",
  look: "Claro u oscuro",
  device: "como el equipo",
  light: "claro",
  dark: "oscuro",
  layOut: "Ordenar de nuevo las partes",
  notices: "Avisos",
  noticesSaid: ": programas, letras y colores que no son nuestros",
};
