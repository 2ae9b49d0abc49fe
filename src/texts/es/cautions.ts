/** What has to be minded before anyone acts on an advice. Not yet read by anyone who grew up with Spanish. */
import type { ENGLISH } from "../en/english.ts";

export const cautions: Partial<(typeof ENGLISH)["cautions"]> = {
  machine:
    "Antes de meter las manos debajo de una sembradora: siga el manual del operador, bájela o bloquéela, apague el motor y libere la presión hidráulica. Use guantes donde la semilla esté tratada y lea la etiqueta de la semilla.",
  dig: "La semilla puede estar tratada: use guantes al excavar y lea la etiqueta de la semilla.",
  stand:
    "Antes de labrar o destruir un cultivo implantado, consulte al perito de la aseguradora, lea las etiquetas del herbicida y de la semilla y siga las normas locales.",
};
