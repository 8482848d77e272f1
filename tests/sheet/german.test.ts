// The file's sheet and the sheet of engine figures in German: no English left in them, and no line cut.
import { describe, expect, it } from "vitest";
import type { RunDocument } from "../../core/documents.ts";
import { judgeReadings } from "../../core/engine/agreement.ts";
import { engineMarks } from "../../core/engine/marks.ts";
import type { EngineReading } from "../../core/engine/readingsFile.ts";
import { type EngineFigures, engineSheet } from "../../core/engine/sheet.ts";
import { budgetLines, budgetSums } from "../../core/sheet/budget.ts";
import type { EarlierRun } from "../../core/sheet/earlier.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import type { Sheet } from "../../core/sheet/model.ts";
import { buildSheet } from "../../core/sheet/sheet.ts";
import { triggerFacts, triggerText } from "../../core/sheet/trigger.ts";
import { SPEECHES } from "../../core/speech/languages.ts";
import type { PaperSpeech } from "../../core/speech/speech.ts";
import { type EngineSettings, type Unit, VACUUM_PORTS } from "../../core/unit.ts";
import { sheetPdf } from "../../server/pdf/sheetPdf.ts";
import { CURVES, conditions, FOUR } from "../engine/curves.ts";
import { pdfText } from "../papers/pdfText.ts";
import { endDocument, startDocument } from "./fixture.ts";
import { byHand, chain, rich, TRIGGER } from "./rich.ts";

const { en, de } = SPEECHES;
const fingerprint = { sha256Hex: "0f".repeat(32), bytes: 77 };

const fileSheet =
  (documents: readonly RunDocument[], earlier: readonly EarlierRun[] = []) =>
  (say: PaperSpeech): Sheet =>
    buildSheet(documents, { paper: "a4", vacuumUnit: "inHg", say, fingerprint }, earlier);

const UNIT: Unit = { ...FOUR, description: "Vierzylinder" };

const engineOf =
  (
    settings: Partial<EngineSettings>,
    readings: readonly EngineReading[] | null,
    record: EngineFigures["record"] = startDocument,
  ) =>
  (say: PaperSpeech): Sheet => {
    const how = conditions({ engineSpeedsRpm: [800, 2400], ...settings });
    const curves = record && CURVES;
    const judged = readings && judgeReadings(UNIT, curves, how, readings, say);
    const marks = engineMarks(UNIT, curves, how);
    return engineSheet(
      { unit: UNIT, record, curves, conditions: how, marks, readings: judged },
      { paper: "a4", vacuumUnit: "kPa", say },
    );
  };

const plugged = (engineRpm: number, markCrankshaftDeg: number): EngineReading => ({
  engineRpm,
  markCrankshaftDeg,
  vacuumLine: "plugged",
});
const READ: Readonly<Record<string, readonly EngineReading[]>> = {
  "all early": [plugged(1600, 22.5), plugged(2400, 30.5)],
  "twice the advance": [plugged(800, 10), plugged(1600, 26), plugged(2400, 42)],
  "half the advance": [plugged(800, 10), plugged(1600, 14), plugged(2400, 18)],
  "unlike amounts": [plugged(1600, 18), plugged(2400, 36)],
  "too near": [plugged(2300, 36), plugged(2400, 36)],
  "line on": [plugged(1600, 18), { engineRpm: 2400, markCrankshaftDeg: 20, vacuumLine: "on" }],
};

const SHEETS: readonly (readonly [string, (say: PaperSpeech) => Sheet])[] = [
  ["a rich record", fileSheet(rich)],
  ["a record after others", fileSheet(rich, chain)],
  ["a record by hand, without specification", fileSheet(byHand)],
  ["a run that was cut off", fileSheet(rich.slice(0, 12))],
  ...VACUUM_PORTS.map(
    (vacuumPort) => [`marks, fed by ${vacuumPort}`, engineOf({ vacuumPort }, null)] as const,
  ),
  ["marks by specification", engineOf({}, null, null)],
  ...Object.entries(READ).map(([name, read]) => [`read: ${name}`, engineOf({}, read)] as const),
];

/** Letters beside digits are of a number, as in a record's id. */
const words = (text: string) => new Set(text.match(/(?<![\p{L}\d])\p{L}{2,}(?![\p{L}\d])/gu));

