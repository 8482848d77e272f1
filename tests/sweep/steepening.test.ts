// A curve that grows steeper towards a stop, by hand: u = 10 d − d² / 2.
import { describe, expect, it } from "vitest";
import type { Knot } from "../../core/sweep/knot.ts";
import { steepeningBend } from "../../core/sweep/steepening.ts";

function knot(u: number, deg: number, sigma = 0.005): Knot {
  return { x: u, u, deg, sigma, wholeSigma: sigma };
}

describe("steepeningBend", () => {
  const lower = [knot(18, 2), knot(0, 0)];
  const from = knot(32, 4);

  it("reaches the stop at 8° where u is 48, and is level from there to 60", () => {
    const { bendDeg, share } = steepeningBend(from, knot(60, 8), lower, knot(70, 8));
    expect(share).toBeCloseTo(16 / 28, 9);
    expect(bendDeg).toBeCloseTo((4 * 12) / 28, 9);
  });

  it("snaps to a stop at 12° where no more speed is needed, at u = 50", () => {
    const { bendDeg, share } = steepeningBend(from, knot(60, 12), lower, undefined);
    expect(share).toBeCloseTo(18 / 28, 9);
    expect(bendDeg).toBeCloseTo((8 * 10) / 28, 9);
  });

  it("says nothing of a line, of what its noise hides, or of two readings", () => {
    expect(
      steepeningBend(knot(32, 4), knot(60, 6), [knot(16, 2), knot(0, 0)], undefined).bendDeg,
    ).toBe(0);
    const noisy = [knot(18, 2, 0.5), knot(0, 0, 0.5)];
    expect(steepeningBend(knot(32, 4, 0.5), knot(60, 8), noisy, undefined).bendDeg).toBe(0);
    expect(steepeningBend(from, knot(60, 8), [knot(18, 2)], undefined).bendDeg).toBe(0);
  });

  it("says nothing where the curve goes on beyond as it does between the two", () => {
    expect(steepeningBend(from, knot(60, 8), lower, knot(67, 9)).bendDeg).toBe(0);
  });
});
