/** The farmer's sheet and the frame of the report. */
import type { short as english } from "../en/short.ts";

export const short: Partial<typeof english> = {
  title: "En breve",
  lost: (money, range) => `Pérdida total: cerca de ${money}; puede ser ${range}.`,
  before: "Antes de la próxima siembra, lo peor primero",
  more: (count, shown) =>
    `Y ${shown} ${count === 1 ? "sitio" : "sitios"} más: vea el balance en las páginas siguientes.`,
  places: (count, shown) => `${shown} ${count === 1 ? "sitio" : "sitios"} debajo del mapa`,
  each: ", cada uno con qué hacer, lo peor primero.",
  caution:
    "Antes de tocar una máquina, semilla tratada o un cultivo: primero están el manual del operador, la etiqueta del producto, el perito del seguro y las normas locales. El dinero es una estimación con su intervalo, no una factura.",
  noFinding: (area, of) => `Sin hallazgo en ${area} de ${of}.`,
  unknown: "Lo que todavía no se sabe",
  logAlone: (count, shown) =>
    `${shown} ${count === 1 ? "sitio se basa" : "sitios se basan"} solo en el registro: contar plantas allí lo aclararía. `,
  notJudged: (what) => `No se pudo juzgar: ${what}.`,
  about: (money) => `, cerca de ${money}`,
  check: (what) => `Revise primero: ${what}`,
  mapAndReadout: "Mapa y lectura",
  howWorked: "Cómo se calculó",
  notices: "Avisos de los programas de este archivo",
};
