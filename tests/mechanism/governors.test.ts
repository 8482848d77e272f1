// Governors of textbooks through the reduced form and through the refit's forecast: loads against the square of speed.
import { describe, expect, it } from "vitest";
import { advanceAt, speedAt, type WeightsForm } from "../../core/mechanism/weightsForm.ts";
import { AS_IT_IS, standAfter } from "../../core/refit/change.ts";
import type { MeasuredUnit } from "../../core/refit/measuredUnit.ts";

const BARE: WeightsForm = {
  startLoad: 0,
  firstRate: 0,
  firstBend: 0,
  leverGrowthPerDeg: 0,
  kneeDeg: null,
  secondRate: 0,
  secondBend: 0,
  stepLoad: 0,
  stopDeg: null,
  frictionLoad: 0,
  frictionShare: 0,
  homeDeg: 0,
};

/** (1000 rpm)² of a square of angular velocity in (rad/s)². */
function speedSquared(omega2: number): number {
  return omega2 * (30 / Math.PI / 1000) ** 2;
}

/** The same governor as a measured unit of the refit: rising loads, and the gap back. */
function unitOf(form: WeightsForm, stop: number): MeasuredUnit {
  const load = (at: number, branch: "rising" | "falling") => speedAt(form, at, branch) ** 2;
  return {
    first: (at) => load(at, "rising"),
    second: () => 0,
    stopDeg: stop,
    rest: () => 0,
    geometry: null,
    likely: [],
    gap: (at) => load(at, "rising") - load(at, "falling"),
    isRestSeen: true,
    kneeDeg: null,
    modelErrorDeg: 0,
  };
}

/**
 * G1, Hartnell governor, worked example (ques10.com/p/47640): balls of 4 kg each, ball arm 150 mm,
 * sleeve arm 100 mm, r1 80 mm, N1 300 rpm, spring 25 N/mm, lift 60 mm, massless sleeve. Printed: S1
 * 947.1 N, S2 2447.1 N, r2 170 mm, N2 330.69 rpm; without the source's rounding 330.76 rpm.
 *
 * With x the lift in mm: m ω² (r1 + 1.5 x) · 150 = ½ (S1 + 25 x) · 100.
 */
describe("the Hartnell governor", () => {
  const [massKg, r1M, armRatio] = [4, 0.08, 150 / 100];
  const omega1 = (300 * Math.PI) / 30;
  const s1N = 2 * massKg * omega1 ** 2 * r1M * armRatio;
  const form: WeightsForm = {
    ...BARE,
    startLoad: 0.3 ** 2,
    firstRate: speedSquared(25 / (2 * armRatio * massKg * r1M)),
    leverGrowthPerDeg: armRatio / 80,
  };

  it("has the printed spring loads", () => {
    expect(s1N).toBeCloseTo(947.5, 1);
    expect(Math.abs(s1N - 947.1)).toBeLessThan(0.5);
    expect(Math.abs(s1N + 25 * 60 - 2447.1)).toBeLessThan(0.5);
  });

  it("stands at 60 mm of lift at 330.76 rpm, and at 330.69 within its rounding", () => {
    expect(speedAt(form, 60, "rising")).toBeCloseTo(330.76, 2);
    expect(Math.abs(speedAt(form, 60, "rising") - 330.69)).toBeLessThan(0.1);
    expect(advanceAt(form, 330.76, "rising")).toBeCloseTo(60, 1);
    expect(advanceAt(form, 300, "rising")).toBeCloseTo(0, 6);
  });

  it("is lifted as far by the refit's forecast", () => {
    const unit = unitOf(form, 80);
    expect(standAfter(unit, AS_IT_IS).at(330.76, "rising")).toBeCloseTo(60, 0);
    expect(standAfter(unit, AS_IT_IS).at(299.9, "rising")).toBe(0);
  });
});

/**
 * G2, Porter governor with friction (textbook problem, scribd 702193907): arms of 250 mm pivoted on the
 * axis, balls 5 kg, sleeve 30 kg, r from 150 to 200 mm, friction 20 N at the sleeve. Printed: 177 and
 * 204.4 rpm; with friction 172 and 210. Recomputed: 176.95, 204.32; 171.71, 210.19.
 *
 * With h the height of the cone: m ω² h = m g + M g ± F; h falls from 200 mm by x, so the form has a
 * lever that shrinks, no spring, and a weight for its load.
 */
describe("the Porter governor", () => {
  const [ballKg, sleeveKg, gravity, h0M] = [5, 30, 9.81, 0.2];
  const form: WeightsForm = {
    ...BARE,
    startLoad: speedSquared(((ballKg + sleeveKg) * gravity) / (ballKg * h0M)),
    leverGrowthPerDeg: -1 / 200,
    stopDeg: 50,
  };
  const rubbing = { ...form, frictionLoad: speedSquared(20 / (ballKg * h0M)) };

  it("turns at 176.95 and 204.32 rpm without friction", () => {
    expect(speedAt(form, 0, "rising")).toBeCloseTo(176.95, 2);
    expect(speedAt(form, 50, "rising")).toBeCloseTo(204.32, 2);
  });

  it("with friction falls back at 171.71 rpm and rises to its end at 210.19", () => {
    expect(speedAt(rubbing, 0, "falling")).toBeCloseTo(171.71, 2);
    expect(speedAt(rubbing, 50, "rising")).toBeCloseTo(210.19, 2);
  });

  it("stands where the two say, speed rising and falling", () => {
    expect(advanceAt(form, 204.32, "rising")).toBeCloseTo(50, 1);
    expect(advanceAt(rubbing, 209, "rising")).toBeLessThan(50);
    expect(advanceAt(rubbing, 210.2, "rising")).toBe(50);
    expect(advanceAt(rubbing, 171.7, "falling")).toBe(0);
    expect(advanceAt(rubbing, 173, "falling")).toBeGreaterThan(0);
  });

  it("stands there by the refit's forecast as well", () => {
    const unit = unitOf(rubbing, 50);
    expect(standAfter(unit, AS_IT_IS).at(210.2, "rising")).toBeCloseTo(50, 6);
    expect(standAfter(unit, AS_IT_IS).at(209, "rising")).toBeLessThan(50);
    expect(standAfter(unit, AS_IT_IS).at(171.7, "falling")).toBe(0);
    expect(standAfter(unit, AS_IT_IS).at(173, "falling")).toBeGreaterThan(0);
  });
});
