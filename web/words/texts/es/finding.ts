/** What stands behind an entry of the ledger. */
import type { finding as english } from "../en/finding.ts";

export const finding: Partial<typeof english> = {
  toMakeSure: "Para asegurarse: ",
  seen: "Qué se vio: ",
  furrowOf: (pass) => `Surco de la pasada ${pass} aquí`,
  stripUnits: (pass, units) =>
    `Pasada ${pass}: semillas bajo la superficie, carga sobre las ruedas limitadoras encima, suelo debajo; las semillas grandes son del cuerpo de siembra ${units}.`,
  stripShaded: (pass) =>
    `Pasada ${pass}: semillas bajo la superficie, carga sobre las ruedas limitadoras encima, suelo debajo; sombreado donde está el problema.`,
  othersAlike: "Cifras que difieren aquí; las demás son como en otras partes.",
  measured: "Medido",
  here: "aquí",
  elsewhere: "otras partes",
  target: "objetivo",
  change: "Cambio: ",
  fromTo: (from, to) => `de ${from} a ${to}`,
  otherwise: "Qué más podría ser: ",
  technical: "Nombre técnico",
  meaning: "Qué significa",
  passes: "Pasadas",
  rowUnits: "Cuerpos de siembra",
  soilZones: "Zonas de suelo",
  plantsShort: "Plantas que faltan frente al terreno sano del lote",
  yieldLost: "Rendimiento perdido allí",
  chance: "Probabilidad de tal grupo en un lote sin fallas",
  lessThan: (share) => `menos de ${share}`,
  moneyLost: "Dinero perdido allí",
  moneyRange: (money, range, level) => `${money} (${range}, intervalo del ${level})`,
  howSure: "Qué tan segura es la causa",
  area: "Superficie",
  number: "Número en los archivos",
  workedOut: "De dónde salen las cifras",
  predicted:
    "Aquí no se contó nada: la pérdida es la que las respuestas publicadas esperan de una siembra así, por eso el intervalo es amplio.",
  harmless:
    "El registro se ve mal aquí, pero las plantas contadas o las semillas desenterradas no muestran daño.",
  counted:
    "Las plantas contadas aquí se comparan con las que lleva el mismo suelo donde la siembra fue buena.",
};
