// Each named fault is the change of physics that it says, worked out by hand, and all go together.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { CapsuleMotion } from "../../sim/capsule.ts";
import { installedMechanism } from "../../sim/installedUnit.ts";
import { balanceRpm, forcesAt, springLoadN } from "../../sim/mechanism.ts";
import { parseScenario, type Scenario } from "../../sim/scenario.ts";
import {
  centrifugalAdvanceDeg,
  centrifugalStartRpm,
  dwellLossDeg,
  dwellsDeg,
  lobeDeviationsDeg,
  vacuumAdvanceDeg,
} from "../../sim/truth.ts";
import { CentrifugalMotion } from "../../sim/weights.ts";
import { meanDeg, near, steady } from "./steady.ts";

const file = new URL("../../examples/healthy.scenario.json", import.meta.url);
const HEALTHY = JSON.parse(readFileSync(file, "utf8"));

/** The healthy example with faults: stop at 14°, first spring of 1.05 N/mm and 20.2 mm, second slack. */
function faulty(...faults: object[]): Scenario {
  return parseScenario({ ...HEALTHY, faults }, "test");
}

function unitOf(scenario: Scenario) {
  const mechanism = installedMechanism(scenario);
  if (mechanism === null) throw new Error("the example has weights");
  return mechanism.centrifugal;
}

const SOUND = unitOf(faulty());

/** Advances of the moving part where a ramp from rest through the speeds, each held, leaves it. */
function settle(scenario: Scenario, rpms: readonly number[], rampRpmPerS = 100): number[] {
  const motion = new CentrifugalMotion(unitOf(scenario));
  let rpm = 0;
  const step = rampRpmPerS / 1000;
  return rpms.map((goal) => {
    while (rpm !== goal) {
      rpm = rpm < goal ? Math.min(goal, rpm + step) : Math.max(goal, rpm - step);
      motion.step(0.001, (rpm * Math.PI) / 30, 1);
    }
    for (let i = 0; i < 2000; i++) motion.step(0.001, (rpm * Math.PI) / 30, 1);
    return motion.advanceDeg;
  });
}

describe("weights", () => {
  it("stuck stay where they stick, in or out", () => {
    expect(settle(faulty({ fault: "weights-stuck" }), [2500, 200])).toEqual([0, 0]);
    for (const deg of settle(faulty({ fault: "weights-stuck", advanceDeg: 4 }), [2500, 200])) {
      expect(deg).toBeCloseTo(4, 9);
    }
  });

  it("dry, widen the gap between rising and falling six times", () => {
    const dry = unitOf(faulty({ fault: "weights-dry", frictionFactor: 6 }));
    expect(dry.friction).toEqual({ torqueNmm: 3, addedAt1000RpmNmm: 3 });
    const gap = (unit: typeof dry) =>
      balanceRpm(unit, 5, "rising") ** 2 - balanceRpm(unit, 5, "falling") ** 2;
    expect(gap(dry) / gap(SOUND)).toBeGreaterThan(5.8);
    expect(gap(dry) / gap(SOUND)).toBeLessThan(6.3);
  });

  it("dry, break away late, and then go on to where friction in motion lets them", () => {
    const scenario = faulty({ fault: "weights-dry", frictionFactor: 6, stickRatio: 1.5 });
    const { leverKgM2, restoringNm } = forcesAt(SOUND, 0);
    // 1 N mm of block; 1.5 · 3 N mm, and 1.5 · 3 N mm more for each (1000 rpm)² = 10966 (rad/s)².
    const omega2 = (restoringNm + 0.0055) / (leverKgM2 - 0.0045 / 10_966.2271);
    const startRpm = (Math.sqrt(omega2) * 30) / Math.PI;
    expect(centrifugalStartRpm(scenario, "rising")).toBeCloseTo(startRpm, 4);
    expect(centrifugalAdvanceDeg(scenario, startRpm - 1, "rising")).toBe(0);
    const moved = centrifugalAdvanceDeg(scenario, startRpm + 1, "rising");
    expect(moved).toBeGreaterThan(0.3);
    expect(balanceRpm(unitOf(scenario), moved, "rising")).toBeCloseTo(startRpm + 1, 4);
    const at = [startRpm - 2, startRpm + 2];
    settle(scenario, at).forEach((deg, i) => {
      const truth = centrifugalAdvanceDeg(scenario, at[i] ?? 0, "rising");
      expect(Math.abs(deg - truth)).toBeLessThan(0.1);
    });
  });

  it("dry, move in steps as the speed creeps, sound ones without a halt", () => {
    const halts = (scenario: Scenario) => {
      const motion = new CentrifugalMotion(unitOf(scenario));
      let still = 0;
      let before = 0;
      // From 400 to 900 rpm at 20 rpm a second, where sound weights move all the way.
      for (let i = 0; i < 25_000; i++) {
        motion.step(0.001, ((400 + 0.02 * i) * Math.PI) / 30, 1);
        if (i > 2000 && motion.advanceDeg === before) still++;
        before = motion.advanceDeg;
      }
      return still / 23_000;
    };
    expect(halts(faulty())).toBe(0);
    expect(halts(faulty({ fault: "weights-dry" }))).toBeGreaterThan(0.5);
  });

  it("that do not return come home to where they are held, once they have been beyond it", () => {
    const scenario = faulty({ fault: "weights-not-returning", heldDeg: 3 });
    const [before, out, home] = settle(scenario, [200, 2500, 200]);
    expect(before).toBe(0);
    expect(out).toBeCloseTo(14, 9);
    expect(home).toBeCloseTo(3, 9);
    expect(centrifugalAdvanceDeg(scenario, 200, "falling")).toBe(3);
    expect(centrifugalAdvanceDeg(scenario, 200, "rising")).toBe(0);
    // Of a run that never went so far they come all the way home.
    expect(centrifugalAdvanceDeg(scenario, 200, "falling", 400)).toBe(0);
    expect(settle(scenario, [400, 200])[1]).toBe(0);
  });
});

