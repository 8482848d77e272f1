// The Help place in German: mechanism, readings, the work in order, cautions, keyboard.
import type { HelpWords } from "../en/help.ts";
import { findingHelp } from "./helpFindings.ts";

const sections: HelpWords["sections"] = {
  weights: {
    title: "Gewichte gegen Federn",
    text: [
      "Eine Platte dreht sich mit der Welle. Auf ihr sitzen Fliehgewichte, jedes auf seinem eigenen Drehpunkt, und Federn halten sie innen. Je schneller es dreht, desto stärker ziehen die Gewichte nach außen, mit dem Quadrat der Drehzahl: doppelte Drehzahl, vierfacher Zug.",
      "Wo der Zug größer wird, als Federn und Reibung halten, schwingen die Gewichte aus, und ihre Stifte drehen den Fuß des Nockens in der Richtung, in der sich die Welle dreht. Der Nocken trifft die Kontakte dann früher: Das ist die Fliehkraftverstellung.",
      "Die erste Feder zieht von Anfang an. Die zweite hat eine lange Öse und hängt schlaff, bis der Nocken sich so weit gedreht hat, dass das Spiel aufgebraucht ist; von da an ziehen beide, und die Kurve steigt flacher weiter. Diese Ecke ist der Knick. Ein Anschlag beendet den Weg: Darüber bringt mehr Drehzahl nichts mehr.",
    ],
  },
  capsule: {
    title: "Die Unterdruckdose",
    text: [
      "Eine Membran verschließt eine kleine Dose. Unterdruck vom Motor zieht sie gegen eine Feder hinein, eine Zugstange geht mit und dreht die Unterbrecherplatte, zur Frühverstellung gegen die Drehrichtung der Welle. Der Nocken ist derselbe wie zuvor; die Kontakte sind ihm entgegengekommen.",
      "Nichts bewegt sich, bis der Unterdruck mehr hält als die Vorspannung der Feder. Von da an folgt die Platte dem Unterdruck geradlinig, bis zu einem Anschlag in der Dose. Manche Dosen ziehen andersherum und verstellen nach spät.",
      "Die Dose spürt, wie weit der Druck unter dem des Raumes liegt. Darum steht Unterdruck hier in Kilopascal unter Umgebungsdruck.",
    ],
  },
  contacts: {
    title: "Kontakte, Nocken, Schließwinkel",
    text: [
      "Jede Erhebung des Nockens hebt das Gleitstück und trennt so die Kontakte. Der Augenblick, in dem sie sich trennen, ist der Funke: Dieser Winkel wird gemessen, für jede Erhebung und jeden Umlauf.",
      "Zwischen zwei Funken sind die Kontakte eine Weile geschlossen, damit sich die Spule füllt. Der Winkel, um den sich die Welle derweil dreht, ist der Schließwinkel. Ein kleinerer Kontaktabstand macht den Schließwinkel größer und den Funken später: Bei gleichen Flanken verschiebt ein Grad Verteilerwelle mehr Schließwinkel das Öffnen um ein halbes Grad Verteilerwelle nach spät.",
      "Induktive Geber, Hallgeber und Lichtschranken haben keinen Abstand, der so einzustellen wäre, doch ihre Flanken werden ebenso gemessen wie die der Kontakte.",
    ],
  },
  reference: {
    title: "Der Bezugspunkt",
    text: [
      "Die Verstellung zählt von dort, wo der Funke bei kleiner Drehzahl steht, ehe die Gewichte abheben und ohne Unterdruck. Dieser erste Messwert ist der Bezug, und jeder spätere Winkel ist der Unterschied dazu. Am Ende geht der Prüfstand dorthin zurück: Was dann übrig bleibt, ist nicht auf null zurückgegangen.",
      "Alle Zahlen gelten für die Verteilerwelle, wo nicht Kurbelwelle steht. Bei den meisten Motoren dreht die Kurbelwelle doppelt so schnell: 10 Grad Verteilerwelle bei 1000 Umdrehungen des Verteilers sind 20 Grad Kurbelwelle bei 2000 Umdrehungen des Motors.",
    ],
  },
  branches: {
    title: "Steigend und fallend",
    text: [
      "Jede Stelle wird zweimal gelesen: einmal von unten kommend, einmal von oben. Reibung hält die Gewichte auf dem Weg nach außen zurück und auf dem Weg nach innen draußen, darum liegt die fallende Kurve über der steigenden. Der Abstand dazwischen ist Reibung, und ein breiter ist ein Befund.",
    ],
  },
  band: {
    title: "Das Band",
    text: [
      "Was das Handbuch druckt, sind Zeilen: bei dieser Drehzahl so viele Grad, um so viel mehr oder weniger. Jede Zeile wird an ihrer Stelle beurteilt, steigend und fallend, wo die Vorgabe nichts anderes sagt. Zwischen den Zeilen ist nichts gedruckt, also wird dort nichts beurteilt.",
    ],
  },
  doubt: {
    title: "Was ± bedeutet",
    text: [
      "Kein Messwert ist genau. Die Zahl hinter ± sagt, wie weit der wahre Wert vom gelesenen abliegen kann: In 95 von 100 Fällen liegt er darin. Sie setzt sich aus allem zusammen, was einen Messwert bekanntermaßen unscharf macht, etwa dem Geber, der Streuung von Umlauf zu Umlauf, der Drehzahl und dem Unterdruck. Unter „Wie sicher ist ein Messwert?“ zählt eine Aufzeichnung die Teile auf.",
    ],
  },
  verdicts: {
    title: "Innerhalb, außerhalb, zu knapp",
    text: [
      "Innerhalb: Der Messwert und sein ganzes ± liegen zwischen den Grenzen. Außerhalb: Alles liegt jenseits einer Grenze. Zu knapp für ein Urteil: Eine Grenze geht durch das ± hindurch, und keines von beiden ist bewiesen.",
      "Zu knapp ist kein höfliches Wort für außerhalb. Es sagt, dass dieser Prüfstand es heute nicht sagen kann. Noch einmal messen, suchen, was das ± groß macht, oder den Verteiler so ändern, dass der Messwert von der Grenze freikommt.",
      "Das Urteil gilt dem Verteiler, das Ende dem Lauf: Ein Lauf, der angehalten wurde oder seinen Prüfstand verlor, beurteilt nichts, was er nicht gemessen hat.",
    ],
  },
  hold: {
    title: "Die Halteprüfung",
    text: [
      "Die Pumpe zieht die Dose auf ihren Prüfunterdruck, das Ventil schließt, und nach kurzem Beruhigen läuft die Uhr. Eine dichte Dose bleibt, wo sie ist. Durch einen engen Gang fällt der Unterdruck erst schnell und dann immer langsamer; durch ein Nadelloch fällt er geradlinig, solange er hoch ist.",
      "Zuerst den Schlauch prüfen: An seinem Ende verschlossen muss er so gut halten wie eine gute Dose.",
    ],
  },
  lobes: {
    title: "Nockenteilung",
    text: [
      "Die Funken sollen im Umlauf gleich weit auseinanderliegen, oder so, wie der Hersteller es wollte. Was jede Erhebung danebenliegt, ohne das Mittel, sagt, woran es liegt: Ein Muster, das einmal im Umlauf an- und abschwillt, ist eine verbogene Welle oder die Kupplung des Prüfstands; eine einzelne Erhebung daneben ist ein verschlissener Nocken; eine Streuung, die von Umlauf zu Umlauf wechselt, ist Spiel in Buchse oder Antrieb.",
    ],
  },
  dwell: {
    title: "Schließwinkel",
    text: [
      "Der Schließwinkel wird bei jeder Drehzahl gelesen. Er soll sich kaum ändern. Fällt er bei hoher Drehzahl, ist die Kontaktfeder zu schwach, dem Nocken zu folgen; springt er, hat die Buchse Spiel. Den Kontaktabstand vor der Kurve einstellen: Ein anderer Abstand verschiebt jeden Winkel.",
    ],
  },
  order: {
    title: "Die Arbeit der Reihe nach",
    text: [
      "Auftragskarte: Besitzer, Fahrzeug und Nummern notieren, und wie Mitnehmer und Läufer zueinander stehen, ehe etwas zerlegt wird.",
      "Von Hand: Dreht sich der Nocken und federt er zurück? Seiten- und Längsspiel fühlen.",
      "Eingangszustand: vor dem Reinigen messen, wenn es sicher läuft. Nur diese Kurve bezeugt, wie der Motor lief.",
      "Reinigen, Buchsen ölen, Gewichte gangbar machen; Kontakte, ihre Feder, ihr Abstand. Der Schließwinkel kommt vor der Verstellung.",
      "Drehzahlkurve, dann Halteprüfung und Unterdruckkurve. Der Lauf tut das von selbst, in der Reihenfolge, die zum Verteiler passt.",
      "Befunde: was nicht stimmt, das Wahrscheinlichste zuerst. Was ein Fehler verdeckt, steht als nicht prüfbar da.",
      "Eines ändern und noch einmal messen.",
      "Die Blätter: eines für die Werkstatt, eine Seite für den Besitzer, ein Anhänger für den Verteiler.",
      "Am Motor: den Zündzeitpunkt neu einstellen und den Kontaktabstand noch einmal prüfen.",
    ],
  },
  change: {
    title: "Federn, Stifte, Anschlag ändern",
    text: [
      "Eine stärkere Feder lässt ihren Teil der Kurve später beginnen und flacher steigen. Ein nach außen gebogener Stift spannt eine Feder vor, ohne sie steifer zu machen: dieselbe Kurve, später. Eine längere Öse der zweiten Feder legt den Knick höher. Eine Hülse am Anschlag verkürzt den Weg.",
      "„Was zu ändern ist“ errechnet aus der gemessenen Kurve, welche Feder der Werkstatt und welches Biegen sie ins Band brächte, und wie wahrscheinlich. Das kann nur so gut sein wie die Messung davor: zuerst trockene Gewichte gangbar machen.",
    ],
  },
  cautions: {
    title: "Warnungen",
    text: [
      "Eine Spindel mit Tausenden von Umdrehungen in der Minute verletzt und tötet. Diese Warnungen stehen vor jedem Lauf, und sie sind jedes Mal gemeint.",
      "Das Anhalten auf dieser Seite geschieht durch Software. Es ist kein Not-Halt: Ein fest verdrahteter, der dem Antrieb den Strom nimmt, muss in Reichweite sein.",
    ],
  },
  keyboard: {
    title: "Tastatur",
    text: ["Alles geht auch ohne Maus."],
  },
  hints: {
    title: "Der erfundene Auftrag und seine Hinweise",
    text: [
      "Ein erfundener Auftrag führt am simulierten Prüfstand einmal durch die Arbeit. An einem wirklichen Prüfstand bewegt sich nichts; Warnungen und Beginn bleiben in Ihrer Hand.",
    ],
  },
};

