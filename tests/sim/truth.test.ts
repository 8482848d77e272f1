import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { balanceRpm, SOUND_UNIT } from "../../sim/mechanism.ts";
import { parseScenario } from "../../sim/scenario.ts";
import {
  type Branch,
  centrifugalAdvanceDeg,
  centrifugalStartRpm,
  centrifugalStopRpm,
  dwellsDeg,
  lobeDeviationsDeg,
  sensedLateDeg,
  vacuumAdvanceDeg,
} from "../../sim/truth.ts";
import { BoardBench } from "./boardBench.ts";
import { meanDeg, steady } from "./steady.ts";

const file = new URL("../../examples/healthy.scenario.json", import.meta.url);
const HEALTHY = JSON.parse(readFileSync(file, "utf8"));

function healthy(change: object = {}) {
  return parseScenario({ ...HEALTHY, ...change }, "test");
}

/** Where the moving plant stands after creeping to each speed (60 rpm/s) in turn. */
function plantAt(change: object, speeds: readonly number[]): number[] {
  const bench = new BoardBench({}, { ...HEALTHY, ...change });
  bench.arm();
  return speeds.map((rpm) => {
    const spanS = Math.abs(rpm - bench.plant.speedRpm) / 60;
    expect(bench.speed(rpm, 60)).toBe("ok");
    bench.runAlive(spanS + 4);
    return bench.plant.advanceDeg;
  });
}

describe("centrifugal advance", () => {
  const RISING = [250, 320, 500, 800, 1100, 1500, 2000, 2600];
  const FALLING = [2100, 1500, 1100, 800, 500, 320, 250];

  it.each<[string, object, number]>([
    ["sound", {}, 0.005],
    [
      "dry weights",
      { faults: [{ fault: "weights-dry", frictionFactor: 4, stickRatio: 1 }] },
      0.005,
    ],
    ["a light spring", { faults: [{ fault: "spring-light", spring: "first" }] }, 0.005],
    ["the second spring missing", { faults: [{ fault: "second-spring-missing" }] }, 0.005],
    ["stuck out", { faults: [{ fault: "weights-stuck", advanceDeg: 5 }] }, 1e-9],
    ["at 60 °C", { temperatureC: 60 }, 0.005],
    ["two sets of contacts", { pulses: { secondSet: { arrangement: "overlapped" } } }, 0.005],
  ])("is where the moving mechanism comes to rest: %s", (_, change, toleranceDeg) => {
    const scenario = healthy(change);
    const found = plantAt(change, [...RISING, ...FALLING]);
    const expected = [
      ...RISING.map((rpm) => centrifugalAdvanceDeg(scenario, rpm, "rising")),
      ...FALLING.map((rpm) => centrifugalAdvanceDeg(scenario, rpm, "falling", 2600)),
    ];
    found.forEach((deg, i) => {
      expect(Math.abs(deg - (expected[i] ?? 99)), `place ${i}`).toBeLessThan(toleranceDeg);
    });
  });

  it("snaps over the places that no speed holds", () => {
    const [first] = HEALTHY.mechanism.springs;
    const springs = [{ ...first, rateNPerMm: 1e-6, tensionN: 0.6 }];
    const mechanism = { ...HEALTHY.mechanism, springs };
    const scenario = healthy({ mechanism });
    const start = centrifugalStartRpm(scenario, "rising") ?? 0;
    expect(centrifugalAdvanceDeg(scenario, start - 2, "rising")).toBe(0);
    expect(centrifugalAdvanceDeg(scenario, start + 2, "rising")).toBe(14);
    // The protocol takes speeds to a tenth.
    const [before, beyond] = plantAt({ mechanism }, [Math.floor(start) - 2, Math.ceil(start) + 2]);
    expect(before).toBe(0);
    expect(beyond).toBeCloseTo(14, 6);
    // It meets the stop at the speed that starts it, and holds there far below.
    expect(centrifugalStopRpm(scenario, "rising")).toBeCloseTo(start, 6);
    const leaves = centrifugalStopRpm(scenario, "falling") ?? 0;
    expect(leaves).toBeLessThan(start - 20);
    expect(centrifugalAdvanceDeg(scenario, leaves + 2, "falling")).toBe(14);
    expect(centrifugalAdvanceDeg(scenario, leaves - 2, "falling")).toBeLessThan(1);
  });

  it.each<Branch>(["rising", "falling"])("begins and ends where the balance says, %s", (branch) => {
    const scenario = healthy();
    const { mechanism } = scenario;
    if (!("weights" in mechanism)) throw new Error("the example has weights");
    const unit = { ...mechanism, ...SOUND_UNIT };
    expect(centrifugalStartRpm(scenario, branch)).toBeCloseTo(balanceRpm(unit, 0, branch), 6);
    expect(centrifugalStopRpm(scenario, branch)).toBeCloseTo(balanceRpm(unit, 14, branch), 6);
    const middle = balanceRpm(unit, 5, branch);
    expect(centrifugalAdvanceDeg(scenario, middle, branch)).toBeCloseTo(5, 6);
  });

  it("two sets of contacts drag twice as much", () => {
    const mechanism = { ...HEALTHY.mechanism, rubbingBlockNmm: 2 };
    const pulses = { secondSet: { arrangement: "overlapped" } };
    const once = centrifugalAdvanceDeg(healthy(), 500, "rising");
    const twice = centrifugalAdvanceDeg(healthy({ pulses }), 500, "rising");
    expect(twice).toBe(centrifugalAdvanceDeg(healthy({ mechanism }), 500, "rising"));
    expect(twice).toBeLessThan(once - 0.1);
  });

  it("falls only from where it had come to", () => {
    const scenario = healthy();
    const atTop = centrifugalAdvanceDeg(scenario, 1500, "rising");
    expect(centrifugalAdvanceDeg(scenario, 1499, "falling", 1500)).toBeCloseTo(atTop, 9);
    expect(centrifugalAdvanceDeg(scenario, 1499, "falling")).toBeGreaterThan(atTop + 0.04);
  });

  it("has neither start nor stop where the weights are stuck or friction outgrows them", () => {
    const stuck = healthy({ faults: [{ fault: "weights-stuck", advanceDeg: 3 }] });
    expect(centrifugalStartRpm(stuck, "rising")).toBe(null);
    expect(centrifugalStopRpm(stuck, "falling")).toBe(null);
    const rusty = healthy({ faults: [{ fault: "weights-dry", frictionFactor: 1000 }] });
    expect(centrifugalStartRpm(rusty, "rising")).toBe(null);
    expect(centrifugalAdvanceDeg(rusty, 4000, "rising")).toBe(0);
  });

  it("without friction and drag is the cold one's at √0.988 times the speed, 40 K warmer", () => {
    const mechanism = {
      ...HEALTHY.mechanism,
      friction: { torqueNmm: 0, addedAt1000RpmNmm: 0 },
      rubbingBlockNmm: 0,
    };
    // 40 K times 0.03 %: springs at 0.988 of their force.
    const cold = healthy({ mechanism });
    const warm = healthy({ mechanism, temperatureC: 60 });
    for (const rpm of [500, 1000, 1800]) {
      expect(centrifugalAdvanceDeg(warm, rpm * Math.sqrt(0.988), "rising")).toBeCloseTo(
        centrifugalAdvanceDeg(cold, rpm, "rising"),
        6,
      );
    }
  });

  it("follows tables", () => {
    const mechanism = {
      speedTable: [
        [500, 0],
        [1500, 10],
      ],
      vacuumTable: [
        [10, 0],
        [30, 8],
      ],
    };
    const scenario = parseScenario({ mechanism }, "test");
    expect(centrifugalAdvanceDeg(scenario, 1000, "falling")).toBe(5);
    expect(vacuumAdvanceDeg(scenario, 25_000, "rising")).toBe(6);
  });
});