describe("springs", () => {
  const springs = (...faults: object[]) => unitOf(faulty(...faults)).springs;
  const load = (spring: (typeof SOUND.springs)[number] | undefined, lengthMm: number) =>
    spring === undefined ? Number.NaN : springLoadN(spring, lengthMm);

  it("stretched: the rate as before, the load less by rate times what it grew", () => {
    const [first] = springs({ fault: "spring-stretched", spring: "first", lengthenedMm: 0.2 });
    // 1.05 · (25 − 20.2) N, and 0.21 N less.
    expect(load(SOUND.springs[0], 25)).toBeCloseTo(5.04, 9);
    expect(load(first, 25)).toBeCloseTo(4.83, 9);
    expect(load(first, 26)).toBeCloseTo(5.88, 9);
    const start = centrifugalStartRpm(faulty(), "rising") ?? 0;
    const stretched = faulty({ fault: "spring-stretched", spring: "first", lengthenedMm: 0.2 });
    expect(centrifugalStartRpm(stretched, "rising") ?? 0).toBeLessThan(start - 20);
  });

  it("light and heavy: rate, load and initial tension by the ratio", () => {
    const [first] = HEALTHY.mechanism.springs;
    const mechanism = { ...HEALTHY.mechanism, springs: [{ ...first, tensionN: 2 }] };
    const of = (fault: object) =>
      unitOf(parseScenario({ ...HEALTHY, mechanism, faults: [fault] }, "test")).springs[0];
    // 2 + 1.05 · 4.8 = 7.04 N.
    const light = of({ fault: "spring-light", spring: "first", rateRatio: 0.5 });
    expect(load(light, 25)).toBeCloseTo(3.52, 9);
    expect(light?.rateNPerMm).toBeCloseTo(0.525, 9);
    const heavy = of({ fault: "spring-heavy", spring: "first", rateRatio: 1.5 });
    expect(load(heavy, 25)).toBeCloseTo(10.56, 9);
    expect(heavy?.rateNPerMm).toBeCloseTo(1.575, 9);
  });

  it("a wrong pair, both heavy: √1.5 times the speed, friction and drag apart", () => {
    const pair = ["first", "second"].map((spring) => ({
      fault: "spring-heavy",
      spring,
      rateRatio: 1.5,
    }));
    const bare = {
      ...HEALTHY.mechanism,
      friction: { torqueNmm: 0, addedAt1000RpmNmm: 0 },
      rubbingBlockNmm: 0,
    };
    const advance = (faults: object[], rpm: number) =>
      centrifugalAdvanceDeg(
        parseScenario({ ...HEALTHY, mechanism: bare, faults }, "test"),
        rpm,
        "rising",
      );
    for (const rpm of [500, 900, 1500]) {
      expect(advance(pair, rpm * Math.sqrt(1.5))).toBeCloseTo(advance([], rpm), 6);
    }
  });

  it("the first missing: at once to the knee; the second: no knee; both: at once to the stop", () => {
    const first = { fault: "first-spring-missing" };
    const second = { fault: "second-spring-missing" };
    expect(centrifugalAdvanceDeg(faulty(first), 250, "rising")).toBeGreaterThan(6);
    expect(centrifugalAdvanceDeg(faulty(), 1200, "rising")).toBeLessThan(9.5);
    expect(centrifugalAdvanceDeg(faulty(second), 1300, "rising")).toBe(14);
    expect(centrifugalAdvanceDeg(faulty(first, second), 300, "rising")).toBe(14);
  });

  it("a worn loop or post: the second spring takes up later", () => {
    // Posts at 27 and 16 mm, 14° apart at rest. The spring pulls beyond 13.34 mm: cos⁻¹((985 −
    // 13.34²) / 864) = 20.92°, at 6.92° of advance; beyond 13.84 mm at 9.31°.
    const second = (scenario: Scenario, deg: number) => {
      const unit = unitOf(scenario);
      return forcesAt({ ...unit, springs: unit.springs.slice(1) }, deg).restoringNm;
    };
    const worn = faulty({ fault: "second-spring-loop-worn", wornMm: 0.5 });
    expect(second(faulty(), 6.9)).toBe(0);
    expect(second(faulty(), 6.94)).toBeGreaterThan(0);
    expect(second(worn, 9.29)).toBe(0);
    expect(second(worn, 9.33)).toBeGreaterThan(0);
  });

  it("a worn stop lets the cam further out", () => {
    const scenario = faulty({ fault: "stop-worn", beyondDeg: 2.5 });
    expect(settle(scenario, [4000])[0]).toBeCloseTo(16.5, 9);
    expect(centrifugalAdvanceDeg(scenario, 4000, "rising")).toBe(16.5);
  });
});

