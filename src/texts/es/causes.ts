/** What each cause is called. Not yet read by anyone who grew up with Spanish. */
import type { ENGLISH } from "../en/english.ts";

export const causeTitles: Partial<(typeof ENGLISH)["causeTitles"]> = {
  "too-shallow": "Siembra demasiado superficial",
  "too-deep": "Siembra demasiado profunda",
  "uneven-depth": "Profundidad desigual a lo largo del surco",
  "lost-ground-contact": "Ruedas limitadoras con poca carga",
  "excess-down-force": "Demasiada carga para la humedad",
  "rate-off-target": "Densidad de siembra fuera del objetivo",
  misses: "Fallas",
  multiples: "Dobles",
  "irregular-spacing": "Espaciamiento irregular",
  "excess-speed": "Demasiado rápido para esta regulación",
  "sensor-fault": "Un sensor mide mal",
  "wheel-traffic": "Surcos en la huella",
  "planted-twice": "Sembrado dos veces",
  "not-planted": "Sin sembrar",
  "furrow-not-closed": "Surco de siembra abierto",
  "residue-in-furrow": "Rastrojo en el surco de siembra",
  "dry-seedbed": "Semilla en suelo seco",
  "worn-row-unit": "Cuerpo de siembra gastado",
  "seed-lot": "Lote de semilla",
  "not-in-the-log": "Faltan plantas, y el registro no dice por qué",
  "soil-or-weather": "El suelo o el tiempo",
  undetermined: "Todavía no se sabe",
};

export const causePhrases: Partial<(typeof ENGLISH)["causePhrases"]> = {
  "too-shallow": "semilla demasiado superficial",
  "too-deep": "semilla demasiado profunda",
  "uneven-depth": "profundidad desigual a lo largo del surco",
  "lost-ground-contact": "poca carga sobre las ruedas limitadoras de profundidad",
  "excess-down-force": "demasiada carga para la humedad",
  "rate-off-target": "una densidad de siembra fuera del objetivo",
  misses: "fallas",
  multiples: "dobles",
  "irregular-spacing": "espaciamiento irregular",
  "excess-speed": "demasiada velocidad para esta regulación",
  "sensor-fault": "un sensor que mide mal",
  "wheel-traffic": "el paso de neumáticos u orugas",
  "planted-twice": "suelo sembrado dos veces",
  "not-planted": "suelo sin sembrar",
  "furrow-not-closed": "un surco de siembra abierto",
  "residue-in-furrow": "rastrojo en el surco de siembra",
  "dry-seedbed": "una cama de siembra seca",
  "worn-row-unit": "un cuerpo de siembra gastado",
  "seed-lot": "el lote de semilla",
  "not-in-the-log": "algo que este registro no muestra (suelo, tiempo, semilla, cierre del surco, plagas)",
  "soil-or-weather": "el suelo o el tiempo",
  undetermined: "algo que aquí no se vio",
};

export const causeDefinitions: Partial<(typeof ENGLISH)["causeDefinitions"]> = {
  "too-shallow": "profundidad de siembra menor que el objetivo mientras las ruedas limitadoras llevan carga",
  "too-deep":
    "profundidad de siembra mayor que el objetivo en suelo donde la semilla profunda tarda en emerger",
  "uneven-depth": "dispersión (desvío estándar) de la profundidad a lo largo del surco mayor que la común",
  "lost-ground-contact": "tan poca carga sobre las ruedas limitadoras que por momentos pierden el suelo",
  "excess-down-force":
    "más carga sobre las ruedas limitadoras de la que el suelo soporta con su humedad: la pared del surco se compacta",
  "rate-off-target": "la densidad sembrada difiere de la densidad objetivo",
  misses: "fallas: semillas que el dosificador no entregó (ISO 7256-1)",
  multiples: "dobles: dos o más semillas donde corresponde una (ISO 7256-1)",
  "irregular-spacing": "dispersión de las distancias entre plantas mayor que la que explican fallas y dobles",
  "excess-speed": "velocidad con la que carga, profundidad y dosificación empiezan a rebotar",
  "sensor-fault": "la lectura se aparta, las plantas y las excavaciones no",
  "wheel-traffic": "los surcos detrás de neumáticos u orugas, o los de la cabecera, difieren como grupo",
  "planted-twice": "las superficies de dos pasadas se superponen",
  "not-planted": "una franja que ninguna pasada cubre",
  "furrow-not-closed": "surcos excavados que no cerraron sobre la semilla",
  "residue-in-furrow": "rastrojo metido en el surco de siembra",
  "dry-seedbed": "semilla hinchada o dura en suelo seco",
  "worn-row-unit": "discos abresurcos, brazos o bujes gastados de un cuerpo",
  "seed-lot": "la falta sigue al lote de semilla",
  "not-in-the-log":
    "una falta verdadera que nada en este registro explica: suelo, tiempo, semilla, cierre, rastrojo y plagas quedan todos abiertos",
  "soil-or-weather":
    "una falta que nada en el registro explica y por la que hablan excavaciones, el tiempo o un suelo húmedo por naturaleza",
  undetermined: "ninguna causa alcanza una probabilidad de 0,7",
};

export const causeDetails: Partial<(typeof ENGLISH)["causeDetails"]> = {
  "above-target": "Densidad por encima del objetivo",
  "unlike-the-rest": "Sembrado distinto del resto del lote",
  crust: "Costra sobre la semilla",
  "cold-wet": "Suelo frío y húmedo",
  ponded: "Agua encharcada",
  pests: "Insectos",
  injury: "Daño por agroquímicos o fertilizante",
};
