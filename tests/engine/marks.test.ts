// Marks to expect with a timing light: against a printed example, and by hand.
import { describe, expect, it } from "vitest";
import type { CurvePoint } from "../../core/documents.ts";
import { advanceAt } from "../../core/engine/advance.ts";
import { engineMark, engineMarks } from "../../core/engine/marks.ts";
import { specifiedMark } from "../../core/engine/specified.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { CURVES, conditions, curve, FOUR } from "./curves.ts";

const V8 = {
  description: "V8 of the worked example",
  lobes: 8,
  rotation: "cw",
  speed: {
    degrees: "distributor",
    rpm: "distributor",
    source: "Rootes WSM.143/144 p. 72",
    rows: [{ at: 1600, degrees: "5¼ to 7" }],
  },
};

describe("the worked example of a workshop manual", () => {
  // Rootes WSM.143/144 p. 72 (V8): static 6° before top dead centre, 3200 engine rpm, 6 distributor
  // degrees → 6 + 2 × 6 = 18° before top dead centre; 1600 distributor rpm → 5¼ to 7 distributor degrees.
  const unit = unitFromFile(V8, "v8");
  const { settings } = conditions({ initialTimingCrankshaftDeg: 6, atEngineRpm: 0 });

  it("gives 18° for the measured 6°", () => {
    const measured = { speed: { rising: curve([[1600, 6]]), falling: [] }, capsules: [] };
    const { plugged } = engineMark(unit, measured, { ...conditions(), settings }, 3200);
    expect(plugged.rising?.markCrankshaftDeg).toBeCloseTo(18, 12);
    // Twice that of the advance: 2 × 1.96 × 0.05.
    expect(plugged.rising?.expandedUncertaintyCrankshaftDeg).toBeCloseTo(0.196, 3);
  });

  it("gives 16.5 to 20° for the printed limits", () => {
    const limits = specifiedMark(unit, settings, 3200);
    expect(limits?.min).toBeCloseTo(16.5, 12);
    expect(limits?.max).toBeCloseTo(20, 12);
  });
});

describe("advance between and beyond readings", () => {
  const at = (x: number, points: readonly CurvePoint[] = CURVES.speed.rising) =>
    advanceAt("speed", points, x);
  const ownPart = (x: number, points?: readonly CurvePoint[]) =>
    at(x, points)?.budget.find(({ name }) => name === "between readings")?.standardUncertainty;

  it("is nothing at rest, and the reading's own at a reading", () => {
    expect(at(0)).toMatchObject({ advanceDeg: 0, budget: [] });
    expect(at(800)).toMatchObject({ advanceDeg: 4, budget: CURVES.speed.rising[2]?.budget });
  });

  it("lies straight over the square of speed", () => {
    // 1200² = 1.44, 2000² = 4; 1600² = 2.56 is 1.12/2.56 of the way: 8 + 4 × 0.4375.
    expect(at(1600)?.advanceDeg).toBeCloseTo(9.75, 12);
  });

  it("is as uncertain as the neighbouring stretches leave it", () => {
    // From below: (8 − 4)/(1.44 − 0.64) = 5 a (1000 rpm)², 8 + 5 × 1.12 = 13.6, no more than 12; from
    // above level at 12. Both 2.25° above the line.
    expect(ownPart(1600)).toBeCloseTo(2.25 / Math.sqrt(3), 9);
    // Slopes of 4, 2 and 1 a (1000 rpm)²: the steeper side, drawn on, is the farther of the two.
    const round = curve([
      [500, 1],
      [1000, 4],
      [1500, 6.5],
      [2000, 8.25],
    ]);
    expect(ownPart(1000 * Math.sqrt(1.625), round)).toBeCloseTo(1.25 / Math.sqrt(3), 9);
    // A straight line on both sides leaves nothing.
    const line = curve([
      [500, 2.5],
      [1000, 10],
      [1500, 22.5],
      [2000, 40],
    ]);
    expect(ownPart(1250, line)).toBeCloseTo(0, 9);
    // A stretch from rest is none to go by: below the first reading but one it may be anywhere between.
    const late = curve([
      [800, 4],
      [1200, 8],
      [1600, 12],
    ]);
    const middle = Math.sqrt((800 ** 2 + 1200 ** 2) / 2);
    expect(ownPart(middle, late)).toBeCloseTo(2 / Math.sqrt(3), 9);
    // Without neighbours it may have moved anywhere between: from rest to 6°, halfway over n².
    expect(ownPart(1600 / Math.SQRT2, curve([[1600, 6]]))).toBeCloseTo(3 / Math.sqrt(3), 9);
  });

  it("is known past the last reading only where the curve is level", () => {
    expect(at(2500)?.advanceDeg).toBe(12);
    expect(at(2500, CURVES.speed.rising.slice(0, 5))).toBeNull();
    expect(at(900, [])).toBeNull();
    expect(at(900, curve([[800, 4]]))).toBeNull();
  });
});