describe("shaft, cam and contacts", () => {
  const tables = (more: object) => ({ mechanism: {}, ...more });
  const parsed = (more: object) => parseScenario(tables(more), "test");

  it("a worn bush adds to the play", () => {
    const worn = {
      pulses: { bushPlayDeg: 0.1 },
      faults: [{ fault: "shaft-bush-worn", playDeg: 0.4 }],
    };
    expect(parsed(worn).pulses.bushPlayDeg).toBeCloseTo(0.5, 9);
    // 51° and twice the play.
    const least = Math.min(...dwellsDeg(parsed(worn)).map(({ dwellDeg }) => dwellDeg));
    expect(least).toBeGreaterThan(51);
  });

  it("a bent shaft opens late and closes soon once a turn", () => {
    const faults = [{ fault: "shaft-bent", peakDeg: 0.5 }];
    const { turns } = steady(tables({ faults }), 1000);
    near(meanDeg(turns, "a"), [5.5, 95, 184.5, 275]);
    // The closings at 39°, 129°, 219° and 309° after the first lobe, by −0.5° · cos of that.
    near(meanDeg(turns, "b"), [43.611, 134.315, 224.389, 313.685]);
    [0.5, 0, -0.5, 0].forEach((deg, i) => {
      expect(lobeDeviationsDeg(parsed({ faults }))[i]?.deviationDeg).toBeCloseTo(deg, 9);
    });
    // Closed from 309.3° before the first lobe to 0.5°: 51.815°.
    expect(dwellsDeg(parsed({ faults }))[0]?.dwellDeg).toBeCloseTo(51.8147, 3);
  });

  it("the bend stays with the shaft when weights turn the cam and goes with the plate", () => {
    const faults = [{ fault: "shaft-bent", peakDeg: 1 }];
    const byWeights = { mechanism: { speedTable: [[0, 30]] }, faults };
    // The first lobe fires with the shaft 30° before its place at rest: 1° · cos 30° late.
    near(meanDeg(steady(byWeights, 1000).turns, "a"), [65.5, 154.134, 244.5, 335.866], 0.01);
    const byPlate = { mechanism: { vacuumTable: [[0, 30]] }, faults };
    near(meanDeg(steady(byPlate, 1000).turns, "a"), [65, 154, 245, 336], 0.01);
  });

  it("a bent shaft moves both edges of another trigger together", () => {
    const unit = { trigger: { kind: "hall" } };
    const faults = [{ fault: "shaft-bent", peakDeg: 0.5 }];
    const { turns } = steady(tables({ unit, faults }), 1000);
    near(meanDeg(turns, "a"), [5.5, 95, 184.5, 275]);
    // 36° on: 41° + 0.5° · cos 36°, and so round.
    near(meanDeg(turns, "b"), [41.405, 130.706, 220.595, 311.294]);
  });

  it("a worn lobe opens late and closes as much too soon", () => {
    const faults = [{ fault: "cam-worn", wearDeg: [0, 0.6, 0, 0] }];
    const { turns } = steady(tables({ faults }), 1000);
    near(meanDeg(turns, "a"), [5, 95.6, 185, 275]);
    near(meanDeg(turns, "b"), [44, 133.4, 224, 314]);
    const vanes = steady(tables({ faults, unit: { trigger: { kind: "hall" } } }), 1000).turns;
    near(meanDeg(vanes, "b"), [41, 131.6, 221, 311]);
  });

  it("wear adds up over faults", () => {
    const faults = [
      { fault: "cam-worn", wearDeg: [0.1, 0, 0, 0] },
      { fault: "cam-worn", wearDeg: [0.2, 0.3, 0, 0] },
    ];
    const { wearDeg } = parsed({ faults }).pulses;
    [0.3, 0.3, 0, 0].forEach((deg, i) => {
      expect(wearDeg[i]).toBeCloseTo(deg, 9);
    });
  });

  it("a weak contact spring takes dwell away at high speed only", () => {
    const float = { fromRpm: 2500, lateUsPer1000Rpm: 200 };
    const scenario = parsed({ faults: [{ fault: "contact-spring-weak", float }] });
    expect(dwellLossDeg(scenario, 2400)).toBe(0);
    // 200 µs at 21° a millisecond.
    expect(dwellLossDeg(scenario, 3500)).toBeCloseTo(4.2, 9);
    expect(scenario.pulses.bounce).toMatchObject({ fromRpm: 2000, sharePer1000Rpm: 0.3 });
  });
});

