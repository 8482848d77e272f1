// The page's own words in German: the bar, places, the start card, readings by hand, a run while it goes on.
import type { StepName } from "../../../../core/documents.ts";
import type { Translated } from "../../../../core/language.ts";
import type { ConnectedContacts } from "../../../../core/unit.ts";
import type { page as english } from "../en/page.ts";
import { AT_SHAFT, BRANCHES, ENDINGS } from "./shared.ts";

const STEPS: Readonly<Record<StepName, string>> = {
  reference: "Bezug wird gemessen, von dem aus die Verstellung zählt",
  hold: "Prüfung, ob die Unterdruckdose dicht hält",
  vacuum: "Unterdruck wird durchfahren",
  speed: "Drehzahl wird durchfahren",
  return: "Zurück zum Bezug: geht alles zurück?",
};
const CONNECTED: Readonly<Record<ConnectedContacts, string>> = {
  both: "Beide Sätze",
  first: "Nur der erste Satz",
  second: "Nur der zweite Satz",
};

export const page: Translated<typeof english> = {
  name: "Bobweight",
  skip: "Direkt zur Arbeit",
  places: {
    title: "Orte",
    name: {
      bench: "Werkbank",
      records: "Aufzeichnungen",
      units: "Verteiler und Federn",
      settings: "Einstellungen",
      help: "Hilfe",
    },
  },
  stop: "Motor anhalten (Software)",
  stopKey: "oder Taste Esc",
  notEmergency: "Kein Not-Halt: Am Prüfstand muss ein fest verdrahteter vorhanden sein.",
  ownTarget: "Eigenes Ziel des Benutzers, keine Herstellervorgabe",
  simulation: "Simulation: kein echter Prüfstand, kein echter Verteiler",
  realRig: (name) => `Echter Prüfstand: ${name}`,
  linkAlive: "Seite verbunden",
  linkLost: "Seite nicht verbunden, neuer Versuch läuft",
  doing: {
    idle: "Von hier aus läuft nichts.",
    unknown: "Nicht verbunden: Was der Prüfstand tut, ist hier nicht bekannt.",
    stopUnsent:
      "Das Anhalten konnte nicht gesendet werden: nicht verbunden. Dreht die Spindel, den Not-Halt am Prüfstand betätigen.",
    noEnd:
      "Es läuft nichts. Zum letzten Lauf ist kein Ende aufgezeichnet: am Prüfstand nachsehen, ob der Motor aus ist.",
    starting: "Verbindung zum Prüfstand wird aufgebaut …",
    stopUnanswered:
      "Keine Antwort auf das Anhalten. Dreht die Spindel, den Not-Halt am Prüfstand betätigen.",
    stopping: "Anhalten gesendet. Warten, bis der Prüfstand stillsteht …",
    step: (step, branch) => (branch === null ? STEPS[step] : `${STEPS[step]}, ${BRANCHES[branch]}`),
    ended: (ending) => `${ENDINGS[ending]}. Der Motor ist aus.`,
    lastUnknown: (ending) => `${ENDINGS[ending]}. Am Prüfstand nachsehen, ob der Motor aus ist.`,
  },
  start: {
    title: "Verteiler messen",
    rig: "Prüfstand",
    unit: "Verteiler",
    invented: "Ein erfundenes Beispiel, kein echtes Fabrikat.",
    contacts: "Am Prüfstand angeschlossene Unterbrecherkontakte",
    connected: (sets) => CONNECTED[sets],
    contactsNote: (arrangement) =>
      arrangement === "staggered"
        ? "Versetzt: Jeder Satz zündet auf jedem zweiten Nocken. Um einen Satz zu messen, eine Karte zwischen die Kontakte des anderen stecken."
        : "Überlappend: Beide Sätze arbeiten auf jedem Nocken. Um einen Satz zu messen, eine Karte zwischen die Kontakte des anderen stecken.",
    scenario: "Simulierter Verteiler",
    sound: "Folgt der Vorgabe des Verteilers",
    pace: "Tempo der Simulation",
    paceOf: (pace) => (pace === 1 ? "Wie im Leben" : `${pace}-mal so schnell wie im Leben`),
    after: "Dieser Lauf folgt auf eine Änderung nach",
    afterNone: "keiner: so, wie er hereinkam",
    more: "Messplan ändern",
    moreNote: "Leere Felder lassen den Plan so, wie er aus der Vorgabe entsteht.",
    speeds: "Drehzahlen am Verteiler in U/min, durch Kommas getrennt",
    hold: "Halteprüfung, Sekunden auf der Uhr",
    cautions: "Bevor der Motor dreht",
    read: "Ich habe dies gelesen. Die Schutzhaube ist zu, und niemand ist nahe an der Spindel.",
    button: "Messung beginnen",
    chooseUnit: "Den Verteiler auf dem Prüfstand wählen",
    missing: {
      rig: "Zuerst einen Prüfstand wählen.",
      unit: "Zuerst den Verteiler wählen.",
      speeds: "Die Drehzahlen im geänderten Plan sind keine Zahlen über 0.",
      hold: "Die Sekunden der Halteprüfung sind keine einzelne Zahl über 0.",
      cautions: "Zuerst die Warnungen abhaken.",
    },
    observing: "Eine andere Seite misst gerade. Zusehen und den Motor anhalten geht auch von hier.",
    addUnit: "Verteilerdatei hinzufügen",
  },
  byHand: {
    title: "Ohne Prüfstand",
    note: "Stroboskoplampe oder Gradscheibe und eine Hand-Unterdruckpumpe genügen für einen ersten Blick. Von hier aus bewegt sich nichts.",
    open: "Von Hand genommene Messwerte eintippen oder einfügen",
    chooseUnit: "Den Verteiler wählen",
    readings: "Messwerte, je einer pro Zeile",
    form: "Was die Notizen nicht sagen, bleibt unbekannt. Die Wörter der Notizen sind englisch. Zum Beispiel:",
    examples: [
      { line: "1000 9", means: "U/min und Grad, Drehzahl steigend" },
      {
        line: "falling",
        means: "was danach kommt, wurde beim Abfallen gelesen; rising: wieder steigend",
      },
      { line: "10 inHg 4", means: "Unterdruck und Grad" },
      { line: "20 inHg held 30 s dropped 2", means: "die Pumpe abgesperrt: gehalten, gefallen um" },
      { line: "20 inHg reached only 5", means: "der Unterdruck baute sich nicht weiter auf" },
    ],
    means: "Gelesen mit",
    meansOf: (means) => (means === "timing light" ? "Stroboskoplampe" : "Gradscheibe"),
    degrees: "Die Grade gelten für",
    rpm: "Die Drehzahlen gelten für",
    shaftOf: (shaft) => (shaft === "crankshaft" ? "die Kurbelwelle (Motor)" : "den Verteiler"),
    uncertainty: "Ein Messwert kann daneben liegen um, Grad in jede Richtung",
    initial: "Grundeinstellung, die in den Graden steckt, falls eine",
    vacuumRpm: "Drehzahl beim Lesen des Unterdrucks, falls er drehte",
    camTurns: "Lässt sich der Nocken von Hand drehen?",
    camSpringsBack: "Federt er zurück?",
    answerOf: (answer) => (answer === "yes" ? "Ja" : "Nein"),
    notSaid: "nicht gesagt",
    button: "Diese Messwerte beurteilen",
    unknown:
      "Was nicht gesagt ist, bleibt unbekannt: Aus wenigen Messwerten folgt nie, dass ein Verteiler innerhalb der Vorgabe liegt.",
    missing: {
      unit: "Zuerst den Verteiler wählen.",
      readings: "Mindestens einen Messwert eintippen.",
      means: "Angeben, womit gelesen wurde.",
      degrees:
        "Angeben, wessen Grade es sind: Die der Kurbelwelle sind bei den meisten Motoren doppelt so viele wie die des Verteilers.",
      rpm: "Angeben, wessen Drehzahlen es sind: Die Kurbelwelle dreht bei den meisten Motoren doppelt so schnell wie der Verteiler.",
    },
  },
  live: {
    title: "Messung läuft",
    now: "jetzt",
    wanted: "gewollt",
    speed: "Drehzahl am Verteiler (Spindel)",
    advance: (shaft) => `Verstellung ${AT_SHAFT[shaft]}`,
    vacuum: "Unterdruck",
    stale: (age) => `Seit ${age} nichts Neues: Diese Zahlen sind alt`,
    left: (time) => `noch ${time}`,
    toGo: "Noch",
    readings: (done, total) => `${done} von ${total} Messwerten`,
    nothing: "–",
    large: "Große Ansicht",
    small: "Zurück zu allen Zahlen",
    freeze: "Anzeige einfrieren",
    unfreeze: "Den Lauf wieder zeigen",
    frozen: "Die Anzeige ist eingefroren. Der Lauf und seine Aufzeichnung gehen weiter.",
    observer: "Hier wird nur zugesehen. Eine andere Seite führt diesen Lauf.",
  },
  handOver: (waiting: number) =>
    `Die Datenbank der Werkstatt ist nicht erreichbar. ${waiting === 1 ? "Eine Aufzeichnung wartet" : `${waiting} Aufzeichnungen warten`} auf diesem Rechner und ${waiting === 1 ? "wird" : "werden"} von selbst übergeben. Gemessen werden kann weiter; Aufträge, Listen und Papiere müssen warten.`,
  refused: "Nicht ausgeführt",
  unanswered:
    "Das Programm hat nicht geantwortet. Nachsehen, ob es auf diesem Rechner noch läuft, dann die Seite neu laden.",
};