describe("marks", () => {
  const mark = (settings: Parameters<typeof conditions>[0], engineRpm: number) =>
    engineMark(FOUR, CURVES, conditions(settings), engineRpm);

  it("count from the speed at which the timing is set", () => {
    // 10 + 2 (8 − 0) at rest; set at 1600 engine rpm, where the unit has 4° already, 10 + 2 (8 − 4).
    expect(mark({}, 2400).plugged.rising?.markCrankshaftDeg).toBeCloseTo(26, 12);
    expect(mark({ atEngineRpm: 1600 }, 2400).plugged.rising?.markCrankshaftDeg).toBeCloseTo(18, 12);
    expect(mark({ atEngineRpm: 1600 }, 800).plugged.rising?.markCrankshaftDeg).toBeCloseTo(2, 12);
    expect(mark({ atEngineRpm: 1600 }, 1600).plugged.rising).toEqual({
      markCrankshaftDeg: 10,
      expandedUncertaintyCrankshaftDeg: 0,
    });
  });

  it("count from the rising branch on the way down as well", () => {
    const falling = curve([
      [800, 5],
      [1200, 9],
      [2000, 12],
    ]);
    const curves = { ...CURVES, speed: { ...CURVES.speed, falling } };
    const down = (engineRpm: number) =>
      engineMark(FOUR, curves, conditions({ atEngineRpm: 1600 }), engineRpm).plugged.falling
        ?.markCrankshaftDeg;
    // 10 + 2 (9 − 4), and 10 + 2 (5 − 4) where it was set with speed rising.
    expect(down(2400)).toBeCloseTo(20, 12);
    expect(down(1600)).toBeCloseTo(12, 12);
  });

  it("lose what both angles share with the reference", () => {
    const shared = { name: "reference", standardUncertainty: 1, degreesOfFreedom: null } as const;
    const rising = CURVES.speed.rising.map((point) => ({
      ...point,
      budget: [...point.budget, { ...shared, shape: "normal" as const, shared: true }],
    }));
    const curves = { ...CURVES, speed: { rising, falling: [] } };
    const uncertainty = (atEngineRpm: number) =>
      engineMark(FOUR, curves, conditions({ atEngineRpm }), 2400).plugged.rising
        ?.expandedUncertaintyCrankshaftDeg;
    // Two readings of 0.05° each: 2 × 1.96 × 0.05 √2. At rest there is no second reading to share with.
    expect(uncertainty(1600)).toBeCloseTo(0.2772, 3);
    expect(uncertainty(0)).toBeCloseTo(2 * 1.96 * Math.hypot(1, 0.05), 2);
  });

  it("add the capsule by what feeds it", () => {
    // 10 + 2 × 0 at idle, 26 at 2400; the capsule's 8° add 16, its 4° at cruise 8.
    const range = (settings: Parameters<typeof conditions>[0], engineRpm: number) => {
      const { unloaded } = mark(settings, engineRpm);
      return unloaded && [unloaded.fromCrankshaftDeg, unloaded.toCrankshaftDeg];
    };
    expect(range({ vacuumPort: "manifold" }, 800)).toEqual([26, 26]);
    expect(range({ vacuumPort: "manifold" }, 2400)).toEqual([42, 42]);
    expect(range({ vacuumPort: "ported" }, 800)).toEqual([10, 10]);
    expect(range({ vacuumPort: "ported" }, 2400)).toEqual([26, 42]);
    expect(range({ vacuumPort: "none" }, 2400)).toBeNull();
    expect(mark({}, 2400).cruise?.markCrankshaftDeg).toBeCloseTo(34, 12);
    expect(mark({ vacuumPort: "none" }, 2400).cruise).toBeNull();
  });

  it("put a retarding capsule's range the right way round", () => {
    const [capsule] = CURVES.capsules;
    const rising = capsule?.rising.map((point) => ({ ...point, advanceDeg: -point.advanceDeg }));
    const curves = { ...CURVES, capsules: [{ ...capsule, rising }] } as typeof CURVES;
    const { unloaded } = engineMark(FOUR, curves, conditions({ vacuumPort: "ported" }), 2400);
    expect(unloaded).toMatchObject({ fromCrankshaftDeg: 10, toCrankshaftDeg: 26 });
  });

  it("are one for one on an engine that turns with its breaker", () => {
    const { plugged } = engineMark({ ...FOUR, driveRatio: 1 }, CURVES, conditions(), 1200);
    expect(plugged.rising?.markCrankshaftDeg).toBeCloseTo(18, 12);
  });

  it("stand at the speeds asked for, else from idle to the end of the curve, 4000 at most", () => {
    const speeds = (settings: Parameters<typeof conditions>[0]) =>
      engineMarks(FOUR, CURVES, conditions(settings)).map(({ engineRpm }) => engineRpm);
    expect(speeds({ engineSpeedsRpm: [900, 1700] })).toEqual([900, 1700]);
    expect(speeds({ atEngineRpm: 650 })).toEqual([
      650, 800, 1000, 1500, 2000, 2500, 3000, 3500, 4000,
    ]);
  });
});

describe("the specification at the mark", () => {
  const unit = unitFromFile(
    {
      ...V8,
      speed: {
        ...V8.speed,
        rows: [
          { start: "300 to 400" },
          { at: 1000, degrees: "4 to 6" },
          { endBy: 2000, degrees: "10 ± 1" },
        ],
      },
    },
    "v8",
  );
  const mark = (engineRpm: number, atEngineRpm = 0) =>
    specifiedMark(unit, conditions({ atEngineRpm }).settings, engineRpm);

  it("is the initial timing until advance may begin, and limits at and between rows", () => {
    expect(mark(500)).toEqual({ min: 10, max: 10 });
    expect(mark(2000)).toEqual({ min: 18, max: 22 });
    expect(mark(5000)).toEqual({ min: 28, max: 32 });
    // 1500² lies (2.25 − 1)/3 of the way from 1000² to 2000²: 4 + 5 × 0.41667 and 6 + 5 × 0.41667.
    expect(mark(3000)?.min).toBeCloseTo(10 + 2 * 6.08333, 4);
    expect(mark(3000)?.max).toBeCloseTo(10 + 2 * 8.08333, 4);
  });

  it("counts the limits twice where the timing is set on the curve", () => {
    expect(mark(4000, 2000)).toEqual({ min: 10 + 2 * (9 - 6), max: 10 + 2 * (11 - 4) });
    expect(mark(2000, 2000)).toBeNull();
  });
});