describe("capsule and plate", () => {
  const capsuleOf = (...faults: object[]) => {
    const capsule = installedMechanism(faulty(...faults))?.capsules[0];
    if (capsule === undefined) throw new Error("the example has a capsule");
    return capsule;
  };
  const settled = (faults: object[], ...pascals: number[]) => {
    const motion = new CapsuleMotion(capsuleOf(...faults));
    for (const pa of pascals) for (let i = 0; i < 500; i++) motion.step(0.001, pa);
    return motion.advanceDeg;
  };

  it("tears and leaks let air in side by side", () => {
    const torn = { fault: "diaphragm-torn" };
    const leak = { fault: "capsule-leak", flowMlPerS: 5 };
    expect(capsuleOf(torn, leak).leaks).toEqual([
      { form: "passage", flowMlPerS: 1500 },
      { form: "pinhole", flowMlPerS: 5 },
    ]);
  });

  it("a stuck plate, or the link off, does not move", () => {
    const stuck = { fault: "plate-stuck", travelMm: 1 };
    const off = { fault: "link-off" };
    // 1 mm on a radius of 22 mm.
    expect(settled([stuck], 60_000, 0)).toBeCloseTo(2.6044, 4);
    expect(settled([off], 60_000)).toBe(0);
    for (const both of [
      [stuck, off],
      [off, stuck],
    ]) {
      expect(vacuumAdvanceDeg(faulty(...both), 60_000, "rising")).toBeCloseTo(2.6044, 4);
    }
  });

  it("a sticking plate moves late", () => {
    // Friction 3.2 N, 4.8 N to break away: 22.8 N on 1500 mm² are 15.2 kPa. Beyond, 22.95 N less 18
    // and 3.2 N, over 7.8 N/mm: 0.22436 mm.
    const sticking = { fault: "plate-sticking", frictionN: 3 };
    expect(vacuumAdvanceDeg(faulty(sticking), 15_150, "rising")).toBe(0);
    expect(vacuumAdvanceDeg(faulty(sticking), 15_300, "rising")).toBeCloseTo(0.58431, 4);
    expect(settled([sticking], 15_150)).toBe(0);
    expect(Math.abs(settled([sticking], 15_300) - 0.58431)).toBeLessThan(0.006);
    // At full travel 50.916 N hold it; falling, it moves at (50.916 − 4.8) N: 30.744 kPa.
    expect(vacuumAdvanceDeg(faulty(sticking), 30_800, "falling")).toBeCloseTo(10.9904, 4);
    expect(vacuumAdvanceDeg(faulty(sticking), 30_700, "falling")).toBeLessThan(10.5);
  });

  it("a plate that sticks harder than its spring pulls does not come home", () => {
    // (20.2 − 18) N over 7.8 N/mm: 0.28205 mm.
    const sticking = { fault: "plate-sticking", frictionN: 20, stickRatio: 1 };
    expect(vacuumAdvanceDeg(faulty(sticking), 0, "falling")).toBeCloseTo(0.73456, 4);
    expect(Math.abs(settled([sticking], 60_000, 0) - 0.73456)).toBeLessThan(0.006);
  });

  it("another spring starts and ends elsewhere", () => {
    const tired = { fault: "capsule-spring-wrong", loadRatio: 0.8, rateRatio: 1.2 };
    // (30 − 14.4 − 0.2) N over 9.36 N/mm: 1.6453 mm.
    expect(vacuumAdvanceDeg(faulty(tired), 20_000, "rising")).toBeCloseTo(4.2849, 4);
    expect(vacuumAdvanceDeg(faulty(tired), 9_700, "rising")).toBe(0);
    expect(vacuumAdvanceDeg(faulty(tired), 9_800, "rising")).toBeGreaterThan(0);
  });
});

