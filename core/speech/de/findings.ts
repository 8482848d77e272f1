// Findings in a workshop's words, in German.
import type { Evidence } from "../../findings/finding.ts";
import type { Translated } from "../../language.ts";
import type { findings as english } from "../en/findings.ts";

const FIGURES: Readonly<Record<Evidence["figure"], string>> = {
  advance: "Verstellung",
  "start of advance": "Beginn der Verstellung",
  "gap between rising and falling": "Abstand zwischen steigend und fallend",
  return: "Rückkehr",
  "lobe error": "Fehler der Nocken",
  "random spread": "Zufällige Streuung",
  bounce: "Prellen",
  "missing openings": "Ausgebliebene Öffnungen",
  dwell: "Schließwinkel",
  "vacuum reached": "Erreichter Unterdruck",
  "drop in the hold": "Abfall beim Halten",
};

/** The parts as core/findings names them; capsules keep their names. */
const PARTS: Readonly<Record<string, string>> = {
  "first spring": "erste Feder",
  "second spring": "zweite Feder",
  "both springs": "beide Federn",
  "too much load": "zu viel Vorspannung",
  "too little load": "zu wenig Vorspannung",
  "too stiff": "zu hart",
  "too soft": "zu weich",
  "the degrees are crankshaft degrees": "die Grade sind Kurbelwellengrade",
  "the degrees are distributor degrees": "die Grade sind Verteilergrade",
  "the speeds are engine speeds": "die Drehzahlen sind die des Motors",
  "the speeds are distributor speeds": "die Drehzahlen sind die des Verteilers",
  "all figures are the crankshaft's": "alle Werte gelten für die Kurbelwelle",
  "all figures are the distributor's": "alle Werte gelten für den Verteiler",
  "the vacuums are inches of mercury": "der Unterdruck ist in Zoll Quecksilber",
  "the vacuums are kilopascals": "der Unterdruck ist in Kilopascal",
  "the vacuums are millimetres of mercury": "der Unterdruck ist in Millimeter Quecksilber",
  "initial timing is included": "die Grundeinstellung ist eingerechnet",
  "the vacuums are millibars": "der Unterdruck ist in Millibar",
};

const RATE_CHECK =
  "Draht, Windungsdurchmesser und Windungen oder die Federrate messen und mit dem Federvorrat vergleichen.";
const LOOPS_CHECK = "Beide Federn und alle vier Ösen ansehen.";

