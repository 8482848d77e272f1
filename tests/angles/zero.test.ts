// What slow readings tell of errors that stand in all: told where there are such, and never for an advance that is real.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { combined } from "../../core/angles/budget.ts";
import type { Ripple } from "../../core/angles/pickup.ts";
import { assumedRippleDeg, rippleBetweenLobes, rippleScale } from "../../core/angles/ripple.ts";
import type { LobeEvents, WindowFigures } from "../../core/angles/window.ts";
import {
  type Assumed,
  assumedZero,
  type Follows,
  type SlowReading,
  toldZero,
  type Zero,
  zeroDeg,
  zeroParts,
} from "../../core/angles/zero.ts";
import { Draws } from "../uncertainty/draws.ts";

const ASSUMED: Assumed = {
  rippleSizeDegAt1000Rpm: 0.005,
  usualRippleDegAt1000Rpm: 0.005,
  rippleBetweenLobesDegAt1000Rpm: 0.002,
  delayUs: 5,
  delayDegreesOfFreedom: 8,
  referenceDeg: 0.02,
  referenceDegreesOfFreedom: 40,
};

/** A fixed torque's ripple falls with the square of speed; 1 µs is 6e-6° for each rpm, late. */
function follows(speedRpm: number, referenceRpm: number): Follows {
  return {
    ripple: (1000 / speedRpm) ** 2 - (1000 / referenceRpm) ** 2,
    delay: -6e-6 * (speedRpm - referenceRpm),
    reference: 1,
  };
}

interface Errors {
  readonly ripple: number;
  readonly delayUs: number;
  readonly referenceDeg: number;
}

const NONE: Errors = { ripple: 0, delayUs: 0, referenceDeg: 0 };

interface Sweep {
  readonly referenceRpm?: number;
  readonly errors?: Errors;
  readonly standardUncertaintyDeg?: number;
  /** What the weights truly do. */
  readonly weights?: (speedRpm: number) => number;
  readonly noise?: () => number;
}

function readingsAt(speeds: readonly number[], sweep: Sweep): SlowReading[] {
  const { referenceRpm = 80, errors = NONE, standardUncertaintyDeg = 0.005 } = sweep;
  const { weights = () => 0, noise = () => 0 } = sweep;
  return speeds.map((speedRpm) => {
    const by = follows(speedRpm, referenceRpm);
    const seen =
      errors.ripple * by.ripple + errors.delayUs * by.delay + errors.referenceDeg * by.reference;
    return {
      speedRpm,
      referenceRpm,
      advanceDeg: weights(speedRpm) + seen + standardUncertaintyDeg * noise(),
      standardUncertaintyDeg,
      follows: by,
    };
  });
}

/** Far up, where ripple of the reference and the delay stand in full. */
function offAt(zero: Zero, errors: Errors, referenceRpm = 80, speedRpm = 2000) {
  const by = follows(speedRpm, referenceRpm);
  const truth =
    errors.ripple * by.ripple + errors.delayUs * by.delay + errors.referenceDeg * by.reference;
  return {
    offDeg: zeroDeg(zero, by) - truth,
    standardUncertaintyDeg: combined(zeroParts(zero, by)),
  };
}

const SLOW = [100, 120, 150, 200, 250, 300];