describe("refused with a word", () => {
  it.each([
    [{ fault: "second-spring-missing" }, /no second spring/],
    [{ fault: "stop-worn", beyondDeg: 20 }, /the pin cannot turn the cam 34°/],
    [{ fault: "cam-worn", wearDeg: [1, 0] }, /wearDeg: give one for each of the 4 lobes/],
    [{ fault: "capsule-spring-wrong" }, /give loadRatio, rateRatio or both/],
    [{ fault: "link-off", capsule: 2 }, /there is no capsule 2/],
  ])("%j", (fault, words) => {
    const springs = HEALTHY.mechanism.springs.slice(0, 1);
    const content = { ...HEALTHY, mechanism: { ...HEALTHY.mechanism, springs }, faults: [fault] };
    expect(() => parseScenario(content, "test")).toThrow(words);
  });
});

it("all faults at once are one unit that runs", () => {
  const faults = [
    { fault: "weights-dry", frictionFactor: 2 },
    { fault: "weights-not-returning", heldDeg: 1 },
    { fault: "spring-stretched", spring: "first", lengthenedMm: 0.1 },
    { fault: "spring-light", spring: "first" },
    { fault: "spring-heavy", spring: "second" },
    { fault: "second-spring-loop-worn", wornMm: 0.3 },
    { fault: "stop-worn", beyondDeg: 1 },
    { fault: "shaft-bush-worn", playDeg: 0.2 },
    { fault: "shaft-bent", peakDeg: 0.5, phaseDeg: 30 },
    { fault: "cam-worn", wearDeg: [0, 0.5, 0, 0] },
    { fault: "contact-spring-weak" },
    { fault: "plate-lead-breaking", plateFromDeg: 6, plateToDeg: 7 },
    { fault: "capsule-leak" },
    { fault: "plate-sticking", frictionN: 2 },
    { fault: "capsule-spring-wrong", loadRatio: 0.9 },
  ];
  const { turns, bench } = steady({ ...HEALTHY, faults }, 1000, 4, { vacuumPa: 20_000 });
  expect(turns.length).toBeGreaterThan(60);
  expect(turns.every(({ events }) => events.length === 8)).toBe(true);
  const scenario = faulty(...faults);
  const { plateDeg } = bench.rig.truth();
  expect(Math.abs(plateDeg - vacuumAdvanceDeg(scenario, 20_000, "rising"))).toBeLessThan(0.3);
});
