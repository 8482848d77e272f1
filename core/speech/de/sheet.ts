// Words of the file's sheet alone, in German.
import type { ByHandMeans } from "../../byHand/byHand.ts";
import type { RowVerdict, Verdict } from "../../documents.ts";
import type { Translated } from "../../language.ts";
import type { EarlierRun } from "../../sheet/earlier.ts";
import type { sheet as english } from "../en/sheet.ts";
import { VERDICT_WORDS } from "./verdicts.ts";

const SHORT_VERDICTS: Readonly<Record<Verdict, string>> = { ...VERDICT_WORDS, unproven: "knapp" };

const SUBJECTS: Readonly<Record<RowVerdict["about"], string>> = {
  speed: "Drehzahl",
  vacuum: "Unterdruck",
  dwell: "Schließwinkel",
  scatter: "Nockenteilung",
  hold: "Halten",
  return: "Rückkehr",
};
const RUNS: Readonly<Record<EarlierRun["name"], string>> = {
  "as received": "wie erhalten",
  before: "vorher",
};
const MEANS: Readonly<Record<ByHandMeans, string>> = {
  "degree wheel": "Gradscheibe",
  "timing light": "Stroboskoplampe",
};
/** What the program itself calls its rig and a unit without faults; all other names stay. */
const STAND_IN = "Stand-in rig";
const SOUND = "sound unit";

