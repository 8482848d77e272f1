// What the Help place says, in both languages: nothing that the program shows is left without its section.
import { describe, expect, it } from "vitest";
import { FINDING_KINDS } from "../../core/findings/finding.ts";
import { sketchOf } from "../../web/src/help/findingSketches.ts";
import { SECTIONS } from "../../web/src/help/sections.ts";
import { guide as germanGuide } from "../../web/src/words/de/guide.ts";
import { help as german } from "../../web/src/words/de/help.ts";
import { guide as englishGuide } from "../../web/src/words/en/guide.ts";
import { help as english } from "../../web/src/words/en/help.ts";

/** Every text with the way to it; functions and their lengths as such. */
function texts(part: unknown, way = ""): [string, string][] {
  if (typeof part === "string") return [[way, part]];
  if (typeof part === "function") return [[way, `takes ${part.length}`]];
  return Object.entries(part as object).flatMap(([key, value]) => texts(value, `${way}/${key}`));
}

const { findings: _, ...others } = SECTIONS;

describe.each([
  ["English", english, englishGuide],
  ["German", german, germanGuide],
])("in %s", (_language, help, guide) => {
  it("every finding is explained, and nothing that is none", () => {
    expect(Object.keys(help.findings).sort()).toEqual([...FINDING_KINDS].sort());
  });

  it("every section has its text", () => {
    expect(Object.keys(help.sections).sort()).toEqual(Object.values(others).flat().sort());
  });

  it("no text is empty, and no two findings say the same", () => {
    for (const [way, text] of [...texts(help), ...texts(guide)]) {
      expect(text.trim(), way).not.toBe("");
    }
    const means = Object.values(help.findings).map(({ means }) => means);
    expect(new Set(means).size).toBe(means.length);
  });
});

it("German fills the form of the English, in words of its own", () => {
  const form = (part: unknown) => texts(part).map(([way]) => way);
  expect(form(german)).toEqual(form(english));
  expect(form(germanGuide)).toEqual(form(englishGuide));
  const said = new Map(texts(english));
  const same = texts(german).filter(([way, text]) => said.get(way) === text);
  expect(same.map(([way]) => way)).toEqual([
    "/keys/0/0",
    "/figure/yKilopascals",
    "/figure/weightsSay",
    "/figure/springPulls",
    "/figure/springSlack",
    "/figure/springGone",
    "/figure/capsuleSay",
    "/figure/contactsSay",
    "/figure/verdictSay",
  ]);
});

describe("the sketch of a finding", () => {
  it.each(FINDING_KINDS)("of %s differs from the sound one where it can be seen", (kind) => {
    const sketch = sketchOf(kind);
    if (sketch.over === "lobes") {
      expect(Math.max(...sketch.turns.flat().map(Math.abs))).toBeGreaterThan(0.3);
      expect(Math.max(...sketch.turns.flat().map(Math.abs))).toBeLessThanOrEqual(1);
      return;
    }
    const { sound, rising, falling } = sketch;
    // The dwell's axis begins at 40°.
    const height = sketch.over === "dwell" ? 20 : Math.max(...sound.map(([, y]) => y));
    // A curve that stops short is another one too: the vacuum does not build.
    const off = sound.map(([x, y]) => {
      const ys = [...rising, ...falling].flatMap(([px, py]) =>
        Math.abs(px - x) < 1e-6 ? [py] : [],
      );
      return ys.length === 0 ? height : Math.max(...ys.map((one) => Math.abs(one - y)));
    });
    expect(Math.max(...off) / height).toBeGreaterThan(0.1);
  });

  it("shows the sound unit beside a delay of 100 µs: 1.2° at 2000 rpm", () => {
    const sketch = sketchOf("uncorrected-delay");
    if (sketch.over === "lobes") throw new Error("a delay is a curve");
    expect((sketch.sound[100]?.[1] ?? 0) - (sketch.rising[100]?.[1] ?? 0)).toBeCloseTo(1.2, 9);
  });
});
