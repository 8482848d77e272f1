// The coupling's run-out: what stays with the rig when the unit is re-seated half a turn round.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { estimateCoupling } from "../../core/calibration/coupling.ts";
import type { LobePlaces } from "../../core/calibration/seating.ts";
import { codeOf } from "./codes.ts";

interface Setup {
  readonly nominalDeg: readonly number[];
  /** Each lobe's own error. */
  readonly unitDeg: readonly number[];
  readonly runOutDeg: number;
  readonly phaseDeg: number;
}

const cos = (deg: number) => Math.cos((deg * Math.PI) / 180);

const SPEEDS = [500, 1000];

/**
 * Two readings at each speed of a seating whose first lobe stands at `seatDeg`, `noiseDeg` either way
 * at the first lobe. Ripple of the drive as at 1000 rpm, latest 60° after the index.
 */
function seated(setup: Setup, seatDeg: number, noiseDeg = 0, rippleDeg = 0): LobePlaces[] {
  const { nominalDeg, unitDeg, runOutDeg, phaseDeg } = setup;
  return SPEEDS.flatMap((targetRpm) =>
    [1, -1].map((sign) => {
      const anglesDeg = nominalDeg.map((nominal) => (nominal + seatDeg) % 360);
      const raw = anglesDeg.map(
        (angle, lobe) =>
          (unitDeg[lobe] ?? 0) +
          runOutDeg * cos(angle - phaseDeg) +
          rippleDeg * (1000 / targetRpm) ** 2 * cos(angle - 60) +
          (lobe === 0 ? sign * noiseDeg : 0),
      );
      const mean = raw.reduce((sum, one) => sum + one, 0) / raw.length;
      const deviationsDeg = raw.map((one) => one - mean);
      return { targetRpm, hiddenStandardUncertaintyDeg: HIDDEN_DEG, anglesDeg, deviationsDeg };
    }),
  );
}

/** Next to nothing, so that scatter alone counts. */
const HIDDEN_DEG = 1e-9;

/** Evenly spaced lobes are counted from the first after the index, whichever that is. */
function countedFromIndex(readings: readonly LobePlaces[]): LobePlaces[] {
  return readings.map((reading) => {
    const { anglesDeg, deviationsDeg } = reading;
    const order = anglesDeg
      .map((_, i) => i)
      .sort((a, b) => (anglesDeg[a] ?? 0) - (anglesDeg[b] ?? 0));
    const sorted = (values: readonly number[]) => order.map((i) => values[i] ?? 0);
    return { ...reading, anglesDeg: sorted(anglesDeg), deviationsDeg: sorted(deviationsDeg) };
  });
}

const even = (lobes: number) => Array.from({ length: lobes }, (_, i) => (i * 360) / lobes);

const four: Setup = {
  nominalDeg: even(4),
  // 0.3° at the first lobe: half of it a run-out of 0.15° of the unit's own, latest at its first lobe.
  unitDeg: [0.3, 0, 0, 0],
  runOutDeg: 0.2,
  phaseDeg: 130,
};

