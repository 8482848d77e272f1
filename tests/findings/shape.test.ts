// Curves by springs, stop and friction, and what faults make of them.
import { describe, expect, it } from "vitest";
import { weightsFaults } from "../../core/findings/curveFaults.ts";
import type { FindingKind } from "../../core/findings/finding.ts";
import { nominalOf } from "../../core/findings/nominal.ts";
import { readings, type Shape } from "../../core/findings/shape.ts";
import type { Band } from "../../core/unit.ts";

/** Starts at 300 rpm; 5° at 500 rpm; then steeper to the stop of 10° at 900 rpm. */
const SOUND: Shape = {
  power: 2,
  first: { restLoad: 90_000, fromDeg: 0, loadPerDeg: 32_000, leastLoad: 0 },
  second: { restLoad: 0, fromDeg: 5, loadPerDeg: 80_000, leastLoad: 0 },
  lever: { perDeg: 0, perDeg2: 0 },
  stopDeg: 10,
  friction: 0,
  soundFriction: 0,
  isStuck: false,
  leftDeg: 0,
  delayUs: 0,
};

function rising(shape: Shape, ...speeds: number[]): number[] {
  return readings(
    shape,
    speeds.map((x) => ({ x, branch: "rising" as const })),
    100,
  );
}

function falling(shape: Shape, ...speeds: number[]): number[] {
  return readings(
    shape,
    speeds.map((x) => ({ x, branch: "falling" as const })),
    100,
  );
}

function with_(kind: FindingKind, part: string | null, size: number): Shape {
  const fault = weightsFaults(true).find((one) => one.kind === kind && one.part === part);
  if (fault === undefined) throw new Error(kind);
  return fault.change(SOUND, size);
}

function expectClose(found: readonly number[], expected: readonly number[]): void {
  expect(found).toHaveLength(expected.length);
  found.forEach((one, i) => {
    // The load is known at every 0.25° only, and the curve is straight in between.
    expect(Math.abs(one - (expected[i] as number))).toBeLessThan(0.15);
  });
}

describe("a sound unit", () => {
  it("follows the square of speed from row to row, and stays at its stop", () => {
    // 400 rpm: (160000 − 90000) / 32000 = 2.19°; 700 rpm: 5 + (490000 − 250000) / 112000 = 7.14°.
    expectClose(rising(SOUND, 100, 300, 400, 500, 700, 900, 2000), [0, 0, 2.19, 5, 7.14, 10, 10]);
  });

  it("with friction comes back by more than it went: half the gap in load either way", () => {
    const shape = { ...SOUND, friction: 0.1 };
    const [up = 0] = rising(shape, 600);
    const [middle = 0] = rising(SOUND, 600);
    const [down = 0] = falling(shape, 600);
    expect(up).toBeLessThan(middle);
    expect(down).toBeGreaterThan(middle);
    expect(middle - up).toBeCloseTo(down - middle, 0);
  });
});