describe("what is assumed beforehand", () => {
  it("scales ripple with the inverse square of speed", () => {
    expect(rippleScale(1000)).toBe(1);
    expect(rippleScale(2000)).toBe(0.25);
    expect(rippleScale(100)).toBeCloseTo(100, 12);
  });

  it("stands as three errors of 0, each by itself", () => {
    const zero = assumedZero(ASSUMED);
    expect(zero.told).toBe(false);
    expect(zero.covariance).toEqual([
      [0.005 ** 2, 0, 0],
      [0, 25, 0],
      [0, 0, 0.02 ** 2],
    ]);
    const by = { ripple: -100, delay: -0.01, reference: 1 };
    expect(zeroDeg(zero, by)).toBeCloseTo(0, 15);
    const own = { shape: "normal", shared: true };
    expect(zeroParts(zero, by)).toEqual([
      {
        name: "ripple not seen",
        standardUncertainty: expect.closeTo(0.5, 12),
        degreesOfFreedom: null,
        ...own,
      },
      {
        name: "delay",
        standardUncertainty: expect.closeTo(0.05, 12),
        degreesOfFreedom: 8,
        ...own,
      },
      {
        name: "reference",
        standardUncertainty: expect.closeTo(0.02, 12),
        degreesOfFreedom: 40,
        ...own,
      },
    ]);
  });

  const quiet: Ripple = { constant: 0, harmonics: [], doubtful: 0 };

  it.each([
    // One index sees nothing: the order of the lobes themselves.
    [1, 4, 0.005],
    [1, 8, 0.005],
    // 36 edges show up to order 17; of four lobes' multiples 20 is the first beyond: (4/20)².
    [36, 4, 0.005 / 25],
    // Of eight lobes' 24: (8/24)²; of twelve lobes' 24: (12/24)².
    [36, 8, 0.005 / 9],
    [36, 12, 0.005 / 4],
    // Four edges show nothing between them.
    [4, 4, 0.005],
  ])("with %i edges and %i lobes is %d° at 1000 rpm", (edges, lobes, deg) => {
    expect(assumedRippleDeg(edges, lobes, quiet, 150)).toBeCloseTo(deg, 12);
  });

  it("grows with a larger torque that the pickup shows", () => {
    // Order 2 by 0.9° at 100 rpm is 0.009° at 1000 rpm and, by the square of the order, a torque as
    // large makes 1/100 of that at order 20; the root mean square is 1/√2 of it.
    const seen: Ripple = {
      constant: 0,
      harmonics: [
        { order: 1, cosine: 0.001 / 360, sine: 0 },
        { order: 2, cosine: 0.54 / 360, sine: -0.72 / 360 },
      ],
      doubtful: 0,
    };
    expect(assumedRippleDeg(36, 4, seen, 100)).toBeCloseTo(
      Math.max(0.005 / 25, 0.009 / 100 / Math.SQRT2),
      12,
    );
    expect(assumedRippleDeg(36, 4, seen, 300)).toBeCloseTo(
      (0.9 * (300 / 1000) ** 2 * (2 / 20) ** 2) / Math.SQRT2,
      12,
    );
  });

  function figures(advances: readonly number[]): WindowFigures {
    const lobes = advances.map(
      (advanceDeg): LobeEvents => ({
        advanceDeg,
        spreadDeg: 0,
        count: 10,
        dwellDeg: null,
        dwellSpreadDeg: 0,
      }),
    );
    return {
      lobes,
      turnMeansDeg: new Float64Array(0),
      kept: 0,
      extra: 0,
      bounces: 0,
      noise: 0,
      driftDeg: 0,
      ripple: quiet,
    };
  }

  it("is read off how the lobes move against each other from slow to fast", () => {
    // Two lobes 0.3° early, two 0.3° late at 100 rpm, where ripple is 100 − 0.25 times its size.
    const slow = { speedRpm: 100, figures: figures([0.3, -0.3, 0.3, -0.3]) };
    const fast = { speedRpm: 2000, figures: figures([10, 10, 10, 10]) };
    expect(rippleBetweenLobes(slow, fast)?.byOpenings).toBeCloseTo(Math.sqrt(0.36 / 3) / 99.75, 12);
    // All lobes alike show nothing between them; an uneven cam is uneven at both speeds.
    const cam = (offset: number) => figures([1 + offset, 2 + offset, offset, 4 + offset]);
    expect(
      rippleBetweenLobes({ ...slow, figures: cam(0) }, { ...fast, figures: cam(9) })?.byOpenings,
    ).toBeCloseTo(0, 12);
  });

  it("is not known from the lobes at one speed, or of a lobe that never fired", () => {
    const one = { speedRpm: 100, figures: figures([0.3, -0.3]) };
    expect(rippleBetweenLobes(one, one)).toBeNull();
    const fast = { speedRpm: 2000, figures: figures([0, Number.NaN]) };
    expect(rippleBetweenLobes(one, fast)).toBeNull();
  });
});

