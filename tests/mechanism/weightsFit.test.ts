// The weights' reduced form fitted: exact curves give back what made them, and what no reading shows is not told.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { CurvePoint } from "../../core/documents.ts";
import { type Figure, isFitted, isTold, type WeightsFit } from "../../core/mechanism/fitted.ts";
import { fitWeights } from "../../core/mechanism/weightsFit.ts";
import { advanceAt, type WeightsForm } from "../../core/mechanism/weightsForm.ts";
import { curve, normals, part } from "./readings.ts";

/** Begins at √(0.155 + 0.005) · 1000 = 400 rpm; second spring from 6°; stop at 12°. */
const FORM: WeightsForm = {
  startLoad: 0.155,
  firstRate: 0.05,
  firstBend: 0,
  leverGrowthPerDeg: 0,
  kneeDeg: 6,
  secondRate: 0.15,
  secondBend: 0,
  stepLoad: 0,
  stopDeg: 12,
  frictionLoad: 0.005,
  frictionShare: 0,
  homeDeg: 0,
};
const SPEEDS = [
  200, 300, 350, 420, 460, 500, 540, 580, 620, 660, 720, 800, 900, 1000, 1100, 1200, 1350, 1500,
];
const REFERENCE_RPM = 150;

function read(form: WeightsForm, speeds = SPEEDS, scatterDeg: () => number = () => 0) {
  const branch = (name: "rising" | "falling") =>
    curve(speeds, (rpm) => advanceAt(form, rpm, name) + scatterDeg());
  return { rising: branch("rising"), falling: branch("falling") };
}

function fitted(
  rising: readonly CurvePoint[],
  falling: readonly CurvePoint[],
  referenceRpm = REFERENCE_RPM,
): WeightsFit {
  const fit = fitWeights(rising, falling, referenceRpm);
  if (!isFitted(fit)) throw new Error(fit.why);
  return fit;
}

function toldValue(figure: Figure): number {
  if (!isTold(figure)) throw new Error(figure.why);
  return figure.value;
}

function holds(figure: Figure, truth: number): boolean {
  if (!isTold(figure)) throw new Error(figure.why);
  const expanded = figure.coverageFactor * figure.standardUncertainty;
  return Math.abs(figure.value - truth) <= expanded;
}