/** Signs of units, standards and names; words that both languages have; the record's own names. */
const ALIKE = [
  ...["UTC", "SHA", "JCGM", "ILAC", "inHg", "kPa", "Bobweight"],
  ...["an", "in", "was", "parallel", "still", "HAND"],
  ...["Vierzylinder", "zwei", "Dosen", "Frühdose", "Spätdose", "Tafel", "Zeile", "Platine"],
];

/** What is printed, and what only those hear who cannot see the pictures. */
function printed(sheet: Sheet): string {
  return sheetHtml(sheet)
    .replace(/<style>.*?<\/style>/s, "")
    .replace(/<[^>]*?(?:aria-label="([^"]*)")?>/g, " $1 ");
}

describe.each(SHEETS)("%s", (_, sheet) => {
  it("has no word of the English one, on the page and in its PDF", async () => {
    const english = words(printed(sheet(en)));
    const { pages } = pdfText(await sheetPdf(sheet(de), startDocument.startedUtc));
    const left = [...words(`${printed(sheet(de))} ${pages.join("\n")}`)];
    expect(left.filter((word) => english.has(word) && !ALIKE.includes(word))).toEqual([]);
  });
});

/** All that blocks of facts, lists and tables say, a line each. */
function linesOf({ blocks }: Sheet): string[] {
  return blocks.flatMap((block) => {
    if (block.kind === "facts") return block.facts.map(({ label, value }) => `${label}: ${value}`);
    if (block.kind === "list" || block.kind === "numbered list") return block.items;
    if (block.kind !== "tables") return [];
    return block.tables.flatMap(({ caption, columns, rows }) => [
      caption,
      columns.map(({ head }) => head).join(" | "),
      ...rows.map(({ cells }) => cells.join(" | ")),
    ]);
  });
}

describe("the German file's sheet", () => {
  it("has its facts and conditions in the words of the trade, with commas and days first", () => {
    expect(linesOf(fileSheet(rich)(de))).toEqual(
      expect.arrayContaining([
        "Eingeschlagene Nummer: keine gelesen",
        "Geprüft: 14.03.2031 09:26 UTC",
        "Auslöser: zwei Kontaktsätze, versetzt: nur der erste angeschlossen, der zweite isoliert",
        "Prüfstand: simulierter Prüfstand",
        "Frühdose, Halten: 16,00 inHg erreicht mit der Pumpe auf 41 %; verlor 0,48 inHg in 30 s",
        "Spätdose, Halten: 16,00 inHg NICHT erreicht: 15,98 inHg von Hand",
        "Schließwinkel über der Drehzahl: fällt um 3,61° ± 0,02°, von 51,00° bei 800 U/min auf 47,39° bei 2640 U/min",
        "Fliehgewichte: Beginnt zu verstellen: bei 438 ± 6 U/min; Erste Feder allein: 5,1 ± 0,2° je 100 U/min nahe dem Beginn; Zweite Feder greift: bei 4,3 ± 0,3°, etwa 720 U/min, dann 0,50 ± 0,04° je 100 U/min; Anschlag: bei 14,02 ± 0,03°, erreicht bei 2310 ± 12 U/min; Reibung, auf halbem Weg: Abstand von 35 ± 5 U/min, von 1,1 ± 0,2°; Fehler der Form: 0,03° neben dem der Messwerte",
        "Prüfstand zuletzt geprüft: Verzögerung 02.11.2031, Unterdrucksensor 12.10.2031; Winkelgeber und Kupplung nie",
        "Umgebungsdruck: 101,3 kPa",
        `Rohdaten: 77 Byte, SHA-256 ${fingerprint.sha256Hex}`,
        "Szenario: gesunder Verteiler, Startwert 17",
      ]),
    );
  });

  it("has rows that the program worded itself in German, and its readings", () => {
    expect(linesOf(fileSheet(rich)(de))).toEqual(
      expect.arrayContaining([
        "Größe | wie gedruckt | Grenzen | steigend oder einmal gemessen | fallend",
        "Drehzahl | 8 ± 2 Grad Kurbelwelle bei 1600 U/min an der Kurbelwelle | 5 bis 7,5° bei 800 U/min | 5,25 ± 0,12°: innerhalb | 5,25 ± 0,12°: innerhalb",
        "Rückkehr | Nocken lässt sich von Hand drehen und federt zurück | keine | tut es nicht: AUSSERHALB | ",
        "Frühdose, Halten | fällt in 30 s von 54,18 kPa um höchstens 3,39 kPa | höchstens 1 inHg bei 16 inHg | nie erreicht: AUSSERHALB | ",
        "Verstellung über der Drehzahl. Gemessen höchstens 0,6 U/min neben der eingestellten Drehzahl.",
        "800 | 3,74 | 4,31 | 0,12 | 1600 | 7,48 | 8,62 | 0,24",
      ]),
    );
  });

  it("has the runs before beside the present one", () => {
    expect(linesOf(fileSheet(rich, chain)(de))).toEqual(
      expect.arrayContaining([
        "Größe | wie gedruckt, und die Grenzen | wie erhalten, 14.03.2031, von Hand | vorher, 14.03.2031, nach eigenem Ziel des Benutzers | nachher, nach eigenem Ziel des Benutzers",
        "Urteil |  | nicht beurteilt | AUSSERHALB | AUSSERHALB",
        `Vor der Änderung: 14.03.2031 09:26 UTC, Aufzeichnung ${startDocument.recordId}`,
      ]),
    );
  });

  it("says how it was read by hand", () => {
    expect(linesOf(fileSheet(byHand)(de))).toEqual(
      expect.arrayContaining([
        "Nocken: 3 Nocken bei 0; 45; 120,5°",
        "Antrieb: dreht einmal je Umdrehung der Kurbelwelle",
        "Prüfstand: keiner: von Hand mit Gradscheibe",
        "Mit dem Auge abgelesen: Gradscheibe, jeder Messwert auf ± 0,5° (Verteiler); 12,5 U/min (Verteiler); 0,30 inHg",
        "Nocken von Hand drehbar: nicht versucht",
        "Nocken federt zurück: NEIN",
        "Rohdaten: keine: eingetippt, kein Prüfstand hat etwas gesendet",
      ]),
    );
  });
});

