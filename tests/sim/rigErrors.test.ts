import { describe, expect, it } from "vitest";
import { parseScenario } from "../../sim/scenario.ts";
import { pickupDeviationsDeg } from "../../sim/truth.ts";
import { Bench } from "./bench.ts";
import { meanDeg, near, type SteadyTurn, steady } from "./steady.ts";

describe("trigger input", () => {
  it("without delay opens at the lobes, 5° after the index, and closes 39° later", () => {
    const { turns } = steady({ mechanism: {} }, 1000);
    near(meanDeg(turns, "a"), [5, 95, 185, 275]);
    near(meanDeg(turns, "b"), [44, 134, 224, 314]);
  });

  // 500 µs at 6° a millisecond (1000 rpm) and at 18° (3000 rpm).
  it.each([
    [1000, 3],
    [3000, 9],
  ])("delays both edges by 500 µs at %d rpm", (rpm, lateDeg) => {
    const { turns } = steady({ mechanism: {}, rig: { delayUs: 500 } }, rpm);
    near(
      meanDeg(turns, "a"),
      [5, 95, 185, 275].map((deg) => deg + lateDeg),
    );
    near(
      meanDeg(turns, "b"),
      [44, 134, 224, 314].map((deg) => deg + lateDeg),
    );
  });
});

describe("pickup edges", () => {
  const mean = (turns: SteadyTurn[]) =>
    Array.from({ length: 36 }, (_, i) => {
      const sum = turns.reduce((total, turn) => total + (turn.pickupDeg[i] ?? Number.NaN), 0);
      return sum / turns.length;
    });

  it("stand out of place by the seed within the peak, at the same angle at any speed", () => {
    const scenario = { mechanism: {}, seed: 7, rig: { spacingErrorPeakDeg: 0.5 } };
    const errors = mean(steady(scenario, 1000).turns).map((deg, i) => deg - 10 * (i + 1));
    near(
      mean(steady(scenario, 3000).turns).map((deg, i) => deg - 10 * (i + 1)),
      errors,
    );
    const truth = pickupDeviationsDeg(parseScenario(scenario, "test"));
    near(errors, [...truth.slice(1), 0]);
    expect(truth[0]).toBe(0);
    expect(Math.max(...errors.map(Math.abs))).toBeLessThan(0.51);
    expect(Math.max(...errors)).toBeGreaterThan(0.35);
    expect(Math.min(...errors)).toBeLessThan(-0.35);
    const other = mean(steady({ ...scenario, seed: 8 }, 1000).turns);
    const apart = other.filter((deg, i) => Math.abs(deg - 10 * (i + 1) - (errors[i] ?? 0)) > 0.05);
    expect(apart.length).toBeGreaterThan(20);
  });

  it("stand out of place once a turn by eccentricity, the index their origin", () => {
    const scenario = { mechanism: {}, rig: { eccentricityDeg: 1 } };
    // cos θ − 1 at 90°, 180°, 270° and 360°.
    const quarters = (deg: number[]) => [8, 17, 26, 35].map((i) => deg[i] ?? 0);
    near(quarters(mean(steady(scenario, 1000).turns)), [89, 178, 269, 360]);
    const wrongWay = steady(scenario, 1000, 2, { direction: "ccw" });
    near(quarters(mean(wrongWay.turns)), [91, 182, 271, 360]);
    const phased = { mechanism: {}, rig: { eccentricityDeg: 1, eccentricityPhaseDeg: 90 } };
    near(quarters(mean(steady(phased, 1000).turns)), [91, 180, 269, 360]);
  });
});

