// The bar of readings taken by hand: where they are taken, what is written down, and that it can be missed.
import { describe, expect, it } from "vitest";
import { byHandNotes } from "../../core/byHand/notes.ts";
import type { FindingKind } from "../../core/findings/finding.ts";
import type { Band } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { type HandRead, hand, handCase } from "../../evaluate/bars/hand.ts";
import type { HandKind } from "../../evaluate/hand/case.ts";
import { fiveVacuums, sixSpeeds } from "../../evaluate/hand/places.ts";

function speedBand(lines: string): Band {
  const speed = { degrees: "distributor", rpm: "distributor", source: "none", lines };
  return unitFromFile({ description: "plain", lobes: 4, rotation: "cw", speed }, "x")
    .speedBand as Band;
}

describe("his readings", () => {
  it("are six speeds by the rows, the last a tenth above them", () => {
    const band = speedBand("none below 300, 3 at 500, 7 at 800, 10 at 1200, max 14 by 2000");
    expect(sixSpeeds(band).map(({ branch, x }) => [branch, Math.round(x)])).toEqual([
      ["rising", 300],
      ["rising", 500],
      ["rising", 1200],
      ["rising", 2200],
      ["falling", 1200],
      ["falling", 300],
    ]);
  });

  it("halve the widest gap where there are too few rows", () => {
    const band = speedBand("none below 400, max 14 by 2000");
    expect(sixSpeeds(band).map(({ x }) => Math.round(x))).toEqual([
      400, 800, 1200, 2200, 1200, 400,
    ]);
  });

  it("are five vacuums, the last with the hose off", () => {
    const band = speedBand("none below 300, 7 at 800, 10 at 1200, max 14 by 2000");
    expect(fiveVacuums(band).map(({ branch, x }) => [branch, x])).toEqual([
      ["rising", 300],
      ["rising", 1200],
      ["rising", 2000],
      ["falling", 1200],
      ["falling", 0],
    ]);
  });
});

describe("a case", () => {
  it("is the same each time, gross, and readable notes of six readings", () => {
    const one = handCase("a test", 0);
    expect(handCase("a test", 0)).toEqual(one);
    expect(one.kind).toBe("weights-stuck");
    expect(one.multiple).toBeGreaterThanOrEqual(4);
    const { speedReadings, readingLimitDeg } = byHandNotes(one.notes, "notes");
    expect(speedReadings.length).toBe(6);
    expect(speedReadings.every(({ deg }) => Number.isInteger(2 * deg))).toBe(true);
    expect(readingLimitDeg).toBe(1);
  });

  it("is a good unit each third time", () => {
    expect(handCase("a test", 2)).toMatchObject({ kind: null, multiple: 0 });
  });
});

function read(kind: HandKind | null, found: HandRead["found"]): HandRead {
  return { index: 0, kind, multiple: 5, found };
}

const finding = (kind: FindingKind, ...alike: FindingKind[]) => ({ kind, alike });
const times = (count: number, one: HandRead) => Array.from({ length: count }, () => one);
const NAMED = read("spring-light", [finding("spring-light")]);
const ALIKE = read("spring-light", [finding("spring-stretched", "spring-light")]);
const SECOND = read("spring-light", [finding("weights-dry"), finding("spring-light")]);
const NOTHING = read("spring-light", []);

describe("hand", () => {
  it("is met by 90 of 100, by name or as looking alike, and missed by 89", () => {
    const found = [...times(45, NAMED), ...times(44, ALIKE)];
    expect(hand.figures([...found, ALIKE, ...times(10, SECOND)])[0]?.met).toBe(true);
    expect(hand.figures([...found, NOTHING, ...times(10, SECOND)])[0]?.met).toBe(false);
  });

  it("tells beside it what was named first and what was made wrong", () => {
    const figures = hand.figures([NAMED, ALIKE, NOTHING, SECOND]);
    const shown = figures.map(({ what, measured }) => [what, measured]);
    expect(shown).toContainEqual(["… named first", "25.0 %"]);
    expect(shown).toContainEqual(["… kinds told by the first finding, on average", "1.33"]);
    expect(shown).toContainEqual(["… missed", "spring-light 2/4: nothing, weights-dry"]);
  });

  it("takes a link that is off for a plate that does not follow, and counts good units apart", () => {
    const figures = hand.figures([
      read("link-off", [finding("plate-not-following")]),
      read(null, [finding("weights-dry")]),
    ]);
    expect(figures[0]).toMatchObject({ measured: "100.0 %", count: 1 });
    expect(figures.at(-1)).toMatchObject({ measured: "100.0 %", count: 1, met: null });
  });
});
