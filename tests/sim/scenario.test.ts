import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { BobweightError } from "../../core/errors.ts";
import { parseScenario, scenarioJsonSchema } from "../../sim/scenario.ts";
import { BoardBench } from "./boardBench.ts";

function example(name: string) {
  const file = new URL(`../../examples/${name}.scenario.json`, import.meta.url);
  return JSON.parse(readFileSync(file, "utf8"));
}

function refusal(content: unknown): string {
  try {
    parseScenario(content, "bad.scenario.json");
  } catch (error) {
    if (error instanceof BobweightError && error.code === "FILE_INVALID") return error.what;
    throw error;
  }
  throw new Error("nothing was refused");
}

function constantRipple(perTurn: number) {
  return { perTurn, percentAt1000Rpm: 9, constantPercent: true };
}

describe("defaults", () => {
  it("only the mechanism is required", () => {
    const scenario = parseScenario({ mechanism: {} }, "file");
    expect(scenario.unit).toEqual({
      lobeAnglesDeg: [0, 90, 180, 270],
      rotation: "cw",
      triggerKind: "contacts",
      firingEdge: "a",
      dwellDeg: 51,
      widthDeg: 36,
    });
    expect(scenario.rig).toMatchObject({
      pickupEdges: 36,
      tickHz: 1_000_000,
      speedMinRpm: 50,
      speedMaxRpm: 4500,
      ambientPa: 101_325,
      ripple: [],
      eventJitterUs: 0,
      indexJitterUs: 0,
      sensorNoisePa: 0,
      linkBytesPerS: null,
    });
    expect(scenario).toMatchObject({ seed: 1, invented: false, faults: [], incidents: [] });
  });

  it("what the host knows of the unit comes before them, and what the file says before that", () => {
    const known = {
      lobeAnglesDeg: [0, 45, 120, 165, 240, 285],
      rotation: "ccw",
      triggerKind: "hall",
      firingEdge: "b",
    } as const;
    const scenario = parseScenario({ mechanism: {}, unit: { rotation: "cw" } }, "file", known);
    expect(scenario.unit).toMatchObject({ ...known, rotation: "cw", widthDeg: 18 });
    expect(parseScenario({ mechanism: {}, unit: { lobes: 8 } }, "file", known).unit).toMatchObject({
      lobeAnglesDeg: [0, 45, 90, 135, 180, 225, 270, 315],
    });
  });
});

describe("refusals name file, place and fault", () => {
  it.each([
    [{}, /^bad\.scenario\.json: mechanism: /],
    [{ mechanism: { speedtable: [[0, 0]] } }, /mechanism: .*speedtable/],
    [
      {
        mechanism: {
          speedTable: [
            [500, 1],
            [400, 2],
          ],
        },
      },
      /mechanism\.speedTable: .*ascend/,
    ],
    [{ mechanism: {}, rig: { pickupEdges: 0 } }, /rig\.pickupEdges/],
    [{ mechanism: {}, rig: { speedMinRpm: 5000 } }, /rig\.speedMaxRpm/],
    [{ mechanism: {}, faults: [{ fault: "weights-stuck" }] }, /faults\.0: weights-stuck needs/],
    [{ mechanism: {}, incidents: [{ what: "spindleJams" }] }, /incidents\.0: give either atS or/],
    [{ mechanism: {}, unit: { dwellDeg: 95 } }, /unit\.dwellDeg does not fit between 4 lobes/],
    [{ mechanism: {}, unit: { lobeAnglesDeg: [0, 90, 80] } }, /unit\.lobeAnglesDeg\.2/],
    [{ mechanism: {}, unit: { lobes: 4, lobeAnglesDeg: [0, 90] } }, /unit\.lobes: give either/],
    [{ mechanism: {}, temperatureC: 40 }, /temperatureC: tables are followed exactly/],
    [{ mechanism: {}, rig: { spacingErrorPeakDeg: 5 } }, /rig\.spacingErrorPeakDeg: 36 edges/],
    [
      { mechanism: {}, rig: { ripple: [1, 2, 3].map(constantRipple) } },
      /rig\.ripple: at most 20 % of constant ripple/,
    ],
    [{ mechanism: {}, pulses: { lobeErrorsDeg: [1, 2] } }, /pulses\.lobeErrorsDeg: give one/],
    [{ mechanism: {}, pulses: { magnetic: {} } }, /pulses\.magnetic: .*trigger is contacts/],
    [
      {
        mechanism: {},
        faults: [{ fault: "contact-spring-weak" }],
        unit: { trigger: { kind: "hall" } },
      },
      /faults\.0: contact-spring-weak: a hall trigger has none/,
    ],
    [{ mechanism: {}, pulses: { contactsConnected: "first" } }, /contactsConnected: there is no/],
    [
      {
        mechanism: {},
        unit: { dwellDeg: 100 },
        pulses: { secondSet: { arrangement: "staggered" } },
      },
      /pulses\.secondSet: .* fire 0 times a turn, not 4/,
    ],
    [
      {
        mechanism: {},
        unit: { lobes: 3 },
        pulses: { secondSet: { arrangement: "staggered" } },
      },
      /pulses\.secondSet: staggered sets need an even/,
    ],
  ])("%j", (content, place) => {
    expect(refusal(content)).toMatch(place);
  });

  it("a field missing deep in the geometry, and a pin that cannot reach", () => {
    const healthy = example("healthy");
    const { pivotMm: _, ...weights } = healthy.mechanism.weights;
    expect(refusal({ ...healthy, mechanism: { ...healthy.mechanism, weights } })).toMatch(
      /^bad\.scenario\.json: mechanism\.weights\.pivotMm: /,
    );
    const far = { ...healthy.mechanism, stopDeg: 30 };
    expect(refusal({ ...healthy, mechanism: far })).toMatch(/weights\.link: the pin cannot turn/);
    const none = [{ fault: "plate-stuck", capsule: 1 }];
    expect(refusal({ ...healthy, faults: none })).toMatch(/faults\.0: there is no capsule 1/);
  });
});

