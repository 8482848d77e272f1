// Words on jobs in German: list, card, the way from card to sheet, and what to change.
import type { CAM_BY_HAND } from "../../../../core/jobs/card.ts";
import type { Translated } from "../../../../core/language.ts";
import type { Place, Standing } from "../../path.ts";
import type { jobs as english } from "../en/job.ts";

const PLACES: Readonly<Record<Place, string>> = {
  card: "Auftragskarte",
  rig: "Prüfstand bereit",
  contacts: "Schließwinkel, Kontakte",
  speed: "Drehzahl",
  vacuum: "Unterdruck",
  findings: "Befunde",
  change: "Ändern",
  again: "Noch einmal messen",
  sheet: "Prüfblatt",
};
const STANDINGS: Readonly<Record<Standing, string>> = {
  done: "erledigt",
  now: "läuft",
  next: "als Nächstes",
  open: "kommt noch",
  none: "nicht nötig",
};
const NEXT: Readonly<Record<Place, string>> = {
  card: "Notieren, was hereinkam, soweit bekannt, oder gleich zum Prüfstand gehen.",
  rig: "Verteiler einspannen, Warnungen lesen und beginnen.",
  contacts: "",
  speed: "",
  vacuum: "",
  findings: "Lesen, was gefunden wurde.",
  change: "Ansehen, was nicht stimmt und was zu ändern ist. Dann noch einmal messen.",
  again: "Der Lauf kam zu keinem Urteil: noch einmal messen.",
  sheet: "Die Blätter drucken, die mit dem Verteiler zurückgehen.",
};
const CAM: Readonly<Record<(typeof CAM_BY_HAND)[number], string>> = {
  "springs back": "dreht sich und federt zurück",
  "comes back slowly": "dreht sich, kommt langsam zurück",
  stays: "dreht sich, bleibt stehen, wo er losgelassen wird",
  "does not turn": "dreht sich nicht",
};

export const jobs: Translated<typeof english> = {
  path: {
    title: "Der Weg eines Auftrags",
    place: (place) => PLACES[place],
    standing: (standing) => STANDINGS[standing],
    next: (place) => NEXT[place],
    nextIs: "Als Nächstes",
  },
  list: {
    title: "Aufträge",
    note: "Ein Auftrag hält zusammen, was zu einem Verteiler gehört: Karte, Fotos, alle Aufzeichnungen, die Blätter.",
    create: "Neuer Auftrag",
    search: "Suche nach Nummer, Kunde, Wagen, Verteiler …",
    archived: "Ablage zeigen",
    none: "Noch keine Aufträge.",
    noneFound: "Kein Auftrag enthält alle diese Wörter.",
    noneArchived: "Die Ablage ist leer.",
    records: (count) =>
      count === 0
        ? "noch nicht gemessen"
        : count === 1
          ? "1 Aufzeichnung"
          : `${count} Aufzeichnungen`,
    unnamed: "Verteiler nicht notiert",
  },
  open: {
    job: (number) => `Auftrag ${number || "ohne Nummer"}`,
    card: "Karte",
    close: "Auftrag schließen",
    put: "Diese Aufzeichnung zum Auftrag legen",
    records: "Aufzeichnungen dieses Auftrags",
    received: "Eingangszustand",
    shown: "gezeigt",
  },
  card: {
    title: "Auftragskarte",
    note: "Nichts davon muss bekannt sein. Was notiert ist, steht auf den Blättern.",
    number: "Auftragsnummer",
    receivedOn: "Hereingekommen am",
    returnedOn: "Zurückgegeben am",
    owner: "Kunde",
    ownerContact: "Telefon, Anschrift oder E-Mail",
    vehicle: "Wagen und Motor",
    unit: "Verteiler: Fabrikat, Typ",
    stampedNumber: "Eingeschlagene Nummer",
    stampedDate: "Eingeschlagenes Datum",
    markings: "Kennzeichnung vor dem Zerlegen",
    markingsNote: "Mitnehmer gegen Verteilerfinger, Stellung der Klemme, Anschlüsse.",
    byHand: "Von Hand, Prüfstand in Ruhe",
    camByHand: "Der Nocken, gedreht und losgelassen",
    cam: (cam) => CAM[cam],
    notChecked: "nicht geprüft",
    sidePlayMm: "Seitenspiel, mm",
    endFloatMm: "Axialspiel, mm",
    gapFoundMm: "Kontaktabstand vorgefunden, mm",
    gapSetMm: "Kontaktabstand eingestellt, mm",
    condition: "Zustand",
    partsReplaced: "Ersetzte Teile, je eines pro Zeile",
    notes: "Notizen",
    photos: "Fotos",
    addPhoto: "Fotos hinzufügen",
    takeOff: (name) => `${name} entfernen`,
    save: "Karte speichern",
    saved: "Gespeichert.",
    unsaved: "Noch nicht gespeichert.",
    undo: "Letzte Änderung zurücknehmen",
    archive: "In die Ablage legen",
    unarchive: "Aus der Ablage holen",
    toRig: "Zum Prüfstand",
    notNumber: (label) => `${label}: keine Zahl in Millimetern.`,
  },
  change: {
    title: "Was zu ändern ist",
    note: "Errechnet aus der Kurve dieser Aufzeichnung und den Federn der Werkstatt. Am Prüfstand bewegt sich nichts.",
    drawer: (count) =>
      count === 0
        ? "Noch ist kein Federvorrat hinterlegt: Ohne ihn gibt es Rat nur zu Haltestiften und Anschlag."
        : `Der hinterlegte Federvorrat nennt ${count} ${count === 1 ? "Feder" : "Federn"}.`,
    addDrawer: "Federvorrat hinterlegen (CSV-Datei)",
    first: "Erste Feder im Verteiler",
    second: "Zweite Feder im Verteiler",
    unknown: "nicht bekannt",
    rest: "Zwischen ihren Haltestiften in Ruhe, mm",
    stop: "Mit dem Nocken am Anschlag, mm",
    work: "Errechnen, was zu ändern ist",
    working: "Wird errechnet …",
    stopWorking: "Abbrechen",
    advice: "Rat, der beste zuerst",
    forecast: "Was danach zu erwarten ist",
    branch: "Ast",
    expected: "Erwartet",
    limits: "Grenzen",
    again: "Es ist geändert: noch einmal messen",
    capsules: "Unterdruckdosen",
    notLength: "Eine Länge ist eine Zahl in Millimetern bis 200.",
  },
};
