// Words on the engine figures in German: the form, the picture, the owner's readings.
import type { Translated } from "../../../../core/language.ts";
import type { VacuumPort } from "../../../../core/unit.ts";
import type { EngineLack } from "../../engineForm.ts";
import type { engine as english } from "../en/engine.ts";

const PORTS: Readonly<Record<VacuumPort, string>> = {
  manifold: "Das Saugrohr: hoher Unterdruck im Leerlauf",
  ported: "Ein Anschluss über der Drosselklappe: im Leerlauf fast keiner",
  none: "Nichts",
};
const LACKS: Readonly<Record<EngineLack, string>> = {
  initial: "Die Grundeinstellung eintragen: Grad vor OT, von −60 bis 60 (Kurbelwelle).",
  initialOf: "Angeben, für welche Welle die Grad der Grundeinstellung gelten.",
  setAt: "Die Drehzahl, bei der eingestellt wird, ist keine Zahl.",
  setAtOf: "Angeben, für welche Welle diese Drehzahl gilt.",
  vacuumPort: "Angeben, woher die Unterdruckdose versorgt wird.",
  idle: "Die Leerlaufdrehzahl ist keine Zahl von 1 bis 3000.",
  speeds: "Die Motordrehzahlen sind keine Zahlen, durch Kommas getrennt.",
  unloaded: "Der Unterdruck ohne Last ist keine Zahl, die ein Motor erreichen kann.",
  cruise: "Der Unterdruck bei ruhiger Fahrt ist keine Zahl, die ein Motor erreichen kann.",
  readings: "Ein Messwert braucht Motordrehzahl und Marke, beide als Zahl.",
};

export const engine: Translated<typeof english> = {
  title: "Am Motor: Marken für die Stroboskoplampe",
  note: "Aus der Kurve dieser Aufzeichnung errechnet, für den, der den Verteiler einbaut. Am Prüfstand bewegt sich nichts.",
  initial: "Grundeinstellung, Grad vor OT (nach OT: mit Minus)",
  initialOf: "Die Grad der Grundeinstellung gelten für",
  setAt: "Eingestellt bei, U/min (leer: im Stillstand)",
  setAtOf: "Diese Drehzahl gilt für",
  port: "Die Unterdruckdose wird versorgt durch",
  portOf: (port) => PORTS[port],
  idle: "Leerlaufdrehzahl, U/min am Motor (leer: nicht bekannt)",
  speeds: "Motordrehzahlen für die Marken, mit Kommas (leer: wie die Kurve sie hat)",
  capsule: "Die Unterdruckleitung führt zu",
  unloaded: (unit, common) => `Unterdruck ohne Last, ${unit} (leer: ${common})`,
  cruise: (unit, common) => `Unterdruck bei ruhiger Fahrt, ${unit} (leer: ${common})`,
  lack: (lack) => LACKS[lack],
  chart: {
    title: "Marken über der Motordrehzahl",
    x: "U/min am Motor",
    y: "Grad Kurbelwelle",
    describe:
      "Schaubild: Marken in Grad Kurbelwelle vor OT über der Motordrehzahl. Alle Zahlen stehen in der Tabelle darunter.",
    rising: "Leitung verschlossen, Drehzahl steigend: volle Punkte, durchgezogene Linie",
    falling: "Verschlossen, Drehzahl fallend: offene Quadrate, gestrichelte Linie",
    specified: "Balken: laut Vorgabe, Leitung verschlossen",
    unloaded: "Leitung angeschlossen, ohne Last, das Kleinste und das Größte: gepunktete Linien",
    cruise: "Leitung angeschlossen, ruhige Fahrt: Dreiecke, strichpunktierte Linie",
    readPlugged: "Am Motor abgelesen, Leitung verschlossen: volle Rauten",
    readOn: "Am Motor abgelesen, Leitung angeschlossen: offene Rauten",
  },
  before: "Bevor der Motor läuft",
  how: "Wie sie abzulesen sind",
  compared: "Prüfstand und Motor",
  readings: "Am Motor abgelesen",
  readingsNote:
    "Was die Stroboskoplampe zeigt, in Grad Kurbelwelle vor OT bei Motordrehzahl. Es wird mit den Marken darüber verglichen; an der Aufzeichnung ändert sich nichts.",
  reading: (number) => `Messwert ${number}`,
  rpm: "Motordrehzahl, U/min",
  mark: "Marke, ° Kurbelwelle",
  line: "Unterdruckleitung",
  lineOf: (line) => (line === "on" ? "angeschlossen" : "abgezogen und verschlossen"),
  add: "Noch ein Messwert",
  takeOff: (number) => `Messwert ${number} entfernen`,
  keep: "Bei der Aufzeichnung speichern",
  kept: "Bei der Aufzeichnung gespeichert; sie selbst bleibt, wie sie ist.",
  print: "Zum Drucken öffnen (A4)",
  printLetter: "Zum Drucken öffnen (US-Letter)",
};
