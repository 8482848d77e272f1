// Default plans, plan files and the walk through a plan's limits before anything moves.
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Plan, turnsAt } from "../../core/plan.ts";
import {
  defaultPlan,
  planFileJsonSchema,
  planFor,
  type RigReach,
  timeline,
  walkLimits,
} from "../../core/planFile.ts";
import type { Unit } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";

const RIG: RigReach = {
  speedMinRpm: 60,
  speedMaxRpm: 6000,
  vacuumMaxPa: 100000,
  ambientPa: 101325,
};

function json(name: string): unknown {
  return JSON.parse(readFileSync(new URL(`../../examples/${name}`, import.meta.url), "utf8"));
}

function unit(changes: object = {}): Unit {
  return unitFromFile({ ...(json("everyday.unit.json") as object), ...changes }, "unit");
}

function turns(plan: Plan): number {
  const up = plan.speedsRpm.reduce((sum, rpm) => sum + turnsAt(plan, rpm), 0);
  const vacuums = plan.capsules.reduce((sum, one) => sum + one.vacuumsPa.length, 0);
  const still = turnsAt(plan, plan.referenceRpm);
  return 2 * (up + vacuums * turnsAt(plan, plan.vacuumSweepRpm) + still);
}

describe("the default plan", () => {
  it("measures every row of the everyday unit, more near the start and one past the end", () => {
    const plan = defaultPlan(unit(), RIG);
    expect(plan).toEqual({
      referenceRpm: 150,
      speedsRpm: [180, 300, 400, 500, 650, 800, 1000, 1200, 1350, 1500, 1800, 2100, 2400, 2640],
      capsules: [
        {
          hold: { vacuumPa: 50000, settleS: 5, seconds: 15, dropMaxPa: 2000 },
          vacuumsPa: [5000, 10000, 11250, 12500, 13750, 15000, 17500, 20000, 30000, 40000, 44000],
        },
      ],
      vacuumSweepRpm: 240,
      rampRpmPerS: 300,
      turnsPerReading: 400,
      secondsPerReading: 7.4,
    });
    // Those on the way from one reading to the next make it more than 5000.
    expect(turns(plan)).toBeGreaterThanOrEqual(4800);
    expect(timeline(plan).at(-1)).toBeLessThan(540);
  });

  it("stops at a cautious speed where no specification says more, whatever the rig can do", () => {
    const plain = unitFromFile({ description: "d", lobes: 4, rotation: "cw" }, "unit");
    const { speedsRpm } = defaultPlan(plain, RIG);
    expect(speedsRpm.at(-1)).toBe(2000);
    expect(speedsRpm.length).toBeGreaterThanOrEqual(12);
  });

  it("follows speedMaxRpm down, and up only where there is no specification", () => {
    expect(defaultPlan(unit({ speedMaxRpm: 1500 }), RIG).speedsRpm.at(-1)).toBe(1500);
    expect(defaultPlan(unit({ speedMaxRpm: 5000 }), RIG).speedsRpm.at(-1)).toBe(2640);
    const plain = { description: "d", lobes: 4, rotation: "cw", speedMaxRpm: 3000 };
    expect(defaultPlan(unitFromFile(plain, "unit"), RIG).speedsRpm.at(-1)).toBe(3000);
  });

  it("leaves out what the rig cannot reach", () => {
    const plan = defaultPlan(unit(), { ...RIG, speedMaxRpm: 2000, ambientPa: 45000 });
    expect(plan.speedsRpm.at(-1)).toBe(2000);
    expect(plan.capsules[0]?.vacuumsPa.at(-1)).toBe(35000);
    expect(plan.capsules[0]?.hold?.vacuumPa).toBe(35000);
    const blind = defaultPlan(unit(), { ...RIG, vacuumMaxPa: 0 });
    expect(blind.capsules).toEqual([{ hold: null, vacuumsPa: [] }]);
  });

  it("sweeps vacuum beyond the stop, with a zero, where the rig is too fast for below the start", () => {
    const plan = defaultPlan(unit(), { ...RIG, speedMinRpm: 280 });
    expect(plan.vacuumSweepRpm).toBe(2520);
    expect(plan.capsules[0]?.vacuumsPa[0]).toBe(0);
  });

  it("keeps within its own limits for any specification and rig", () => {
    const speeds = fc
      .uniqueArray(fc.integer({ min: 400, max: 6000 }), { minLength: 1, maxLength: 12 })
      .map((some) => some.sort((a, b) => a - b));
    const rigs = fc.record({
      speedMinRpm: fc.integer({ min: 20, max: 200 }),
      speedMaxRpm: fc.integer({ min: 500, max: 8000 }),
      vacuumMaxPa: fc.constantFrom(0, 40000, 100000),
      ambientPa: fc.constantFrom(null, 70000, 101325),
    });
    fc.assert(
      fc.property(speeds, rigs, fc.constantFrom(1, 1.5, 2), (some, rig, driveRatio) => {
        const one = unit({
          driveRatio,
          speed: {
            degrees: "distributor",
            rpm: "crankshaft",
            source: "none",
            rows: some.map((at, i) => ({ at, degrees: i + 1 })),
          },
        });
        const plan = defaultPlan(one, rig);
        walkLimits(plan, one, rig);
        const top = plan.speedsRpm.at(-1) as number;
        for (const at of some) {
          const rpm = at / driveRatio;
          if (rpm < (plan.speedsRpm[0] as number) || rpm > top) continue;
          expect(Math.min(...plan.speedsRpm.map((x) => Math.abs(x - rpm)))).toBeLessThan(0.051);
        }
      }),
    );
  });
});