export const findings: Translated<typeof english> = {
  heading: "Befunde",
  nothing: "Die Messwerte dieses Laufs zeigen keinen Fehler.",
  next: (check) => `Als Nächstes: ${check}`,
  kind: {
    "weights-stuck": {
      about: "Fliehgewichte",
      title: "Fliehgewichte oder Nocken fest, Stellung unbekannt",
      check:
        "Den Nocken von Hand gegen die Welle drehen: Er muss sich bewegen und zurückfedern. Nachsehen, ob beide Federn da sind: Ohne sie liegen die Gewichte sofort außen und lesen sich ebenso.",
    },
    "weights-dry": {
      about: "Reibung",
      title: "Fliehgewichte laufen trocken: großer Abstand zwischen steigend und fallend",
      check:
        "Lagerstellen und Nocken reinigen und ölen und neu messen, bevor eine Feder angefasst wird.",
    },
    "weights-not-returning": {
      about: "Rückkehr auf null",
      title: "Geht nicht auf null zurück",
      check:
        "Nach Graten, verharzten Lagerstellen und verbogenen Haltestiften sehen. Der Motor würde beim Anlassen zurückschlagen: so nicht einbauen.",
    },
    "spring-stretched": {
      about: "Federn",
      title: "Gelängte Feder: zu früh, parallel verschoben",
      check:
        "Die Länge mit einer bekannten vergleichen oder den Haltestift zurückbiegen; die Ösen ansehen.",
    },
    "spring-light": {
      about: "Federn",
      title: "Schwache oder falsche Feder: zu früh und steiler",
      check: RATE_CHECK,
    },
    "spring-heavy": {
      about: "Federn",
      title: "Zu starke Feder oder falsches Paar: spät und flach",
      check: RATE_CHECK,
    },
    "first-spring-missing": {
      about: "Federn",
      title: "Erste Feder fehlt oder ist vom Haltestift gesprungen",
      check: LOOPS_CHECK,
    },
    "second-spring-missing": {
      about: "Federn",
      title: "Zweite Feder fehlt oder ist ausgehängt",
      check: LOOPS_CHECK,
    },
    "stop-worn": {
      about: "Verstellweg",
      title: "Weg über das Ende der Vorgabe hinaus: Anschlag verschlissen oder seine Büchse fort",
      check:
        "Den Nocken von Hand an seinen Anschlag drehen und Langloch, Stift und Büchse ansehen. Zu viel Verstellung kann einen Kolben durchbrennen.",
    },
    "second-spring-loop-worn": {
      about: "Federn",
      title: "Zweite Feder greift zu spät: Öse oder Haltestift verschlissen",
      check:
        "Den Nocken von Hand dahin drehen, wo die zweite Feder zu ziehen beginnt, und Öse und Haltestift ansehen.",
    },
    "shaft-bush-worn": {
      about: "Lagerbüchse",
      title: "Lagerbüchse der Welle verschlissen",
      check: "Die Welle am Ende des Verteilerfingers seitlich drücken und nach Spiel fühlen.",
    },
    "shaft-bent": {
      about: "Welle",
      title: "Fehler einmal je Umdrehung: Welle krumm",
      check:
        "Den Verteiler um eine halbe Umdrehung versetzt in die Kupplung setzen und neu messen: Was beim Prüfstand bleibt, gehört dem Prüfstand.",
    },
    "cam-worn": {
      about: "Nocken",
      title: "Nocken verschlissen: fester Fehler einzelner Nocken",
      check: "Die genannten Nocken ansehen und jeden mit einer Messuhr messen.",
    },
    "contact-spring-weak": {
      about: "Kontaktfeder",
      title: "Kontaktfeder schwach",
      check: "Die Spannung der Kontaktfeder am Kontakt mit einer Federwaage messen.",
    },
    "plate-lead-breaking": {
      about: "Kabel der Grundplatte",
      title: "Kabel oder Masse der Grundplatte unterbricht in einer Stellung",
      check: "Die Platte von Hand bewegen, mit einem Durchgangsprüfer am Kabel.",
    },
    "diaphragm-torn": {
      about: "Membran",
      title: "Der Unterdruck baut sich nicht auf: Membran gerissen",
      check:
        "Den Schlauch verschließen und noch einmal pumpen: Baut er sich auch dann nicht auf, ist der Schlauch oder die Pumpe undicht, nicht die Dose.",
    },
    "capsule-leak": {
      about: "Dichtheit",
      title: "Der Unterdruck fällt: kleine Undichtigkeit",
      check:
        "Den Schlauch verschließen und die Halteprüfung wiederholen: Was dann noch fällt, liegt am Schlauch.",
    },
    "plate-not-following": {
      about: "Grundplatte",
      title: "Der Unterdruck hält, und die Platte bewegt sich nicht",
      check: "Nachsehen, ob die Zugstange auf ihrem Stift sitzt; dann die Platte von Hand bewegen.",
    },
    "plate-sticking": {
      about: "Grundplatte",
      title: "Die Platte klemmt: bewegt sich spät, kommt spät zurück",
      check: "Die Platte von Hand bewegen; ihr Lager reinigen und ölen.",
    },
    "capsule-spring-wrong": {
      about: "Feder der Unterdruckdose",
      title: "Falsche oder ermüdete Feder in der Unterdruckdose",
      check:
        "Die Nummer auf der Dose mit der Vorgabe vergleichen; Scheiben oder Umdrehungen können sie einstellen.",
    },
    "curve-unexplained": {
      about: "Federn",
      title: "Die Kurve weicht ab, ohne dass ein Fehler oder ein Paar von Fehlern es erklärt",
      check: "Zuerst die Vorgabe nachprüfen; dann reinigen, ölen und neu messen.",
    },
    "coupling-runout": {
      about: "Kupplung",
      title: "Fehler einmal je Umdrehung: die Kupplung des Prüfstands",
      check:
        "Den Verteiler um eine halbe Umdrehung versetzt in die Kupplung setzen und neu messen.",
    },
    "condenser-left-on": {
      about: "Kondensator",
      title: "Ein Kondensator über den Kontakten verzögert das Öffnen",
      check: "Den Kondensator abklemmen und neu messen. Gegen den Verteiler sagt dies nichts.",
    },
    "uncorrected-delay": {
      about: "Verzögerung",
      title: "Eine feste Verzögerung des Prüfstands",
      check:
        "Die Verzögerung des Prüfstands mit festgestelltem Nocken kalibrieren. Gegen den Verteiler sagt dies nichts.",
    },
    "specification-misread": {
      about: "Vorgabe",
      title: "Die Vorgabe ist auf einer anderen Skala gelesen, als sie gedruckt ist",
      check:
        "Noch einmal ins Handbuch sehen: Grad, Drehzahlen und Unterdruck, von welcher Welle und in welcher Einheit.",
    },
  },
  part: (part) => PARTS[part] ?? part,
  veryLikely: (percent) => `Sehr wahrscheinlich (${percent} von 100)`,
  likely: (percent) => `Wahrscheinlich (${percent} von 100)`,
  possible: (percent) => `Möglich (${percent} von 100)`,
  unitOrRig: "; Verteiler oder Prüfstand, was noch nicht zu sagen ist",
  alike: (titles) => `Sehr ähnlich: ${titles}.`,
  notTestable: (until, about) => `Nicht prüfbar, bis das behoben ist (${until}): ${about}.`,
  outside: (places) => `Verstellung außerhalb ihrer Grenzen: ${places}.`,
  itsStart: "ihr Beginn",
  rising: (places) => `steigend bei ${places}`,
  falling: (places) => `fallend bei ${places}`,
  figure: (figure) => FIGURES[figure],
  none: "keiner",
  between: (min, max) => `, gewollt ${min} bis ${max}`,
  atLeast: (min) => `, gewollt mindestens ${min}`,
  atMost: (max) => `, gewollt höchstens ${max}`,
  seeToFirst: (title, check) => `Zuerst dies: ${title}. ${check}`,
};
