import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { planFor, type RigReach, timeline, walkLimits } from "../../core/planFile.ts";
import { unitFromFile } from "../../core/unitFile.ts";

const RIG: RigReach = {
  speedMinRpm: 60,
  speedMaxRpm: 6000,
  vacuumMaxPa: 100_000,
  ambientPa: 101_325,
};

function example(name: string): unknown {
  return JSON.parse(readFileSync(new URL(`../../examples/${name}`, import.meta.url), "utf8"));
}

const unit = unitFromFile(example("everyday.unit.json"), "unit");

describe("a plan that chooses", () => {
  it("lists the ends of its range and the printed rows between them", () => {
    const plan = planFor(unit, RIG, { chooseSpeeds: { lowestRpm: 250, highestRpm: 2000 } });
    expect(plan.speedsRpm).toEqual([250, 300, 500, 800, 1200, 1800, 2000]);
    expect(plan.speedChoice).toEqual({ knownWithinDeg: 0.1, readingsMax: 90, secondsMax: 1200 });
    expect(plan.capsules[0]?.vacuumChoice).toBeUndefined();
  });

  it("takes the range of the default plan where it gives none", () => {
    const plan = planFor(unit, RIG, {
      chooseSpeeds: {},
      chooseVacuums: { knownWithinDeg: 0.2, unit: "kPa", highest: 42 },
    });
    expect([plan.speedsRpm[0], plan.speedsRpm.at(-1)]).toEqual([180, 2640]);
    expect([plan.capsules[0]?.vacuumsPa[0], plan.capsules[0]?.vacuumsPa.at(-1)]).toEqual([
      5000, 42_000,
    ]);
    expect(plan.capsules[0]?.vacuumChoice?.knownWithinDeg).toBe(0.2);
  });

  it("is told apart from listed steps", () => {
    const both = { chooseSpeeds: {}, speedsRpm: [500] };
    expect(() => planFor(unit, RIG, both)).toThrow("chooseSpeeds: give either this or");
    const vacuums = { unit: "kPa", values: [10] };
    expect(() => planFor(unit, RIG, { chooseVacuums: {}, vacuums })).toThrow(
      "chooseVacuums: give either this or `vacuums`",
    );
    const upsideDown = { chooseSpeeds: { lowestRpm: 900, highestRpm: 800 } };
    expect(() => planFor(unit, RIG, upsideDown)).toThrow("its lowest, 900, is not below");
  });

  it.each([
    [{ chooseSpeeds: { highestRpm: 2700 } }, "speed sweep: 2700 rpm is above the unit's highest"],
    [{ chooseSpeeds: { lowestRpm: 50 } }, "speed sweep: 50 rpm is below the rig's lowest"],
    [{ chooseSpeeds: { knownWithinDeg: 0.001 } }, "0.001 degrees is not within 0.02 to 5"],
    [{ chooseSpeeds: { readingsMax: 10 } }, "10 readings is not within 16 to 200"],
    [{ chooseVacuums: { unit: "kPa", highest: 95 } }, "more than a pump reaches here"],
  ])("walks the limits of %j", (changes, what) => {
    expect(() => walkLimits(planFor(unit, RIG, changes), unit, RIG)).toThrow(what);
  });

  it("has an example that may be carried out, in some minutes", () => {
    const plan = planFor(unit, RIG, example("choose.plan.json"));
    walkLimits(plan, unit, RIG);
    expect(timeline(plan).at(-1)).toBeLessThan(600);
  });
});
