// Words of the sheet of engine figures alone, in German.
import type { Agreement } from "../../engine/agreement.ts";
import type { EngineReading } from "../../engine/readingsFile.ts";
import type { Translated } from "../../language.ts";
import type { engine as english } from "../en/engine.ts";

const AGREEMENTS: Readonly<Record<Agreement, string>> = {
  agrees: "stimmt überein",
  "does not": "stimmt nicht überein",
  "cannot tell": "nicht zu sagen",
};
const LINES: Readonly<Record<EngineReading["vacuumLine"], string>> = {
  plugged: "zu",
  on: "auf",
};

export const engine: Translated<typeof english> = {
  documentTitle: (unit) => `Werte am Motor: ${unit}`,
  title: "Marken für die Stroboskoplampe",
  fromSpecification: "nach Vorgabe",
  footSpecification: "Allein nach der Vorgabe; kein Verteiler wurde gemessen",
  before: "Bevor der Motor läuft",
  curve: "Kurve",
  curveMeasured: "wie gemessen",
  curveNone: "keine",
  plugged:
    "Leitung zu: Unterdruckleitung von der Dose abziehen und verschließen. Motor warm, Drehzahl steigend; fallend kann etwas mehr zu lesen sein.",
  manifold: (vacuum) =>
    `Leitung auf: etwa ${vacuum} im Saugrohr ohne Last (übliche Praxis, keine Quelle).`,
  ported: (vacuum) =>
    `Leitung auf: im Leerlauf fast kein Unterdruck; darüber je nach Drosselklappe bis zu etwa ${vacuum} im Saugrohr ohne Last (übliche Praxis, keine Quelle).`,
  notFed: "Keine Unterdruckdose wird gespeist.",
  uncertainty: (byEye) =>
    `± ist die erweiterte Messunsicherheit der Kurve des Verteilers mit 95 % Überdeckungswahrscheinlichkeit, die Grundeinstellung als genau eingestellt angenommen. Hinzu kommen ± ${byEye} für das Ablesen der Stroboskoplampe mit dem Auge (übliche Praxis, keine Quelle).`,
  read: {
    heading: "Am Motor abgelesen",
    caption:
      "Ablesungen mit der Stroboskoplampe; Verteilerwerte mit Leitung auf sind Gewichte und Dose zusammen",
    line: "Leitung",
    mark: "abgelesen °",
    expected: "erwartet °",
    specification: "Vorgabe",
    distributorDeg: "Verteiler °",
    onLine: (line) => LINES[line],
    picture: "Durchgezogen mit Punkten: Prüfstand, steigend. Gestrichelt mit Quadraten: am Motor.",
  },
  agreement: (agreement) => AGREEMENTS[agreement],
  sentence: (mark, speed, line, says) => `${mark} bei ${speed}, Leitung ${LINES[line]}: ${says}.`,
  noExpectation: "nicht zu sagen, die Kurve vom Prüfstand sagt nicht, was zu erwarten ist",
  expected: (agreement, range) => `${AGREEMENTS[agreement]}, ${range} erwartet`,
  counts: (agree, all, disagree, untold) =>
    `Von ${all} Ablesungen ${agree === 1 ? "stimmt 1" : `stimmen ${agree}`} mit der Kurve vom Prüfstand überein, ${disagree} nicht, bei ${untold} ist es nicht zu sagen.`,
  lookAtLine:
    "Mit der Leitung zu liegt nichts daneben, mit der Leitung auf etwas: die Leitung ansehen, was sie speist (Saugrohr oder Bohrung oberhalb der Drosselklappe), und die Unterdruckdose.",
  tooClose:
    "Diese Ablesungen können die Grundeinstellung nicht von der Kurve unterscheiden: im Leerlauf ablesen und auch bei einer Drehzahl, bei der die Fliehgewichte außen liegen.",
  offset: (deg, isEarly) =>
    `Alle liegen um etwa gleich viel daneben, ${deg} (Kurbelwelle) zu ${isEarly ? "früh" : "spät"}: Die Grundeinstellung ist anders, nicht die Kurve. Neu einstellen und noch einmal ablesen.`,
  scaled: (isTwice) =>
    `Die abgelesene Verstellung ist ${isTwice ? "das Doppelte" : "die Hälfte"} der erwarteten: Wurden Grad oder U/min des Verteilers für die der Kurbelwelle genommen, oder zählt der Drehzahlmesser für eine andere Zylinderzahl?`,
  unlike:
    "Sie liegen um ungleiche Beträge daneben: Die Kurve am Motor ist nicht die vom Prüfstand. Nachsehen, ob die Leitung abgezogen und verschlossen ist, und den Drehzahlmesser prüfen; dann gehört der Verteiler zurück auf den Prüfstand.",
};