describe("a row in German", () => {
  it.each([
    [
      "5.5 crankshaft degrees reached at 800 to 1000 distributor rpm",
      "5,5 Grad Kurbelwelle, erreicht bei 800 bis 1000 U/min am Verteiler",
    ],
    [
      "no retard below 10 kPa: at most 0.5 distributor degrees retard",
      "keine Spätverstellung unter 10 kPa: höchstens 0,5 Grad Verteilerwelle spät",
    ],
    [
      "largest at least 14 crankshaft degrees with initial timing of 6 included",
      "größte Verstellung mindestens 14 Grad Kurbelwelle einschließlich 6 Grundeinstellung",
    ],
    ["retard starts at 3 to 5 inHg", "Spätverstellung beginnt bei 3 bis 5 inHg"],
  ])("is worded anew where the program worded it: %s", (printed, german) => {
    expect(de.verdicts.row(printed)).toBe(german);
    expect(en.verdicts.row(printed)).toBe(printed);
  });

  it("stays as the manual has it", () => {
    for (const printed of ["3 to 5 at 800", "crank 10–14 at 2000 engine", "14 max"]) {
      expect(de.verdicts.row(printed)).toBe(printed);
    }
  });
});

describe("the German engine figures", () => {
  it("name marks and columns, and what the readings say together", () => {
    expect(linesOf(engineOf({}, READ["all early"] ?? [])(de))).toEqual(
      expect.arrayContaining([
        "Antrieb: dreht einmal in 2 Umdrehungen der Kurbelwelle",
        "2400 | 26,0 ± 0,2 | 42,0° ± 0,3 | 34,0 ± 0,3",
        "Leitung auf: etwa 60 kPa im Saugrohr ohne Last (übliche Praxis, keine Quelle).",
        "Von 2 Ablesungen stimmen 0 mit der Kurve vom Prüfstand überein, 2 nicht, bei 0 ist es nicht zu sagen.",
        "Alle liegen um etwa gleich viel daneben, 4,5° (Kurbelwelle) zu früh: Die Grundeinstellung ist anders, nicht die Kurve. Neu einstellen und noch einmal ablesen.",
        "U/min des Motors | Leitung | abgelesen ° | erwartet ° |  | Vorgabe | U/min am Verteiler | Verteiler °",
        "2400 | zu | 30,5 | 26,0° ± 0,2 | stimmt nicht überein | – | 1200 | 10,3",
      ]),
    );
    const [reading] = judgeReadings(UNIT, CURVES, conditions(), [plugged(1600, 18.5)], de).readings;
    expect(reading?.sentence).toBe(
      "18,5° bei 1600 U/min, Leitung zu: stimmt überein, 18,0° erwartet.",
    );
  });

  it.each([
    ["twice the advance", "das Doppelte der erwarteten"],
    ["half the advance", "die Hälfte der erwarteten"],
    ["unlike amounts", "Sie liegen um ungleiche Beträge daneben"],
    ["too near", "Diese Ablesungen können die Grundeinstellung nicht"],
    ["line on", "Mit der Leitung zu liegt nichts daneben, mit der Leitung auf etwas"],
  ])("tell %s", (name, said) => {
    expect(linesOf(engineOf({}, READ[name] ?? [])(de)).join("\n")).toContain(said);
  });

  it("take smaller print where that spares a second page, and the English ones never", () => {
    const many = Array.from({ length: 11 }, (_, i) => plugged(800 + 100 * i, 20));
    const endless = Array.from({ length: 80 }, (_, i) => plugged(800 + 10 * i, 20));
    const prints = [null, many, endless].map((read) => engineOf({}, read)(de).print);
    expect(prints).toEqual(["usual", "small", "usual"]);
    expect(engineOf({}, many)(en).print).toBe("usual");
  });
});

