// Words on the settings in German.
import type { CheckKind } from "../../../../core/calibration/calibration.ts";
import type { Translated } from "../../../../core/language.ts";
import type { settings as english } from "../en/settings.ts";

const CHECKS: Readonly<Record<CheckKind, string>> = {
  delay: "Verzögerung des Zündeingangs",
  pickup: "Winkelgeber",
  coupling: "Kupplung",
  vacuum: "Unterdrucksensor",
};

export const settings: Translated<typeof english> = {
  title: "Einstellungen",
  note: "Im Datenordner dieses Rechners gespeichert, für jede Seite und jeden Befehl.",
  language: "Sprache von Seite und Blättern",
  vacuumUnit: "Unterdruck wird gezeigt in",
  shownShaft: "Drehzahl und Verstellung werden gezeigt für",
  shownShaftNote:
    "In Schaubildern und Tabellen der Seite, nach der Übersetzung des Verteilers. Aufzeichnungen bleiben, wie sie sind, und die Drehzahl des Prüfstands ist immer die des Verteilers.",
  rig: "Prüfstand für den Anfang",
  rigFirst: "der simulierte Prüfstand",
  checks: "Was über seine Kalibrierung vorliegt",
  check: (kind) => CHECKS[kind],
  checkedOn: (date) => `geprüft am ${date}`,
  never: "nie geprüft",
  noRigChecks: "Ein simulierter Prüfstand braucht keine.",
  howToCheck: "Geprüft wird mit dem Befehl: bobweight rigs calibrate",
  habits: "Wo eine Vorgabe nichts sagt",
  habitsNote: "Leer gelassen: wie im Programm. Was eine Vorgabe selbst nennt, geht immer vor.",
  toleranceDeg: "Toleranz für Werte ohne gedruckte Grenzen, Grad am Verteiler in jede Richtung",
  toleranceNote: "1, wenn leer. Das Prüfblatt sagt, dass sie von der Werkstatt stammt.",
  holdSeconds: "Halteprüfung, Sekunden auf der Uhr",
  holdDropMax: (unit) => `Halteprüfung, größter Abfall, der noch durchgeht, ${unit}`,
  workshop: "Werkstatt",
  workshopNote: "Steht am Kopf der Blätter.",
  name: "Bezeichnung",
  address: "Anschrift",
  phone: "Telefon",
  logo: "Logo (PNG oder JPEG, höchstens 200 kB)",
  logoShown: "Das gespeicherte Logo",
  takeOff: "Logo entfernen",
  save: "Einstellungen speichern",
  saved: "Gespeichert.",
  notWhileRunning: "Einstellungen lassen sich ändern, wenn nichts läuft.",
  notNumber: (label) => `${label}: keine Zahl, oder außerhalb des Erlaubten.`,
};
