/** As in English, where each comes from the one definition of the library. */
import type { variablesMeant as english } from "../en/variables-meant.ts";

export const variablesMeant: Partial<typeof english> = {
  seedingDepth: "profundidad de siembra según el registro",
  downForceMargin:
    "peso que queda sobre las ruedas limitadoras de profundidad, también llamado margen de carga",
  downForce: "fuerza que el sistema agrega a un cuerpo de siembra",
  groundContact: "parte del tiempo con carga sobre las ruedas limitadoras",
  singulation: "parte de las semillas depositadas de a una",
  multiples: "semillas dobles, parte de las semillas",
  misses: "fallas, parte de las semillas",
  population: "densidad de siembra depositada",
  speed: "velocidad de avance",
  acceleration: "aceleración a lo largo de la pasada",
  spacingVariation: "coeficiente de variación del espaciamiento entre semillas",
  depthSd: "desviación estándar de la profundidad dentro de los cuerpos de siembra",
  marginP10: "una lectura de cada diez es más liviana: percentil 10 del margen de carga",
  noLoad: "parte de las lecturas sin carga sobre las ruedas limitadoras",
};
