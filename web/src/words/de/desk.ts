// Wörter für das, was abgelegt ist: Messungen finden, vergleichen, mit Notizen versehen.

import type { Mixture } from "../../../../core/records/compare.ts";
import type { KIND_FILTERS, VERDICT_FILTERS } from "../../../../core/records/listed.ts";
import type { Hint } from "../../../../core/typedUnit/hints.ts";
import type { ContactSets, Trigger, VacuumPort } from "../../../../core/unit.ts";

const VERDICT_FILTER_WORDS: Readonly<Record<(typeof VERDICT_FILTERS)[number], string>> = {
  any: "beliebig",
  within: "innerhalb",
  outside: "außerhalb",
  unproven: "zu knapp für ein Urteil",
  none: "nicht beurteilt",
};
const KIND_FILTER_WORDS: Readonly<Record<(typeof KIND_FILTERS)[number], string>> = {
  any: "gemessen und simuliert",
  real: "nur gemessene",
  simulated: "nur simulierte",
};
const MIXTURES: Readonly<Record<keyof Mixture, string>> = {
  isPartSimulated:
    "Hier stehen Simulationen neben Messungen. Eine simulierte Kurve sagt nichts über einen wirklichen Verteiler.",
  isPartByHand:
    "Von Hand Abgelesenes steht neben Messungen am Prüfstand: Die Unsicherheiten sind verschieden.",
  isOfSeveralUnits: "Diese gehören nicht alle zu einem Verteiler.",
  hasSeveralBands:
    "Sie wurden nicht alle nach denselben Grenzen beurteilt. Die Balken sind die von A.",
};
/** In der Reihenfolge der Zeichen (overlayChart.ts). */
const MARKS = [
  "Kreise, durchgezogene Linie",
  "Quadrate, gestrichelte Linie",
  "Dreiecke, gepunktete Linie",
  "Rauten, strichpunktierte Linie",
  "Dreiecke auf der Spitze, lange Striche",
  "Dreiecke nach rechts, Strich und zwei Punkte",
];

const TRIGGERS: Readonly<Record<Trigger["kind"], string>> = {
  contacts: "Unterbrecherkontakte",
  magnetic: "magnetisch",
  hall: "Hall",
  optical: "optisch",
};
const PORTS: Readonly<Record<VacuumPort, string>> = {
  manifold: "am Saugrohr",
  ported: "an einer Bohrung über der Drosselklappe",
  none: "keine Unterdruckleitung",
};
const SETS: Readonly<Record<ContactSets["arrangement"] | "one", string>> = {
  one: "ein Satz",
  overlapped: "zwei, beide an jedem Nocken",
  staggered: "zwei, jeder an jedem zweiten Nocken",
};
type Fixed = (value: number, digits: number) => string;

function hintText(hint: Hint, fixed: Fixed): string {
  switch (hint.code) {
    case "much-advance":
      return `${fixed(hint.advanceDeg, 1)} Verteilergrad sind mehr, als die meisten Verteiler verstellen. Sind es Kurbelwellengrad?`;
    case "crankshaft-speeds":
      return `${fixed(hint.speedRpm, 0)}/min am Verteiler sind ${fixed(2 * hint.speedRpm, 0)}/min am Motor. Sind es Drehzahlen der Kurbelwelle?`;
    case "distributor-speeds":
      return `Die letzte Drehzahl liegt bei ${fixed(hint.speedRpm, 0)}/min am Verteiler. Sind es doch Verteilerdrehzahlen?`;
    case "mixed-shafts":
      return "Grad der einen Welle und Drehzahlen der anderen: Steht es so gedruckt?";
    case "end-before-start":
      return "Die größte Verstellung ist erreicht, bevor die Verstellung begonnen haben muss.";
    case "falls":
      return `Die Verstellung fällt bei „${hint.printed}“. Ist ein Wert vertippt?`;
    case "deep-vacuum":
      return `${fixed(hint.vacuumPa / 1000, 1)} kPa sind mehr, als ein Motor zieht. Stimmt die Einheit des Unterdrucks?`;
    case "shallow-vacuum":
      return `${fixed(hint.vacuumPa / 1000, 1)} kPa bewegen kaum eine Dose. Stimmt die Einheit des Unterdrucks?`;
    case "no-begin":
      return "Keine Zeile sagt, wo die Verstellung beginnt: Der Beginn wird nicht beurteilt.";
    case "no-end":
      return "Keine Zeile nennt die größte Verstellung („max 14 by 2300“): Was nach der letzten Zeile kommt, wird nicht beurteilt.";
    case "tolerance-added":
      return `Zeilen mit nur einem Wert erhalten die ± ${fixed(hint.toleranceDeg, 1)} Verteilergrad der Werkstatt.`;
  }
}