describe("slow readings without advance", () => {
  it.each<[string, Errors]>([
    ["ripple", { ripple: 0.004, delayUs: 0, referenceDeg: 0 }],
    ["ripple the other way", { ripple: -0.004, delayUs: 0, referenceDeg: 0 }],
    ["reference", { ripple: 0, delayUs: 0, referenceDeg: 0.03 }],
    ["ripple and reference", { ripple: 0.003, delayUs: 2, referenceDeg: -0.02 }],
  ])("tell %s", (_, errors) => {
    const zero = toldZero(readingsAt(SLOW, { errors, standardUncertaintyDeg: 0.001 }), ASSUMED);
    expect(zero.told).toBe(true);
    expect(zero.toldUpToRpm).toBe(300);
    const { offDeg, standardUncertaintyDeg } = offAt(zero, errors);
    expect(Math.abs(offDeg)).toBeLessThan(2 * standardUncertaintyDeg);
    // 0.8° of doubt had been there.
    expect(standardUncertaintyDeg).toBeLessThan(0.1);
    expect(zero.rippleDegAt1000Rpm).toBeCloseTo(errors.ripple, 3);
    expect(zero.referenceDeg).toBeCloseTo(errors.referenceDeg, 2);
  });

  it("tell a delay where they reach far up, ripple known to be small", () => {
    const errors = { ripple: 0, delayUs: 9, referenceDeg: 0 };
    const speeds = [200, 500, 1000, 2000, 4000];
    const readings = readingsAt(speeds, { errors, standardUncertaintyDeg: 0.002 });
    const zero = toldZero(readings, {
      ...ASSUMED,
      rippleSizeDegAt1000Rpm: 1e-5,
      usualRippleDegAt1000Rpm: 1e-5,
    });
    expect(zero.toldUpToRpm).toBe(4000);
    // 9 µs are 0.21° at 4000 rpm; 0.002° there are a tenth of a microsecond, and 5 µs were assumed.
    expect(Math.abs(zero.delayUs - 9)).toBeLessThan(0.3);
    expect(Math.sqrt(zero.covariance[1]?.[1] ?? Number.NaN)).toBeLessThan(0.3);
  });

  it("make one part of the three, shared by all readings", () => {
    const zero = toldZero(readingsAt(SLOW, {}), ASSUMED);
    const by = { ripple: 2, delay: 0.3, reference: 1 };
    const c = (i: number, j: number) => zero.covariance[i]?.[j] ?? Number.NaN;
    const variance =
      4 * c(0, 0) + 0.09 * c(1, 1) + c(2, 2) + 1.2 * c(0, 1) + 4 * c(0, 2) + 0.6 * c(1, 2);
    expect(zeroParts(zero, by)).toEqual([
      {
        name: "zero",
        standardUncertainty: expect.closeTo(Math.sqrt(variance), 9),
        degreesOfFreedom: null,
        shape: "normal",
        shared: true,
      },
    ]);
  });

  it("tell ripple larger than assumed where speeds lie so far apart that its law shows", () => {
    for (const ripple of [0.012, 0.03, -0.04]) {
      const errors = { ...NONE, ripple };
      const zero = toldZero(readingsAt(SLOW, { errors, standardUncertaintyDeg: 0.003 }), ASSUMED);
      expect(zero.told).toBe(true);
      expect(zero.toldUpToRpm).toBe(300);
      expect(Math.abs(zero.rippleDegAt1000Rpm / ripple - 1)).toBeLessThan(0.02);
      const { offDeg, standardUncertaintyDeg } = offAt(zero, errors);
      expect(Math.abs(offDeg)).toBeLessThan(standardUncertaintyDeg);
      // Large ripple is no sine in time: of what it does from the readings that told it, 44 times its size at
      // 1,000 rpm in the middle, to far up, 5 % stay doubtful. What it does at the reference they have read.
      expect(standardUncertaintyDeg).toBeGreaterThan(0.05 * Math.abs(ripple) * 44);
    }
  });

  it("say as much of ripple elsewhere in the turn as what was assumed", () => {
    // 0.012° found and 0.005° assumed as a limit: the root mean square of 0.012 and 0.005 / √3.
    const errors = { ...NONE, ripple: 0.012 };
    const zero = toldZero(readingsAt(SLOW, { errors, standardUncertaintyDeg: 0.003 }), ASSUMED);
    expect(zero.rippleSizeDegAt1000Rpm).toBeCloseTo(0.012343 / Math.SQRT2, 4);
  });

  it("are believed as far as they agree within two and a half of their uncertainties", () => {
    // Six readings of 0.005° and a reference assumed within 0.02° follow one that is off only in part.
    const upTo = (offDeg: number) =>
      toldZero(readingsAt(SLOW, { weights: (rpm) => (rpm === 250 ? offDeg : 0) }), ASSUMED)
        .toldUpToRpm;
    expect(upTo(0.009)).toBe(300);
    expect(upTo(0.025)).toBe(200);
  });

  it("are as much off as they say, over draws of all that was assumed", () => {
    const draws = new Draws(90_001);
    let squares = 0;
    let told = 0;
    for (let run = 0; run < 400; run++) {
      const errors = {
        ripple: 0.005 * draws.of("normal"),
        delayUs: 5 * draws.of("normal"),
        referenceDeg: 0.02 * draws.of("normal"),
      };
      const readings = readingsAt(SLOW, { errors, noise: () => draws.of("normal") });
      const zero = toldZero(readings, ASSUMED);
      if (!zero.told) continue;
      told++;
      const { offDeg, standardUncertaintyDeg } = offAt(zero, errors);
      squares += (offDeg / standardUncertaintyDeg) ** 2;
    }
    expect(told).toBeGreaterThan(350);
    // The law's doubt is not in these draws, so somewhat below 1 is expected.
    const ratio = Math.sqrt(squares / told);
    expect(ratio).toBeGreaterThan(0.6);
    expect(ratio).toBeLessThan(1.1);
  });
});

