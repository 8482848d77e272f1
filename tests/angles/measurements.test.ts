// Readings while a run lasts, from even turns whose edges and events stand where a law puts them.
import { describe, expect, it } from "vitest";
import type { Measurements, Place } from "../../core/angles/measurements.ts";
import type { Unit } from "../../core/unit.ts";
import { Bench, DWELL_DEG, FALLING, NOMINAL_DEG, RISING, TURNS, UNIT, VACUUM } from "./bench.ts";

describe("a reading that is added", () => {
  it("has its advance against the reference, its turns and its dwell", () => {
    const bench = new Bench();
    const measurements = bench.measure(bench.spin(500));
    const reading = measurements.add(bench.spin(1000, { earlyDeg: 4 }), RISING);
    expect(reading?.advanceDeg).toBeCloseTo(4, 9);
    expect(reading?.speedRpm).toBeCloseTo(1000, 9);
    expect(reading?.turns).toBe(TURNS);
    expect(reading?.dwellDeg).toBeCloseTo(DWELL_DEG, 9);
    expect(reading?.lobes).toHaveLength(4);
  });

  it("has no dwell without contacts", () => {
    const bench = new Bench();
    const unit: Unit = { ...UNIT, trigger: { kind: "hall", firingEdge: "a" } };
    const measurements = bench.measure(bench.spin(500), unit);
    expect(measurements.add(bench.spin(1000), RISING)?.dwellDeg).toBeNull();
  });

  it("has the vacuum of its own turns", () => {
    const bench = new Bench();
    const measurements = bench.measure(bench.spin(500));
    const vacuum = (tick: number, vacuumPa: number) =>
      bench.log.pushVacuum({
        type: "vac",
        sequence: 0,
        tick,
        vacuumPa,
        pumpPermille: 0,
        valve: "hold",
      });
    // Ten turns of 720,000 ticks lie before it.
    vacuum(7_199_999, 10_000);
    vacuum(7_200_000, 20_000);
    expect(measurements.add(bench.spin(1000), VACUUM)?.vacuumPa).toBe(20_000);
  });

  it("has the known delay taken off at either speed: 100 µs are 0.6° at 1,000 rpm, 0.3° at 500", () => {
    const bench = new Bench({ delayUs: 100 });
    const measurements = bench.measure(bench.spin(500));
    // It seems as early as at the reference, and so is 0.3° earlier.
    expect(measurements.add(bench.spin(1000), RISING)?.advanceDeg).toBeCloseTo(0.3, 9);
  });

  it("is forgotten where nothing fired", () => {
    const bench = new Bench();
    const measurements = bench.measure(bench.spin(500));
    expect(measurements.add(bench.spin(800, { silent: true }), RISING)).toBeNull();
    measurements.add(bench.spin(1000, { earlyDeg: 4 }), RISING);
    const speeds = measurements.final()?.readings.map(({ speedRpm }) => Math.round(speedRpm));
    expect(speeds).toEqual([500, 1000]);
  });

  it("goes by what may be assumed while the run lasts: 0.005° of ripple where four lobes hide it", () => {
    const bench = new Bench({ delayStandardUncertaintyUs: 10, delayDegreesOfFreedom: 7 });
    const measurements = bench.measure(bench.spin(500));
    const { budget = [] } = measurements.add(bench.spin(1000), RISING) ?? {};
    const [ripple, delay] = ["ripple not seen", "delay"].map((name) =>
      budget.find((part) => part.name === name),
    );
    // (1000 / 500)² − 1 = 3 times it; 10 µs are 0.03° over 500 rpm.
    expect(ripple?.standardUncertainty).toBeCloseTo(0.015, 9);
    expect(delay).toMatchObject({ degreesOfFreedom: 7, shared: true });
    expect(delay?.standardUncertainty).toBeCloseTo(0.03, 9);
  });
});

describe("the way to a reading", () => {
  function way(speeds: readonly number[], place: Place, before?: (m: Measurements) => void) {
    const bench = new Bench();
    const measurements = bench.measure(bench.spin(500));
    before?.(measurements);
    const from = bench.log.turns.length;
    for (const speedRpm of speeds) bench.spin(speedRpm, { turns: 1 });
    const span = { from: from + speeds.length - 2, to: from + speeds.length };
    const { farthestRpm, wayFromTick } = measurements.add(span, place) ?? {};
    const rounded = farthestRpm == null ? farthestRpm : Math.round(farthestRpm);
    return { farthestRpm: rounded, wayFromTick };
  }

  /** Where ten turns at 500 rpm end, of 720,000 ticks each. */
  const wayFromTick = 7_200_000;

  it("goes up to its highest speed since it was lowest", () => {
    const speeds = [1500, 900, 800, 1200, 1100, 1100];
    expect(way(speeds, RISING)).toEqual({ farthestRpm: 1200, wayFromTick });
  });

  it("goes down to its lowest speed since it was highest", () => {
    const speeds = [700, 1500, 1600, 1000, 1100, 1100];
    expect(way(speeds, FALLING)).toEqual({ farthestRpm: 1000, wayFromTick });
  });

  it("is where it stands if it only came nearer", () => {
    expect(way([1500, 1200, 1000], RISING).farthestRpm).toBe(1000);
    expect(way([1000, 1200, 1500], FALLING).farthestRpm).toBe(1500);
  });

  it("is none of a sweep of the vacuum, nor where none was gone", () => {
    const none = { farthestRpm: null, wayFromTick: null };
    expect(way([900, 1000], VACUUM)).toEqual(none);
    expect(way([900, 1000], { sweep: "speed", branch: null })).toEqual(none);
    expect(way([900, 1000], { sweep: "return", branch: "rising" })).toEqual(none);
  });

  it("begins anew from where it is told, and never before the reading that came last", () => {
    const bench = new Bench();
    const measurements = bench.measure(bench.spin(500));
    bench.spin(1500, { turns: 1 });
    measurements.beginWay();
    const first = measurements.add(bench.spin(1000, { turns: 2 }), RISING);
    // One turn of 240,000 ticks after the reference.
    expect(first).toMatchObject({ wayFromTick: 7_440_000 });
    measurements.beginWay(3);
    const second = measurements.add(bench.spin(1000, { turns: 2 }), RISING);
    // After two more of 360,000.
    expect(second).toMatchObject({ wayFromTick: 8_160_000 });
  });
});

