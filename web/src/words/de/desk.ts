// Wörter für das, was abgelegt ist: Messungen finden, vergleichen, mit Notizen versehen.
import type { Mixture } from "../../../../core/records/compare.ts";
import type { KIND_FILTERS, VERDICT_FILTERS } from "../../../../core/records/listed.ts";

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
};
