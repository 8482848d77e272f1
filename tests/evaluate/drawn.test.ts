// The drawer of cases: every fault of the table, as far as it is wanted to show, on good units of the whole range.
import { describe, expect, it } from "vitest";
import { measureReadings } from "../../accuracy/standIn.ts";
import type { Band, BandRow } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { type DrawnCase, drawCase, drawChoice } from "../../evaluate/drawn/case.ts";
import {
  FAULT_KINDS,
  type FaultKind,
  goTogether,
  hasMagnitude,
} from "../../evaluate/drawn/kinds.ts";
import type { Clarity } from "../../evaluate/drawn/solve.ts";
import { MECHANISM_FAULTS } from "../../sim/mechanismFaults.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { TRIGGER_FAULTS } from "../../sim/triggerFaults.ts";
import { centrifugalAdvanceDeg, centrifugalStartRpm } from "../../sim/truth.ts";

const RIG_AND_FILE: readonly FaultKind[] = [
  "coupling-runout",
  "condenser-left-on",
  "uncorrected-delay",
  "specification-misread",
];
const NONE = { kinds: [], clarity: "clear" } as const;

const drawnOnce = new Map<string, DrawnCase>();

/** The same case for all tests that ask for it: to draw one takes longer than to look at it. */
function drawn(kind: FaultKind, clarity: Clarity = "clear", index = 0): DrawnCase {
  const name = `${kind}/${clarity}/${index}`;
  const found = drawnOnce.get(name) ?? drawCase("drawer test", index, { kinds: [kind], clarity });
  drawnOnce.set(name, found);
  return found;
}

/** The whole run, with few turns a reading. */
async function endOf({ unitFile, scenario, rig }: DrawnCase) {
  const plan = { turnsPerReading: 40 };
  const { end } = await measureReadings({ unit: unitFile, scenario, rig, plan });
  return end;
}

it("knows every fault that a scenario can have, of the rig three, and a misread specification", () => {
  const named = [...MECHANISM_FAULTS, ...TRIGGER_FAULTS].map(({ shape }) => shape.fault.value);
  expect([...FAULT_KINDS].sort()).toEqual([...named, ...RIG_AND_FILE].sort());
  expect(FAULT_KINDS).toHaveLength(25);
});

describe("good units", () => {
  const units = Array.from({ length: 60 }, (_, i) => drawCase("good units", i, NONE));
  const scenarios = units.map(({ scenario }) => parseScenario(scenario, "drawn"));

  it("are of the whole range", () => {
    for (const scenario of scenarios) {
      const { mechanism, unit, capsules } = scenario;
      if (!("weights" in mechanism)) throw new Error("a drawn unit has weights");
      expect(mechanism.stopDeg).toBeGreaterThanOrEqual(5);
      expect(mechanism.stopDeg).toBeLessThanOrEqual(20);
      const startRpm = centrifugalStartRpm(scenario, "rising") ?? 0;
      // Warmth of up to 15 K and friction move it by less than 3 %.
      expect(startRpm).toBeGreaterThan(0.97 * 250);
      expect(startRpm).toBeLessThan(1.03 * 900);
      expect(unit.lobeAnglesDeg.length).toBeGreaterThanOrEqual(2);
      expect(unit.lobeAnglesDeg.length).toBeLessThanOrEqual(8);
      for (const { travelMm, radiusMm } of capsules) {
        const travelDeg = ((travelMm / radiusMm) * 180) / Math.PI;
        expect(travelDeg).toBeGreaterThan(2.999);
        expect(travelDeg).toBeLessThan(15.001);
      }
    }
    const has = (is: (scenario: (typeof scenarios)[number]) => boolean) => scenarios.some(is);
    const springs = ({ mechanism }: (typeof scenarios)[number]) =>
      "weights" in mechanism ? mechanism.springs.length : 0;
    expect(has((scenario) => springs(scenario) === 1)).toBe(true);
    expect(has((scenario) => springs(scenario) === 2)).toBe(true);
    expect(has(({ capsules }) => capsules.length === 0)).toBe(true);
    expect(has(({ capsules }) => capsules[0]?.acts === "retard")).toBe(true);
    expect(has(({ unit }) => unit.triggerKind !== "contacts")).toBe(true);
    const ratios = units.map(({ unitFile }) => unitFile.driveRatio);
    expect(new Set(ratios)).toEqual(new Set([1, 2]));
  });

  it("stand within every row of their specification, a quarter of its tolerance inside", () => {
    units.forEach(({ unitFile, healthy }, i) => {
      const { speedBand } = unitFromFile(unitFile, "drawn");
      for (const row of speedBand?.rows ?? []) {
        if (row.kind === "start" || row.kind === "noneBelow" || row.x === null) continue;
        const { min, max } = row.limitsDeg;
        if (min === null || max === null) throw new Error("drawn rows have two limits");
        const scenario = scenarios[i];
        if (scenario === undefined) throw new Error("as many scenarios as units");
        const deg = centrifugalAdvanceDeg(scenario, row.x, "rising");
        const spare = 0.24 * ((max - min) / 2);
        expect(deg).toBeGreaterThan(min + spare);
        expect(deg).toBeLessThan(max - spare);
      }
      expect(healthy.speed.length).toBeGreaterThan(5);
    });
  });

  it("come from name and number alone", () => {
    const choice = { kinds: ["shaft-bush-worn", "capsule-leak"], clarity: "clear" } as const;
    expect(drawCase("again", 3, choice)).toEqual(drawCase("again", 3, choice));
    expect(drawCase("again", 3, choice)).not.toEqual(drawCase("again", 4, choice));
    expect(drawChoice("again", 5)).toEqual(drawChoice("again", 5));
  });
});

