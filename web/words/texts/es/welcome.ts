/** Before a field is on the page, and while it is worked on. */
import type { welcome as english } from "../en/welcome.ts";

export const welcome: Partial<typeof english> = {
  title: "¿Dónde emergió desparejo el cultivo y por qué?",
  drop: (file) => [
    "Arrastre aquí el registro de la sembradora, con el mapa de suelos, los conteos de plantas, las excavaciones y el límite si los tiene (shapefile, comprimido o suelto, GeoJSON o CSV), o la carpeta completa de un lote con su ",
    file,
    ". El registro solo basta para empezar; todo lo demás afina la respuesta.",
  ],
  choose: "Elegir archivos",
  sample: "Abrir el ejemplo",
  backTo: (name) => `Volver a ${name}`,
  kept: "Guardado en este navegador",
  size: (files, shown, megabytes) => `${shown} ${files === 1 ? "archivo" : "archivos"}, ${megabytes} MB`,
  forget: "Olvidar",
  privacy:
    "Sus archivos quedan en este equipo: la página trabaja con ellos por sí misma y no envía nada a ninguna parte. El ejemplo es un lote inventado. Un archivo de sesión guardado antes se abre del mismo modo.",
  filesOfField: "Archivos de un lote",
  ourFault: "Evenstand encontró un fallo propio.",
  unusable: "No se pudieron usar estos archivos.",
  accepted: (what) => `Se aceptaría: ${what}`,
  afterOurs:
    "Sus archivos están como estaban. Pruebe otra vez, o solo con el registro; si vuelve a ocurrir, comuníquelo con las palabras de arriba.",
  afterTheirs: "No se cambió nada. Elija otros archivos abajo, o corrija este y elíjalo de nuevo.",
  atWork: "Trabajando",
  howFar: "Avance del trabajo",
  step: (step, of) => `Paso ${step} de ${of}`,
  cancel: "Cancelar",
};
