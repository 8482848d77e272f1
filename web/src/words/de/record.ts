// Words on a record in German: its charts, verdict, rows, findings, what its readings rest on.
import type { RowVerdict, Verdict } from "../../../../core/documents.ts";
import type { Translated } from "../../../../core/language.ts";
import type { record as english } from "../en/record.ts";
import { AT_SHAFT, BRANCHES, ENDINGS } from "./shared.ts";

const VERDICTS: Readonly<Record<Verdict, string>> = {
  within: "Innerhalb der Vorgabe",
  outside: "Außerhalb der Vorgabe",
  unproven: "Zu knapp für ein Urteil",
};
const VERDICTS_BY_OWN_TARGET: Readonly<Record<Verdict, string>> = {
  within: "Innerhalb des eigenen Ziels",
  outside: "Außerhalb des eigenen Ziels",
  unproven: "Zu knapp für ein Urteil",
};
const ROW_VERDICTS: Readonly<Record<Verdict, string>> = {
  within: "innerhalb",
  outside: "außerhalb",
  unproven: "zu knapp",
};
const VERDICT_EXPLAINED: Readonly<Record<Verdict, string>> = {
  within:
    "Jede gemessene Zeile der Vorgabe liegt innerhalb ihrer Grenzen, die Unsicherheit eingerechnet.",
  outside:
    "Mindestens eine Zeile der Vorgabe liegt außerhalb ihrer Grenzen, trotz aller Unsicherheit.",
  unproven:
    "Mindestens ein Messwert liegt so nahe an einer Grenze, dass weder innerhalb noch außerhalb bewiesen ist.",
};
const ABOUT: Readonly<Record<RowVerdict["about"], string>> = {
  speed: "Drehzahl",
  vacuum: "Unterdruck",
  dwell: "Schließwinkel",
  scatter: "Nockenteilung",
  hold: "Halten",
  return: "Rückkehr",
};

