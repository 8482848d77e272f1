// A unit typed on the page: what is read of it, what is wrong with it, what looks odd.
import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Said, textOf } from "../../core/said.ts";
import { typedFrom } from "../../core/typedUnit/fromFile.ts";
import { hintsOf } from "../../core/typedUnit/hints.ts";
import { previewOf } from "../../core/typedUnit/preview.ts";
import {
  EMPTY_CAPSULE,
  EMPTY_UNIT,
  type TypedCapsule,
  type TypedSpeed,
  type TypedUnit,
  unitFileOf,
} from "../../core/typedUnit/typed.ts";
import type { UnitFile } from "../../core/unitFile/schema.ts";
import { unitFromFile } from "../../core/unitFile.ts";

function english(problem: Said | null | undefined): string {
  return problem ? textOf(problem) : "";
}

const FOUR: TypedUnit = {
  ...EMPTY_UNIT,
  description: "A typed four",
  lobes: "4",
  rotation: "cw",
  speed: {
    ...EMPTY_UNIT.speed,
    degrees: "distributor",
    rpm: "distributor",
    source: "a manual, p. 1",
    lines: "no advance below 300\n8 at 700\n\nmax 10 by 900",
  },
};

const withSpeed = (speed: Partial<TypedSpeed>): TypedUnit => ({
  ...FOUR,
  speed: { ...FOUR.speed, ...speed },
});

const withCapsule = (capsule: Partial<TypedCapsule>): TypedUnit => ({
  ...FOUR,
  capsules: [
    {
      ...EMPTY_CAPSULE,
      name: "capsule",
      degrees: "distributor",
      vacuum: "mmHg",
      source: "a manual, p. 2",
      lines: "starts at 100–120\n5 at 200\nmax 8 by 300",
      ...capsule,
    },
  ],
});

const codes = (typed: TypedUnit): string[] => previewOf(typed, null).hints.map(({ code }) => code);

describe("lines as they are typed", () => {
  it("are read one by one, numbered as they stand", () => {
    const { speed, unit, problem } = previewOf(FOUR, null);
    expect(problem).toBeNull();
    expect(speed.map(({ number, rows }) => [number, rows[0]?.kind])).toEqual([
      [1, "noneBelow"],
      [2, "at"],
      [4, "end"],
    ]);
    expect(speed[1]?.rows[0]).toMatchObject({ x: 700, limitsDeg: { min: 7, max: 9 } });
    expect(unit?.speedBand?.rows).toHaveLength(3);
  });

  it("are read on the crankshaft's scales as half of them at the distributor", () => {
    const { speed } = previewOf(withSpeed({ degrees: "crankshaft", rpm: "crankshaft" }), null);
    expect(speed[2]?.rows[0]).toMatchObject({ kind: "end", x: 450, limitsDeg: { min: 4, max: 6 } });
  });

  it("may name their scales themselves", () => {
    const lines = "0 dist at 300 dist rpm; 8 dist at 700 dist rpm; max 10 dist by 900 dist rpm";
    const { speed, unit } = previewOf(withSpeed({ degrees: "", rpm: "", lines }), null);
    expect(speed).toHaveLength(1);
    expect(speed[0]?.rows.map(({ kind }) => kind)).toEqual(["at", "at", "end"]);
    expect(unit?.speedBand?.rows).toHaveLength(3);
  });

  it("say what is wrong with the one that is, and leave the others as they are", () => {
    const { speed, unit, problem } = previewOf(
      withSpeed({ lines: "8 at 700\nabout ten at 900\n5 at 400" }),
      null,
    );
    expect(speed.map((line) => line.problem === null)).toEqual([true, false, false]);
    expect(english(speed[1]?.problem)).toMatch(/^"about ten at 900" is no line such as/);
    // The third line is good by itself, and stands below the first.
    expect(english(speed[2]?.problem)).toBe(
      "this row stands below the one before. Put the rows in rising order.",
    );
    expect([unit, problem]).toEqual([null, null]);
  });

  it("ask for the scale that neither they nor the fields name", () => {
    const { speed } = previewOf(withSpeed({ rpm: "" }), null);
    expect(english(speed[1]?.problem)).toMatch(/^is its speed the distributor's or the engine's\?/);
  });

  it("refuse a vacuum beyond the atmosphere", () => {
    const { capsules } = previewOf(withCapsule({ vacuum: "inHg", lines: "5 at 200" }), null);
    expect(english(capsules[0]?.[0]?.problem)).toBe("200 inHg is more than there can be.");
  });

  it("never make the reading of them throw", () => {
    const words = fc.constantFrom(
      "8",
      "at",
      "700",
      "max",
      "crank",
      ",",
      "5¼–7",
      "by",
      "below",
      "–",
    );
    fc.assert(
      fc.property(fc.array(words, { maxLength: 8 }), fc.string({ maxLength: 12 }), (some, any) => {
        const lines = `${some.join(" ")}\n${any}`;
        expect(previewOf(withSpeed({ lines }), null).speed.length).toBeLessThanOrEqual(2);
      }),
    );
  });
});

