// What is said of errors and notices: every sentence in German too, with the same values in it.
import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CATALOGUE, type ErrorCode } from "../../core/errors.ts";
import { type Said, type Sentence, said, textOf } from "../../core/said.ts";
import { remedies } from "../../core/speech/de/remedies.ts";
import { sentences } from "../../core/speech/de/sentences.ts";
import { GERMAN } from "../../core/speech/german.ts";

const HOLE = /\{(\d?)(?:\.\d)?\}/g;
const SENTENCES = Object.keys(sentences) as Sentence[];

/** Names, figures and what is to be typed: the same in every language. */
function namesIn(text: string): string[] {
  const plain = text.replace(HOLE, "·");
  return [...plain.matchAll(/`[^`]+`|--\w+|\b[\w.]*\d[\w.]*|\b[a-z]+[A-Z]\w*|\bJSON\b|"\w+"/g)]
    .map(([name]) => name)
    .sort();
}

describe("a sentence", () => {
  it.each(SENTENCES)("takes every value once in German: %s", (say) => {
    const places = [...sentences[say].matchAll(HOLE)].map(([, place], i) =>
      place === "" ? i + 1 : Number(place),
    );
    expect(places.sort()).toEqual([...say.matchAll(HOLE)].map((_, i) => i + 1));
  });

  it.each(SENTENCES)("has the same names and figures in German: %s", (say) => {
    const german = namesIn(sentences[say]);
    for (const name of namesIn(say)) expect(german).toContain(name);
  });

  it("says the same values in both languages, numbers with the mark of each", () => {
    const word = fc.stringMatching(/^[A-Za-z0-9 /_-]{1,12}$/);
    const number = fc.double({ min: -5000, max: 5000, noNaN: true, noDefaultInfinity: true });
    const holed = SENTENCES.filter((say) => say.includes("{"));
    fc.assert(
      fc.property(
        fc.constantFrom(...holed),
        fc.array(fc.tuple(word, number, fc.boolean()), { minLength: 6, maxLength: 6 }),
        (say, drawn) => {
          const holes = [...say.matchAll(/\{(?:\.(\d))?\}/g)].map(([, digits]) => digits);
          const of = holes.map((digits, i) => {
            const [name, value, isName] = drawn[i] ?? ["", 0, false];
            return digits === undefined && isName ? name : value;
          });
          const whole: Said = { say, of };
          const [english, german] = [textOf(whole), textOf(whole, GERMAN)];
          for (const [i, value] of of.entries()) {
            const digits = holes[i];
            const text =
              typeof value === "string" || digits === undefined
                ? String(value)
                : value.toFixed(Number(digits));
            expect(english).toContain(text);
            expect(german).toContain(typeof value === "string" ? text : text.replace(".", ","));
          }
        },
      ),
    );
  });

  it.each([
    [said("The guard was opened."), "Die Schutzhaube wurde geöffnet."],
    [
      said(
        "At {} rpm the spark comes {.1}° (distributor) later than at the reference speed.",
        1200,
        4.26,
      ),
      "Bei 1200 U/min kommt der Funke 4,3° (Verteiler) später als bei der Bezugsdrehzahl.",
    ],
    [
      said(
        "{}: {}.",
        said("speed sweep"),
        said("{} rpm is above the rig's highest, {} rpm", 4200.5, 4000),
      ),
      "Drehzahlkurve: 4200,5 U/min liegen über der größten Drehzahl des Prüfstands, 4000 U/min.",
    ],
    [
      said(
        "The {} branch of the {} sweep is not known within {}° from {}.",
        said("rising"),
        said("speed"),
        0.25,
        [
          said("{} to {}", said("{.0} rpm", 900), said("{.0} rpm", 1150)),
          said("{} to {}", said("{.0} rpm", 2000), said("{.0} rpm", 2100)),
        ],
      ),
      "Die Kurve (Drehzahlkurve, steigend) ist nicht auf 0,25° genau bekannt von 900 U/min bis 1150 U/min, 2000 U/min bis 2100 U/min.",
    ],
  ])("reads in German: %j", (one, german) => {
    expect(textOf(one, GERMAN)).toBe(german);
  });

  it("does not compile where German lacks it, or a value is missing", () => {
    // @ts-expect-error: no such entry in the catalogue
    expect(textOf(said("Nothing says this."), GERMAN)).toBe("Nothing says this.");
    // @ts-expect-error: one value for two places
    expect(textOf(said("{} to {}", 1), GERMAN)).toBe("1 bis ");
  });

  it("keeps a name as it is, whatever marks are in it", () => {
    expect(textOf(said("There is no unit {}.", "a{1}.5"), GERMAN)).toBe(
      "Einen Verteiler a{1}.5 gibt es nicht.",
    );
  });
});

describe("what to do", () => {
  it.each(Object.keys(CATALOGUE) as ErrorCode[])("names the same in German: %s", (code) => {
    const german = namesIn(remedies[code]);
    for (const name of namesIn(CATALOGUE[code].remedy)) expect(german).toContain(name);
    expect(remedies[code]).not.toBe(CATALOGUE[code].remedy);
  });
});

function sourcesIn(folder: string): (readonly [string, string])[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((path) => path.endsWith(".ts") && !path.includes("speech/"))
    .map((path) => [`${folder}/${path}`, readFileSync(`${folder}/${path}`, "utf8")]);
}

describe("the program's source", () => {
  const sources = ["core", "server", "sim"].flatMap(sourcesIn);

  it("says every sentence of the catalogue somewhere", () => {
    const all = sources
      .map(([, text]) => text.replaceAll('\\"', '"').replaceAll("\\\\", "\\"))
      .join();
    const unsaid = SENTENCES.filter(
      (say) => !["'", '"'].some((quote) => all.includes(`${quote}${say}${quote}`)),
    );
    expect(unsaid).toEqual([]);
  });

  it("tells in English only what no page meets, and our bugs", () => {
    const free = sources.filter(
      ([path, text]) =>
        !/^server\/(commands|conformance|calibration)\/|^core\/calibration\/|^sim\//.test(path) &&
        /new BobweightError\(\s*"(?!BUG|USAGE)\w+",\s*["`]/.test(text),
    );
    // Of `bobweight sheet --format budget`.
    expect(free.map(([path]) => path)).toEqual(["core/sheet/budgetText.ts"]);
  });
});