describe("vacuum advance", () => {
  it("is that of rod and plate, either way", () => {
    // 1500 mm² · 20 kPa = 30 N; (30 − 18 ∓ 0.2) / 7.8 mm on a radius of 22 mm.
    expect(vacuumAdvanceDeg(healthy(), 20_000, "rising")).toBeCloseTo(3.9399, 4);
    expect(vacuumAdvanceDeg(healthy(), 20_000, "falling")).toBeCloseTo(4.0735, 4);
    expect(vacuumAdvanceDeg(healthy(), 60_000, "rising")).toBeCloseTo(10.9904, 4);
    expect(vacuumAdvanceDeg(healthy(), 5000, "falling")).toBe(0);
    expect(vacuumAdvanceDeg(healthy(), 20_000, "rising", 1)).toBe(0);
    const retard = healthy({ capsules: [{ ...HEALTHY.capsules[0], acts: "retard" }] });
    expect(vacuumAdvanceDeg(retard, 20_000, "rising")).toBeCloseTo(-3.9399, 4);
    const stuck = healthy({ faults: [{ fault: "plate-stuck", travelMm: 1 }] });
    expect(vacuumAdvanceDeg(stuck, 20_000, "rising")).toBeCloseTo(2.6044, 4);
  });

  it("comes a little sooner warm, the capsule's spring being weaker", () => {
    // (30 − 0.988 · 18 − 0.2) / (0.988 · 7.8) mm.
    expect(vacuumAdvanceDeg(healthy({ temperatureC: 60 }), 20_000, "rising")).toBeCloseTo(
      4.0608,
      4,
    );
  });
});

