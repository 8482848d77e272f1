// Words of every sheet, in German.
import type { ByHandMeans } from "../../byHand/byHand.ts";
import type { Ending, Verdict } from "../../documents.ts";
import type { Translated } from "../../language.ts";
import type { verdicts as english } from "../en/verdicts.ts";
import { rowInGerman } from "./rows.ts";

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  within: "innerhalb",
  outside: "AUSSERHALB",
  unproven: "zu knapp",
};
const EXPLANATIONS: Readonly<Record<Verdict, string>> = {
  within: "Alles Beurteilte liegt um mehr als die Unsicherheit innerhalb seiner Grenzen.",
  outside:
    "Was mit AUSSERHALB bezeichnet ist, liegt um mehr als die Unsicherheit außerhalb seiner Grenzen.",
  unproven:
    "Nichts liegt bewiesen außerhalb, aber das Bezeichnete liegt näher an einer Grenze, als die Unsicherheit reicht.",
};
const HEADLINES: Readonly<Record<Verdict, string>> = {
  within: "Innerhalb der Vorgabe",
  outside: "Außerhalb der Vorgabe",
  unproven: "Zu knapp für ein Urteil",
};
const OWN_HEADLINES: Readonly<Record<Verdict, string>> = {
  within: "Innerhalb des eigenen Ziels",
  outside: "Außerhalb des eigenen Ziels",
  unproven: "Zu knapp für ein Urteil",
};
const ENDINGS: Readonly<Record<Ending, string>> = {
  completed: "vollständig",
  stopped: "angehalten",
  "rig fault": "Störung des Prüfstands",
  "link lost": "Verbindung zum Prüfstand abgerissen",
};
const MEANS: Readonly<Record<ByHandMeans, string>> = {
  "timing light": "der Stroboskoplampe",
  "degree wheel": "der Gradscheibe",
};

export const verdicts: Translated<typeof english> = {
  word: (verdict) => VERDICT_WORDS[verdict],
  headline: (verdict, isOwnTarget) => (isOwnTarget ? OWN_HEADLINES : HEADLINES)[verdict],
  notJudged: "Nicht beurteilt",
  row: rowInGerman,
  explained: (verdict) => EXPLANATIONS[verdict],
  noRow: "Keine Zeile der Vorgabe wurde gemessen, oder es gibt keine Vorgabe.",
  counts: (judged, within, outside, close) =>
    `${judged} beurteilt: ${within} innerhalb, ${outside} außerhalb, ${close} zu knapp.`,
  openByDelay:
    "Einige Zeilen bleiben offen: Die Flanken kommen vielleicht zu spät, durch Kondensator oder Prüfstand, und ohne das lägen sie anders. Siehe Befunde.",
  missing: (count) => `${count} geplant, aber nicht gemessen.`,
  rowsNotMeasured: (count) =>
    `Von den Zeilen der Vorgabe ${count} nicht gemessen, oder nicht auf jedem Ast.`,
  noEnd:
    "Die Aufzeichnung hat kein Ende: Der Lauf ging noch weiter, oder das Programm wurde unterbrochen.",
  notComplete: (ending, reason) =>
    `Der Lauf wurde nicht vollständig (${ENDINGS[ending]}).${reason === "" ? "" : ` ${reason}`} Gezeigt ist, was vorher gemessen wurde.`,
  banner: {
    simulated: "SIMULIERT — keine Messung an einem echten Verteiler",
    simulatedDetail: "Ein simulierter Prüfstand im Rechner hat die Messwerte erzeugt.",
    byHand: "VON HAND",
    byHandDetail: (means) =>
      `Kein Prüfstand: Jeder Wert wurde mit ${MEANS[means]} abgelesen und eingetippt.`,
    ownTarget: "EIGENES ZIEL DES BENUTZERS — keine Herstellervorgabe",
    ownTargetDetail:
      "Falsche Verstellung kann einen Motor zerstören. Dieses Ziel stammt vom Benutzer, nicht vom Hersteller: Die Vorgabe des Motors oder ein Motorenbauer hat das letzte Wort.",
    invented: "ERFUNDENER VERTEILER",
    inventedDetail:
      "Verteiler und Vorgabe sind als Beispiel erfunden; kein Hersteller hat diese Werte gedruckt.",
  },
  foot: {
    simulated: "SIMULIERT.",
    byHand: "VON HAND.",
    ownTarget: "EIGENES ZIEL.",
    record: (id) => `Aufzeichnung ${id}`,
    page: (number, count) => `Seite ${number} von ${count}`,
  },
  picture: {
    speed: "Verstellung über der Drehzahl",
    vacuum: (capsule) => `${capsule}: Verstellung über dem Unterdruck`,
    hold: (capsule) => `${capsule}: Halten`,
    distributorRpm: "U/min am Verteiler",
    crankshaftRpm: "U/min an der Kurbelwelle",
    distributorDegrees: "Grad am Verteiler",
    crankshaftDegrees: "Grad Kurbelwelle",
    vacuumIn: (unit) => `Unterdruck, ${unit}`,
    seconds: "Sekunden seit dem Absperren",
    outside: "außerhalb",
    close: "knapp",
    notMeasured: "nicht gemessen",
    withFitted: "mit der errechneten Mechanik als strichpunktierter Linie",
    withReceived: "wie erhalten als gepunktete Linie",
    withBefore: "vor der Änderung als Linie aus Punktpaaren",
    withMarks: (numbers) => `Messwerte, die für Befunde sprechen, in Rauten: ${numbers}`,
  },
  key: {
    rising: "steigend",
    falling: "fallend",
    received: "wie erhalten, steigend",
    before: "vor der Änderung, steigend",
    fitted: "errechnet",
    marks: "Messwert, der für den Befund dieser Nummer spricht",
    limits: "Grenzen wie gedruckt, gestrichelt, wo einseitig offen",
  },
};