describe("an exact curve", () => {
  const { rising, falling } = read(FORM);
  const fit = fitted(rising, falling);

  it("gives back start, knee, stop and the slopes on both sides of the knee", () => {
    expect(toldValue(fit.startRpm)).toBeCloseTo(400, 0);
    expect(toldValue(fit.kneeDeg)).toBeCloseTo(6, 2);
    // √(0.16 + 6 · 0.05) · 1000.
    expect(toldValue(fit.kneeRpm)).toBeCloseTo(678.2, 0);
    expect(toldValue(fit.stopDeg)).toBeCloseTo(12, 3);
    // √(0.16 + 12 · 0.05 + 6 · 0.15) · 1000.
    expect(toldValue(fit.stopRpm)).toBeCloseTo(1288.4, 0);
    // dθ/dn = 2 n / (k · 10⁶): 800 / 50 000 by rpm, then 1356.5 / 200 000.
    expect(toldValue(fit.firstSlopeDegPer100Rpm)).toBeCloseTo(1.6, 2);
    expect(toldValue(fit.secondSlopeDegPer100Rpm)).toBeCloseTo(0.678, 2);
  });

  it("gives back the gap between rising and falling at half the travel, by speed and by advance", () => {
    // At 6°: √0.46 − √0.45 thousands of rpm; 0.01 / 0.2 degrees beyond the knee.
    expect(toldValue(fit.gapRpm)).toBeCloseTo(7.4, 0);
    expect(toldValue(fit.gapDeg)).toBeCloseTo(0.05, 2);
  });

  it("has no error of the form, and every interval holds the truth", () => {
    expect(fit.modelErrorDeg).toBeLessThan(0.001);
    expect(holds(fit.startRpm, 400)).toBe(true);
    expect(holds(fit.kneeDeg, 6)).toBe(true);
    expect(holds(fit.stopDeg, 12)).toBe(true);
  });

  it("without a second spring shows none", () => {
    const single = read({ ...FORM, kneeDeg: null, secondRate: 0 });
    const one = fitted(single.rising, single.falling);
    expect(one.kneeDeg).toEqual({ why: "none shows" });
    expect(toldValue(one.startRpm)).toBeCloseTo(400, 0);
  });

  it("with a lever that grows gives back its start and stop", () => {
    const grown = read({ ...FORM, leverGrowthPerDeg: 0.02 });
    const one = fitted(grown.rising, grown.falling);
    expect(toldValue(one.startRpm)).toBeCloseTo(400, 0);
    expect(toldValue(one.kneeDeg)).toBeCloseTo(6, 1);
    expect(toldValue(one.stopDeg)).toBeCloseTo(12, 3);
  });

  it("with an initial load of the second spring shows the step", () => {
    // At 6° from √0.46 to √(0.46 + 0.2) thousands of rpm.
    const speeds = [
      ...SPEEDS,
      450,
      480,
      520,
      560,
      600,
      640,
      680,
      700,
      740,
      780,
      820,
      860,
      950,
      1050,
    ];
    const step = read(
      { ...FORM, stepLoad: 0.2 },
      speeds.sort((a, b) => a - b),
    );
    const one = fitted(step.rising, step.falling);
    expect(toldValue(one.kneeDeg)).toBeCloseTo(6, 1);
    expect(toldValue(one.stepRpm)).toBeGreaterThan(100);
    expect(holds(one.stepRpm, 134.2)).toBe(true);
  });
});

describe("what no reading shows is not told", () => {
  const { rising } = read(FORM);

  it("friction without a way back", () => {
    expect(fitted(rising, []).gapRpm).toEqual({ why: "no falling readings" });
  });

  it("a stop that was not reached", () => {
    const low = read(FORM, SPEEDS.slice(0, -3));
    const one = fitted(low.rising, low.falling);
    expect(one.stopDeg).toEqual({ why: "not reached" });
    expect(one.stopRpm).toEqual({ why: "not reached" });
    expect(one.form.stopDeg).toBe(null);
  });

  it("a start below the reference reading, from which all counts", () => {
    const hiddenDeg = advanceAt(FORM, 450, "rising");
    const high = SPEEDS.filter((rpm) => rpm > 450);
    const shifted = (points: CurvePoint[]) =>
      points.map((point) => ({ ...point, advanceDeg: point.advanceDeg - hiddenDeg }));
    const read450 = read(FORM, high);
    const one = fitted(shifted(read450.rising), shifted(read450.falling), 450);
    expect(one.startRpm).toEqual({ why: "begun at the reference" });
    // Counted from the reference.
    expect(toldValue(one.stopDeg)).toBeCloseTo(12 - hiddenDeg, 2);
  });

  it("a start where no two readings lie before the second spring takes up", () => {
    const speeds = [200, 300, 380, 560, 700, 760, 820, 900, 980, 1060, 1140, 1350, 1500];
    const one = fitted(...branches({ ...FORM, kneeDeg: 4 }, speeds));
    expect(isTold(one.startRpm) && one.startRpm.standardUncertainty < 2).toBe(false);
  });
});

function branches(form: WeightsForm, speeds: readonly number[]): [CurvePoint[], CurvePoint[]] {
  const { rising, falling } = read(form, [...speeds]);
  return [rising, falling];
}

