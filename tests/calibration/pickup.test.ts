// The pickup against a known angle.
import { expect, it } from "vitest";
import { estimatePickup } from "../../core/calibration/pickup.ts";
import { codeOf } from "./codes.ts";

const readings = [90.01, 90.03, 90.02, 90.04];

it("is the mean of the readings, with their scatter and the known angle's uncertainty", () => {
  // By hand: mean 90.025; s = √(5e-4/3) = 0.012910, of the mean 0.0064550; with 0.008: 0.0102794.
  // Welch–Satterthwaite (JCGM 100, G.4.1): 0.0102794⁴ / (0.0064550⁴/3) = 19.29.
  const found = estimatePickup(readings, { knownDeg: 90, standardUncertaintyDeg: 0.008 }, 0);
  expect(found.knownDeg).toBe(90);
  expect(found.measuredDeg).toBeCloseTo(90.025, 9);
  expect(found.standardUncertaintyDeg).toBeCloseTo(0.0102794, 6);
  expect(found.degreesOfFreedom).toBeCloseTo(19.29, 2);
});

it("has the readings' own degrees of freedom where the angle is known without error", () => {
  const found = estimatePickup(readings, { knownDeg: 90, standardUncertaintyDeg: 0 }, 0);
  expect(found.degreesOfFreedom).toBeCloseTo(3, 9);
});

it("is no better than what repeating the reading hides", () => {
  // By hand: √(0.0102794² + 0.03²).
  const known = { knownDeg: 90, standardUncertaintyDeg: 0.008 };
  expect(estimatePickup(readings, known, 0.03).standardUncertaintyDeg).toBeCloseTo(0.0317123, 6);
});

it("needs three readings", () => {
  const known = { knownDeg: 90, standardUncertaintyDeg: 0.01 };
  expect(codeOf(() => estimatePickup([90, 90], known, 0)).code).toBe("CHECK_TOO_LITTLE");
});
