// What is typed for the engine figures, and the picture of them.
import { describe, expect, it } from "vitest";
import { conditionsFrom, type EngineAsked, engineFigures } from "../../core/engine/asked.ts";
import { pascalsFrom } from "../../core/units.ts";
import { engineAsked, type TypedEngine, typedEngine } from "../../web/src/engineForm.ts";
import { engineModel } from "../../web/src/engineModel.ts";
import { CURVES, FOUR } from "../engine/curves.ts";

const typed = (changes: Partial<TypedEngine> = {}): TypedEngine => ({
  ...typedEngine({ engine: null }, null, "kPa"),
  initial: "10",
  initialOf: "crankshaft",
  vacuumPort: "manifold",
  ...changes,
});
const asked = (changes: Partial<TypedEngine> = {}): EngineAsked => {
  const answer = engineAsked(typed(changes), FOUR, "kPa");
  if ("lacks" in answer) throw new Error(`lacks ${answer.lacks}`);
  return answer;
};

describe("what is asked", () => {
  it("is at rest, with what is common where fields are empty", () => {
    expect(asked()).toEqual({
      initialTimingCrankshaftDeg: 10,
      atEngineRpm: 0,
      vacuumPort: "manifold",
      idleEngineRpm: null,
      engineSpeedsRpm: null,
      capsule: 0,
      unloadedVacuumPa: pascalsFrom(17, "inHg"),
      cruiseVacuumPa: pascalsFrom(12, "inHg"),
      readings: [],
    });
  });

  it("is the engine's, whichever shaft was typed", () => {
    const { initialTimingCrankshaftDeg, atEngineRpm } = asked({
      initial: "−2,5",
      initialOf: "distributor",
      setAt: "300",
      setAtOf: "distributor",
    });
    expect([initialTimingCrankshaftDeg, atEngineRpm]).toEqual([-5, 600]);
  });

  it("takes speeds in any order, vacuum in the unit shown, and leaves empty readings out", () => {
    const answer = asked({
      speeds: "2400, 600",
      unloaded: "60",
      readings: [
        { rpm: "1600", mark: "22,5", line: "on" },
        { rpm: "", mark: " ", line: "plugged" },
      ],
    });
    expect([answer.engineSpeedsRpm, answer.unloadedVacuumPa]).toEqual([[600, 2400], 60_000]);
    expect(answer.readings).toEqual([
      { engineRpm: 1600, markCrankshaftDeg: 22.5, vacuumLine: "on" },
    ]);
  });

  it.each([
    ["initial", { initial: "" }],
    ["initial", { initial: "61" }],
    ["initial", { initial: "31", initialOf: "distributor" }],
    ["initialOf", { initialOf: "" }],
    ["setAt", { setAt: "slow" }],
    ["setAtOf", { setAt: "600", setAtOf: "" }],
    ["vacuumPort", { vacuumPort: "" }],
    ["idle", { idle: "0" }],
    ["speeds", { speeds: "600, fast" }],
    ["unloaded", { unloaded: "102" }],
    ["cruise", { cruise: "-1" }],
    ["readings", { readings: [{ rpm: "600", mark: "", line: "on" }] }],
  ] as const)("lacks %s for %j", (lacks, changes) => {
    expect(engineAsked(typed(changes as Partial<TypedEngine>), FOUR, "kPa")).toEqual({ lacks });
  });
});

describe("the form", () => {
  const engine = {
    initialTimingCrankshaftDeg: 8,
    atEngineRpm: 600,
    vacuumPort: "ported",
    idleEngineRpm: 700,
    engineSpeedsRpm: [600, 1000],
    source: "a manual",
  } as const;

  it("is filled in from the unit's file, and gives back what that has", () => {
    const filled = typedEngine({ engine }, null, "inHg");
    expect(filled).toMatchObject({
      initial: "8",
      initialOf: "crankshaft",
      setAt: "600",
      vacuumPort: "ported",
      speeds: "600, 1000",
      unloaded: "",
    });
    const { source, ...timing } = engine;
    const answer = engineAsked(filled, FOUR, "inHg") as EngineAsked;
    expect(answer).toMatchObject(timing);
    expect(conditionsFrom({ ...FOUR, engine }, answer).settings.source).toBe(source);
    const other = { ...answer, initialTimingCrankshaftDeg: 9 };
    expect(conditionsFrom({ ...FOUR, engine }, other).settings.source).toBeNull();
  });

  it("goes by what was kept before the file", () => {
    const readings = [{ rpm: "600", mark: "10", line: "plugged" as const }];
    const kept = asked({ initial: "12", cruise: "30", readings });
    const filled = typedEngine({ engine }, kept, "kPa");
    expect(filled).toMatchObject({ initial: "12", setAt: "0", cruise: "30", readings });
    expect(engineAsked(filled, FOUR, "kPa")).toEqual(kept);
  });
});

describe("the picture", () => {
  it("draws marks of the engine, and what was read apart by the line", () => {
    const answer = asked({
      speeds: "800, 2400",
      readings: [
        { rpm: "2400", mark: "45", line: "on" },
        { rpm: "800", mark: "11", line: "plugged" },
      ],
    });
    const subject = { unit: FOUR, record: null, curves: CURVES };
    const figures = engineFigures(subject, conditionsFrom(FOUR, answer), answer.readings);
    expect(figures.readings?.readings.map(({ engineRpm }) => engineRpm)).toEqual([800, 2400]);
    const model = engineModel(figures);
    // The curve has 8° at 1200 distributor rpm, and 0° at 400: 10 + 2 × 8, and 10.
    expect(model.rising).toEqual([
      { x: 800, y: 10 },
      { x: 2400, y: 26 },
    ]);
    // The manifold's vacuum moves the capsule to its end, 8°: 16 more at either speed.
    expect(model.unloaded).toEqual([
      [
        { x: 800, y: 26 },
        { x: 2400, y: 42 },
      ],
      [
        { x: 800, y: 26 },
        { x: 2400, y: 42 },
      ],
    ]);
    expect([model.falling, model.bars]).toEqual([[], []]);
    expect(model.readPlugged).toEqual([{ x: 800, y: 11 }]);
    expect(model.readOn).toEqual([{ x: 2400, y: 45 }]);
    expect(model.xAxis).toEqual({ min: 0, max: 2500, step: 500 });
    expect(model.yAxis).toEqual({ min: 0, max: 50, step: 10 });
  });
});