export const help: HelpWords = {
  title: "Hilfe",
  contents: "Auf dieser Seite",
  toContents: "Zum Inhalt",
  groups: {
    mechanism: "Die Mechanik",
    readings: "Die Messwerte",
    work: "Die Arbeit",
    findings: "Was Befunde bedeuten",
    rest: "Warnungen, Tastatur, Hinweise",
  },
  sections,
  findings: findingHelp,
  findingsNote:
    "Durchgezogen: Drehzahl oder Unterdruck steigend, mit dem Fehler. Gestrichelt: fallend. Gepunktet: der gesunde Verteiler, bei der falsch gelesenen Vorgabe das Gedruckte. Alle gelten für einen erfundenen Verteiler, mit Fehlern, die groß genug sind, um sie zu sehen.",
  inCurve: "Wie es sich zeigt",
  toDo: "Was zu tun ist",
  keys: [
    [
      "Escape",
      "während eines Laufs: hält den Motor an (durch Software), von überall auf der Seite",
    ],
    ["Tab, Umschalt + Tab", "zum Nächsten und zurück"],
    ["Eingabe, Leertaste", "drückt eine Taste, setzt einen Haken, klappt auf"],
    ["Pfeiltasten", "bewegen Regler oder Auswahl um einen Schritt"],
    ["Bild auf, Bild ab, Pos 1, Ende", "bewegen Regler um einen großen Schritt oder ans Ende"],
  ],
  figure: {
    invented:
      "Gezeichnet nach der Physik des simulierten Prüfstands, an einem erfundenen Verteiler.",
    arrow: "Der Pfeil sagt, wie herum sich die Welle dreht. Gestrichelt: ohne Unterdruck.",
    frame:
      "Gesehen, als drehte man sich mit der Welle; der Pfeil sagt, wie herum. Gestrichelt: in Ruhe.",
    play: "Auf und ab laufen lassen",
    pause: "Anhalten",
    fault: "Mit diesem Fehler",
    sound: "keiner, gesund",
    speed: "Drehzahl des Verteilers, U/min",
    vacuum: "Unterdruck der Pumpe, kPa",
    turned: "Welle gedreht um, Grad",
    gap: "Kontaktabstand, mm",
    xSpeed: "Verteilerdrehzahl, U/min",
    xVacuum: "kPa unter Umgebung",
    xSeconds: "Sekunden nach dem Schließen",
    xLobes: "Erhebung",
    yDegrees: "Grad",
    yKilopascals: "kPa",
    yDwell: "Schließwinkel, Grad",
    yOpenings: "gesehene Öffnungen, %",
    keyRising: "durchgezogen: steigend",
    keyFalling: "gestrichelt: fallend",
    keySound: "gepunktet: gesund",
    keyNow: "Kreuz: jetzt",
    rising: "Drehzahl steigend",
    falling: "Drehzahl fallend",
    vacuumRising: "Unterdruck steigend",
    vacuumFalling: "Unterdruck fallend",
    weightsTitle: "Gewichte, Federn und Nocken von oben",
    weightsSay: (speed, branch, swing, advance) =>
      `${speed}, ${branch}: Die Gewichte sind um ${swing} ausgeschwungen, der Nocken ist um ${advance} gedreht.`,
    springPulls: (number, load) => `Feder ${number} zieht mit ${load} N.`,
    springSlack: (number, play) => `Feder ${number} hängt schlaff, ${play} mm Spiel sind übrig.`,
    springGone: (number) => `Feder ${number} fehlt.`,
    atStop: "Der Nocken steht am Anschlag.",
    capsuleTitle: "Dose und Unterbrecherplatte von oben",
    capsuleSay: (wanted, got, branch, pull, plate) =>
      `Die Pumpe soll ${wanted} ziehen, die Dose hat ${got}, ${branch}: Die Zugstange ist um ${pull} mm eingezogen, die Platte um ${plate} gedreht.`,
    contactsTitle: "Nocken und Kontakte von oben, der Hub viermal so groß gezeichnet",
    contactsSay: (turned, isOpen, dwell, opens) =>
      `Um ${turned} gedreht: Die Kontakte sind ${isOpen ? "offen" : "geschlossen"}. Der Schließwinkel ist ${dwell} von den 90° zwischen zwei Erhebungen; sie trennen sich bei ${opens}.`,
    open: "offen",
    shut: "geschlossen",
    verdictsTitle: "Drei Messwerte mit ihrem ±, gegen die Grenzen einer Zeile gehalten",
    verdictSay: (value, doubt, verdict) => `${value} ± ${doubt}: ${verdict}`,
    curveTitle: "Verstellung über der Drehzahl",
    vacuumTitle: "Verstellung über dem Unterdruck",
    holdTitle: "Unterdruck nach dem Schließen des Ventils",
    keyHold:
      "Gepunktet: dicht. Durchgezogen: durch einen engen Gang. Gestrichelt: durch ein Nadelloch.",
    printed: "Balken: Grenzen der gedruckten Zeilen",
  },
};
