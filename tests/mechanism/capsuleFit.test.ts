// The capsule's reduced form fitted: exact curves give back what made them.
import { describe, expect, it } from "vitest";
import { fitCapsule } from "../../core/mechanism/capsuleFit.ts";
import { type CapsuleForm, capsuleAdvanceAt } from "../../core/mechanism/capsuleForm.ts";
import { type CapsuleFit, isFitted, isTold } from "../../core/mechanism/fitted.ts";
import { curve, part } from "./readings.ts";

/** Begins at 12 + 0.5 kPa with the vacuum rising, half a degree by kPa, 9° at most. */
const FORM: CapsuleForm = {
  startKPa: 12,
  restDeg: 0,
  degPerKPa: 0.5,
  endDeg: 9,
  frictionKPa: 0.5,
};
const VACUUMS_PA = [5, 9, 14, 16, 18, 21, 24, 27, 29, 34, 38].map((kPa) => 1000 * kPa);

function fitted(form: CapsuleForm, vacuumsPa = VACUUMS_PA, budget = OWN): CapsuleFit {
  const branch = (name: "rising" | "falling") =>
    curve(vacuumsPa, (pa) => capsuleAdvanceAt(form, pa, name), budget);
  const fit = fitCapsule(branch("rising"), branch("falling"));
  if (!isFitted(fit)) throw new Error(fit.why);
  return fit;
}

const OWN = [part("repeatability", 0.005, false)];

describe("an exact curve", () => {
  it("gives back start, slope, end and friction", () => {
    const fit = fitted(FORM);
    expect(fit.startPa).toMatchObject({ value: expect.closeTo(12_500, 0) });
    expect(fit.slopeDegPerKPa).toMatchObject({ value: expect.closeTo(0.5, 4) });
    expect(fit.endDeg).toMatchObject({ value: expect.closeTo(9, 4) });
    expect(fit.endPa).toMatchObject({ value: expect.closeTo(30_500, 0) });
    expect(fit.gapPa).toMatchObject({ value: expect.closeTo(1000, 0) });
    expect(fit.gapDeg).toMatchObject({ value: expect.closeTo(0.5, 3) });
    expect(fit.modelErrorDeg).toBe(0);
  });

  it("of a capsule that retards has its signs", () => {
    const fit = fitted({ ...FORM, degPerKPa: -0.5, endDeg: -9 });
    expect(fit.slopeDegPerKPa).toMatchObject({ value: expect.closeTo(-0.5, 4) });
    expect(fit.endDeg).toMatchObject({ value: expect.closeTo(-9, 4) });
    expect(fit.startPa).toMatchObject({ value: expect.closeTo(12_500, 0) });
    expect(capsuleAdvanceAt(fit.form, 24_500, "rising")).toBeCloseTo(-6, 3);
  });

  it("counts from where weights that had begun to move it stood", () => {
    const fit = fitted({ ...FORM, restDeg: 0.6 });
    expect(fit.endDeg).toMatchObject({ value: expect.closeTo(9, 3) });
    expect(capsuleAdvanceAt(fit.form, 38_000, "rising")).toBeCloseTo(9.6, 3);
  });
});

describe("what no reading shows is not told", () => {
  it("an end that was not reached", () => {
    expect(fitted(FORM, VACUUMS_PA.slice(0, -2)).endDeg).toEqual({ why: "not reached" });
  });

  it("friction without a way back", () => {
    const rising = curve(VACUUMS_PA, (pa) => capsuleAdvanceAt(FORM, pa, "rising"));
    expect(fitCapsule(rising, [])).toMatchObject({ gapPa: { why: "no falling readings" } });
  });

  it("anything of a plate that does not move", () => {
    const still = curve(VACUUMS_PA, () => 0.02);
    expect(fitCapsule(still, still)).toEqual({ why: "does not move" });
  });
});

describe("uncertainty", () => {
  it("of the vacuum sensor is that of the start", () => {
    // 0.05° on half a degree by kPa: a sensor known to 100 Pa.
    const { startPa } = fitted(FORM, VACUUMS_PA, [...OWN, part("vacuum", 0.05, true)]);
    if (!isTold(startPa)) throw new Error(startPa.why);
    expect(startPa.standardUncertainty).toBeGreaterThan(95);
    expect(startPa.standardUncertainty).toBeLessThan(115);
  });
});