describe("the coupling", () => {
  it("is what stays at its place after the index", () => {
    const found = estimateCoupling(seated(four, 20), seated(four, 200));
    expect(found.runOutDeg).toBeCloseTo(0.2, 9);
    expect(found.phaseDeg).toBeCloseTo(130, 6);
    expect(found.offHalfTurnDeg).toBeCloseTo(0, 9);
  });

  it("is told from the unit's own once a turn", () => {
    const found = estimateCoupling(seated(four, 20), seated(four, 200));
    expect(found.unit.runOutDeg).toBeCloseTo(0.15, 9);
    expect(found.unit.phaseDeg).toBeCloseTo(20, 6);
  });

  it("does not mind being a little off half a turn", () => {
    const found = estimateCoupling(seated(four, 20), seated(four, 212));
    expect(found.runOutDeg).toBeCloseTo(0.2, 9);
    expect(found.phaseDeg).toBeCloseTo(130, 6);
    expect(found.offHalfTurnDeg).toBeCloseTo(12, 9);
  });

  it("is found on even and uneven cams, whatever lobe is counted first", () => {
    const cams = [even(3), even(4), even(5), even(6), even(8), [0, 45, 120, 165, 240, 285]];
    fc.assert(
      fc.property(
        fc.constantFrom(...cams),
        fc.array(fc.double({ min: -0.5, max: 0.5, noNaN: true }), { minLength: 8, maxLength: 8 }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        fc.integer({ min: 0, max: 359 }),
        fc.integer({ min: 0, max: 359 }),
        (nominalDeg, errors, runOutDeg, phaseDeg, seatDeg) => {
          const setup = { nominalDeg, unitDeg: errors, runOutDeg, phaseDeg };
          const isEven = nominalDeg[1] === 360 / nominalDeg.length;
          const counted = isEven ? countedFromIndex : (readings: LobePlaces[]) => readings;
          const found = estimateCoupling(
            counted(seated(setup, seatDeg)),
            counted(seated(setup, seatDeg + 180)),
          );
          expect(found.runOutDeg).toBeCloseTo(runOutDeg, 6);
          expect(cos(found.phaseDeg - phaseDeg)).toBeCloseTo(1, 6);
        },
      ),
    );
  });

  it("is told from ripple of the drive, which stays with the rig too but fades with speed", () => {
    const found = estimateCoupling(seated(four, 20, 0, 0.03), seated(four, 200, 0, 0.03));
    expect(found.runOutDeg).toBeCloseTo(0.2, 9);
    expect(found.phaseDeg).toBeCloseTo(130, 6);
    expect(found.rippleAt1000Rpm.runOutDeg).toBeCloseTo(0.03, 9);
    expect(found.rippleAt1000Rpm.phaseDeg).toBeCloseTo(60, 6);
    expect(found.unit.runOutDeg).toBeCloseTo(0.15, 9);
  });

  it("is as uncertain as repeated readings scatter", () => {
    // By hand: the two readings of a seating differ by ± n at one of four lobes, as deviations
    // ± n·(3/4, −1/4, −1/4, −1/4): variance 2·n²·(12/16)/3 = n²/2 of a place, over two readings and two
    // seatings n²/2 together. The columns are 2·cos and 2·sin at four even places, squares 8, so at each
    // speed u = n/4. Run-out from the two speeds: (4·x(1000) − x(500))/3, so √17/3 of it.
    const found = estimateCoupling(seated(four, 20, 0.02), seated(four, 200, 0.02));
    expect(found.standardUncertaintyDeg).toBeCloseTo((0.005 * Math.sqrt(17)) / 3, 9);
    expect(found.degreesOfFreedom).toBe(2);
  });
});

describe("what is refused", () => {
  it("one lobe, and two", () => {
    const of = (lobes: number): LobePlaces[] =>
      seated({ nominalDeg: even(lobes), unitDeg: [], runOutDeg: 0.2, phaseDeg: 0 }, 20);
    const one = codeOf(() => estimateCoupling(of(1), of(1)));
    expect(one.code).toBe("CHECK_TOO_LITTLE");
    expect(one.message).toContain("every deviation is 0");
    const two = codeOf(() => estimateCoupling(of(2), of(2)));
    expect(two.code).toBe("CHECK_TOO_LITTLE");
    expect(two.message).toContain("along their own line only");
  });

  it("a single reading of a seating", () => {
    const once = seated(four, 20).slice(0, 3);
    const { code, message } = codeOf(() => estimateCoupling(once, seated(four, 200)));
    expect(code).toBe("CHECK_TOO_LITTLE");
    expect(message).toContain("1 readings");
  });

  it("one speed, or other speeds in the second seating", () => {
    const slow = (readings: readonly LobePlaces[]) =>
      readings.filter(({ targetRpm }) => targetRpm === 500);
    const fast = seated(four, 200).map((one) => ({ ...one, targetRpm: one.targetRpm + 1 }));
    for (const [before, after] of [
      [slow(seated(four, 20)), slow(seated(four, 200))],
      [seated(four, 20), slow(seated(four, 200))],
      [seated(four, 20), fast],
      [[], []],
    ] as const) {
      expect(codeOf(() => estimateCoupling(before, after)).code).toBe("CHECK_TOO_LITTLE");
    }
  });

  it("a second seating too far from half a turn", () => {
    const { code, message } = codeOf(() => estimateCoupling(seated(four, 20), seated(four, 240)));
    expect(code).toBe("CHECK_DOUBTFUL");
    expect(message).toContain("40° from half a turn");
  });

  it("lobes that moved as no run-out moves them", () => {
    const six: Setup = { ...four, nominalDeg: even(6), unitDeg: [0, 0, 0, 0, 0, 0] };
    const slipped: Setup = { ...six, unitDeg: [0.9, 0, -0.9, 0.9, 0, -0.9] };
    const { code, message } = codeOf(() =>
      estimateCoupling(seated(six, 20, 0.01), seated(slipped, 200, 0.01)),
    );
    expect(code).toBe("CHECK_DOUBTFUL");
    expect(message).toContain("no run-out explains");
  });
});
