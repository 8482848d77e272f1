// How far a run may go by the rows that are printed, which sentence says that a plan goes farther, and how long it takes.
import { describe, expect, it } from "vitest";
import type { CapsulePlan, HoldPlan, Plan, SweepChoice } from "../../core/plan.ts";
import {
  beyondLastX,
  highestSpeedRpm,
  highestVacuumPa,
  lastX,
  onsetX,
  type RigReach,
} from "../../core/planFile/reach.ts";
import { timeline, walkLimits } from "../../core/planFile/walk.ts";
import type { Band, BandRow } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";

const RIG: RigReach = {
  speedMinRpm: 60,
  speedMaxRpm: 4000,
  vacuumMaxPa: 80_000,
  ambientPa: 70_000,
};
const limits = (min: number | null, max: number | null) => ({ limitsDeg: { min, max } });
const at = (x: number, min: number | null, max: number | null): BandRow => ({
  ...{ kind: "at", printed: "", x },
  ...limits(min, max),
});
const end = (x: number | null): BandRow => ({ kind: "end", printed: "", x, ...limits(9, 11) });
const noneBelow = (x: number): BandRow => ({
  ...{ kind: "noneBelow", printed: "", x },
  ...limits(-0.5, 0.5),
});
const start = (fromX: number, toX: number): BandRow => ({
  ...{ kind: "start", printed: "", fromX, toX },
});
const band = (...rows: BandRow[]): Band => ({
  ...{ rows, judgedOn: "both", source: "invented", workshopToleranceDeg: null, scales: null },
});

describe("the last place that a specification names", () => {
  it.each<[string, Band | null, number | null]>([
    ["without one", null, null],
    ["without rows", band(), null],
    ["of rows in any order", band(at(2000, 9, 11), at(1000, 5, 7)), 2000],
    ["of a start alone: where it ends", band(start(300, 450)), 450],
    ["of an end without its place", band(end(null)), null],
    ["of an end with it", band(at(1000, 5, 7), end(1800)), 1800],
    ["of an end without its place, and a row", band(at(1000, 5, 7), end(null)), 1000],
  ])("%s", (_, one, last) => {
    expect(lastX(one)).toBe(last);
    // A tenth more, so that the stop shows.
    if (last === null) expect(beyondLastX(one)).toBeNull();
    else expect(beyondLastX(one)).toBeCloseTo(1.1 * last, 9);
  });

  it("bounds the speed unless the unit says more itself", () => {
    const unit = unitFromFile({ description: "four", lobes: 4, rotation: "cw" }, "unit");
    expect(highestSpeedRpm({ ...unit, speedBand: band(at(1000, 5, 7)) })).toBeCloseTo(1100, 9);
    const faster = { ...unit, speedMaxRpm: 2500, speedBand: band(at(1000, 5, 7)) };
    expect(highestSpeedRpm(faster)).toBe(2500);
  });
});

describe("where advance has surely not begun", () => {
  it.each<[string, Band | null, number | null]>([
    ["is not told without rows", band(), null],
    [
      "is where a start begins, whatever stands before it",
      band(noneBelow(500), start(300, 450)),
      300,
    ],
    ["is where there is none below", band(at(1000, 5, 7), noneBelow(400)), 400],
    ["is a row of no advance", band(at(400, -1, 1), at(1000, 5, 7)), 400],
    ["is no row that allows more one way", band(at(400, -1, 2), at(1000, 5, 7)), 240],
    ["is no row without a lower limit", band(at(400, null, 0), at(1000, 5, 7)), 240],
    ["is no row without an upper limit", band(at(400, 0, null), at(1000, 5, 7)), 240],
    [
      "is six tenths of the first row with a place, an end left out",
      band(end(1800), at(1000, 5, 7)),
      600,
    ],
    ["is not told by an end alone", band(end(1800)), null],
  ])("%s", (_, one, onset) => {
    expect(onsetX(one)).toBe(onset);
  });
});

describe("the highest vacuum here", () => {
  it.each([
    // 10 kPa short of nothing, of what the rig measures or the standard atmosphere of 101 325 Pa.
    [{}, 60_000],
    [{ ambientPa: null, vacuumMaxPa: 100_000 }, 91_325],
    [{ ambientPa: null }, 80_000],
    [{ vacuumMaxPa: 0 }, 0],
    [{ ambientPa: 9000 }, 0],
  ])("with %j is %d Pa", (changes, highestPa) => {
    expect(highestVacuumPa({ ...RIG, ...changes })).toBe(highestPa);
  });
});

const PLAN: Plan = {
  ...{ referenceRpm: 150, speedsRpm: [500, 1000], vacuumSweepRpm: 600, rampRpmPerS: 100 },
  ...{ turnsPerReading: 50, secondsPerReading: 2, capsules: [{ hold: null, vacuumsPa: [] }] },
};
const HOLD: HoldPlan = { vacuumPa: 50_000, settleS: 5, seconds: 60, dropMaxPa: 2000 };
const CHOICE: SweepChoice = { knownWithinDeg: 0.5, readingsMax: 40, secondsMax: 600 };
const capsule = (changes: Partial<CapsulePlan>) => ({
  capsules: [{ hold: null, vacuumsPa: [], ...changes }],
});
const hold = (changes: Partial<HoldPlan>) => capsule({ hold: { ...HOLD, ...changes } });
const chosen = (changes: Partial<SweepChoice>) => ({ speedChoice: { ...CHOICE, ...changes } });
const vacuumsChosen = (vacuumsPa: number[], changes: Partial<SweepChoice> = {}) =>
  capsule({ vacuumsPa, vacuumChoice: { ...CHOICE, ...changes } });