describe("a plan file", () => {
  it("changes nothing where it says nothing", () => {
    expect(planFor(unit(), RIG, {})).toEqual(defaultPlan(unit(), RIG));
    expect(planFor(unit(), RIG, null)).toEqual(defaultPlan(unit(), RIG));
  });

  it("puts speeds in order and takes steps", () => {
    expect(planFor(unit(), RIG, { speedsRpm: [900, 500, 900] }).speedsRpm).toEqual([500, 900]);
    const speedSteps = { fromRpm: 400, toRpm: 1000, stepRpm: 250 };
    expect(planFor(unit(), RIG, { speedSteps }).speedsRpm).toEqual([400, 650, 900, 1000]);
  });

  it("takes vacuums and hold for all capsules, and each capsule's own before", () => {
    const two = unitFromFile(json("quiet-six.unit.json"), "unit");
    const plan = planFor(two, RIG, {
      vacuums: { unit: "inHg", values: [10, 5] },
      hold: false,
      capsules: [{}, { hold: { unit: "kPa", vacuum: 30, seconds: 4 } }],
    });
    // 5 and 10 inHg by NIST SP 811 appendix B.8, to the pascal.
    expect(plan.capsules).toEqual([
      { hold: null, vacuumsPa: [16932, 33864] },
      {
        hold: { vacuumPa: 30000, settleS: 5, seconds: 4, dropMaxPa: 2000 },
        vacuumsPa: [16932, 33864],
      },
    ]);
  });

  it("adds a reading without vacuum where the sweep runs above the start of the weights", () => {
    const changes = { vacuumSweepRpm: 2500, vacuums: { unit: "kPa", values: [20] } };
    expect(planFor(unit(), RIG, changes).capsules[0]?.vacuumsPa).toEqual([0, 20000]);
  });

  it.each([
    [{ speed: 1 }, "speed: there is no such field here"],
    [{ speedsRpm: [500, "x"] }, "speedsRpm[1]: expected number, received string"],
    [
      { speedsRpm: [500], speedSteps: { fromRpm: 1, toRpm: 2, stepRpm: 1 } },
      "speedSteps: give either `speedsRpm` or `speedSteps`, not both",
    ],
    [
      { speedSteps: { fromRpm: 9, toRpm: 2, stepRpm: 1 } },
      "speedSteps.fromRpm: 9 is above `toRpm`, 2. Swap them",
    ],
    [
      { speedSteps: { fromRpm: 1, toRpm: 2000, stepRpm: 1e-9 } },
      "speedSteps.stepRpm: 1999000000000 steps are more than 100",
    ],
    [{ capsules: [{}, {}] }, "capsules: the unit has 1 capsules"],
    [{ hold: true }, "hold: "],
  ])("is refused for %j", (changes, expected) => {
    expect(() => planFor(unit(), RIG, changes, "my.plan.json")).toThrow(
      `FILE_INVALID: my.plan.json, ${expected}`,
    );
  });

  it("has a published schema", () => {
    expect(planFileJsonSchema()).toMatchObject({ type: "object", additionalProperties: false });
  });
});

describe("a hold test changed by seconds alone", () => {
  it("keeps the rest of the default one", () => {
    const [capsule] = planFor(unit(), RIG, { hold: { seconds: 5 } }).capsules;
    expect(capsule?.hold).toEqual({ vacuumPa: 50000, settleS: 5, seconds: 5, dropMaxPa: 2000 });
  });

  it("needs a unit with a vacuum", () => {
    expect(() => planFor(unit(), RIG, { hold: { vacuum: 40 } })).toThrow(
      "the plan, hold: give the `unit` of its vacuum or dropMax.",
    );
  });
});

describe("the short example plan", () => {
  const plan = planFor(unit(), RIG, json("short.plan.json"));

  it("is within limits and asks for what it says", () => {
    walkLimits(plan, unit(), RIG);
    const file = json("short.plan.json") as { speedsRpm: number[]; turnsPerReading: number };
    expect(plan.speedsRpm).toEqual(file.speedsRpm);
    expect(plan.turnsPerReading).toBe(file.turnsPerReading);
    expect(timeline(plan).at(-1)).toBeLessThan(35);
  });
});

