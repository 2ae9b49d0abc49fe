/** The one thing to do about a finding. Not yet read by anyone who grew up with Spanish. */
import type { ENGLISH } from "../en/english.ts";

export const remedies: Partial<(typeof ENGLISH)["remedies"]> = {
  moreLoadOnRows: ({ rows, from, to }) =>
    `Lleve más carga sobre las ruedas limitadoras de los surcos ${rows}: unos ${to} en vez de ${from}. Mire lo que actúa sobre ellos: regulación de fuerza de la sección, peso encima, semilla y líquido en los tanques.`,
  moreLoadOnUnit: ({ rows, from, to }) =>
    `El cuerpo de siembra ${rows} lleva ${from} sobre las ruedas limitadoras donde se quieren unos ${to}: mire su resorte o cilindro y su sensor de carga.`,
  moreLoadOnField: ({ from, to }) =>
    `Lleve más carga sobre las ruedas limitadoras en todo el lote: unos ${to} en vez de ${from}, y después excave para ver que la profundidad se mantiene.`,
  moreLoadHere: ({ from, to }) =>
    `Lleve más carga sobre las ruedas limitadoras en este suelo: unos ${to} en vez de ${from}. Una sola regulación para todo el lote no puede hacerlo; deje que la fuerza siga al suelo, y después excave para ver que la profundidad se mantiene.`,
  waitOrLessLoad: ({ from, to }) =>
    `Este suelo estaba demasiado mojado para sembrar: espere hasta que una bola de suelo de la profundidad de siembra se desmenuce entre los dedos. Si hay que sembrarlo húmedo, lleve unos ${to} en vez de ${from}.`,
  lessLoadOnDamp: ({ from, to }) =>
    `En suelo tan húmedo saque carga: unos ${to} en vez de ${from}, o deje que antes se seque.`,
  lessLoadHere: ({ from, to }) =>
    `Saque carga aquí: unos ${to} en vez de ${from}, y después excave para ver que la profundidad se mantiene.`,
  usualStartDry:
    "Esa carga es el punto de partida común para suelo seco; la prescripción la calcula con los conteos de este lote, dentro de sus límites.",
  usualStartFit:
    "Esa carga es el punto de partida común para suelo a punto; la prescripción la calcula con los conteos de este lote, dentro de sus límites.",
  usualStartDamp:
    "Esa carga es el punto de partida común para suelo húmedo; la prescripción la calcula con los conteos de este lote, dentro de sus límites.",
  setDepth: (to) =>
    `Regule la profundidad de siembra en ${to}, excave para comprobarla y no confíe solo en la muesca.`,
  repairUnit: ({ rows, from, to }) =>
    `Mire el cuerpo de siembra ${rows}: tope de profundidad, brazos de las ruedas limitadoras, discos. Marca ${from} donde los demás marcan ${to}.`,
  checkDepthControl:
    "Busque lo que deja saltar la profundidad: brazos del paralelogramo o de las ruedas limitadoras gastados, rastrojo, velocidad.",
  slowDown: ({ from, to }) =>
    `Ande con esta sembradora a unos ${to}, no a ${from}: tan rápido los cuerpos rebotan, la profundidad se dispersa y hay fallas.`,
  testMeterOf: (rows) =>
    `Haga probar el dosificador del cuerpo de siembra ${rows} en un banco de prueba: placa, sello, cepillo, vacío.`,
  testMeters:
    "Haga probar los dosificadores en un banco de prueba antes de la próxima siembra: placas, sellos, cepillos, vacío.",
  setRate: ({ from, to }) =>
    `Revise la regulación de la densidad: se sembraron ${from} donde se querían ${to}.`,
  doubtSensor: (rows) =>
    `No confíe todavía en el sensor del cuerpo de siembra ${rows}, ni culpe al cuerpo: en su surco no se contó ni se excavó. Limpie el sensor y después haga la comprobación.`,
  cleanSensor: (rows) =>
    `Limpie o cambie el sensor del cuerpo de siembra ${rows} antes de confiar en sus datos; lo que se contó o excavó en su surco no muestra daño.`,
  shutOffRows:
    "Corte los surcos sobre suelo ya sembrado, o siembre las cabeceras al final; allí se amontona el doble de plantas y la semilla se desperdicia.",
  checkGuidance:
    "Mire la línea de guiado, el lugar donde se baja la sembradora y los surcos que aquí estaban cortados o vacíos.",
  trafficOfRows:
    "Mire la trocha y la presión de neumáticos u orugas y los barredores de rastrojo antes de culpar a estos cuerpos.",
  traffic:
    "La cabecera se pisa en cada giro: mire la presión de neumáticos y orugas, sembrarla al final y la carga que lleva allí, antes de cambiar la sembradora para todo el lote.",
  closeTheFurrow:
    "Mire lo que cierra el surco: ruedas tapadoras alineadas con el surco, gastadas o no, con cuánta presión. Donde el suelo húmedo no cierra sobre la semilla, espere.",
  clearResidue:
    "Mantenga el rastrojo fuera del surco: mire los barredores, los discos abresurcos y lo que queda en el suelo después de la cosecha. No meta el rastrojo con más carga.",
  plantIntoMoisture:
    "Excave para buscar la humedad antes de sembrar y regule la profundidad para alcanzarla, hasta donde el servicio de extensión local lo considere correcto para el cultivo; si está más abajo, espere la lluvia.",
  crust:
    "Cuando a una lluvia fuerte antes de la emergencia le siguen calor y viento, mire debajo de la costra en pocos días; ayuda conservar el rastrojo o sembrar esta parte al final. Consulte al servicio de extensión local antes de labrar un cultivo con costra.",
  watchTheGround:
    "Nada en este registro lo explica. Mire el drenaje, la costra, los insectos y la semilla, y también el cierre, el rastrojo y el fertilizante, que no dejan huella en un registro, antes de cambiar la sembradora.",
  digAlongBareStretch:
    "Nada en el registro lo explica. Excave a lo largo de un tramo sin plantas: costra, suelo mojado o seco, surco abierto, rastrojo, insectos y semilla dejan cada uno su propia señal.",
  digFirst: "Excave antes de cambiar nada: los datos concuerdan con más de una causa.",
};