describe("a plan that goes too far", () => {
  const unit = unitFromFile(
    {
      ...{ description: "four", lobes: 4, rotation: "cw", speedMaxRpm: 3000 },
      capsules: [{ name: "advance" }],
    },
    "unit",
  );
  const said = (changes: Partial<Plan>) => {
    try {
      walkLimits({ ...PLAN, ...changes }, unit, RIG);
      return null;
    } catch (error) {
      return (error as { what: string }).what;
    }
  };

  it.each<[Partial<Plan>, string | null]>([
    [{ speedsRpm: [Number.POSITIVE_INFINITY] }, "speed sweep: Infinity rpm is no speed."],
    [{ secondsPerReading: 0 }, "reading: 0 seconds is not within 0.1 to 600."],
    [chosen({ knownWithinDeg: 5.1 }), "speed sweep: 5.1 degrees is not within 0.02 to 5."],
    [chosen({ readingsMax: 201 }), "speed sweep: 201 readings is not within 4 to 200."],
    [chosen({ secondsMax: 0.5 }), "speed sweep: 0.5 seconds is not within 1 to 7200."],
    [chosen({ secondsMax: 1 }), null],
    [{ speedsRpm: [500], ...chosen({}) }, "speed sweep: there is no range to choose from."],
    [vacuumsChosen([10_000]), "vacuum sweep of the advance: there is no range to choose from."],
    [
      vacuumsChosen([0, 10_000], { readingsMax: 3 }),
      "vacuum sweep of the advance: 3 readings is not within 4 to 200.",
    ],
    // Two of reference and return.
    [{ ...chosen({ readingsMax: 150 }), ...vacuumsChosen([0, 10_000], { readingsMax: 48 }) }, null],
    [
      { ...chosen({ readingsMax: 150 }), ...vacuumsChosen([0, 10_000], { readingsMax: 49 }) },
      "plan: 201 readings are more than 200.",
    ],
    [
      hold({ settleS: -1 }),
      "hold test of the advance: -1 seconds of settling is not within 0 to 600.",
    ],
    [
      hold({ dropMaxPa: 50_001 }),
      "hold test of the advance: a drop of 50.001 kPa is not between 0 and the vacuum itself.",
    ],
    [hold({ dropMaxPa: 1 }), null],
    [
      capsule({ vacuumsPa: [20_000, 10_000] }),
      "vacuum sweep of the advance: the steps do not rise.",
    ],
    [capsule({ vacuumsPa: [60_000.5] }), null],
    [{ speedsRpm: [3000 + 0.05] }, null],
    [{ referenceRpm: 60 - 0.05 }, null],
    [
      capsule({ vacuumsPa: [60_000.6] }),
      "vacuum sweep of the advance: 60.0006 kPa is more than a pump reaches here, 60 kPa.",
    ],
    [
      { ...hold({}), vacuumSweepRpm: 50 },
      "speed of vacuum sweeps: 50 rpm is below the rig's lowest, 60 rpm.",
    ],
  ])("%j is told: %s", (changes, what) => {
    expect(said(changes)).toBe(what);
  });

  it("may meet the rig's own limits by rounding, to half a digit on the wire (clause 1.7)", () => {
    const fast = { ...unit, speedMaxRpm: 9000 };
    const plan = { ...PLAN, speedsRpm: [4000 + 0.05], ...capsule({ vacuumsPa: [80_000.5] }) };
    walkLimits(plan, fast, { ...RIG, ambientPa: 100_000 });
  });
});

describe("how long a plan takes", () => {
  const plan: Plan = {
    ...{ referenceRpm: 150, speedsRpm: [], capsules: [], vacuumSweepRpm: 300, rampRpmPerS: 150 },
    ...{ turnsPerReading: 17, secondsPerReading: 600 },
  };
  const rounded = (changes: Partial<Plan>) =>
    timeline({ ...plan, ...changes }).map((seconds) => Math.round(10 * seconds) / 10);

  it("by chosen speeds has the look at the whole range before them", () => {
    // Reference 1 + 1.2 + 1.2 + 6.8, once more 1.2; the look twice 4 ln 4 + 4 + 6; then 600, 900, 1200 and back.
    const choice = { ...CHOICE, readingsMax: 6 };
    expect(rounded({ speedsRpm: [600, 700, 1200], speedChoice: choice })).toEqual([
      10.2, 47.8, 51.3, 54.5, 55.6, 59.2, 63.5, 75.7,
    ]);
  });

  it("leaves out capsules with nothing to do, and may have holds or sweeps alone", () => {
    // Vacuum speed 1 + 0.6, hold 1.5 + 2 + 3; the next capsule 0.6 and six times 1.5 + 1.2 + 3.4; return 1 + 1.2 + 1.2 + 6.8.
    const capsules = [
      { hold: null, vacuumsPa: [] },
      { hold: { ...HOLD, settleS: 2, seconds: 3 }, vacuumsPa: [] },
      { hold: null, vacuumsPa: [0, 16_000], vacuumChoice: { ...CHOICE, readingsMax: 6 } },
    ];
    expect(rounded({ capsules })).toEqual([10.2, 18.3, 25, 31.1, 37.2, 43.3, 49.4, 55.5, 65.7]);
  });
});