it("the JSON schema wants the mechanism only", () => {
  expect(scenarioJsonSchema()).toMatchObject({ type: "object", required: ["mechanism"] });
});

/** Advance at rising and then falling speeds, as the plant has it after settling. */
function sweep(name: string, speeds: readonly number[]): number[] {
  const bench = new BoardBench({}, example(name));
  bench.arm();
  return speeds.map((rpm) => {
    bench.speed(rpm, 400);
    bench.runAlive(6);
    return bench.plant.advanceDeg;
  });
}

describe("examples", () => {
  const names = ["healthy", "stuck", "torn-diaphragm", "light-spring"];

  it("are invented, differ from the sound one only in their fault, and say so", () => {
    const healthy = example("healthy");
    for (const name of names) {
      const { faults, name: title, note, ...rest } = example(name);
      const { name: _, note: __, ...sound } = healthy;
      expect(rest).toEqual(sound);
      expect(parseScenario(example(name), name)).toMatchObject({
        invented: true,
        name: title,
        note,
      });
      expect(faults === undefined).toBe(name === "healthy");
    }
  });

  // The invented specification of examples/everyday.unit.json, ±1°, met by 0.35° inside each limit.
  const ROWS: readonly (readonly [number, number])[] = [
    [500, 3],
    [800, 7],
    [1200, 9.5],
    [1800, 12.5],
    [2400, 14],
  ];

  it("healthy meets the everyday unit's centrifugal rows, rising and falling", () => {
    const rising = [300, ...ROWS.map(([rpm]) => rpm)];
    const found = sweep("healthy", [...rising, ...rising.toReversed()]);
    const check = (advance: number | undefined, deg: number) =>
      expect(Math.abs((advance ?? 99) - deg)).toBeLessThanOrEqual(0.65);
    expect(found[0]).toBeLessThan(0.15);
    expect(found.at(-1)).toBeLessThan(0.15);
    ROWS.forEach(([, deg], i) => {
      check(found[i + 1], deg);
      check(found[found.length - 2 - i], deg);
    });
  });

  it("light-spring is outside by more than half a degree, stuck does not move", () => {
    const [at300 = 0, at500 = 0] = sweep("light-spring", [300, 500]);
    expect(at300).toBeGreaterThan(0.5);
    expect(at500).toBeGreaterThan(4.5);
    expect(sweep("stuck", [500, 2400, 500])).toEqual([0, 0, 0]);
  });

  it("healthy meets the capsule's rows, torn-diaphragm neither builds nor holds", () => {
    const bench = new BoardBench({}, example("healthy"));
    bench.arm();
    const at = (pa: number) => {
      bench.command("vacuum", bench.token, pa);
      bench.runAlive(3);
      return bench.plant.advanceDeg;
    };
    expect(at(10_000)).toBe(0);
    expect(at(15_000)).toBeGreaterThan(0.5);
    for (const [pa, deg] of [
      [20_000, 4],
      [30_000, 9],
      [40_000, 11],
      [30_000, 9],
      [20_000, 4],
    ] as const) {
      expect(Math.abs(at(pa) - deg)).toBeLessThanOrEqual(0.65);
    }
    at(50_000);
    bench.command("hold", bench.token);
    bench.runAlive(16);
    expect(bench.plant.vacuumPa).toBeGreaterThan(49_500);
    const torn = new BoardBench({}, example("torn-diaphragm"));
    torn.arm();
    torn.command("vacuum", torn.token, 20_000);
    torn.runAlive(5);
    expect(torn.plant.vacuumPa).toBeLessThan(10_000);
    expect(torn.plant.inputs.pump).toBe(1);
    expect(torn.plant.advanceDeg).toBe(0);
    torn.command("hold", torn.token);
    torn.runAlive(2);
    expect(torn.plant.vacuumPa).toBeLessThan(10);
  });
});