describe("coupling run-out", () => {
  const at = (couplingDeg: number) => {
    const rig = { couplingRunOutDeg: 1, couplingDeg };
    return meanDeg(steady({ mechanism: {}, rig }, 1000).turns, "a");
  };

  it("moves the lobes once a turn in the rig's frame", () => {
    // φ + cos φ = 5°, 95°, 185°, 275°, solved by repeated substitution.
    near(at(5), [4.00244, 95.0887, 185.99453, 274.91433]);
  });

  it("stays in its place turned the other way", () => {
    const scenario = { mechanism: {}, rig: { couplingRunOutDeg: 1, couplingRunOutPhaseDeg: 90 } };
    // The flanks that close at 44°, 134°, 224° and 314° open now: φ + sin φ = those, met at 360° − φ.
    const { turns } = steady(scenario, 1000, 2, { direction: "ccw" });
    near(meanDeg(turns, "a"), [45.28933, 135.29656, 226.72811, 316.686]);
  });

  it("is the same place of the spindle under a unit made for the other way", () => {
    const rig = { couplingRunOutDeg: 1, couplingRunOutPhaseDeg: 90 };
    const scenario = { mechanism: {}, unit: { rotation: "ccw" }, rig };
    // At 360° − φ the shaft is sin(360° − φ) clockwise, so late: φ + sin φ = 5°, 95°, 185°, 275°, by repeated substitution.
    const { turns } = steady(scenario, 1000, 2, { direction: "ccw" });
    near(meanDeg(turns, "a"), [4.91433, 94.00244, 185.0887, 275.99453]);
  });

  it("is the other way for each lobe after re-seating half a turn round", () => {
    const unit = { lobeAnglesDeg: [0, 80, 190, 270] };
    const of = (couplingDeg: number) => {
      const rig = { couplingRunOutDeg: 1, couplingDeg };
      const scenario = { mechanism: {}, unit: { ...unit, dwellDeg: 60 }, rig };
      return meanDeg(steady(scenario, 1000).turns, "a");
    };
    const first = of(5);
    const second = of(185);
    // The lobes that come first after the index are 3 and 4 now, at 15° and 95°.
    const again = [2, 3, 0, 1].map((i) => ((second[i] ?? 0) + 180) % 360);
    const middle = first.map((deg, i) => (deg + (again[i] ?? 0)) / 2);
    near(middle, [5, 85, 195, 275], 0.02);
    expect((again[0] ?? 0) - (first[0] ?? 0)).toBeCloseTo(2, 1);
  });
});

it("a clock 1000 ppm fast holds 1001 rpm for 1000 and says so of neither", () => {
  const { bench, turns } = steady({ mechanism: {}, rig: { tickErrorPpm: 1000 } }, 1000);
  bench.command("ask");
  expect(bench.last("hello")).toMatchObject({ tickHz: 10_000_000, tickPpm: 50 });
  for (const { duringTicks } of turns) expect(Math.abs(duringTicks - 600_000)).toBeLessThan(15);
  const again = steady({ mechanism: {}, rig: { tickErrorPpm: 1000 } }, 1000).bench;
  expect(again.rig.truth().speedRpm).toBeCloseTo(1001, 1);
});

it("the vacuum is controlled by what the sensor reads", () => {
  const rig = { sensorGain: 1.1, sensorOffsetPa: 500 };
  const { bench } = steady({ mechanism: {}, rig }, 500, 1, { vacuumPa: 20_000 });
  expect(Math.abs(bench.last("vac").vacuumPa - 20_000)).toBeLessThan(20);
  // (20000 − 500) / 1.1
  expect(Math.abs(bench.rig.truth().vacuumPa - 17_727)).toBeLessThan(20);
});