describe("nothing is fitted", () => {
  it.each([
    ["does not move", () => 0],
    ["runs backwards", (rpm: number) => -rpm / 500],
    ["too few on the slope", (rpm: number) => (rpm > 600 ? 8 : 0)],
  ])("where the curve %s", (why, at) => {
    const points = curve(SPEEDS, at);
    expect(fitWeights(points, points, REFERENCE_RPM)).toEqual({ why });
  });

  it("to a handful of readings", () => {
    const { rising } = read(FORM, [300, 600, 900]);
    expect(fitWeights(rising, [], REFERENCE_RPM)).toEqual({ why: "too few readings" });
    expect(fitWeights([], [], REFERENCE_RPM)).toEqual({ why: "too few readings" });
  });
});

describe("uncertainty", () => {
  it("holds start, knee, stop and gap in nine of ten intervals and more where readings scatter as they say", () => {
    const runs = Array.from({ length: 60 }, (_, seed) => {
      const normal = normals(1000 * seed);
      const scattered = (name: "rising" | "falling") =>
        curve(SPEEDS, (rpm) => advanceAt(FORM, rpm, name) + 0.03 * normal(), [
          part("repeatability", 0.03, false),
        ]);
      return fitted(scattered("rising"), scattered("falling"));
    });
    const truths = { startRpm: 400, kneeDeg: 6, stopDeg: 12, gapRpm: 7.41 } as const;
    for (const [name, truth] of Object.entries(truths)) {
      const told = runs.map((run) => run[name as keyof typeof truths]).filter(isTold);
      expect(told.length).toBeGreaterThanOrEqual(45);
      const held = told.filter((figure) => holds(figure, truth));
      expect(held.length / told.length).toBeGreaterThanOrEqual(0.9);
    }
  });

  it("takes out an error that all readings share, as far as readings at rest show it", () => {
    const budget = [part("repeatability", 0.005, false), part("reference", 0.2, true)];
    const off = (name: "rising" | "falling") =>
      curve(SPEEDS, (rpm) => advanceAt(FORM, rpm, name) + 0.3, budget);
    const { startRpm, stopDeg } = fitted(off("rising"), off("falling"));
    expect(toldValue(stopDeg)).toBeCloseTo(12, 1);
    expect(holds(startRpm, 400)).toBe(true);
  });

  it("carries a curve that no form follows as the form's error, in every figure", () => {
    const wavy = (name: "rising" | "falling") =>
      curve(SPEEDS, (rpm) => {
        const deg = advanceAt(FORM, rpm, name);
        return deg > 0.2 && deg < 11.8 ? deg + 0.15 * Math.sin(rpm / 25) : deg;
      });
    const exact = fitted(...branches(FORM, SPEEDS));
    const rough = fitted(wavy("rising"), wavy("falling"));
    expect(rough.modelErrorDeg).toBeGreaterThan(0.05);
    const doubt = ({ startRpm }: WeightsFit) =>
      isTold(startRpm) ? startRpm.standardUncertainty : Number.POSITIVE_INFINITY;
    expect(doubt(rough)).toBeGreaterThan(2 * doubt(exact));
  });
});

describe("any curve whatever", () => {
  const branch = fc
    .array(
      fc.record({
        x: fc.double({ min: 0, max: 5000, noNaN: true }),
        advanceDeg: fc.double({ min: -5, max: 30, noNaN: true }),
      }),
      { maxLength: 20 },
    )
    .map((places) => {
      const ordered = places.sort((a, b) => a.x - b.x);
      return ordered.flatMap(({ x, advanceDeg }) => curve([x], () => advanceDeg));
    });

  it("is fitted or not without complaint, to plain JSON", () => {
    fc.assert(
      fc.property(branch, branch, fc.boolean(), (rising, falling, isEven) => {
        const evened = (points: CurvePoint[]) =>
          isEven
            ? points
                .map(({ advanceDeg }) => advanceDeg)
                .sort((a, b) => a - b)
                .map((advanceDeg, i) => ({ ...(points[i] as CurvePoint), advanceDeg }))
            : points;
        const fit = fitWeights(evened(rising), evened(falling), 150);
        expect(JSON.parse(JSON.stringify(fit))).toEqual(fit);
      }),
      { numRuns: 150 },
    );
  });
});
