// Words of the papers that go to the owner, in German.
import type { Direction } from "../../codec/rigLines.ts";
import type { Verdict } from "../../documents.ts";
import type { Translated } from "../../language.ts";
import type { VacuumPort } from "../../unit.ts";
import type { papers as english } from "../en/papers.ts";

const ROTATIONS: Readonly<Record<Direction, string>> = {
  cw: "rechts herum",
  ccw: "links herum",
};
const PORTS: Readonly<Record<VacuumPort, string>> = {
  manifold: "dem Saugrohr: hoher Unterdruck im Leerlauf",
  ported: "einer Bohrung oberhalb der Drosselklappe: im Leerlauf fast keiner",
  none: "nichts",
};
/** What the program itself writes into a unit file (core/ownTarget.ts). */
const TYPED_TARGET = "The user's own target, typed as rows";
const TAG_VERDICTS: Readonly<Record<Verdict, string>> = {
  within: "Innerhalb",
  outside: "AUSSERHALB",
  unproven: "Nicht bewiesen",
};

export const papers: Translated<typeof english> = {
  date: (year, month, day) => `${day}.${month}.${year}`,
  rotation: (direction) => `${ROTATIONS[direction]}, auf den Verteilerfinger gesehen`,
  notKnown: "nicht bekannt",
  notMeasured: "nicht gemessen",
  noneRead: "keine gelesen",
  between: (min, max) => `${min} bis ${max}`,
  atLeast: (min) => `mindestens ${min}`,
  atMost: (max) => `höchstens ${max}`,
  noLimits: "keine",
  label: {
    unit: "Verteiler",
    stampedNumber: "Eingeschlagene Nummer",
    rotation: "Drehrichtung",
    job: "Auftrag",
    car: "Wagen",
    owner: "Kunde",
    received: "Erhalten",
    returned: "Zurückgegeben",
    cameInAs: "Kam herein als",
    parts: "Ersetzte Teile",
    gapAsSet: "Abstand eingestellt",
    gap: "Abstand",
    dwell: "Schließwinkel",
    totalAdvance: "Gesamtverstellung",
    specification: "Vorgabe",
    rigChecked: "Prüfstand zuletzt geprüft",
    initialTiming: "Grundeinstellung",
    givenBy: "Angegeben von",
    capsuleFedBy: "Unterdruckdose gespeist von",
  },
  owner: {
    documentTitle: (unit) => `Für den Kunden: ${unit}`,
    title: "Ihr Zündverteiler",
    tested: (time) => `geprüft ${time}`,
    done: "Was gemacht wurde",
    judgedBy: "Wonach beurteilt wurde",
    engine: "Am Motor",
    fitting: "Nach dem Einbau",
    more: (count) =>
      count === 1
        ? "1 weiterer Befund auf dem Prüfblatt der Werkstatt."
        : `${count} weitere Befunde auf dem Prüfblatt der Werkstatt.`,
    asMeasured: "wie gemessen",
    asReturned: "wie zurückgegeben",
    byHand: "von Hand",
    lines: "Wie gemessen. Grau: Grenzen.",
    linesBoth: "Durchgezogen: wie zurückgegeben. Gepunktet: wie erhalten. Grau: Grenzen.",
    gapFound: (gap) => `, vorgefunden ${gap}`,
    noRig: "kein Prüfstand: abgelesen und eingetippt",
    timingUnknown:
      "Grundeinstellung, die Drehzahl dafür und was die Unterdruckdose speist, sind hier nicht bekannt: dem Handbuch des Motors entnehmen. Einstellen mit abgezogener und verschlossener Unterdruckleitung, wenn das Handbuch nichts anderes sagt (übliche Praxis, keine Quelle).",
    marks: "Zu erwartende Marken, Grad vor dem oberen Totpunkt",
    marksSetAt: (speed) =>
      `Zu erwartende Marken, Grad vor dem oberen Totpunkt, eingestellt bei ${speed}`,
  },
  asReceived: "wie erhalten",
  moreParts: (count) => `und ${count} weitere auf der Auftragskarte`,
  tag: {
    documentTitle: (unit) => `Anhänger: ${unit}`,
    job: (number) => `Auftrag ${number}`,
    simulated: "SIMULIERT.",
    byHand: "VON HAND.",
    ownTarget: "EIGENES ZIEL.",
    invented: "ERFUNDENER VERTEILER.",
    verdict: (verdict) => TAG_VERDICTS[verdict],
    unjudged: "Ohne Urteil",
    total: (distributor, crankshaft) => `${distributor} Verteiler, ${crankshaft} Kurbelwelle`,
    retime: "Nach dem Einbau Zündzeitpunkt neu einstellen und Kontaktabstand nachprüfen.",
    retimeAir: "Nach dem Einbau Zündzeitpunkt neu einstellen und Luftspalt nachprüfen.",
  },
  travel: {
    caption: "Verstellung bei steigender Drehzahl oder steigendem Unterdruck",
    distributor: "Verteiler",
    crankshaft: "Kurbelwelle",
    speed: "Drehzahl",
    start: (what) => `${what}, Beginn`,
    middle: (what) => `${what}, Mitte`,
    end: (what) => `${what}, Ende`,
    hold: (capsule) => `${capsule}, Halten`,
    notTold: "nicht zu sagen",
    by: (place) => `bis ${place}`,
    at: (advance, place) => `${advance} bei ${place}`,
    noFarther: (cell) => `${cell}, weiter nicht gelesen`,
    lost: (vacuum, seconds) => `verlor ${vacuum} in ${seconds} s`,
    notReached: (vacuum) => `${vacuum} NICHT erreicht`,
  },
  dwellShare: (dwell, percent) => `${dwell}, ${percent} % der Nockenteilung`,
  limits: {
    label: (what) => `${what}, Grenzen`,
    ownLabel: (what) => `${what}, eigenes Ziel des Benutzers`,
    speed: "Drehzahl",
    both: "Beurteilt auf beiden Ästen.",
    rising: "Beurteilt auf dem steigenden Ast.",
    falling: "Beurteilt auf dem fallenden Ast.",
    typed: "Grenzen wie eingetippt.",
    source: (source) => (source === TYPED_TARGET ? "Vom Benutzer eingetippt" : source),
    printed: "Grenzen wie gedruckt.",
    workshop: (tolerance) =>
      `Wo keine Grenzen gedruckt sind, gilt ± ${tolerance} (Verteiler): die Toleranz der Werkstatt, nicht die des Herstellers.`,
  },
  checks: {
    delay: "Verzögerung",
    pickup: "Winkelgeber",
    coupling: "Kupplung",
    vacuum: "Unterdrucksensor",
    and: "und",
    never: (kinds) => `${kinds} nie`,
    noneEver: "nie: Dieser Prüfstand wurde noch nie geprüft",
  },
  timing: {
    before: (mark) => `${mark} vor dem oberen Totpunkt`,
    after: (mark) => `${mark} nach dem oberen Totpunkt`,
    atRest: (mark) => `${mark}, eingestellt im Stillstand`,
    atSpeed: (mark, speed) =>
      `${mark}, eingestellt bei ${speed} U/min des Motors, Unterdruckleitung abgezogen und verschlossen`,
    user: "dem Benutzer",
    port: (port) => PORTS[port],
    retime:
      "Nach dem Einbau den Zündzeitpunkt neu einstellen und Kontaktabstand und Schließwinkel nachprüfen: Ein kleinerer Abstand verschiebt den Zündzeitpunkt.",
    retimeAir:
      "Nach dem Einbau den Zündzeitpunkt neu einstellen und den Luftspalt des Gebers nachprüfen: Ein kleinerer Spalt verschiebt den Zündzeitpunkt.",
    vacuumLine:
      "Zum Schluss die Unterdruckleitung wieder aufstecken. Klingelt der Motor unter Last, vom Gas gehen und die Zündung zurücknehmen.",
    rules: "Örtliche Vorschriften und Arbeit nur durch Befugte gehen vor.",
    notTested: "Kappe, Verteilerfinger, Kabel und Kondensator wurden hier nicht geprüft.",
  },
  marks: {
    plugged: "Leitung verschlossen",
    falling: "verschlossen, Drehzahl fallend",
    specified: "nach Vorgabe",
    unloaded: "Leitung auf, ohne Last",
    cruise: (vacuum) => `Leitung auf, Fahrt bei ${vacuum}`,
    caption: "Grad an der Kurbelwelle vor dem oberen Totpunkt (negativ: danach)",
    engineRpm: "U/min des Motors",
    asSet: "wie eingestellt",
  },
};