describe("magnitudes", () => {
  it.each(FAULT_KINDS.filter(hasMagnitude))("%s moves a figure as far as is wanted", (kind) => {
    for (const [clarity, least, most] of [
      ["clear", 4, 12],
      ["doubtful", 1, 3],
    ] as const) {
      const [fault] = drawn(kind, clarity).faults;
      expect(fault?.magnitude).toBeGreaterThan(0);
      expect(fault?.effect.multiple).toBeGreaterThanOrEqual(least);
      expect(fault?.effect.multiple).toBeLessThan(1.01 * most);
    }
  });

  it("are those of the physics", () => {
    const [held] = drawn("weights-not-returning").faults;
    // Held there, it returns to there: told by 0.1° of good units and 0.05° of the reading.
    expect(held?.effect).toMatchObject({ measure: "return", unit: "deg" });
    expect(held?.effect.moved).toBeCloseTo(held?.magnitude ?? 0, 6);
    expect(held?.effect.expanded).toBeCloseTo(Math.hypot(0.1, 0.05), 9);
    const late = drawn("uncorrected-delay");
    const [delay] = late.faults;
    const { rig } = parseScenario(late.healthy.scenario, "drawn");
    const rpm = (delay?.effect.at ?? 0) - late.healthy.referenceRpm;
    const moreUs = (delay?.magnitude ?? 0) - rig.delayUs;
    expect(delay?.effect.moved).toBeCloseTo(-moreUs * 1e-6 * 6 * rpm, 6);
  });

  it("tell what one fault hides of another", () => {
    const kinds = ["weights-stuck", "second-spring-missing"] as const;
    const [stuck, missing] = drawCase("hidden", 0, { kinds, clarity: "clear" }).faults;
    expect(missing?.effect.multiple).toBeGreaterThan(4);
    expect(missing?.inCompany.multiple).toBe(0);
    expect(stuck?.inCompany.multiple).toBeGreaterThan(4);
  });
});

describe("pairs", () => {
  it("leave out what would undo or repeat each other", () => {
    expect(goTogether("plate-stuck", "link-off")).toBe(false);
    expect(goTogether("spring-light", "spring-light")).toBe(false);
    expect(goTogether("spring-light", "stop-worn")).toBe(true);
  });

  it("are both in the scenario", () => {
    const kinds = ["spring-light", "condenser-left-on"] as const;
    const { scenario, faults } = drawCase("pair", 0, { kinds, clarity: "clear" });
    expect(faults.map(({ kind }) => kind)).toEqual(kinds);
    const parsed = parseScenario(scenario, "drawn");
    expect(parsed.faults.map(({ fault }) => fault)).toContain("spring-light");
    expect(parsed.pulses.condenserUf).toBe(faults[1]?.magnitude);
  });

  it("and all else comes up among the choices", () => {
    const choices = Array.from({ length: 400 }, (_, i) => drawChoice("choices", i));
    for (const count of [0, 1, 2]) {
      expect(choices.some(({ kinds }) => kinds.length === count)).toBe(true);
    }
    expect(new Set(choices.flatMap(({ kinds }) => kinds)).size).toBe(25);
  });
});

