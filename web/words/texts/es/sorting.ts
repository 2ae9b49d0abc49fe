/** What dropped files are taken for. */
import type { sorting as english } from "../en/sorting.ts";

export const sorting: Partial<typeof english> = {
  title: "Por qué se toman estos archivos",
  file: "Archivo",
  takenFor: "Se toma por",
  records: "Registros",
  onField: "En el lote",
  twice: (roles) =>
    `Dos archivos ocupan el mismo lugar (${roles.join(", ")}): elija uno y deje el otro como «sin usar».`,
  noLog:
    "Todavía no se toma ningún archivo por el registro de la sembradora: elíjalo abajo. Sin él no se puede calcular nada.",
  stillPlanting:
    "¿Todavía se está sembrando? «Ver las primeras pasadas» dice qué cambiar ahora y dónde excavar.",
  workOut: "Calcular",
  firstPasses: "Ver las primeras pasadas",
  saveAs: "Guardar como field.json",
  chooseOther: "Elegir otros archivos",
  whatIs: (file) => `Qué es ${file}`,
  notUsed: "sin usar",
  asChosen: "según su elección",
  unusedColumns: (count) =>
    `${count === 1 ? "1 de sus columnas no se usa" : `${count} de sus columnas no se usan`}, y por qué`,
  columnsUnused: (file) => `Columnas de ${file} que no se usan`,
  missing: "Qué falta y qué cambia",
  lacks: (what) => `falta: ${what}`,
};
