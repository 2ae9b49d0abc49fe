/** The one thing to do about a finding. Not yet read by anyone who grew up with German. */
import type { ENGLISH } from "../en/english.ts";

export const remedies: Partial<(typeof ENGLISH)["remedies"]> = {
  moreLoadOnRows: ({ rows, from, to }) =>
    `Mehr Last auf die Tiefenführungsräder der Reihen ${rows}: etwa ${to} statt ${from}. Ansehen, was auf sie wirkt: Schardruckeinstellung der Teilbreite, Gewicht darauf, Saatgut und Flüssigkeit in den Behältern.`,
  moreLoadOnUnit: ({ rows, from, to }) =>
    `Säaggregat ${rows} trägt ${from} auf den Tiefenführungsrädern, gewünscht sind etwa ${to}: Feder oder Zylinder und den Lastsensor ansehen.`,
  moreLoadOnField: ({ from, to }) =>
    `Auf dem ganzen Schlag mehr Last auf die Tiefenführungsräder: etwa ${to} statt ${from}, dann durch Graben prüfen, ob die Tiefe hält.`,
  moreLoadHere: ({ from, to }) =>
    `Auf diesem Boden mehr Last auf die Tiefenführungsräder: etwa ${to} statt ${from}. Eine Einstellung für den ganzen Schlag kann das nicht; den Schardruck dem Boden folgen lassen, dann durch Graben prüfen, ob die Tiefe hält.`,
  waitOrLessLoad: ({ from, to }) =>
    `Dieser Boden war zum Säen zu nass: warten, bis eine Kugel Boden aus Saattiefe zwischen den Fingern krümelt. Muss er feucht gesät werden, etwa ${to} statt ${from} fahren.`,
  lessLoadOnDamp: ({ from, to }) =>
    `Auf so feuchtem Boden Last wegnehmen: etwa ${to} statt ${from}, oder ihn erst abtrocknen lassen.`,
  lessLoadHere: ({ from, to }) =>
    `Hier Last wegnehmen: etwa ${to} statt ${from}, dann durch Graben prüfen, ob die Tiefe hält.`,
  usualStartDry:
    "Diese Last ist der übliche Ausgangswert für trockenen Boden; die Applikationskarte errechnet sie aus den Zählungen dieses Schlags, innerhalb ihrer Grenzen.",
  usualStartFit:
    "Diese Last ist der übliche Ausgangswert für saatfertigen Boden; die Applikationskarte errechnet sie aus den Zählungen dieses Schlags, innerhalb ihrer Grenzen.",
  usualStartDamp:
    "Diese Last ist der übliche Ausgangswert für feuchten Boden; die Applikationskarte errechnet sie aus den Zählungen dieses Schlags, innerhalb ihrer Grenzen.",
  setDepth: (to) =>
    `Die Ablagetiefe auf ${to} einstellen, durch Graben prüfen und der Raststufe allein nicht trauen.`,
  repairUnit: ({ rows, from, to }) =>
    `Säaggregat ${rows} ansehen: Tiefenanschlag, Arme der Tiefenführungsräder, Scheiben. Es zeigt ${from}, die anderen zeigen ${to}.`,
  checkDepthControl:
    "Suchen, was die Tiefe springen lässt: verschlissene Parallelogrammarme, Arme der Tiefenführungsräder, Ernterückstände, Geschwindigkeit.",
  slowDown: ({ from, to }) =>
    `Diese Sämaschine mit etwa ${to} fahren, nicht mit ${from}: so schnell springen die Aggregate, die Tiefe streut und es gibt Fehlstellen.`,
  testMeterOf: (rows) =>
    `Die Vereinzelung von Säaggregat ${rows} auf dem Prüfstand laufen lassen: Scheibe, Dichtung, Bürste, Unterdruck.`,
  testMeters:
    "Die Vereinzelungen vor dem Frühjahr auf dem Prüfstand laufen lassen: Scheiben, Dichtungen, Bürsten, Unterdruck.",
  setRate: ({ from, to }) =>
    `Die Einstellung der Saatstärke prüfen: ausgebracht wurden ${from}, gewünscht waren ${to}.`,
  doubtSensor: (rows) =>
    `Dem Sensor von Säaggregat ${rows} noch nicht trauen und das Aggregat nicht beschuldigen: in seiner Reihe wurde nicht gezählt und nicht gegraben. Den Sensor reinigen, dann die Prüfung machen.`,
  cleanSensor: (rows) =>
    `Den Sensor von Säaggregat ${rows} reinigen oder ersetzen, bevor seinen Werten getraut wird; was in seiner Reihe gezählt oder gegraben wurde, zeigt keinen Schaden.`,
  shutOffRows:
    "Reihen über schon gesätem Boden abschalten oder das Vorgewende zuletzt säen; dort bedrängt sich die doppelte Zahl an Pflanzen, und das Saatgut ist verschwendet.",
  checkGuidance:
    "Die Leitlinie ansehen, die Stelle, an der ausgehoben und abgesenkt wird, und Reihen, die hier abgeschaltet waren oder leer liefen.",
  trafficOfRows:
    "Spurweite und Druck von Reifen oder Raupen und die Räumsterne ansehen, bevor diese Aggregate beschuldigt werden.",
  traffic:
    "Das Vorgewende wird bei jedem Wenden befahren: Druck von Reifen und Raupen ansehen, das Vorgewende zuletzt säen, die dort gefahrene Last prüfen, bevor die Sämaschine für den ganzen Schlag verstellt wird.",
  closeTheFurrow:
    "Ansehen, was die Furche schließt: ob die Andruckrollen in der Spur der Reihe laufen, ob sie verschlissen sind, wie stark sie drücken. Wo feuchter Boden sich nicht über dem Korn schließt, warten.",
  clearResidue:
    "Ernterückstände aus der Furche halten: Räumsterne, Säscheiben und das nach der Ernte Liegengebliebene ansehen. Rückstände nicht mit mehr Last hineindrücken.",
  plantIntoMoisture:
    "Vor dem Säen nach Feuchte graben und die Tiefe so einstellen, dass sie erreicht wird, so tief, wie die örtliche Beratung es für die Kultur für richtig hält; liegt sie tiefer, auf Regen warten.",
  crust:
    "Folgen auf Schlagregen vor dem Feldaufgang Hitze und Wind, binnen Tagen unter die Kruste sehen; Mulch liegen zu lassen oder diese Stelle zuletzt zu säen hilft. Die örtliche Beratung fragen, bevor ein verkrusteter Bestand bearbeitet wird.",
  watchTheGround:
    "Nichts in diesem Protokoll erklärt es. Dränung, Verkrustung, Insekten und Saatgut ansehen, auch Furchenschluss, Ernterückstände und Dünger, die in keinem Protokoll Spuren lassen, bevor die Sämaschine geändert wird.",
  digAlongBareStretch:
    "Nichts im Protokoll erklärt es. Entlang einer kahlen Stelle graben: Verkrustung, nasser oder trockener Boden, offene Furche, Ernterückstände, Insekten und Saatgut hinterlassen je ihr eigenes Zeichen.",
  digFirst: "Graben, bevor etwas geändert wird: die Werte passen zu mehr als einer Ursache.",
};
