/** Another season of the field beside the open one. */
import type { seasons as english } from "../en/seasons.ts";

export const seasons: Partial<typeof english> = {
  intro:
    "Abra el informe de otra campaña de este lote. Los dos mapas se mueven juntos y llevan los mismos colores. El archivo queda en este equipo.",
  choose: "Elegir un informe",
  file: "report.html o everything.zip de otra campaña",
  close: (name) => `Cerrar ${name}`,
  whole: "El lote entero",
  soil: (name) => `Suelo: ${name}`,
  caution:
    "Medias sobre lo sembrado por superficie, como las tiene el registro de cada campaña. El tiempo, la semilla y los días difieren entre campañas: un mejor resultado aquí no prueba que un cambio en la sembradora haya convenido. Franjas sembradas lado a lado en una campaña sí.",
  meanOf: "Media de",
  less: (one, other) => `${one} menos ${other}`,
  middle: "Mediana de los conteos",
  counts: (stand, counts) => `${stand} (${counts} conteos)`,
  noneCounted: "sin conteos",
  confirmed: "Sitios que los conteos confirman",
  sameColours: (title) => `${title}, con los mismos colores del primer mapa; medias de 12 m.`,
  noFigures: (title) => `Esta campaña no tiene cifras de ${title}.`,
  both: "Ambas en cifras",
};