describe("noise", () => {
  /** 100 s at 1500 rpm are 2500 turns of 4 openings and 4 closings. */
  const long = (rig: object) => steady({ mechanism: {}, rig }, 1500, 100).turns;
  const ascend = (turns: readonly SteadyTurn[]) =>
    turns.every(({ events }) => events.every(({ us }, i) => us >= (events[i - 1]?.us ?? 0)));

  it("follows a share of the edges as a pair of opposite edges within 20 to 250 µs", () => {
    const turns = long({ doubleEdgeShare: 0.05 });
    expect(ascend(turns)).toBe(true);
    let pairs = 0;
    for (const { events } of turns) {
      events.forEach((event, i) => {
        const [spurious, back] = [events[i + 1], events[i + 2]];
        if (spurious === undefined || back === undefined || back.us - event.us > 251) return;
        pairs++;
        expect(spurious.us - event.us).toBeGreaterThan(19.8);
        expect(spurious.us - event.us).toBeLessThan(200.2);
        expect(back.us - spurious.us).toBeGreaterThan(4.8);
        expect(back.us - spurious.us).toBeLessThan(50.2);
        expect([spurious.edge, back.edge]).toEqual(event.edge === "a" ? ["b", "a"] : ["a", "b"]);
      });
      expect(events.length % 2).toBe(0);
    }
    // 20000 edges know a share of 5 % to 0.15 %; four of these are allowed.
    expect(turns.length).toBeGreaterThan(2490);
    expect(Math.abs(pairs / (8 * turns.length) - 0.05)).toBeLessThan(0.0062);
    expect(turns.some(({ lost }) => lost)).toBe(false);
  });

  it("puts a pair anywhere into a share of the turns", () => {
    const turns = long({ falseEventShare: 0.2 });
    expect(ascend(turns)).toBe(true);
    const extra = turns.filter(({ events }) => events.length > 8);
    // 2500 turns know a share of 20 % to 0.8 %; four of these are allowed.
    expect(Math.abs(extra.length / turns.length - 0.2)).toBeLessThan(0.032);
    const falseDeg = extra.map(({ events }) => {
      const sound = [5, 44, 95, 134, 185, 224, 275, 314];
      const odd = events.filter(({ deg }) => sound.every((place) => Math.abs(deg - place) > 0.1));
      return odd[0]?.deg ?? 0;
    });
    for (const quarter of [0, 90, 180, 270]) {
      const there = falseDeg.filter((deg) => deg >= quarter && deg < quarter + 90).length;
      expect(there / falseDeg.length).toBeGreaterThan(0.15);
    }
  });

  it("leaves every edge another than the one before, also where it meets true ones", () => {
    const turns = long({ falseEventShare: 1, doubleEdgeShare: 0.2 });
    const edges = turns.flatMap(({ events }) => events.map(({ edge }) => edge));
    expect(edges.length).toBeGreaterThan(25_000);
    expect(edges.filter((edge, i) => edge === edges[i - 1])).toEqual([]);
  });

  it("misses openings with their closings and sets no LOST", () => {
    const turns = long({ missingEventShare: 0.1 });
    const openings = turns.flatMap(({ events }) => events.filter(({ edge }) => edge === "a"));
    const share = openings.length / (4 * turns.length);
    // 10000 openings know a share of 10 % to 0.3 %.
    expect(Math.abs(share - 0.9)).toBeLessThan(0.012);
    for (const { events, lost } of turns) {
      expect(lost).toBe(false);
      expect(events.map(({ edge }) => edge).join("")).toMatch(/^(ab)*$/);
    }
  });

  it("loses an edge in a share of the turns, with LOST 1 and without pick lines (3.3)", () => {
    const turns = long({ lostShare: 0.1 });
    const lost = turns.filter((turn) => turn.lost);
    expect(Math.abs(lost.length / turns.length - 0.1)).toBeLessThan(0.024);
    for (const turn of turns) {
      expect(turn.events).toHaveLength(turn.lost ? 7 : 8);
      expect(turn.pickupDeg).toHaveLength(turn.lost ? 0 : 36);
    }
  });

  it("is the same for the same seed and other for another", () => {
    const rig = { doubleEdgeShare: 0.2, falseEventShare: 0.2, missingEventShare: 0.1 };
    const bytes = (seed: number) => {
      const bench = new Bench({ mechanism: {}, seed, rig: { ...rig, lostShare: 0.1 } });
      bench.arm();
      bench.speed(1000, 1000);
      bench.keepAlive(3);
      return bench.bytes;
    };
    const first = bytes(5);
    expect(bytes(5)).toEqual(first);
    expect(bytes(6)).not.toEqual(first);
  });
});

describe("ramps", () => {
  it.each([500, 1000])("follow %d rpm/s closely once they have begun", (rampRpmPerS) => {
    const bench = new Bench({ mechanism: {} });
    bench.arm();
    bench.speed(500, 1000);
    bench.keepAlive(4);
    const start = bench.rig.truth();
    bench.speed(3500, rampRpmPerS);
    const points: { s: number; rpm: number }[] = [];
    while (bench.clock.nowMs() / 1000 < start.timeS + 3000 / rampRpmPerS - 0.3) {
      bench.keepAlive(0.01);
      const { timeS, speedRpm } = bench.rig.truth();
      if (timeS > start.timeS + 0.5) points.push({ s: timeS - start.timeS, rpm: speedRpm });
    }
    const first = points[0] ?? { s: 0, rpm: 0 };
    const last = points.at(-1) ?? first;
    const slope = (last.rpm - first.rpm) / (last.s - first.s);
    expect(points.length).toBeGreaterThan(200);
    expect(Math.abs(slope / rampRpmPerS - 1)).toBeLessThan(0.0005);
    for (const { s, rpm } of points) {
      expect(Math.abs(rpm - (first.rpm + rampRpmPerS * (s - first.s)))).toBeLessThan(1);
    }
  });
});
