/** What each cause is called. Not yet read by anyone who grew up with German. */
import type { ENGLISH } from "../en/english.ts";

export const causeTitles: Partial<(typeof ENGLISH)["causeTitles"]> = {
  "too-shallow": "Zu flach abgelegt",
  "too-deep": "Zu tief abgelegt",
  "uneven-depth": "Ungleichmäßige Ablagetiefe in der Reihe",
  "lost-ground-contact": "Tiefenführungsräder ohne genug Last",
  "excess-down-force": "Für die Feuchte zu viel Druck",
  "rate-off-target": "Saatstärke weicht vom Soll ab",
  misses: "Fehlstellen",
  multiples: "Doppelstellen",
  "irregular-spacing": "Ungleichmäßige Abstände",
  "excess-speed": "Zu schnell für diese Einstellung",
  "sensor-fault": "Ein Sensor misst falsch",
  "wheel-traffic": "Reihen in der Fahrspur",
  "planted-twice": "Doppelt gesät",
  "not-planted": "Nicht gesät",
  "furrow-not-closed": "Saatfurche nicht geschlossen",
  "residue-in-furrow": "Ernterückstände in der Saatfurche",
  "dry-seedbed": "Saatgut lag trocken",
  "worn-row-unit": "Verschlissenes Säaggregat",
  "seed-lot": "Saatgutpartie",
  "not-in-the-log": "Zu wenig Pflanzen, und das Protokoll sagt nicht warum",
  "soil-or-weather": "Boden oder Wetter",
  undetermined: "Noch nicht zu sagen",
};

export const causePhrases: Partial<(typeof ENGLISH)["causePhrases"]> = {
  "too-shallow": "zu flach abgelegtes Saatgut",
  "too-deep": "zu tief abgelegtes Saatgut",
  "uneven-depth": "ungleichmäßige Ablagetiefe in der Reihe",
  "lost-ground-contact": "zu wenig Last auf den Tiefenführungsrädern",
  "excess-down-force": "für die Feuchte zu viel Druck",
  "rate-off-target": "eine vom Soll abweichende Saatstärke",
  misses: "Fehlstellen",
  multiples: "Doppelstellen",
  "irregular-spacing": "ungleichmäßige Abstände",
  "excess-speed": "zu schnelle Fahrt für diese Einstellung",
  "sensor-fault": "ein falsch messender Sensor",
  "wheel-traffic": "Fahrspuren von Reifen oder Raupen",
  "planted-twice": "doppelt gesäter Boden",
  "not-planted": "nicht gesäter Boden",
  "furrow-not-closed": "eine nicht geschlossene Saatfurche",
  "residue-in-furrow": "Ernterückstände in der Saatfurche",
  "dry-seedbed": "ein trockenes Saatbett",
  "worn-row-unit": "ein verschlissenes Säaggregat",
  "seed-lot": "die Saatgutpartie",
  "not-in-the-log":
    "etwas, das dieses Protokoll nicht zeigt (Boden, Wetter, Saatgut, Furchenschluss, Schädlinge)",
  "soil-or-weather": "Boden oder Wetter",
  undetermined: "etwas hier nicht Gesehenes",
};

export const causeDefinitions: Partial<(typeof ENGLISH)["causeDefinitions"]> = {
  "too-shallow": "Ablagetiefe unter dem Soll, während die Tiefenführungsräder Last tragen",
  "too-deep": "Ablagetiefe über dem Soll, in Boden, in dem tiefe Saat langsam aufläuft",
  "uneven-depth": "Streuung (Standardabweichung) der Ablagetiefe in der Reihe größer als üblich",
  "lost-ground-contact": "so wenig Last auf den Tiefenführungsrädern, dass sie zeitweise den Boden verlieren",
  "excess-down-force":
    "mehr Last auf den Tiefenführungsrädern, als der Boden bei seiner Feuchte trägt: die Furchenwand wird verdichtet",
  "rate-off-target": "die ausgebrachte Saatstärke weicht vom Soll ab",
  misses: "Fehlstellen: Körner, die die Vereinzelung nicht geliefert hat (ISO 7256-1)",
  multiples: "Doppelstellen: zwei oder mehr Körner, wo eines hingehört (ISO 7256-1)",
  "irregular-spacing": "die Pflanzenabstände streuen stärker, als Fehlstellen und Doppelstellen erklären",
  "excess-speed": "Geschwindigkeit, bei der Last, Tiefe und Vereinzelung unruhig werden",
  "sensor-fault": "der Messwert weicht ab, Pflanzen und Grabungen nicht",
  "wheel-traffic": "die Reihen hinter Reifen oder Raupen oder auf dem Vorgewende weichen als Gruppe ab",
  "planted-twice": "die Arbeitsflächen zweier Überfahrten überlappen sich",
  "not-planted": "ein Streifen, den keine Überfahrt abdeckt",
  "furrow-not-closed": "ausgegrabene Furchen, die über dem Korn nicht geschlossen sind",
  "residue-in-furrow": "in die Saatfurche gedrückte Ernterückstände",
  "dry-seedbed": "gequollenes oder hartes Korn in trockenem Boden",
  "worn-row-unit": "verschlissene Säscheiben, Arme oder Buchsen eines Aggregats",
  "seed-lot": "der Ausfall folgt der Saatgutpartie",
  "not-in-the-log":
    "ein wirklicher Ausfall, den nichts in diesem Protokoll erklärt: Boden, Wetter, Saatgut, Furchenschluss, Ernterückstände und Schädlinge kommen alle in Frage",
  "soil-or-weather":
    "ein Ausfall, den nichts im Protokoll erklärt und für den Grabungen, Wetter oder von Natur aus nasser Boden sprechen",
  undetermined: "keine Ursache erreicht eine Wahrscheinlichkeit von 0,7",
};

export const causeDetails: Partial<(typeof ENGLISH)["causeDetails"]> = {
  "above-target": "Saatstärke über dem Soll",
  "unlike-the-rest": "Anders gesät als der übrige Schlag",
  crust: "Verkrustung über dem Korn",
  "cold-wet": "Kalter, nasser Boden",
  ponded: "Stauwasser",
  pests: "Insekten",
  injury: "Schaden durch Pflanzenschutzmittel oder Dünger",
};
