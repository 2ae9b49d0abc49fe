/** Findings, worst money first, and what stands around them. */
import type { ledger as english } from "../en/ledger.ts";

export const ledger: Partial<typeof english> = {
  title: "Balance",
  caution:
    "Antes de tocar una máquina, la semilla o un cultivo: primero están el manual del operador, la etiqueta del producto, el perito del seguro y las normas locales.",
  cleared: "Se veía mal en el registro, no hizo daño",
  fieldNote: "Nota sobre todo el lote",
  placeNote: (number) => `Nota sobre el sitio ${number}`,
  restsOn: "En qué se basa",
  lost: "Pérdida total",
  interval: (range, level) => `${range}, intervalo del ${level}`,
  loadToCome: "Se está calculando la carga que conviene aquí…",
  cantTell: "no se puede decir cuál",
  sure: (how) => `seguridad: ${how}`,
  logOnly: "solo del registro",
  countsOf: (count, shown) => `${shown} ${count === 1 ? "conteo" : "conteos"}`,
  digsOf: (count, shown) => `${shown} ${count === 1 ? "excavación" : "excavaciones"}`,
  counts: "conteos",
  clearedBy: (seen) => `descartado por ${seen}`,
  without: "Sin hallazgo",
  onRest: "en el resto del lote",
  onWhole: "en todo el lote: arriba está lo que se probó allí, abajo lo que no se pudo juzgar",
  covered: "Superficie cubierta",
  coveredSaid: (twice, left, within, doubt) =>
    `sembrado dos veces ${twice}, sin sembrar ${left} dentro ${within === "boundary" ? "del límite" : "del contorno de lo sembrado"}${doubt ? ": tanto que el ancho de la barra, las posiciones o el límite son dudosos" : ""}`,
  notJudged: "No se pudo juzgar",
  tested: "Qué se probó",
  saveField: "Guardar field.json",
  saveFieldSaid: "qué es cada archivo y cómo se leen sus columnas; guárdelo junto a los archivos",
  allUsed: (all) => `se usaron los ${all} registros`,
  someUsed: (taken, all, without) => `se usaron ${taken} de ${all} registros, ${without} quedaron fuera`,
  columnsRead: (unused) =>
    `Cómo se leyeron sus columnas${unused > 0 ? ` y por qué ${unused} no se usan` : ""}`,
  columnAs: (column, variable, unit, reason) => `${column} como ${variable}${unit}: ${reason}`,
  columnUnused: (column, reason) => `${column} no se usa: ${reason}`,
  noteRecords: (shown) => `${shown} registros`,
  firstRecord: (record) => `primer registro ${record}`,
};
