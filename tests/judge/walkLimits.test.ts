// Every limit of a plan at its very edge: as far as unit and rig allow, and a step farther.
import { describe, expect, it } from "vitest";
import type { CapsulePlan, HoldPlan, Plan, SweepChoice } from "../../core/plan.ts";
import { highestSpeedRpm, onsetX, type RigReach } from "../../core/planFile/reach.ts";
import { likelyPlaces, walkLimits } from "../../core/planFile/walk.ts";
import { unitFromFile } from "../../core/unitFile.ts";

const RIG: RigReach = {
  speedMinRpm: 60,
  speedMaxRpm: 4000,
  vacuumMaxPa: 80_000,
  ambientPa: 100_000,
};
const unit = (more: object = {}) =>
  unitFromFile(
    {
      ...{ description: "four", lobes: 4, rotation: "cw", speedMaxRpm: 3000 },
      capsules: [{ name: "advance" }],
      ...more,
    },
    "unit",
  );

const NO_SWEEP: CapsulePlan = { hold: null, vacuumsPa: [] };
const PLAN: Plan = {
  referenceRpm: 200,
  speedsRpm: [500, 1000],
  capsules: [NO_SWEEP],
  vacuumSweepRpm: 600,
  rampRpmPerS: 100,
  turnsPerReading: 50,
  secondsPerReading: 2,
};
const HOLD: HoldPlan = { vacuumPa: 50_000, settleS: 5, seconds: 60, dropMaxPa: 2000 };
const CHOICE: SweepChoice = { knownWithinDeg: 0.5, readingsMax: 40, secondsMax: 600 };

/** Null: it may be walked; else what goes too far. */
function beyond(changes: Partial<Plan>, of = unit(), rig = RIG): string | null {
  try {
    walkLimits({ ...PLAN, ...changes }, of, rig);
    return null;
  } catch (error) {
    return (error as Error).message;
  }
}

const hold = (changes: Partial<HoldPlan>) => ({
  capsules: [{ ...NO_SWEEP, hold: { ...HOLD, ...changes } }],
});
const vacuums = (...vacuumsPa: number[]) => ({ capsules: [{ hold: null, vacuumsPa }] });
const many = (count: number) => Array.from({ length: count }, (_, i) => 500 + i);

describe("a plan may go", () => {
  it.each<[string, Partial<Plan>]>([
    ["to the rig's lowest speed, by rounding", { referenceRpm: 59.96 }],
    ["to the reference's highest", { referenceRpm: 200 }],
    ["to the unit's highest speed, by rounding", { speedsRpm: [500, 3000.04] }],
    ["by the slowest ramp", { rampRpmPerS: 10 }],
    ["by the fastest ramp", { rampRpmPerS: 1000 }],
    ["with the fewest turns", { turnsPerReading: 2 }],
    ["with the most turns", { turnsPerReading: 2000 }],
    ["with the shortest readings", { secondsPerReading: 0.1 }],
    ["with the longest readings", { secondsPerReading: 600 }],
    ["to the sensor's highest vacuum", vacuums(0, 80_000.4)],
    ["with the shortest hold", hold({ seconds: 1, settleS: 0 })],
    ["with the longest hold", hold({ seconds: 600, settleS: 600 })],
    ["with 200 readings", { speedsRpm: many(99) }],
    ["by choice, of two places", { speedChoice: CHOICE }],
    [
      "by the narrowest choice",
      { speedChoice: { ...CHOICE, knownWithinDeg: 0.02, readingsMax: 4 } },
    ],
    ["by the widest choice", { speedChoice: { ...CHOICE, knownWithinDeg: 5, secondsMax: 7200 } }],
    ["without a vacuum sweep at any speed of it", { vacuumSweepRpm: 9000 }],
  ])("%s", (_, changes) => {
    expect(beyond(changes)).toBeNull();
  });
});