describe("flanks", () => {
  const parse = (content: object) => parseScenario({ mechanism: {}, ...content }, "test");

  it("lobe deviations have their mean taken out", () => {
    const scenario = parse({ pulses: { lobeErrorsDeg: [0, 0.5, -0.3, 0] } });
    const found = lobeDeviationsDeg(scenario);
    expect(found.map(({ lobe }) => lobe)).toEqual([0, 1, 2, 3]);
    [-0.05, 0.45, -0.35, -0.05].forEach((deg, i) => {
      expect(found[i]?.deviationDeg).toBeCloseTo(deg, 9);
    });
    const set = { secondSet: { arrangement: "staggered", offsetDeg: 2 } };
    const staggered = lobeDeviationsDeg(parse({ pulses: set }));
    expect(staggered.map(({ deviationDeg }) => deviationDeg)).toEqual([-1, 1, -1, 1]);
    const second = lobeDeviationsDeg(parse({ pulses: { ...set, contactsConnected: "second" } }));
    expect(second).toEqual([
      { lobe: 1, deviationDeg: 0 },
      { lobe: 3, deviationDeg: 0 },
    ]);
  });

  it("dwells are each lobe's", () => {
    const dwells = (content: object) => dwellsDeg(parse(content)).map(({ dwellDeg }) => dwellDeg);
    expect(dwells({})).toEqual([51, 51, 51, 51]);
    expect(dwells({ pulses: { dwellErrorsDeg: [1, 0, -2, 0] } })).toEqual([52, 51, 49, 51]);
    const secondSet = { arrangement: "overlapped", offsetDeg: -8 };
    expect(dwells({ pulses: { secondSet } })).toEqual([59, 59, 59, 59]);
    expect(dwells({ unit: { lobeAnglesDeg: [0, 80, 190, 270] } })).toEqual([51, 41, 71, 41]);
  });

  it("those of a worn bush are what the rig's lines show", () => {
    const scenario = { mechanism: {}, pulses: { bushPlayDeg: 0.2, lobeErrorsDeg: [0, 1, 0, 0] } };
    const { turns } = steady(scenario, 1500, 60);
    const [a, b] = [meanDeg(turns, "a"), meanDeg(turns, "b")];
    const late = a.map((deg, i) => deg - (5 + 90 * i));
    const mean = late.reduce((sum, deg) => sum + deg, 0) / 4;
    const parsed = parseScenario(scenario, "test");
    // Means of 1500 turns are known to 0.005°, each.
    lobeDeviationsDeg(parsed).forEach(({ deviationDeg }, i) => {
      expect(Math.abs((late[i] ?? 99) - mean - deviationDeg)).toBeLessThan(0.025);
    });
    dwellsDeg(parsed).forEach(({ dwellDeg }, i) => {
      const closed = (((a[i] ?? 99) - (b.at(i - 1) ?? 99) + 360) % 360) - dwellDeg;
      expect(Math.abs(closed)).toBeLessThan(0.03);
    });
  });

  it("come late at the input by delay, condenser and threshold", () => {
    const rig = { delayUs: 100 };
    // 100 µs at 24° a millisecond, and 138.629 µs more where the opening fires.
    expect(sensedLateDeg(parse({ rig }), 4000)).toBeCloseTo(2.4, 9);
    const pulses = { condenserUf: 0.2 };
    expect(sensedLateDeg(parse({ rig, pulses }), 4000)).toBeCloseTo(5.72711, 4);
    const closing = { trigger: { firingEdge: "b" } };
    expect(sensedLateDeg(parse({ rig, pulses, unit: closing }), 4000)).toBeCloseTo(2.4, 9);
    const magnetic = { thresholdShiftDegAt1000Rpm: 2 };
    const unit = { trigger: { kind: "magnetic" } };
    expect(sensedLateDeg(parse({ unit, pulses: { magnetic } }), 4000)).toBeCloseTo(0.5, 9);
  });
});

it("a running rig tells its truth", () => {
  const mechanism = {
    speedTable: [
      [500, 0],
      [1500, 10],
    ],
    vacuumTable: [
      [10, 0],
      [30, 8],
    ],
  };
  const { bench } = steady({ mechanism }, 1000, 4, { vacuumPa: 20_000 });
  const truth = bench.rig.truth();
  expect(truth.timeS).toBeCloseTo(bench.clock.nowMs() / 1000, 9);
  expect(Math.abs(truth.speedRpm - 1000)).toBeLessThan(0.2);
  expect(Math.abs(truth.vacuumPa - 20_000)).toBeLessThan(20);
  expect(Math.abs(truth.plateDeg - 4)).toBeLessThan(0.01);
  expect(Math.abs(truth.advanceDeg - 9)).toBeLessThan(0.02);
});