describe("uncertainty", () => {
  const errors = { ripple: 0.002, delayUs: 1, referenceDeg: 0.005 };
  const told = (speeds: readonly number[], standardUncertaintyDeg: number) =>
    toldZero(readingsAt(speeds, { errors, standardUncertaintyDeg }), ASSUMED);

  it("stays what was assumed where readings are too poor to tell anything", () => {
    const { standardUncertaintyDeg } = offAt(told(SLOW, 20), errors);
    const before = offAt(assumedZero(ASSUMED), errors).standardUncertaintyDeg;
    expect(standardUncertaintyDeg / before).toBeGreaterThan(0.99);
    expect(standardUncertaintyDeg / before).toBeLessThan(1.01);
  });

  it("grows with that of the readings", () => {
    const sizes = [0.001, 0.003, 0.01, 0.03, 0.1, 0.3].map(
      (one) => offAt(told(SLOW, one), errors).standardUncertaintyDeg,
    );
    for (const [i, one] of sizes.slice(1).entries())
      expect(one).toBeGreaterThan(sizes[i] as number);
  });

  it("of one error alone is that of its mean with what was assumed", () => {
    // Only the reference is unknown: 1/u² = 1/0.02² + 6/0.005².
    const known = { ...ASSUMED, rippleSizeDegAt1000Rpm: 0, usualRippleDegAt1000Rpm: 0, delayUs: 0 };
    const zero = toldZero(readingsAt(SLOW, {}), known);
    expect(zero.told).toBe(true);
    expect(zero.covariance[2]?.[2]).toBeCloseTo(1 / (1 / 0.02 ** 2 + 6 / 0.005 ** 2), 12);
    expect(zero.covariance[0]?.[0]).toBe(0);
    expect(zero.covariance[1]?.[1]).toBe(0);
  });

  it("is positive in every direction and bounded by what was assumed and by the doubts of law and fastest speed", () => {
    const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(between(90, 800), { minLength: 1, maxLength: 12 }),
        between(1e-4, 0.1),
        fc.record({
          ripple: between(-0.02, 0.02),
          delayUs: between(-10, 10),
          referenceDeg: between(-0.05, 0.05),
        }),
        fc.tuple(between(-200, 200), between(-0.1, 0.1), between(-1, 1)),
        (speeds, standardUncertaintyDeg, unknown, [ripple, delay, reference]) => {
          const zero = toldZero(
            readingsAt(speeds, { errors: unknown, standardUncertaintyDeg }),
            ASSUMED,
          );
          const by = { ripple, delay, reference };
          const after = combined(zeroParts(zero, by));
          const larger = {
            ...ASSUMED,
            rippleSizeDegAt1000Rpm: 0.025,
            usualRippleDegAt1000Rpm: 0.025,
          };
          const before = combined(zeroParts(assumedZero(larger), by));
          const doubt = 0.05 * zero.rippleDegAt1000Rpm * ripple;
          expect(after).toBeGreaterThanOrEqual(0);
          // What the fastest speed changes is doubted once more, at most the 3.5 sizes that are believed.
          expect(after).toBeLessThanOrEqual(
            Math.hypot(1, 3.5) * Math.hypot(before, doubt) * (1 + 1e-9) + 1e-12,
          );
          zero.covariance.forEach((row, i) => {
            const own = zero.covariance[i]?.[i] ?? Number.NaN;
            expect(own).toBeGreaterThan(0);
            row.forEach((one, j) => {
              expect(one).toBeCloseTo(zero.covariance[j]?.[i] ?? Number.NaN, 12);
              expect(one ** 2).toBeLessThanOrEqual(
                own * (zero.covariance[j]?.[j] ?? Number.NaN) * (1 + 1e-9),
              );
            });
          });
        },
      ),
    );
  });
});