describe("a turn by itself", () => {
  const UNKNOWN = { advanceDeg: null, lobeDeviationsDeg: [] };

  it("is known against the reference", () => {
    const bench = new Bench();
    const measurements = bench.measure(bench.spin(500));
    const now = measurements.now(bench.turn(1000, { earlyDeg: 3 }));
    expect(now.advanceDeg).toBeCloseTo(3, 9);
    expect(now.lobeDeviationsDeg).toHaveLength(4);
    for (const deg of now.lobeDeviationsDeg) expect(deg).toBeCloseTo(0, 9);
  });

  it("is not known before the reference, nor lost, nor where nothing fired", () => {
    const bench = new Bench();
    const span = bench.spin(500);
    const early = bench.measurements(NOMINAL_DEG);
    expect(early.now(bench.turn(1000))).toEqual(UNKNOWN);
    const measurements = bench.measure(span);
    expect(measurements.now(bench.turn(1000, { lost: true }))).toEqual(UNKNOWN);
    expect(measurements.now(bench.turn(1000, { silent: true }))).toEqual(UNKNOWN);
  });

  it.each([
    // Third divided difference of −1.02, 0, 1 and 2: (0 − (1 − 1 / 1.02) / 2.02) / 3.02, by 0.385 of a turn:
    // 0.45°; of −1.03 0.66°.
    ["is", 1.02, true],
    ["is not", 1.03, false],
  ])("%s known beside a corner that leaves less than half a degree open", (_, share, known) => {
    const bench = new Bench();
    const measurements = bench.measure(bench.spin(500));
    const { advanceDeg } = measurements.now(bench.turn(1000, { beforeShare: share }));
    expect(advanceDeg !== null).toBe(known);
  });

  it("is known while edges may be misplaced by less: 720° · 1e-3 / √8 / √4 are 0.13°", () => {
    const lateEdge = (k: number) => (k === 3 ? 0.001 : 0);
    const bench = new Bench({ edgesPerTurn: 8 });
    const measurements = bench.measure(bench.spin(500, { lateEdge }));
    expect(measurements.now(bench.turn(1000, { lateEdge })).advanceDeg).not.toBeNull();
  });

  it("is not known while edges may be misplaced by as much", () => {
    // Edge 3 of 8 late by a hundredth of a turn, 3.6°: not told from ripple at one speed, told at two.
    const lateEdge = (k: number) => (k === 3 ? 0.01 : 0);
    const bench = new Bench({ edgesPerTurn: 8 });
    const measurements = bench.measure(bench.spin(500, { lateEdge }));
    expect(measurements.now(bench.turn(1000, { lateEdge }))).toEqual(UNKNOWN);
    measurements.add(bench.spin(1500, { lateEdge }), RISING);
    expect(measurements.now(bench.turn(1000, { lateEdge })).advanceDeg).toBeCloseTo(0, 4);
  });
});

describe("a pickup that is known better by and by", () => {
  it("is taken as it was known until the variance of an edge has halved", () => {
    const lateEdge = (k: number) => (k === 3 ? 0.001 : 0);
    const bench = new Bench({ edgesPerTurn: 16 });
    const measurements = bench.measure(bench.spin(500, { lateEdge }));
    const uncertainties = [0, 1, 2].map(() => {
      const span = bench.spin(1000, { lateEdge, earlyDeg: 30 });
      const { budget = [] } = measurements.add(span, RISING) ?? {};
      return budget.find(({ name }) => name === "pickup")?.standardUncertainty as number;
    });
    // Spacing by least squares over x = (1,000 rpm / speed)², 4 once and 1 n times, each as sure as 1e-7 of a turn:
    // a variance of Σx² / (Σ1 · Σx² − (Σx)²), 17/9, 18/18 and 19/27 of it. The second is more than half the
    // first, the third less. An edge 22.5° on is another one: √2 of it, and 1/√4 for the mean of four lobes.
    for (const [i, variance] of [17 / 9, 17 / 9, 19 / 27].entries()) {
      const expected = (360 * 1e-7 * Math.sqrt(variance) * Math.SQRT2) / 2;
      expect((uncertainties[i] as number) / expected).toBeCloseTo(1, 3);
    }
  });
});
