// What each finding means, how it shows, and what is done about it. German.
import type { FindingKind } from "../../../../core/findings/finding.ts";
import type { FindingHelp } from "../en/helpFindings.ts";

export const findingHelp: Readonly<Record<FindingKind, FindingHelp>> = {
  "weights-stuck": {
    title: "Gewichte oder Nocken fest",
    means:
      "Nichts bewegt sich: Die Fliehgewichte sind festgerostet, oder der Nocken sitzt auf seiner Welle fest. Wo sie festsitzen, ist nicht bekannt: ganz innen und ganz außen liest sich gleich, weil die Verstellung vom ersten Messwert an zählt.",
    shows: "Eine flache Linie bei jeder Drehzahl, steigend wie fallend.",
    toDo: "Den Nocken von Hand gegen die Welle drehen. Zerlegen, gangbar machen, ölen und nachsehen, ob beide Federn da sind. Erst dann sind Federn, Knick und Anschlag zu beurteilen.",
  },
  "weights-dry": {
    title: "Gewichte gehen trocken",
    means: "Rost oder altes Fett bremst Gewichte und Nocken, doch sie bewegen sich noch.",
    shows:
      "Beginnt spät und kommt spät zurück: ein breiter Abstand zwischen steigend und fallend, oft mit Stufen.",
    toDo: "Lagerstellen und Nocken reinigen und ölen, dann noch einmal messen. Vorher keine Feder anrühren.",
  },
  "weights-not-returning": {
    title: "Geht nicht auf null zurück",
    means:
      "Die Gewichte bleiben auf dem Rückweg hängen, und der Zündzeitpunkt bleibt bei kleiner Drehzahl früh. Das ist ernst: Der Motor kann beim Anlassen zurückschlagen.",
    shows: "Die fallende Kurve kommt nicht bis dorthin zurück, wo die steigende begann.",
    toDo: "Nach Graten, verharzten Lagerstellen, verbogenen Stiften und einer schlaffen ersten Feder suchen. So nicht einbauen.",
  },
  "spring-stretched": {
    title: "Feder gelängt",
    means:
      "Eine Feder ist länger geworden. Sie ist so steif wie zuvor, zieht aber von Anfang an schwächer.",
    shows: "Dieser Teil der Kurve kommt früher und verläuft parallel zur gesunden.",
    toDo: "Ihre Länge mit einer bekannten vergleichen, die Ösen ansehen; ersetzen oder den Stift zurückbiegen.",
  },
  "spring-light": {
    title: "Zu schwache oder falsche Feder",
    means:
      "Die Feder ist für diesen Verteiler zu schwach: dünnerer Draht, mehr Windungen, oder sie stammt aus einem anderen.",
    shows: "Früher und steiler, früh am Knick oder am Anschlag.",
    toDo: "Draht, Windungsdurchmesser und Windungszahl messen, mit dem Vorrat vergleichen, die richtige einhängen.",
  },
  "spring-heavy": {
    title: "Zu starke Feder oder falsches Paar",
    means:
      "Die Feder ist für diesen Verteiler zu steif, oder das Paar ist nicht das, mit dem er das Werk verließ.",
    shows: "Spät und flach; der Anschlag wird vielleicht nie erreicht.",
    toDo: "Draht, Windungsdurchmesser und Windungszahl messen, mit dem Vorrat vergleichen, die richtige einhängen.",
  },
  "first-spring-missing": {
    title: "Erste Feder fehlt",
    means: "Die Feder, die von Anfang an halten soll, fehlt oder ist vom Stift gesprungen.",
    shows: "Die Verstellung ist fast sofort da, bis dorthin, wo die zweite Feder greift.",
    toDo: "Beide Federn und alle vier Ösen ansehen.",
  },
  "second-spring-missing": {
    title: "Zweite Feder fehlt",
    means: "Die Feder mit der langen Öse fehlt oder ist ausgehängt.",
    shows: "Kein Knick: Der steile Teil läuft durch bis zum Anschlag.",
    toDo: "Beide Federn und alle vier Ösen ansehen.",
  },
  "stop-worn": {
    title: "Anschlag ausgeschlagen",
    means:
      "Schlitz, Stift oder Hülse des Anschlags ist verschlissen oder fehlt; der Nocken dreht sich weiter, als er soll.",
    shows: "Wie die gesunde Kurve, aber sie steigt über das vorgegebene Ende hinaus.",
    toDo: "Den Nocken von Hand bis zum Anschlag drehen und nachsehen. Instand setzen: Zu viel Frühzündung kann einen Kolben durchbrennen.",
  },
  "second-spring-loop-worn": {
    title: "Zweite Feder greift zu spät",
    means: "Die lange Öse oder ihr Stift ist ausgeschlagen und hat mehr Spiel, als sie soll.",
    shows: "Der Knick kommt bei mehr Verstellung, als er soll.",
    toDo: "Den Nocken von Hand bis dorthin drehen, wo die zweite Feder zu ziehen beginnt; Öse und Stift ansehen.",
  },
  "shaft-bush-worn": {
    title: "Lagerbuchse ausgeschlagen",
    means: "Die Welle hat seitliches Spiel; Abstand und Winkel ändern sich von Umlauf zu Umlauf.",
    shows:
      "Mehr Streuung von Umlauf zu Umlauf, anderer Schließwinkel, Nocken ohne klares Muster daneben.",
    toDo: "Die Welle am Läufer seitlich drücken und das Spiel fühlen. Neue Buchse einsetzen.",
  },
  "shaft-bent": {
    title: "Welle verbogen",
    means: "Der Nocken läuft unrund, einmal je Umlauf.",
    shows: "Die Abweichungen der Nocken schwellen einmal je Umlauf an und ab.",
    toDo: "Den Verteiler um einen halben Umlauf versetzt in die Kupplung setzen und noch einmal messen: Was beim Prüfstand bleibt, gehört dem Prüfstand.",
  },
  "cam-worn": {
    title: "Nocken verschlissen",
    means: "Eine oder mehrere Nockenerhebungen haben ihre Form verloren.",
    shows: "Dieselbe Erhebung liegt bei jeder Drehzahl um gleich viel daneben.",
    toDo: "Die genannten Erhebungen ansehen und jede mit der Messuhr messen.",
  },
  "contact-spring-weak": {
    title: "Kontaktfeder schwach",
    means: "Bei hoher Drehzahl folgt der Unterbrecher dem Nocken nicht mehr.",
    shows:
      "Geprellte oder fehlende Öffnungen und ein kleinerer Schließwinkel, nur bei hoher Drehzahl.",
    toDo: "Die Federkraft am Kontakt mit der Federwaage messen; neue Kontakte einsetzen.",
  },
  "plate-lead-breaking": {
    title: "Zuleitung der Platte bricht",
    means:
      "Die Zuleitung der Kontakte oder das Masseband ist innen gebrochen, wo die Platte sie biegt.",
    shows:
      "Bei einer bestimmten Stellung der Platte fehlen Öffnungen, gleich bei welcher Drehzahl.",
    toDo: "Die Platte von Hand bewegen, den Durchgangsprüfer an der Leitung. Leitung ersetzen.",
  },
  "diaphragm-torn": {
    title: "Membran gerissen",
    means: "Durch die Membran strömt schneller Luft ein, als die Pumpe sie absaugt.",
    shows: "Der Unterdruck baut sich nicht auf, und die Platte bewegt sich nicht.",
    toDo: "Den Schlauch verschließen und noch einmal pumpen, um Schlauch und Pumpe auszuschließen. Dann die Dose ersetzen.",
  },
  "capsule-leak": {
    title: "Kleines Leck",
    means:
      "Die Dose baut ihren Unterdruck auf und verliert ihn wieder: ein Nadelloch oder ein undichter Falz.",
    shows: "Die Kurve kann richtig aussehen, doch in der Halteprüfung fällt der Unterdruck.",
    toDo: "Den Schlauch verschließen und die Halteprüfung wiederholen: Was dann noch fällt, gehört dem Schlauch. Sonst die Dose ersetzen.",
  },
  "plate-not-following": {
    title: "Platte folgt nicht",
    means:
      "Die Dose ist dicht und zieht, aber die Platte ist festgerostet oder die Zugstange vom Stift gesprungen.",
    shows: "Der Unterdruck hält; der Winkel ändert sich nicht mit ihm.",
    toDo: "Nachsehen, ob die Zugstange auf ihrem Stift sitzt; dann die Platte von Hand bewegen, ihr Lager reinigen und ölen.",
  },
  "plate-sticking": {
    title: "Platte klemmt",
    means: "Die Platte dreht sich schwer auf ihrem Lager.",
    shows:
      "Sie geht spät los und kommt spät oder nicht ganz zurück: ein breiter Abstand zwischen steigendem und fallendem Unterdruck.",
    toDo: "Die Platte von Hand bewegen, ihr Lager reinigen und ölen, noch einmal messen.",
  },
  "capsule-spring-wrong": {
    title: "Dosenfeder falsch oder ermüdet",
    means: "Die Dose gehört nicht zu diesem Verteiler, oder ihre Feder ist ermüdet.",
    shows:
      "Sie beginnt bei einem anderen Unterdruck oder endet bei anderen Graden, als die Vorgabe sagt.",
    toDo: "Die Nummer auf der Dose mit der Vorgabe vergleichen. Scheiben oder Umdrehungen stellen sie vielleicht ein.",
  },
  "curve-unexplained": {
    title: "Falsch in einer Art, die kein Fehler erklärt",
    means:
      "Die Kurve stimmt nicht, und kein einzelner Fehler und kein Paar von Fehlern, die hier bekannt sind, macht eine solche Kurve.",
    shows: "Messwerte außerhalb der Grenzen ohne die Form eines der genannten Fehler.",
    toDo: "Zuerst prüfen, ob es die richtige Vorgabe ist. Dann reinigen, ölen und noch einmal messen.",
  },
  "coupling-runout": {
    title: "Die Kupplung des Prüfstands",
    means:
      "Der Prüfstand treibt den Verteiler unrund an. Gegen den Verteiler ist damit nichts gesagt.",
    shows:
      "Die Abweichungen der Nocken schwellen einmal je Umlauf an und ab, wie bei verbogener Welle.",
    toDo: "Den Verteiler um einen halben Umlauf versetzt in die Kupplung setzen und noch einmal messen.",
  },
  "condenser-left-on": {
    title: "Kondensator noch an den Kontakten",
    means:
      "Der Kondensator lässt den Prüfstand das Öffnen zu spät sehen. Gegen den Verteiler ist damit nichts gesagt.",
    shows: "Spätzündung, die mit der Drehzahl geradlinig wächst.",
    toDo: "Den Kondensator abklemmen und noch einmal messen.",
  },
  "uncorrected-delay": {
    title: "Feste Verzögerung des Prüfstands",
    means: "Geber oder Abtastung antworten ein wenig zu spät, immer um dieselbe Zeit.",
    shows: "Spätzündung, die mit der Drehzahl geradlinig wächst: Dieselbe Zeit ist mehr Winkel.",
    toDo: "Die Verzögerung des Prüfstands mit festgesetztem Nocken bestimmen.",
  },
  "specification-misread": {
    title: "Vorgabe in anderem Maßstab",
    means:
      "Die Zahlen des Handbuchs sind für eine andere Welle oder Einheit eingegeben: Kurbelwelle statt Verteiler, eine andere Einheit des Unterdrucks, oder die Grundeinstellung ist mit darin.",
    shows: "Die Form stimmt, und alles ist doppelt oder halb so groß oder verschoben.",
    toDo: "Noch einmal ins Handbuch sehen: wessen Grade, wessen Drehzahlen, welche Einheit des Unterdrucks.",
  },
};