export const sheet: Translated<typeof english> = {
  documentTitle: (unit) => `Prüfblatt: ${unit}`,
  title: "Prüfblatt Zündverteiler",
  uncertainty:
    "Jedes ± ist eine erweiterte Messunsicherheit mit 95 % Überdeckungswahrscheinlichkeit (JCGM 100; nach der Verteilung ihrer Anteile JCGM 101). Eine Zeile ist innerhalb, wenn der Wert um mindestens so viel innerhalb ihrer Grenzen liegt, außerhalb, wenn er um mindestens so viel jenseits einer Grenze liegt, und dazwischen zu knapp für ein Urteil (ILAC-G8:09/2019). Die Werte gelten für diesen Verteiler auf diesem Prüfstand am Tag der Prüfung.",
  heading: {
    mechanism: "Die Mechanik, wie sie sich errechnet (Grad und U/min am Verteiler)",
    trigger: "Auslösung",
    conditions: "Prüfbedingungen",
    trust: "Wie weit den Werten zu trauen ist",
  },
  retime:
    "Den Zündzeitpunkt neu einstellen und Kontaktabstand und Schließwinkel nachprüfen: Über die Grundeinstellung sagt dieses Blatt nichts.",
  retimeAir:
    "Den Zündzeitpunkt neu einstellen und den Luftspalt des Gebers nachprüfen: Über die Grundeinstellung sagt dieses Blatt nichts.",
  mechanismFact: (label, value) => `${label}: ${value}`,
  label: {
    tested: "Geprüft",
    cam: "Nocken",
    trigger: "Auslöser",
    drive: "Antrieb",
    rig: "Prüfstand",
    scatter: "Nockenteilung",
    return: "Rückkehr",
    rawLines: "Rohdaten",
    program: "Programm",
    record: "Aufzeichnung",
    scenario: "Szenario",
    rigTold: "Prüfstand nach diesem Lauf",
    board: "Platine",
    ambient: "Umgebungsdruck",
    readings: "Messwerte",
    byEye: "Mit dem Auge abgelesen",
    camTurns: "Nocken von Hand drehbar",
    camSpringsBack: "Nocken federt zurück",
    received: "Wie erhalten",
    before: "Vor der Änderung",
    rising: (what) => `${what}, steigend`,
    hold: (capsule) => `${capsule}, Halten`,
  },
  oneLobe: "1 Nocken",
  evenLobes: (count, apart) => `${count} Nocken im Abstand von ${apart}`,
  lobesAt: (count, places) => `${count} Nocken bei ${places.join("; ")}°`,
  driveOnce: "dreht einmal je Umdrehung der Kurbelwelle",
  drive: (ratio) => `dreht einmal in ${ratio} Umdrehungen der Kurbelwelle`,
  rigByHand: (means) => `keiner: von Hand mit ${MEANS[means]}`,
  rigSimulated: (name) => (name === STAND_IN ? "simulierter Prüfstand" : `${name} (simuliert)`),
  travel: {
    speed: "Drehzahl",
    withCrankshaft: (figure, crankshaft) => `${figure} (Kurbelwelle ${crankshaft})`,
    begins: (place) => `beginnt bei ${place}`,
    hasBegun: (place) => `hat bis ${place} begonnen`,
    halfway: (deg, place) => `halber Weg, ${deg}, bei ${place}`,
    ends: (deg, place) => `geht bis ${deg}, erreicht bei ${place}`,
  },
  hold: {
    byHand: "von Hand",
    withPump: (percent) => `mit der Pumpe auf ${percent} %`,
    reached: (vacuum, how, lost, seconds) =>
      `${vacuum} erreicht ${how}; verlor ${lost} in ${seconds} s`,
    notReached: (vacuum, got, how) => `${vacuum} NICHT erreicht: ${got} ${how}`,
  },
  scatter: (deg) => `schlechtester Nocken ${deg} neben der gleichmäßigen Teilung`,
  return: (deg, speed) => `nach allem bleiben ${deg} bei ${speed}`,
  rawTyped: "keine: eingetippt, kein Prüfstand hat etwas gesendet",
  rawNone: "keine aufbewahrt",
  rawBytes: (bytes, sha256Hex) => `${bytes} Byte, SHA-256 ${sha256Hex}`,
  scenario: (name, seed) => `${name === SOUND ? "gesunder Verteiler" : name}, Startwert ${seed}`,
  recordOf: (time, id) => `${time}, Aufzeichnung ${id}`,
  readings: (turns, seconds, speed) =>
    `Mittel aus höchstens ${turns} Umdrehungen oder ${seconds} s, Verstellung gezählt ab ${speed}`,
  byEye: (means, limits) => `${MEANS[means]}, jeder Messwert auf ± ${limits.join("; ")}`,
  atDistributor: (figure) => `${figure} (Verteiler)`,
  notTried: "nicht versucht",
  yes: "ja",
  no: "NEIN",
  rigTold: {
    pickup: (deg) => `Flanken des Winkelgebers bis ${deg} daneben, herausgerechnet`,
    seen: (deg) =>
      `Ungleichförmigkeit des Antriebs bis ${deg} bei der kleinsten Drehzahl, herausgerechnet`,
    unseen: (deg, speed, uncertain) =>
      `ungesehene Ungleichförmigkeit ${deg} bei ${speed}, Standardunsicherheit ${uncertain}`,
  },
  rows: {
    caption: "Jede Zeile der Vorgabe und was gemessen wurde, in Werten des Verteilers",
    of: "Größe",
    printed: "wie gedruckt",
    limits: "Grenzen",
    rising: "steigend oder einmal gemessen",
    falling: "fallend",
    about: (about) => SUBJECTS[about],
    limitsAt: (limits, place) => `${limits} bei ${place}`,
    shortVerdict: (verdict) => SHORT_VERDICTS[verdict],
    doesNot: (verdict) => `tut es nicht: ${verdict}`,
    neverReached: (verdict) => `nie erreicht: ${verdict}`,
  },
  earlier: {
    caption: (runs) =>
      `Jede Zeile der Vorgabe ${runs.join(", ")} und nach der Änderung, in Werten des Verteilers (knapp: zu knapp für ein Urteil)`,
    printed: "wie gedruckt, und die Grenzen",
    run: (name) => RUNS[name],
    after: "nachher",
    toOwnTarget: "nach eigenem Ziel des Benutzers",
    verdict: "Urteil",
    notJudged: "nicht beurteilt",
    rising: "steigend",
    falling: "fallend",
  },
  readingsTable: {
    speed: (within) =>
      `Verstellung über der Drehzahl. Gemessen höchstens ${within} neben der eingestellten Drehzahl.`,
    vacuum: (capsule, within) =>
      `${capsule}: Verstellung über dem Unterdruck. Gemessen höchstens ${within} neben dem eingestellten Unterdruck.`,
    atDistributor: "am Verteiler",
    atCrankshaft: "an der Kurbelwelle",
    rpmSet: "Soll U/min",
    vacuumSet: "Soll",
    rising: "steigend °",
    falling: "fallend °",
  },
};
