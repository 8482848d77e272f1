// The invented job and the hints that lead through it, in German.
import type { guide as english } from "../en/guide.ts";

export const guide: typeof english = {
  offerTitle: "Zum ersten Mal hier?",
  offer:
    "Ein erfundener Auftrag am simulierten Prüfstand führt einmal von der Auftragskarte bis zum Prüfblatt. Kein wirklicher Prüfstand bewegt sich, und nichts läuft von selbst an.",
  tryJob: "Erfundenen Auftrag ausprobieren",
  decline: "Nein, danke",
  hint: "Hinweis",
  hints: {
    card: "Auf der Karte muss nichts ausgefüllt werden; nach dem Ansehen geht es oben mit „Prüfstand bereit“ weiter.",
    cautions:
      "Die Warnungen lesen und den Haken selbst setzen, wie vor jedem Lauf: Vorher dreht sich nichts.",
    start:
      "Mit „Messung beginnen“ läuft der Prüfstand; die Software-Taste oben oder Escape hält ihn an, und an einem wirklichen muss der fest verdrahtete Not-Halt in Reichweite sein.",
    watch:
      "Beide Kurven wachsen zwischen den Balken der Vorgabe: erst steigend, dann fallend; der Balken oben sagt, wie lange es dauert.",
    findings:
      "Unter „Was nicht stimmt“ steht, wofür die Messwerte sprechen, das Wahrscheinlichste zuerst, jeweils mit einer Erklärung.",
    change:
      "Hier lässt sich errechnen, welche Feder oder welches Biegen hilft; danach, als sei es geschehen, weiter mit „Es ist geändert: noch einmal messen“.",
    again:
      "Am simulierten Prüfstand ist eine Reparatur ein anderer simulierter Verteiler: den gesunden wählen, als sei die richtige Feder eingehängt.",
    sheet:
      "Der Verteiler stimmt: das Prüfblatt öffnen; es geht mit ihm zurück und zeigt nach einer Änderung auch den Eingangszustand.",
  },
  close: "Schließen",
  closeAll: "Alle Hinweise schließen",
  showAgain: "Hinweise wieder zeigen",
  areShown: "An der Werkbank werden Hinweise gezeigt.",
  areHidden: "Es werden keine Hinweise gezeigt.",
  meaning: "Was das bedeutet",
  card: {
    number: "Erfundenes Beispiel",
    owner: "A. Beispiel (erfunden)",
    vehicle: "Erfundene Limousine",
    unit: "Vierzylinder (erfunden)",
    notes: "Ein erfundenes Beispiel, vom Programm angelegt, um seine Arbeitsweise zu zeigen.",
  },
};
