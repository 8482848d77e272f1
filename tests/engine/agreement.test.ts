// The owner's readings: back at the distributor, and what they say one by one and together.
import { describe, expect, it } from "vitest";
import { judgeReadings } from "../../core/engine/agreement.ts";
import { type EngineReading, engineReadingsFromCsv } from "../../core/engine/readingsFile.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { CURVES, conditions, curve, FOUR } from "./curves.ts";

const plugged = (pairs: readonly (readonly [number, number])[]): EngineReading[] =>
  pairs.map(([engineRpm, markCrankshaftDeg]) => ({
    engineRpm,
    markCrankshaftDeg,
    vacuumLine: "plugged",
  }));
/** What the curves say: 10° at rest, 18, 26, 34 at these speeds. */
const EXPECTED = [
  [800, 10],
  [1600, 18],
  [2400, 26],
  [4000, 34],
] as const;
const changed = (mark: (wanted: number) => number) =>
  plugged(EXPECTED.map(([rpm, wanted]) => [rpm, mark(wanted)]));
const judged = (
  readings: readonly EngineReading[],
  settings: Parameters<typeof conditions>[0] = {},
) => judgeReadings(FOUR, CURVES, conditions(settings), readings);

describe("one reading", () => {
  const one = (mark: number, settings: Parameters<typeof conditions>[0] = {}) =>
    judged(plugged([[2400, mark]]), settings).readings[0];

  it("comes back at the distributor", () => {
    expect(one(27)).toMatchObject({ distributorRpm: 1200, advanceDistributorDeg: 8.5 });
    // Set at 1600 engine rpm, where the unit has 4° already.
    expect(one(18, { atEngineRpm: 1600 })?.advanceDistributorDeg).toBeCloseTo(8, 12);
  });

  it("agrees within 2° less what the curve is uncertain by, does not beyond 2° and that", () => {
    // The curve is known to 2 × 1.96 × 0.05 = 0.196° there.
    expect(one(27.8)?.agreement).toBe("agrees");
    expect(one(27.9)?.agreement).toBe("cannot tell");
    expect(one(28.1)?.agreement).toBe("cannot tell");
    expect(one(28.2)?.agreement).toBe("does not");
    expect(one(23.7)?.agreement).toBe("does not");
    expect(one(26)?.sentence).toBe("26.0° at 2400 rpm, line plugged: agrees, 26.0° expected.");
  });

  it("may lie anywhere between the branches", () => {
    const curves = { ...CURVES, speed: { ...CURVES.speed, falling: curve([[1200, 9]]) } };
    const [reading] = judgeReadings(FOUR, curves, conditions(), plugged([[2400, 29.5]])).readings;
    expect(reading?.expected).toMatchObject({ fromCrankshaftDeg: 26, toCrankshaftDeg: 28 });
    expect(reading).toMatchObject({ offCrankshaftDeg: 1.5, agreement: "agrees" });
  });

  it("cannot tell where the curve does not", () => {
    const curves = { speed: { rising: curve([[800, 4]]), falling: [] }, capsules: [] };
    const [reading] = judgeReadings(FOUR, curves, conditions(), plugged([[4000, 34]])).readings;
    expect(reading).toMatchObject({ expected: null, agreement: "cannot tell" });
    expect(reading?.sentence).toContain("the bench curve does not say what to expect");
  });

  it("with the line on is held against weights and capsule", () => {
    const on = (mark: number, vacuumPort: "manifold" | "ported", engineRpm = 2400) =>
      judged([{ engineRpm, markCrankshaftDeg: mark, vacuumLine: "on" }], { vacuumPort }).readings[0]
        ?.agreement;
    expect(on(42, "manifold")).toBe("agrees");
    expect(on(26, "manifold")).toBe("does not");
    expect(on(10, "ported", 800)).toBe("agrees");
    expect(on(26, "ported", 800)).toBe("does not");
    // Anything from 26 to 42 may be; to be there proves nothing.
    expect(on(34, "ported")).toBe("cannot tell");
    expect(on(46, "ported")).toBe("does not");
  });

  it("is held against the specification with the same band", () => {
    const unit = unitFromFile(
      {
        description: "x",
        lobes: 4,
        rotation: "cw",
        speed: {
          degrees: "distributor",
          rpm: "distributor",
          source: "invented",
          rows: [{ at: 1200, degrees: "6 to 10" }],
        },
      },
      "x",
    );
    const verdict = (mark: number) =>
      judgeReadings(unit, null, conditions(), plugged([[2400, mark]])).readings[0]?.specification;
    // 10 + 2 × 6 to 10 + 2 × 10.
    expect([24, 23.9, 20, 19.9].map(verdict)).toEqual([
      "within",
      "unproven",
      "unproven",
      "outside",
    ]);
  });
});

describe("all readings", () => {
  const summary = (readings: readonly EngineReading[]) => judged(readings).summary;

  it("agree", () => {
    expect(summary(changed((wanted) => wanted + 0.5))).toEqual([
      "4 of 4 readings agree with the bench curve, 0 do not, 0 cannot tell.",
    ]);
  });

  it("off by the same amount tell of the initial timing", () => {
    expect(summary(changed((wanted) => wanted + 5))[1]).toBe(
      "All are off by about the same, 5.0° (crankshaft) too early: the initial timing differs, not the curve. Set it again and read once more.",
    );
    expect(summary(changed((wanted) => wanted - 5))[1]).toContain("5.0° (crankshaft) too late");
  });

  it("off by the same amount at one place only tell nothing", () => {
    expect(summary(plugged([[2400, 31]]))[1]).toContain("cannot tell the initial timing");
    expect(
      summary(
        plugged([
          [2400, 31],
          [2500, 31.5],
        ]),
      )[1],
    ).toContain("cannot tell");
  });

  it("of twice or half the advance tell of a wrong scale", () => {
    expect(summary(changed((wanted) => 10 + 2 * (wanted - 10)))[1]).toContain("is twice what");
    expect(summary(changed((wanted) => 10 + (wanted - 10) / 2))[1]).toContain("is half what");
  });

  it("of another shape tell of the curve", () => {
    expect(
      summary(
        plugged([
          [800, 10],
          [1600, 25],
          [4000, 34],
        ]),
      )[1],
    ).toContain("unlike amounts");
  });

  it("off with the line on alone tell of line, port and capsule", () => {
    const on = { engineRpm: 2400, markCrankshaftDeg: 26, vacuumLine: "on" } as const;
    expect(summary([...changed((wanted) => wanted), on])[1]).toContain("look at the line");
  });
});

describe("the file of readings", () => {
  it("is CSV in any order, the line plugged where nothing is said", () => {
    const text = "mark_crankshaft_deg,engine_rpm,vacuum_line\n18,1600,On\n-2,800,\n";
    expect(engineReadingsFromCsv(text, "x.csv")).toEqual([
      { engineRpm: 800, markCrankshaftDeg: -2, vacuumLine: "plugged" },
      { engineRpm: 1600, markCrankshaftDeg: 18, vacuumLine: "on" },
    ]);
  });

  it.each([
    ["engine_rpm,mark_crankshaft_deg,vacuum_line\n800,10,off\n", 'column vacuum_line: "off" is'],
    ["engine_rpm\n800\n", "column mark_crankshaft_deg: a number is missing"],
    ["engine_rpm,mark_crankshaft_deg\n0,10\n", "column engine_rpm: 0 is not from 1 to 20000"],
  ])("%j is refused", (text, what) => {
    expect(() => engineReadingsFromCsv(text, "x.csv")).toThrow(what);
  });
});
