// Errors as they are met, in German: thrown for real, carried as plain JSON, said by whoever shows them.
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { drawerFromCsv } from "../../core/drawer/drawerFile.ts";
import { BobweightError, type Told } from "../../core/errors.ts";
import { firstIssue, issueSaid } from "../../core/issue.ts";
import { textOf } from "../../core/said.ts";
import { ENGLISH } from "../../core/speech/english.ts";
import { GERMAN } from "../../core/speech/german.ts";
import { noticeText, toldText } from "../../core/told.ts";
import { previewOf } from "../../core/typedUnit/preview.ts";
import { EMPTY_UNIT, type TypedUnit } from "../../core/typedUnit/typed.ts";
import { parseJsonFile } from "../../core/unitFile/jsonText.ts";

function toldBy(action: () => unknown): Told {
  try {
    action();
  } catch (error) {
    if (error instanceof BobweightError) return JSON.parse(JSON.stringify(error.told));
    throw error;
  }
  throw new Error("nothing was refused");
}

describe("an error", () => {
  it.each([
    [
      () => parseJsonFile('{"lobes": 4,}', "u.json"),
      'u.json, Zeile 1, Spalte 13: erwartet wird ein Schlüssel in Anführungszeichen, da steht "}". Das JSON an der genannten Stelle berichtigen.',
    ],
    [
      () => drawerFromCsv("name,quantity,rate_n_per_mm\nA,1,0.5\n", "f.csv"),
      "f.csv, Zeile 2, Spalte rate_uncertainty_n_per_mm: eine gemessene Federrate braucht ihre Unsicherheit, mit 95 % Überdeckung. Die genannte Stelle ändern; siehe --help des Befehls.",
    ],
  ])("is told in German after a way as JSON", (action, german) => {
    const told = toldBy(action);
    expect(toldText(told, GERMAN)).toBe(german);
    expect(toldText(told, ENGLISH)).toBe(told.text);
  });

  it("keeps its English where it comes without a sentence, or is of another version", () => {
    const old = { code: "NO_SPARKS", text: "No usable sparks came." };
    expect(toldText(old, GERMAN)).toBe("No usable sparks came.");
    const said = { say: "Something new at {} rpm.", of: [600] } as unknown as Told["said"] & object;
    const newer = { code: "NO_SPARKS", text: "Something new at 600 rpm.", said };
    expect(noticeText(newer, GERMAN)).toBe("Something new at 600 rpm.");
    expect(toldText({ ...newer, code: "NEW" }, GERMAN)).toBe("Something new at 600 rpm.");
  });

  it.each([{ say: "{}.", of: "x" }, { say: 1, of: [] }, { say: "{}.", of: [null] }, "x", null])(
    "keeps its English where what a record says is malformed: %j",
    (said) => {
      const told = { code: "NO_SPARKS", text: "English.", said } as unknown as Told;
      expect([noticeText(told, GERMAN), toldText(told, GERMAN)]).toEqual(["English.", "English."]);
    },
  );
});

describe("a typed unit", () => {
  const typed: TypedUnit = { ...EMPTY_UNIT, description: "Invented four", rotation: "cw" };
  const german = (lines: string, rpm: "crankshaft" | "") => {
    const speed = { ...typed.speed, lines, degrees: "distributor" as const };
    const whole = { ...typed, speed: { ...speed, rpm } };
    const { speed: read, problem } = previewOf(whole, null);
    return [...read.map((line) => line.problem), problem].map((one) => one && textOf(one, GERMAN));
  };

  it("has its lines' complaints in German", () => {
    expect(german("8 at 700", "")).toEqual([
      'ist es die Drehzahl des Verteilers oder des Motors? In der Zeile angeben, "… at 2000 engine rpm", oder in `rpm`.',
      null,
    ]);
    expect(german("8 at 700\n14 at 999999\nabout ten", "crankshaft")).toEqual([
      null,
      "999999 U/min der Kurbelwelle sind mehr, als es geben kann.",
      '"about ten" ist keine Zeile wie "14 at 2300", "5¼–7 at 1600 engine rpm", "9 at 250 mmHg", "no advance below 400", "starts at 350–450" oder "max 14 by 2400".',
      null,
    ]);
  });

  it("has its fields' complaints in German", () => {
    expect(german("8 at 700", "crankshaft").at(-1)).toBe("Der Verteiler, speed.source: fehlt.");
  });
});

describe("what a schema finds wrong", () => {
  it.each([
    [z.number(), "a", "Ungültige Eingabe: erwartet wird eine Zahl, gegeben ist ein Text"],
    [z.string().min(2), "a", "Zu klein: erwartet wird ein Text mit >=2 Zeichen"],
    [z.number().max(2.5), 3, "Zu groß: erwartet wird eine Zahl <=2,5"],
    [z.array(z.number()).max(1), [1, 2], "Zu groß: erwartet wird eine Liste mit <=1 Einträgen"],
    [z.enum(["a", "b"]), "c", 'Ungültige Auswahl: erwartet wird eines von "a"|"b"'],
    [z.literal(2), 3, "Ungültige Eingabe: erwartet wird 2"],
    [z.int(), 1.5, "Ungültige Eingabe: erwartet wird eine ganze Zahl, gegeben ist eine Zahl"],
    [z.iso.date(), "x", "Kein Datum der Form JJJJ-MM-TT"],
  ] as const)("keeps the schema's English and has German: %#", (schema, value, german) => {
    const { error } = schema.safeParse(value);
    if (error === undefined) throw new Error("nothing is wrong");
    const issue = firstIssue(error);
    const said = issueSaid(issue, value);
    expect(textOf(said)).toBe(issue.message);
    expect(textOf(said, GERMAN)).toBe(german);
  });

  it("is told by its own text where it is none that is known", () => {
    const { error } = z.string().regex(/a/, "has no a").safeParse("b");
    if (error === undefined) throw new Error("nothing is wrong");
    expect(textOf(issueSaid(firstIssue(error), "b"), GERMAN)).toBe("has no a");
  });
});