export const desk = {
  find: {
    note: "Zwei oder mehr Messungen ankreuzen, um sie nebeneinander zu stellen.",
    text: "Verteiler, Prägenummer oder Auftragsnummer",
    verdict: "Urteil",
    verdictOf: (verdict: (typeof VERDICT_FILTERS)[number]) => VERDICT_FILTER_WORDS[verdict],
    kind: "Gemessen oder simuliert",
    kindOf: (kind: (typeof KIND_FILTERS)[number]) => KIND_FILTER_WORDS[kind],
    from: "Von",
    to: "Bis",
    archived: "Archiv zeigen",
    searching: "Suche läuft …",
    none: "Keine Messung passt.",
    unanswered: "Was da ist, war nicht zu erfragen.",
    count: (count: number, isAll: boolean) =>
      `${isAll ? "" : "bisher "}${count} ${count === 1 ? "Messung" : "Messungen"}`,
    more: "Ältere Messungen",
    tick: (what: string) => `Vergleichen: ${what}`,
    lookInto: "Verlauf, Notizen",
    lookIntoOf: (what: string) => `Verlauf und Notizen: ${what}`,
    noteCount: (count: number) => (count === 1 ? "1 Notiz" : `${count} Notizen`),
    job: (number: string) => `Auftrag ${number}`,
  },
  compare: {
    button: "Angekreuzte Messungen vergleichen",
    few: "Zum Vergleichen mindestens zwei Messungen ankreuzen.",
    full: (most: number) =>
      `Mehr als ${most} Kurven in einem Bild lassen sich nicht auseinanderhalten.`,
    title: "Nebeneinander",
    end: "Zurück zur Liste",
    speed: "Verstellung über der Drehzahl",
    vacuum: (name: string) => `Verstellung über dem Unterdruck, ${name}`,
    mixture: (what: keyof Mixture) => MIXTURES[what],
    legend: (letter: string, index: number, name: string) =>
      `${letter}: ${MARKS[index]}; steigend gefüllt, fallend offen und dünner. ${name}`,
    bars: (letter: string) => `Balken: Grenzen an den gedruckten Zeilen von ${letter}`,
    description: (title: string, names: string) =>
      `Bild: ${title}. ${names}. Die Tabellen darunter enthalten alle Werte.`,
    rows: "Zeile für Zeile",
    difference: "gegen A",
    whole: "Der Verteiler",
    note: "± ist die erweiterte Unsicherheit mit 95 % Überdeckung; bei einem Unterschied gelten beide Werte als unabhängig, sodass gemeinsame Fehler des Prüfstands sie kleiner machen, nie größer.",
    numbers: (letter: string) => `Ablesungen von ${letter}`,
    byHand: "von Hand",
  },
  into: {
    title: "Verlauf und Notizen",
    close: "Schließen",
    open: "Messung öffnen",
    notes: "Notizen",
    notesNote:
      "Eine Notiz trägt ihr Datum und steht neben der Messung, die bleibt, wie sie ist. Gedruckt wird sie nicht.",
    newNote: "Neue Notiz",
    add: "Notiz behalten",
    noNotes: "Keine Notizen.",
    takeBack: "Zurücknehmen",
    takeBackOf: (text: string) => `Zurücknehmen: ${text}`,
    putBack: "Wieder einsetzen",
    putBackOf: (text: string) => `Wieder einsetzen: ${text}`,
    takenBack: "zurückgenommen",
    archive: "Messung ins Archiv legen",
    unarchive: "Messung aus dem Archiv holen",
    export: "Messung ausgeben (Datei)",
    archiveNote: "Das Archiv nimmt eine Messung aus der Liste. Gelöscht wird nichts.",
    history: "Verlauf dieses Verteilers",
    historyNote:
      "Alle Messungen mit derselben Bezeichnung und Prägenummer, die älteste zuerst. Mehrere Verteiler können dieselbe Prägenummer tragen: Der Auftrag unterscheidet sie.",
    number: "Nr.",
    when: "Gemessen",
    outcome: "Urteil",
    largest: "Größte Verstellung, Verteilergrad",
    atSpeed: "bei",
    job: "Auftrag",
    this: "diese Messung",
    archivedMark: "im Archiv",
    picture: (count: number) =>
      `Bild: die größte Fliehkraftverstellung aus ${count} Messungen in zeitlicher Folge. Die Tabelle darunter enthält die Werte.`,
    pictureTitle: "Größte Verstellung im Lauf der Zeit",
    pictureAxis: "Nummer in der Tabelle darunter, die älteste links",
    pictureLegend: "Gefüllte Kreise: gemessen. Offene Quadrate: simuliert. Striche: ±",
    compareAll: "Diese vergleichen",
  },
  bandRow: {
    at: (limits: string, x: string) => `${limits} bei ${x}`,
    noneBelow: (limits: string, x: string) => `${limits} bis ${x}`,
    start: (from: string, to: string) => `beginnt zwischen ${from} und ${to}`,
    most: (limits: string) => `${limits} und nicht weiter`,
    mostBy: (limits: string, x: string) => `${limits} ab ${x}, und nicht weiter`,
  },
  band: {
    description: (title: string, count: number) =>
      `Bild: ${title}, die Grenzen von ${count} gedruckten Zeilen. Die Tabelle darunter enthält sie.`,
    rows: (title: string) => `${title}, Zeile für Zeile`,
    distributor: "Am Verteiler",
    crankshaft: "An der Kurbelwelle",
    source: "Quelle",
    line: "Zeile",
    typed: "Wie getippt",
  },
  units: {
    title: "Verteiler und Federn",
    note: "Verteiler, deren Prüfwerte abgelegt sind. Die als erfunden bezeichneten sind Beispiele ohne wirkliches Vorbild.",
    type: "Neuen Verteiler eintippen",
    bringIn: "Verteilerdateien einlesen",
    unstamped: "ohne Prägenummer",
    invented: "erfundenes Beispiel",
    file: (name: string) => `Datei im Datenordner: ${name}`,
    passedOver: "Eine Datei im Datenordner ist nicht lesbar.",
    edited: (times: number) => (times === 1 ? "einmal geändert" : `${times}-mal geändert`),
  },
  unit: {
    stampedNumber: "Prägenummer",
    lobes: "Nocken",
    rotation: "Drehrichtung, von oben auf den Verteilerläufer gesehen",
    rotationOf: (rotation: "cw" | "ccw") =>
      rotation === "cw" ? "im Uhrzeigersinn" : "gegen den Uhrzeigersinn",
    trigger: "Geber",
    triggerOf: (kind: Trigger["kind"]) => TRIGGERS[kind],
    contactSets: "Kontaktsätze",
    setsOf: (sets: ContactSets["arrangement"] | "one") => SETS[sets],
    dwell: "Schließwinkel",
    springs: "Federn der Fliehgewichte",
    vacuumPort: "Unterdruckleitung",
    portOf: (port: VacuumPort) => PORTS[port],
    notKnown: "nicht bekannt",
    fileNote: (name: string) =>
      `Das ist die Datei ${name} im Datenordner. Geändert wird sie dort; was hier danach eingetippt wird, ist ein anderer Verteiler.`,
    measure: "Diesen Verteiler messen",
    edit: "Ändern: neue Fassung",
    copy: "Einen Verteiler wie diesen eintippen",
    export: "Verteilerdatei ausgeben",
    noSpeed: "Keine Prüfwerte über der Drehzahl: Es wird nur die Kurve gemessen.",
    noRows: (name: string) => `${name}: keine Prüfwerte, es wird nur die Kurve gemessen.`,
    vacuumUnit: "Unterdruck in",
    actsOf: (acts: "advance" | "retard") =>
      acts === "advance" ? "Sie verstellt nach früh" : "Sie verstellt nach spät",
    hold: (vacuum: string, seconds: string, drop: string) =>
      `Abgesperrt bei ${vacuum}, darf er in ${seconds} s um ${drop} fallen.`,
    versions: "Frühere Fassungen",
    versionsNote:
      "Messungen mit einer früheren Fassung behalten sie. Wird eine wieder abgelegt, ist sie die neueste.",
    openVersion: "Zum Ändern öffnen",
  },
  unitForm: {
    titleNew: "Ein Verteiler, eingetippt",
    titleEdit: "Eine neue Fassung des Verteilers",
    note: "Eintippen, was im Handbuch steht. Was leer bleibt, bleibt unbekannt; angenommen wird nichts.",
    editNote: "Messungen behalten die Fassung, mit der sie gemacht wurden.",
    description: "Bezeichnung",
    notSaid: "nicht angegeben",
    linesSay: "steht in jeder Zeile",
    firingEdge: "Er zündet bei",
    edgeOf: (edge: "a" | "b") =>
      edge === "a" ? "Flanke a: Das Signal steigt" : "Flanke b: Es fällt",
    dwellNote: "Wie gedruckt: 51 ± 4 oder 57 to 63.",
    dwellUnit: "Schließwinkel in",
    dwellUnitOf: (unit: "degrees" | "percent") =>
      unit === "degrees" ? "Verteilergrad" : "Prozent",
    combinedDwell: "Schließwinkel beider Sätze zusammen",
    isInvented: "Ein erfundener Verteiler, zum Ausprobieren",
    lines: "Wie im Handbuch gedruckt, eine Angabe je Zeile",
    linesNote: (kind: "speed" | "vacuum") =>
      kind === "speed"
        ? "Zum Beispiel: no advance below 300 · 5¼–7 at 700 · 14 crank at 2000 engine rpm · max 10 by 900."
        : "Zum Beispiel: starts at 100–120 · 5 at 200 mmHg · max 8 by 12 inHg.",
    keptRows: (count: number) =>
      `${count} Zeilen der Datei bleiben, wie sie sind; hier Getipptes tritt an ihre Stelle.`,
    degrees: "Die Grade sind die von",
    rpm: "Die Drehzahlen sind die von",
    initialIn: "Grundeinstellung, die in den Graden steckt",
    vacuum: "Einheit des Unterdrucks",
    tolerance: "Toleranz nach beiden Seiten, in den Graden der Zeilen",
    source: "Wo es gedruckt steht",
    isOwnTarget: "Das sind eigene Zielwerte, keine Prüfwerte",
    asRead: "So wird es gelesen",
    odd: "Ist das so gemeint?",
    hint: hintText,
    capsuleNumber: (number: number) => `Dose ${number}`,
    capsuleName: "Bezeichnung der Dose",
    acts: "Wirkung",
    holdVacuum: (unit: string) => `Dichtprüfung: abgesperrt bei, ${unit}`,
    holdSeconds: "Dichtprüfung: Sekunden",
    holdDrop: (unit: string) => `Dichtprüfung: darf fallen um, ${unit}`,
    addCapsule: "Dose hinzufügen",
    dropCapsule: "Letzte Dose herausnehmen",
    engine: "Am Motor, soweit bekannt",
    initialTiming: "Grundeinstellung, Kurbelwellengrad vor OT",
    initialNote: "Mit der Unterdruckleitung ergibt das die Marken für die Stroboskoplampe.",
    setAt: "Eingestellt bei Motordrehzahl (leer: im Stand)",
    good: "Der Verteiler kann abgelegt werden.",
    wrongLines: (count: number) =>
      count === 1
        ? "Eine Zeile lässt sich nicht lesen: siehe dort."
        : `${count} Zeilen lassen sich nicht lesen: siehe dort.`,
    keep: "Verteiler ablegen",
    keepVersion: "Neue Fassung ablegen",
    drop: "Schließen, ohne abzulegen",
  },
  springs: {
    title: "Federvorrat",
    note: "Die Federn, nach denen der Rat geht. Eine gemessene Federrate gilt vor einer aus Draht und Windungen gerechneten.",
    none: "Keine Federn abgelegt.",
    rate: "Federrate",
    from: (from: "measurement" | "wire") => (from === "measurement" ? "gemessen" : "gerechnet"),
    ratesDiffer: "Gemessene und gerechnete Rate weichen ab: beides noch einmal messen.",
    wire: "Draht × mittlerer Windungsdurchmesser × Windungen, mm",
    takeOut: "Herausnehmen",
    takeOutOf: (name: string) => `${name} herausnehmen`,
    export: "Als CSV ausgeben",
    bringIn: "CSV-Datei einlesen",
    isAdding: "Zum Vorrat hinzufügen; sonst tritt sie an seine Stelle",
    bringBack: "Vorrat wie zuvor zurückholen",
    type: "Feder eintippen",
    typeNote:
      "Nötig sind Bezeichnung, Anzahl und freie Länge, dazu Draht und Windungen oder eine gemessene Rate mit ihrer Unsicherheit.",
    typed: "Die Feder",
    add: "Feder hinzufügen",
    field: {
      name: "Bezeichnung",
      quantity: "Vorrätig",
      free_length_mm: "Freie Länge zwischen den Ösen, mm",
      wire_diameter_mm: "Draht, mm",
      outside_diameter_mm: "Außendurchmesser der Windungen, mm",
      active_coils: "Federnde Windungen",
      loop_length_mm: "Spiel einer langen Öse, mm",
      initial_tension_n: "Vorspannung, N",
      rate_n_per_m: "Gemessene Federrate, N/m",
      rate_uncertainty_n_per_m: "Ihre Unsicherheit (95 %), N/m",
    },
  },
  carry: {
    title: "Dateien und Sicherung",
    note: "Von hier aus wird nie etwas überschrieben, was abgelegt ist.",
    running: "Eine Messung läuft: Dateien und Sicherung warten, bis sie zu Ende ist.",
    recordsTitle: "Messungen von anderswo",
    recordsNote:
      "Dateien eines anderen Bobweight (*.record.json): Jede wird an ihren Prüfsummen geprüft und lässt sich hier neu berechnen. Ausgegeben wird eine Messung dort, wo Verlauf und Notizen stehen.",
    bringIn: "Messungen einlesen",
    broughtIn: (name: string, wasThere: boolean) =>
      wasThere ? `${name}: schon da.` : `${name}: eingelesen.`,
    backupTitle: "Sicherung",
    backupNote:
      "Messungen, Aufträge, Fotos, Verteiler, Federn und Prüfstandsdateien in einer Datei, zurückgelesen und geprüft. Auf einen anderen Datenträger legen: Im Datenordner bleibt nur die neueste.",
    make: "Sicherung anlegen",
    take: (megabytes: string) => `Sicherung herunterladen (${megabytes} MB)`,
    made: (name: string, contents: string) => `${name}: ${contents}.`,
    restoreTitle: "Sicherung zurückholen",
    restoreNote:
      "Sie wird geprüft und kommt in einen neuen Ordner neben dem benutzten, der bleibt, wie er ist. Um sie zu benutzen, das Programm beenden und auf dem neuen Ordner starten.",
    restore: "Sicherung zum Zurückholen",
    restored: (folder: string, contents: string) =>
      `${contents} liegen in ${folder}. Damit startet das Programm darauf:`,
    contents: (records: number, jobs: number, files: number) =>
      `${records} ${records === 1 ? "Messung" : "Messungen"}, ${jobs} ${jobs === 1 ? "Auftrag" : "Aufträge"}, ${files} ${files === 1 ? "andere Datei" : "andere Dateien"}`,
    doing: {
      records: "Messungen werden eingelesen …",
      backup: "Die Sicherung wird angelegt und zurückgelesen …",
      restore: "Die Sicherung wird zurückgeholt und geprüft …",
    },
  },
};