describe("nothing is told", () => {
  const untold = (readings: readonly SlowReading[], assumed = ASSUMED) =>
    expect(toldZero(readings, assumed)).toEqual(assumedZero(assumed));

  it("without readings, or by one speed however often", () => {
    untold([]);
    untold(readingsAt([300], {}));
    untold(readingsAt([298, 300, 302, 300], {}));
  });

  it("by speeds hardly above the reference", () => {
    // Ripple falls to half at √2 times 80 rpm: 113 rpm.
    untold(readingsAt([90, 100, 112], {}));
    expect(toldZero(readingsAt([90, 100, 114], {}), ASSUMED).told).toBe(true);
  });

  it("by a reading at the reference that did not come back", () => {
    // Half a degree at 80 rpm is neither ripple nor 0.02° of reference.
    untold([...readingsAt([100, 150, 200, 300], {}), ...readingsAt([80], { weights: () => 0.5 })]);
  });
});

describe("an advance that is real", () => {
  const start = (startRpm: number, degPerRpm: number) => (rpm: number) =>
    Math.max(0, (rpm - startRpm) * degPerRpm);

  it("ends what is believed, and costs nothing of it", () => {
    const errors = { ripple: 0.003, delayUs: 0, referenceDeg: 0.01 };
    const moving = readingsAt([...SLOW, 400, 500, 800, 1200], {
      errors,
      weights: start(300, 0.012),
    });
    const still = readingsAt(SLOW, { errors });
    expect(toldZero(moving, ASSUMED)).toEqual(toldZero(still, ASSUMED));
    expect(toldZero(moving, ASSUMED).toldUpToRpm).toBe(300);
    // In whatever order they were taken.
    expect(toldZero([...moving].reverse(), ASSUMED).toldUpToRpm).toBe(300);
  });

  it("at a speed that one branch did not come back to ends belief below both", () => {
    // Rising through 250 rpm nothing had moved; falling, the weights hang at half a degree.
    const readings = [
      ...readingsAt(SLOW, {}),
      ...readingsAt([251, 301], { weights: () => 0.5 }),
      ...readingsAt([199, 149], {}),
    ];
    expect(toldZero(readings, ASSUMED).toldUpToRpm).toBe(200);
  });

  it.each<[string, number[], (rpm: number) => number]>([
    ["a sparse plan with one speed below the start", [300, 500, 800, 1200], start(320, 0.012)],
    ["a sparse plan all above the start", [400, 700, 1100], start(320, 0.012)],
    ["an early start before the first speed", [200, 300, 400, 500, 700], start(100, 0.01)],
    ["a start at the reference itself", [150, 200, 300, 400, 500], start(80, 0.008)],
    ["a snap to the stop before the first speed", [200, 300, 500, 800, 1500, 2500], () => 8],
  ])("is not taken for ripple with %s", (_, speeds, weights) => {
    for (const referenceRpm of [80, 100, 150]) {
      for (const standardUncertaintyDeg of [0.003, 0.01, 0.03]) {
        const readings = readingsAt(speeds, { referenceRpm, standardUncertaintyDeg, weights });
        expect(toldZero(readings, ASSUMED).told).toBe(false);
      }
    }
  });

  it("is told from ripple that lobes show though it stands in all readings nearly alike", () => {
    // 0.015° at 1,000 rpm are 2.46° at the reference's 78 rpm, 0.12° at 360 rpm and 0.03° at 665 rpm.
    const assumed = { ...ASSUMED, rippleSizeDegAt1000Rpm: 0.008, usualRippleDegAt1000Rpm: 0.016 };
    const readings = readingsAt([360, 480, 590, 627, 665, 702, 740, 880], {
      referenceRpm: 78,
      errors: { ripple: -0.015, delayUs: 0, referenceDeg: 0 },
      standardUncertaintyDeg: 0.002,
      weights: start(640, 0.0015),
    });
    const zero = toldZero(readings, assumed);
    expect(zero.told).toBe(true);
    // At 665 rpm the weights are out by 0.04°, of which a fifth of a degree of doubt would say nothing.
    expect(zero.toldUpToRpm).toBe(627);
    expect(zero.rippleDegAt1000Rpm).toBeCloseTo(-0.015, 4);
  });

  it("is not taken for ripple larger than assumed where it is the same at all speeds", () => {
    // Ripple of the assumed size makes 0.78° from 80 rpm, 0.5° from 100 rpm, 0.22° from 150 rpm.
    const plans = [
      [200, 300, 400, 500, 700, 1000, 1500],
      [300, 500, 800, 1200, 2000],
      [180, 220, 260, 300, 350, 400, 500, 600],
    ];
    for (const [referenceRpm, steps] of [
      [80, [1, 1.5, 2, 3]],
      [100, [0.7, 1, 1.5, 2]],
      [150, [0.4, 0.7, 1, 2]],
    ] as const) {
      for (const step of steps) {
        for (const speeds of plans) {
          for (const standardUncertaintyDeg of [0.003, 0.01, 0.03]) {
            const readings = readingsAt(speeds, {
              referenceRpm,
              standardUncertaintyDeg,
              weights: () => step,
            });
            expect(toldZero(readings, ASSUMED).told).toBe(false);
          }
        }
      }
    }
  });

  it("does not make what is believed more than its doubt wrong where it begins between the speeds", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 150, max: 600, noNaN: true }),
        fc.double({ min: 0.004, max: 0.05, noNaN: true }),
        fc.double({ min: -0.005, max: 0.005, noNaN: true }),
        (startRpm, degPerRpm, ripple) => {
          const errors = { ...NONE, ripple };
          const speeds = [100, 120, 150, 200, 300, 450, 650, 900, 1300];
          const readings = readingsAt(speeds, { errors, weights: start(startRpm, degPerRpm) });
          const { offDeg, standardUncertaintyDeg } = offAt(toldZero(readings, ASSUMED), errors);
          expect(Math.abs(offDeg)).toBeLessThan(3 * standardUncertaintyDeg);
        },
      ),
      { numRuns: 2000 },
    );
  });
});