describe("the other fields", () => {
  it.each([
    [{ lobes: "" }, "The unit, lobes: is missing, and so is lobeAnglesDeg."],
    [{ lobes: "four" }, "The unit, lobes: expected number, received string."],
    [{ rotation: "" as const }, "The unit, rotation: "],
    [{ description: "" }, "The unit, description: is missing."],
    [{ trigger: "hall" as const }, "The unit, trigger.firingEdge: is missing"],
  ])("are named where they are wrong: %j", (change, said) => {
    const { unit, problem } = previewOf({ ...FOUR, ...change }, null);
    expect(unit).toBeNull();
    expect(english(problem).startsWith(said)).toBe(true);
  });

  it("stay unsaid where they are empty, and become the file's where they are not", () => {
    const typed: TypedUnit = {
      ...withCapsule({ holdVacuum: "380", holdSeconds: "15", holdDropMax: "20" }),
      dwell: "51 ± 4",
      vacuumPort: "ported",
      initialTimingDeg: "7,5",
      engineSource: "a manual, p. 3",
    };
    const file = unitFileOf(typed, null);
    expect(Object.keys(file)).not.toContain("springs");
    const unit = unitFromFile(file, "typed");
    expect(unit.dwellLimitsDeg).toEqual({ min: 47, max: 55 });
    expect(unit.engine).toMatchObject({ initialTimingCrankshaftDeg: 7.5, vacuumPort: "ported" });
    expect(unit.capsules[0]?.hold?.seconds).toBe(15);
  });

  it("mark a target of one's own, whose source needs no saying", () => {
    const { unit } = previewOf(withSpeed({ source: "", isOwnTarget: true }), null);
    expect(unit?.speedBand).toMatchObject({ isOwnTarget: true });
    expect(english(previewOf(withSpeed({ source: "" }), null).problem)).toContain("speed.source");
  });
});

describe("an edit of a file", () => {
  const folder = new URL("../../examples/", import.meta.url);
  const names = readdirSync(folder).filter((name) => name.endsWith(".unit.json"));

  it.each(names)("of %s that changes nothing leaves the unit as it was", (name) => {
    const file = JSON.parse(readFileSync(new URL(name, folder), "utf8")) as UnitFile;
    const again = unitFileOf(typedFrom(file), file);
    expect(unitFromFile(again, name)).toEqual(unitFromFile(file, name));
  });

  it("turns rows into lines where lines can say them, and keeps them where not", () => {
    const rows = [
      { start: "10 to 15" },
      { at: 20, degrees: 4 },
      { endBy: null, degrees: "11 ± 1" },
    ];
    const file = {
      ...unitFileOf(FOUR, null),
      speed: { source: "s", degrees: "distributor", rpm: "distributor", rows },
    } as unknown as UnitFile;
    const typed = typedFrom(file);
    expect(typed.speed.lines).toBe("starts at 10 to 15\n4 at 20\nmax 11 ± 1");
    const loose = { ...file, speed: { ...file.speed, rows: [{ at: 20, min: 4 }] } } as UnitFile;
    expect(typedFrom(loose).speed).toMatchObject({ lines: "", keptRows: [{ at: 20, min: 4 }] });
  });
});

describe("what looks odd", () => {
  it("is nothing in a plain unit but that a tolerance was added", () => {
    expect(codes(FOUR)).toEqual(["tolerance-added"]);
    expect(codes(withSpeed({ toleranceDeg: "0.5" }))).toEqual([]);
  });

  const speed = (lines: string, change: Partial<TypedSpeed> = {}) =>
    codes(withSpeed({ lines, toleranceDeg: "1", ...change }));

  it("is more advance, or speeds, than a distributor has", () => {
    expect(speed("0 at 300\nmax 28 by 2400")).toEqual(["much-advance"]);
    expect(speed("0 at 300\nmax 14 by 4800")).toEqual(["crankshaft-speeds"]);
    const crank = { degrees: "crankshaft", rpm: "crankshaft" } as const;
    expect(speed("0 at 300\nmax 14 by 1200", crank)).toEqual(["distributor-speeds"]);
    expect(speed("0 at 600\nmax 28 by 4800", crank)).toEqual([]);
    expect(speed("0 at 600\nmax 14 by 4800", { ...crank, degrees: "distributor" })).toEqual([
      "mixed-shafts",
    ]);
  });

  it("is an end before the start has come, and advance that falls", () => {
    expect(speed("starts at 400–900\nmax 10 by 800")).toContain("end-before-start");
    expect(speed("0 at 300\n12 at 1000\n9 at 1500\nmax 14 by 2000")).toEqual(["falls"]);
    // Within the limits of both it need not fall.
    expect(speed("0 at 300\n12 at 1000\n11 at 1500\nmax 14 by 2000")).toEqual([]);
  });

  it("is a band without beginning or end", () => {
    expect(speed("8 at 700")).toEqual(["no-begin", "no-end"]);
  });

  it("is a vacuum that no engine draws, or that moves nothing", () => {
    const capsule = (change: Partial<TypedCapsule>) => {
      const { unit } = previewOf(withCapsule({ toleranceDeg: "1", ...change }), null);
      return unit === null ? null : hintsOf(unit).map(({ code }) => code);
    };
    expect(capsule({})).toEqual(["tolerance-added"]);
    expect(capsule({ lines: "starts at 600–620\nmax 8 by 700" })).toContain("deep-vacuum");
    expect(capsule({ vacuum: "mbar", lines: "starts at 3–4\nmax 8 by 12" })).toContain(
      "shallow-vacuum",
    );
  });
});