export const record: Translated<typeof english> = {
  branch: (branch) => (branch === null ? "" : BRANCHES[branch]),
  chart: {
    speed: "Verstellung über der Drehzahl",
    vacuum: (name) => `Verstellung über dem Unterdruck, ${name}`,
    hold: "Unterdruck in der Halteprüfung",
    x: {
      speed: (shaft) => `U/min ${AT_SHAFT[shaft]}`,
      vacuum: (unit) => `${unit} Unterdruck`,
      seconds: "Sekunden",
    },
    y: (shaft) => `Grad ${AT_SHAFT[shaft]}`,
    rising: "steigend",
    falling: "fallend",
    band: "Vorgabe",
    liveNow: "jetzt",
    numbers: "Zahlen",
    describe: (title, model, number, degrees) =>
      [
        `Schaubild: ${title}, in ${degrees}. Bisher ${model.table.length} Messwerte; sie stehen in der Tabelle darunter.`,
        ...(model.fitted.length > 0
          ? ["Eine dünne strichpunktierte Linie ist die Mechanik, wie sie sich errechnet."]
          : []),
        ...model.earlier.map(({ name }) =>
          name === "before"
            ? "Eine Linie aus Punktpaaren ist die steigende Kurve vor der Änderung."
            : "Eine gepunktete Linie ist die steigende Kurve im Eingangszustand.",
        ),
        ...model.marks.map(
          ({ label, x, y }) =>
            `Eine Raute zeigt den Messwert zu Befund ${label}: ${number(y, 2)}° bei ${number(x, x < 200 ? 1 : 0)}.`,
        ),
      ].join(" "),
    legendRising: "Steigend: volle Punkte, durchgezogene Linie",
    legendFalling: "Fallend: offene Quadrate, gestrichelte Linie",
    legendBand: "Balken: Grenzen an den Zeilen der Vorgabe",
    legendNow: "Kreuz: jetzt",
    legendReceived: "Gepunktete Linie: Eingangszustand, steigend",
    legendBefore: "Punktpaare: vor der Änderung, steigend",
    legendMarks: "Rauten: Messwerte, die für den Befund dieser Nummer sprechen",
    legendFitted: "Dünne strichpunktierte Linien: die Mechanik, wie sie sich errechnet",
  },
  lobes: {
    title: "Nockenteilung",
    lobe: "Nocken",
    off: "Abweichung von seinem Platz, am Verteiler",
    none: "Bekannt nach der Bezugsmessung.",
  },
  dwell: "Schließwinkel",
  result: {
    verdict: (verdict, isOwnTarget) => {
      if (verdict === null) return "Nicht beurteilt";
      return isOwnTarget ? VERDICTS_BY_OWN_TARGET[verdict] : VERDICTS[verdict];
    },
    explained: (verdict) =>
      verdict === null ? "Für ein Urteil ist zu wenig da." : VERDICT_EXPLAINED[verdict],
    rowVerdict: (verdict) => ROW_VERDICTS[verdict],
    ending: (ending) => ENDINGS[ending],
    rows: "Zeile für Zeile",
    row: "Wie gedruckt",
    branch: "Ast",
    limits: "Grenzen",
    measured: "Gemessen",
    judged: "Urteil",
    about: (about) => ABOUT[about],
    between: (min, max) => `${min} bis ${max}`,
    atMost: (max) => `höchstens ${max}`,
    atLeast: (min) => `mindestens ${min}`,
    noLimit: "keine Grenze",
    notMeasured: "nicht gemessen",
    notMeasuredRows: (count) =>
      count === 1
        ? "1 Zeile der Vorgabe wurde nicht gemessen."
        : `${count} Zeilen der Vorgabe wurden nicht gemessen.`,
    shaft: (shaft) =>
      shaft === "distributor"
        ? "Drehzahl, Verstellung, Schließwinkel und Nockenteilung gelten für den Verteiler."
        : "Drehzahl und Verstellung gelten für die Kurbelwelle, Schließwinkel und Nockenteilung für den Verteiler.",
    uncertainty: "± ist die erweiterte Unsicherheit bei 95 % Überdeckung.",
    sheet: "Prüfblatt öffnen (A4)",
    letter: "Prüfblatt (US-Letter)",
    owner: "Blatt für den Kunden",
    tag: "Anhänger für den Verteiler",
    csv: "Zahlen als CSV",
    json: "Aufzeichnung als JSON",
    again: "Noch einmal messen",
    returns: (shaft) => `Bleibt nach allem zurück, ${AT_SHAFT[shaft]}`,
    scatter: "Größte Abweichung eines Nockens, am Verteiler",
    holdReached: (from, drop, seconds) =>
      `Von ${from} fiel der Unterdruck um ${drop} in ${seconds}.`,
    holdNot: (target, got) =>
      `${target} wurden nicht erreicht, es blieb bei ${got}. Die Unterdruckdose oder ihr Schlauch ist undicht.`,
    noHold: "Keine Halteprüfung",
    noEnd:
      "Kein Ende aufgezeichnet: Programm oder Rechner haben während des Laufs den Dienst eingestellt.",
    hold: "Halten",
  },
  earlier: {
    title: "Eingangszustand, vorher und nachher",
    note: "Jede Zeile der Vorgabe, wie sie in jedem Lauf beurteilt wurde.",
    name: (name) => (name === "before" ? "vor der Änderung" : "Eingangszustand"),
    after: "nachher",
    whole: "Der Verteiler",
    noRow: "–",
  },
  findings: {
    title: "Was nicht stimmt",
    nothing: "Die Messwerte dieses Laufs zeigen keinen Fehler.",
    shaft: "Grade und Drehzahlen in diesen Sätzen gelten für den Verteiler.",
    serious: "Ernst",
    next: "Als Nächstes",
  },
  mechanism: {
    title: "Die Mechanik, wie sie sich errechnet",
    note: "In Grad und U/min am Verteiler. ± ist die erweiterte Unsicherheit bei 95 % Überdeckung.",
  },
  trigger: "Auslösung",
  triggerUntold: "Mehr sagt die Aufzeichnung darüber nicht.",
  budget: {
    title: "Wie sicher ist ein Messwert?",
    reading: "Messwert, Zahlen am Verteiler",
    speed: (branch, rpm, deg) => `${BRANCHES[branch]}, ${rpm}: ${deg}`,
    vacuum: (name, branch, vacuum, deg) => `${name}, ${BRANCHES[branch]}, ${vacuum}: ${deg}`,
    caption: "Woraus seine Unsicherheit besteht, das Größte zuerst",
    part: "Anteil",
    standardUncertainty: "Standardunsicherheit",
    degreesOfFreedom: "Freiheitsgrade",
    shape: "Verteilung",
    standsIn: "Steckt in",
    combined: "Kombinierte Standardunsicherheit",
    factor: "Erweiterungsfaktor für 95 %",
    expanded: "Erweiterte Unsicherheit",
  },
  records: {
    title: "Aufzeichnungen",
    simulated: "simuliert",
    unended: "ohne Ende",
  },
  notices: "Hinweise aus dem Lauf",
};