type Row = Extract<BandRow, { kind: "at" | "end" }>;

describe("misread specifications", () => {
  const cases = Array.from({ length: 20 }, (_, i) => drawn("specification-misread", "clear", i));

  it("differ from the right one in what was misread only", () => {
    for (const { unitFile, healthy, scenario, faults } of cases) {
      expect(scenario).toEqual(healthy.scenario);
      const [fault] = faults;
      const right = unitFromFile(healthy.unitFile, "right");
      const wrong = unitFromFile(unitFile, "wrong");
      const last = ({ band }: { band: Band | null }) => {
        const row = band?.rows.at(-1);
        if (row?.kind !== "end" && row?.kind !== "at") throw new Error("not a row of one place");
        return row;
      };
      const [was, is] = [right, wrong].map(({ speedBand: band }) => last({ band })) as [Row, Row];
      const factor = fault?.magnitude ?? Number.NaN;
      if (fault?.field === "rpm") expect(is.x).toBeCloseTo((was.x ?? 0) * factor, 6);
      if (fault?.field === "degrees") {
        expect(is.limitsDeg.max).toBeCloseTo((was.limitsDeg.max ?? 0) * factor, 6);
      }
      if (fault?.field === "vacuum") {
        const capsules = [right, wrong].map((unit) =>
          last({ band: unit.capsules[0]?.band ?? null }),
        );
        const [wasEnd, isEnd] = capsules as [Row, Row];
        expect(isEnd.x).toBeCloseTo((wasEnd.x ?? 0) * factor, 3);
      }
      if (fault?.field === "initial") {
        const scale = healthy.unitFile.speed as { degrees: string };
        const deg = scale.degrees === "crankshaft" ? factor / right.driveRatio : factor;
        expect(is.limitsDeg.max).toBeCloseTo((was.limitsDeg.max ?? 0) + deg, 6);
      }
    }
    expect(new Set(cases.map(({ faults }) => faults[0]?.field)).size).toBe(4);
  });
});

describe("on the stand-in rig", () => {
  it.each(FAULT_KINDS)("%s runs", async (kind) => {
    const found = drawn(kind);
    expect(found.faults[0]?.kind).toBe(kind);
    expect(found.faults[0]?.effect.multiple).toBeGreaterThanOrEqual(4);
    const { ending, result } = await endOf(found);
    expect(ending).toBe("completed");
    expect(result.rows.length).toBeGreaterThan(2);
  });

  it("good units are within, or on a rig with wide uncertainty unproven", async () => {
    const verdicts: (string | null)[] = [];
    for (let i = 0; i < 4; i++) {
      const { result } = await endOf(drawCase("good units", i, NONE));
      verdicts.push(result.verdict);
    }
    expect(verdicts).not.toContain("outside");
    expect(verdicts).toContain("within");
  });

  it("a stretched spring moves what is read by its effect", async () => {
    const cases = Array.from({ length: 5 }, (_, i) => drawn("spring-stretched", "clear", i));
    const found = cases.find(({ faults }) => faults[0]?.effect.measure.startsWith("advance"));
    if (found === undefined) throw new Error("none shows in the curve most");
    const { unitFile, scenario } = found.healthy;
    const [effect] = found.faults.map((fault) => fault.effect);
    const branch = effect?.measure === "advance, falling" ? "falling" : "rising";
    const read = ({ result }: Awaited<ReturnType<typeof endOf>>) => {
      const point = result.speed[branch].find(({ targetX }) => targetX === effect?.at);
      if (point === undefined) throw new Error("no reading there");
      return point;
    };
    const faulty = read(await endOf(found));
    const good = read(await endOf({ ...found, unitFile, scenario }));
    const off = Math.abs(faulty.advanceDeg - good.advanceDeg - (effect?.moved ?? 99));
    const expandedDeg = 2 * Math.hypot(faulty.standardUncertaintyDeg, good.standardUncertaintyDeg);
    expect(off).toBeLessThan(0.1 + expandedDeg);
  });
});