describe("a plan may not go", () => {
  it.each<[string, Partial<Plan>, string]>([
    ["below the rig's lowest speed", { referenceRpm: 59.9 }, "below the rig's lowest"],
    ["to no speed", { speedsRpm: [0, 500] }, "0 rpm is no speed"],
    ["backwards", { speedsRpm: [-500] }, "-500 rpm is no speed"],
    ["to a speed that is no number", { speedsRpm: [Number.NaN] }, "is no speed"],
    ["above the reference's highest", { referenceRpm: 201 }, "above 200 rpm"],
    ["above the unit's highest", { speedsRpm: [3000.1] }, "above the unit's highest, 3000"],
    ["by a slower ramp", { rampRpmPerS: 9.9 }, "not within 10 to 1000"],
    ["by a faster ramp", { rampRpmPerS: 1001 }, "not within 10 to 1000"],
    ["with one turn", { turnsPerReading: 1 }, "not within 2 to 2000"],
    ["with 2001 turns", { turnsPerReading: 2001 }, "not within 2 to 2000"],
    ["for no time", { secondsPerReading: 0.09 }, "not within 0.1 to 600"],
    ["for longer", { secondsPerReading: 601 }, "not within 0.1 to 600"],
    ["beyond the sensor", vacuums(80_001), "above the sensor's range, 80 kPa"],
    ["to pressure", vacuums(-1), "is no vacuum"],
    ["to a vacuum that is no number", vacuums(Number.NaN), "is no vacuum"],
    ["through vacuums that stand still", vacuums(10_000, 10_000), "the steps do not rise"],
    ["through speeds that fall", { speedsRpm: [1000, 500] }, "the steps do not rise"],
    [
      "through a vacuum sweep too fast",
      { ...vacuums(10_000), vacuumSweepRpm: 3100 },
      "speed of vacuum sweeps",
    ],
    ["through a hold too fast", { ...hold({}), vacuumSweepRpm: 3100 }, "speed of vacuum sweeps"],
    ["with a hold of no time", hold({ seconds: 0.5 }), "not within 1 to 600"],
    ["with a hold too long", hold({ seconds: 601 }), "not within 1 to 600"],
    ["with settling too long", hold({ settleS: 601 }), "not within 0 to 600"],
    ["with a drop of nothing", hold({ dropMaxPa: 0 }), "a drop of 0 kPa"],
    ["with a drop of all", hold({ dropMaxPa: 50_000 }), "a drop of 50 kPa"],
    ["with 202 readings", { speedsRpm: many(100) }, "202 readings are more than 200"],
    [
      "by choice of one place",
      { speedsRpm: [500], speedChoice: CHOICE },
      "no range to choose from",
    ],
    [
      "by a finer choice",
      { speedChoice: { ...CHOICE, knownWithinDeg: 0.01 } },
      "not within 0.02 to 5",
    ],
    [
      "by a choice of too few",
      { speedChoice: { ...CHOICE, readingsMax: 3 } },
      "not within 4 to 200",
    ],
    [
      "by a choice too long",
      { speedChoice: { ...CHOICE, secondsMax: 7201 } },
      "not within 1 to 7200",
    ],
    ["for a capsule that the unit has not", { capsules: [] }, "0 in the plan, 1 in the unit"],
  ])("%s", (_, changes, why) => {
    expect(beyond(changes)).toContain(why);
  });

  it("above the rig's highest, whatever the unit allows", () => {
    const fast = unit({ speedMaxRpm: 9000 });
    expect(beyond({ speedsRpm: [4000.04] }, fast)).toBeNull();
    expect(beyond({ speedsRpm: [4000.1] }, fast)).toContain("above the rig's highest, 4000 rpm");
  });

  it("beyond what a pump reaches here, or where there is no sensor", () => {
    const high = { ...RIG, ambientPa: 70_000 };
    expect(beyond(vacuums(60_000), unit(), high)).toBeNull();
    expect(beyond(vacuums(60_001), unit(), high)).toContain(
      "more than a pump reaches here, 60 kPa",
    );
    expect(beyond(vacuums(1), unit(), { ...RIG, vacuumMaxPa: 0 })).toContain("no vacuum sensor");
  });

  it("faster than 2000 rpm where nothing says how fast the unit may turn", () => {
    expect(highestSpeedRpm(unit({ speedMaxRpm: undefined }))).toBe(2000);
  });
});

describe("places that are likely", () => {
  it("are those listed where nothing is chosen, else evenly spread", () => {
    expect(likelyPlaces("speed", [500, 1000], undefined)).toEqual([500, 1000]);
    expect(likelyPlaces("speed", [], CHOICE)).toEqual([]);
    // Fourteen speeds and nine vacuums, by what sweeps mostly choose; no more than half the readings.
    expect(likelyPlaces("speed", [500, 1800], CHOICE)).toEqual([
      500, 600, 700, 800, 900, 1000, 1100, 1200, 1300, 1400, 1500, 1600, 1700, 1800,
    ]);
    expect(likelyPlaces("vacuum", [0, 16_000], CHOICE)).toEqual([
      0, 2000, 4000, 6000, 8000, 10_000, 12_000, 14_000, 16_000,
    ]);
    expect(likelyPlaces("speed", [500, 900], { ...CHOICE, readingsMax: 10 })).toEqual([
      500, 600, 700, 800, 900,
    ]);
    const listed = Array.from({ length: 16 }, (_, i) => 500 + 100 * i);
    expect(likelyPlaces("speed", listed, CHOICE)).toEqual(listed);
  });
});

describe("where advance has not begun", () => {
  const band = (...rows: object[]) =>
    unit({ speed: { source: "invented", degrees: "distributor", rpm: "distributor", rows } })
      .speedBand;

  it("is said by the rows, or six tenths of the first one", () => {
    expect(onsetX(null)).toBeNull();
    expect(onsetX(band({ at: 400, degrees: "0 ± 1" }, { at: 1000, degrees: "5 to 7" }))).toBe(400);
    expect(onsetX(band({ at: 1000, degrees: "5 to 7" }, { at: 2000, degrees: "9 to 11" }))).toBe(
      600,
    );
  });
});