describe("the walk through the limits", () => {
  const plan = defaultPlan(unit(), RIG);
  const capsule = (changes: object): object => ({
    capsules: [{ ...plan.capsules[0], ...changes }],
  });
  const hold = (changes: object) => capsule({ hold: { ...plan.capsules[0]?.hold, ...changes } });

  it.each<[object, string]>([
    [
      { speedsRpm: [500, 2641] },
      "speed sweep: 2641 rpm is above the unit's highest, 2640 distributor rpm (no speedMaxRpm allows more).",
    ],
    [{ speedsRpm: [500, 7000] }, "speed sweep: 7000 rpm is above the rig's highest, 6000 rpm."],
    [{ speedsRpm: [50] }, "speed sweep: 50 rpm is below the rig's lowest, 60 rpm."],
    [{ speedsRpm: [Number.NaN] }, "speed sweep: NaN rpm is no speed."],
    [{ speedsRpm: [800, 500] }, "speed sweep: the steps do not rise."],
    [
      { speedsRpm: Array.from({ length: 100 }, (_, i) => 300 + i) },
      "plan: 224 readings are more than 200.",
    ],
    [{ referenceRpm: 201 }, "reference: 201 rpm is above 200 rpm."],
    [
      { vacuumSweepRpm: 2700 },
      "speed of vacuum sweeps: 2700 rpm is above the unit's highest, 2640 distributor rpm (no speedMaxRpm allows more).",
    ],
    [{ rampRpmPerS: 9 }, "ramp: 9 rpm per second is not within 10 to 1000."],
    [{ rampRpmPerS: 1001 }, "ramp: 1001 rpm per second is not within 10 to 1000."],
    [{ turnsPerReading: 1 }, "reading: 1 turns is not within 2 to 2000."],
    [{ turnsPerReading: Number.NaN }, "reading: NaN turns is not within 2 to 2000."],
    [{ capsules: [] }, "capsules: 0 in the plan, 1 in the unit."],
    [
      capsule({ vacuumsPa: [95000] }),
      "vacuum sweep of the advance capsule: 95 kPa is more than a pump reaches here, 91.325 kPa.",
    ],
    [
      capsule({ vacuumsPa: [100001] }),
      "vacuum sweep of the advance capsule: 100.001 kPa is above the sensor's range, 100 kPa.",
    ],
    [
      capsule({ vacuumsPa: [Number.NaN] }),
      "vacuum sweep of the advance capsule: NaN kPa is no vacuum.",
    ],
    [
      hold({ vacuumPa: 95000 }),
      "hold test of the advance capsule: 95 kPa is more than a pump reaches here, 91.325 kPa.",
    ],
    [
      hold({ seconds: 601 }),
      "hold test of the advance capsule: 601 seconds is not within 1 to 600.",
    ],
    [
      hold({ dropMaxPa: 0 }),
      "hold test of the advance capsule: a drop of 0 kPa is not between 0 and the vacuum itself.",
    ],
  ])("names the step %#", (changes, expected) => {
    expect(() => walkLimits({ ...plan, ...changes } as Plan, unit(), RIG)).toThrow(
      `PLAN_BEYOND_LIMITS: ${expected} Lower the speed or vacuum`,
    );
  });

  it("refuses vacuum on a rig without sensor", () => {
    expect(() => walkLimits(plan, unit(), { ...RIG, vacuumMaxPa: 0 })).toThrow(
      "hold test of the advance capsule: the rig has no vacuum sensor.",
    );
  });

  it("lets a plan go beyond the specification only where the unit's speedMaxRpm does", () => {
    const fast = { ...plan, speedsRpm: [500, 2900] };
    walkLimits(fast, unit({ speedMaxRpm: 2900 }), RIG);
    expect(() => walkLimits(fast, unit({ speedMaxRpm: 2800 }), RIG)).toThrow(
      "speed sweep: 2900 rpm is above the unit's highest, 2800 distributor rpm (its speedMaxRpm).",
    );
  });
});

describe("the expected time", () => {
  it("is made of ramps, settling, turns and holding", () => {
    const plan: Plan = {
      referenceRpm: 150,
      speedsRpm: [600],
      capsules: [
        { hold: { vacuumPa: 50000, settleS: 5, seconds: 15, dropMaxPa: 2000 }, vacuumsPa: [20000] },
      ],
      vacuumSweepRpm: 300,
      rampRpmPerS: 150,
      turnsPerReading: 17,
      secondsPerReading: 600,
    };
    // Reference 1 + 1.2 + 1.2 + 6.8; vacuum speed 1 + 0.6, hold 1.5 + 5 + 15; twice 1.5 + 1.2 + 3.4;
    // below the first speed 1 + 1.2; speed 3 + 0.3 + 0.3 + 1.7 and 0.3 + 0.3 + 1.7; return 3 + 1.2 + 1.2 + 6.8.
    const expected = [10.2, 33.3, 39.4, 45.5, 53, 55.3, 67.5];
    expect(timeline(plan).map((seconds) => Math.round(seconds * 10) / 10)).toEqual(expected);
  });
});