describe("the page's cards in German", () => {
  it("tell the trigger with commas", () => {
    const facts = triggerFacts({ ...endDocument.result, trigger: TRIGGER }, "kPa", de);
    expect(facts.map(({ label, value }) => `${label}: ${value}`)).toEqual([
      "Schließwinkel je Nocken: 51,0; 52,4; –; 51,0°, jeder ± 0,1°, bei 800 U/min",
      "Schließwinkel über der Drehzahl: fällt um 3,61° ± 0,02°, von 51,00° bei 800 U/min auf 47,39° bei 2640 U/min",
      "Schließwinkel über dem Unterdruck: gleich bis 44,00 kPa, auf ± 0,02°",
      "Prellen: 43 % der Schließungen öffnen bei 2640 U/min kurz noch einmal; beginnt zwischen 1200 und 1350 U/min",
      "Ausgebliebene Öffnungen: 4,8 % bei 1800–2640 U/min, überall, wo gemessen wurde",
      "Ausgebliebene Öffnungen: 4,8 % bei 20,00–27,00 kPa, nur dort; die Unterdruckdose hatte die Platte dort um 2,8 bis 6,1° verdreht",
      "Ausgebliebene Öffnungen: 4,8 % bei 20,00 kPa, an einigen Stellen",
      "Streuung der Nocken: keine über 0,38° bei 180 und 0,15° bei 2640 U/min; gleich auf ± 0,02°",
      "Streuung einmal je Umdrehung: unter 0,01° bei 180 und 0,38° bei 2640 U/min; wächst um 0,38 ± 0,02°",
      "Zufällige Streuung: keine über 0,38°",
    ]);
    expect(triggerText(UNIT, de)).toBe("Unterbrecherkontakte");
  });

  it("tell the budget with commas", () => {
    const budget = [
      {
        name: "tick",
        standardUncertainty: 0.003,
        degreesOfFreedom: null,
        shape: "rectangular",
        shared: true,
      },
    ] as const;
    expect(budgetLines({ budget }, de)).toEqual([
      {
        part: "Rundung auf den Takt der Uhr des Prüfstands",
        standardUncertainty: "0,0030",
        degreesOfFreedom: "∞",
        shape: "Rechteckverteilung",
        standsIn: "allen Messwerten",
      },
    ]);
    expect(budgetSums({ budget, coverageFactor: 1.96 }, de)).toEqual({
      standardUncertainty: "0,0030",
      coverageFactor: "1,96",
      expandedUncertainty: "0,0059",
    });
  });
});