describe("faults", () => {
  it("a stretched spring is early, parallel in the square of speed", () => {
    // A load less by 9000: of the first spring's 250000 in the middle of the travel.
    const shape = with_("spring-stretched", "first spring", 9000 / 250000);
    expectClose(rising(shape, Math.sqrt(81000), Math.sqrt(241000)), [0, 5]);
  });

  it("a light spring is early and steeper, a heavy one late and shallow", () => {
    const light = with_("spring-light", "first spring", 0.2);
    const heavy = with_("spring-heavy", "first spring", 0.2);
    expectClose(rising(light, Math.sqrt(0.8 * 90000), Math.sqrt(0.8 * 250000)), [0, 5]);
    expectClose(rising(heavy, Math.sqrt(1.2 * 90000), Math.sqrt(1.2 * 250000)), [0, 5]);
  });

  it("without its second spring a unit has no knee, without its first it stands at the knee at once", () => {
    expectClose(rising(with_("second-spring-missing", null, 0), Math.sqrt(90000 + 32000 * 9)), [9]);
    // Counted from the reference, where it stands at the knee already.
    const [early = 0] = rising(with_("first-spring-missing", null, 0), 110);
    expect(early).toBeLessThan(0.2);
    expectClose(rising(with_("first-spring-missing", null, 0), 2000), [5]);
  });

  it("counts from its rest at a standstill, where nothing pulls even at a cam without a first spring", () => {
    const shape = with_("first-spring-missing", null, 0);
    const speeds = [60, 2000].map((x) => ({ x, branch: "rising" as const }));
    expectClose(readings(shape, speeds, 0), [5, 10]);
  });

  it("an only spring missing, the cam is out at once", () => {
    const only = weightsFaults(true).filter(({ kind }) => kind === "first-spring-missing")[1];
    if (only === undefined) throw new Error("no such fault");
    const speeds = [110, 2000].map((x) => ({ x, branch: "rising" as const }));
    expectClose(readings(only.change(SOUND, 0), speeds, 0), [10, 10]);
  });

  it("a worn stop lets it go on", () => {
    expectClose(rising(with_("stop-worn", null, 2), 2000), [12]);
  });

  it("a worn loop moves the knee", () => {
    // The second spring takes up 2° later: 7° on the first spring's line at √(90000 + 7 × 32000).
    expectClose(rising(with_("second-spring-loop-worn", null, 2), Math.sqrt(314000)), [7]);
  });

  it("a cam that does not return is left advanced on the way down only", () => {
    const shape = with_("weights-not-returning", null, 1.5);
    expectClose(rising(shape, 150), [0]);
    expectClose(falling(shape, 150, 2000), [1.5, 10]);
  });

  it("nor is it held out where it never went so far", () => {
    const places = [150, 330].map((x) => ({ x, branch: "falling" as const }));
    const reached = readings(SOUND, [{ x: 330, branch: "falling" }], 0)[0] as number;
    expect(reached).toBeLessThan(1.5);
    expectClose(readings(with_("weights-not-returning", null, 1.5), places, 0), [0, reached]);
  });

  it("a delay retards in proportion to speed", () => {
    // 100 µs are 0.06° for each 100 rpm.
    expectClose(rising(with_("uncorrected-delay", null, 100), 2100), [10 - 1.2]);
  });
});

describe("nominalOf", () => {
  const at = (x: number, min: number, max: number) =>
    ({ kind: "at", printed: "", x, limitsDeg: { min, max } }) as const;
  const band = (rows: Band["rows"]): Band => ({
    rows,
    judgedOn: "rising",
    source: "invented",
    workshopToleranceDeg: null,
    scales: null,
  });

  it("goes through the middles of the rows, from the middle of the start to the stop a little before its row", () => {
    const nominal = nominalOf(
      band([
        { kind: "start", printed: "", fromX: 250, toX: 350 },
        at(500, 4, 6),
        { kind: "end", printed: "", x: 1000, limitsDeg: { min: 9, max: 11 } },
      ]),
      2,
    );
    expect(nominal?.knots).toEqual([
      { advanceDeg: 0, load: 90000 },
      { advanceDeg: 5, load: 250000 },
      { advanceDeg: 10, load: expect.closeTo(970 ** 2, 6) },
    ]);
    expect(nominal?.halfWidthDeg).toBe(1);
    expect(nominal?.startDoubt).toBe(25);
  });

  it("takes an advance of nothing at a place for no advance below it", () => {
    const end = { kind: "end", printed: "", x: 2300, limitsDeg: { min: 13, max: 15 } } as const;
    const none = {
      kind: "noneBelow",
      printed: "",
      x: 550,
      limitsDeg: { min: null, max: 1 },
    } as const;
    const nominal = nominalOf(band([at(550, -1, 1), end]), 2);
    expect(nominal).toEqual(nominalOf(band([none, end]), 2));
    // A little above the place, and not where the first slope leads down to.
    expect(Math.sqrt(nominal?.knots[0]?.load ?? 0)).toBeGreaterThan(550);
    expect(Math.sqrt(nominal?.knots[0]?.load ?? 0)).toBeLessThan(1050);
  });

  it("is null where nothing tells a slope", () => {
    expect(nominalOf(band([]), 2)).toBeNull();
    expect(
      nominalOf(
        band([{ kind: "noneBelow", printed: "", x: 400, limitsDeg: { min: null, max: 0.5 } }]),
        2,
      ),
    ).toBeNull();
  });
});
