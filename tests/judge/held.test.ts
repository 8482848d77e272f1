// Speeds that overshot: which one the weights belong to, for branches whose friction is known in closed form.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { heldAtFarthest } from "../../core/judge/held.ts";
import type { RawPoint } from "../../core/judge/slope.ts";

function point(
  x: number,
  advanceDeg: number,
  farthestX: number | null = null,
  xStandardUncertainty = 0.1,
): RawPoint {
  return { x, targetX: x, advanceDeg, budget: [], xStandardUncertainty, farthestX };
}

/** Straight: 1° each 100 rpm, from `startRpm` on. */
function branch(startRpm: number, xs: readonly number[]): RawPoint[] {
  return xs.map((x) => point(x, (x - startRpm) / 100));
}

const XS = [500, 600, 700, 800, 900];

/** `points` with the one at 700 rpm having gone as far as `farthestX`. */
function overshot(points: readonly RawPoint[], farthestX: number): RawPoint[] {
  return points.map((one) => (one.x === 700 ? { ...one, farthestX } : one));
}

function at700(points: readonly RawPoint[], other: readonly RawPoint[]): RawPoint {
  return heldAtFarthest(points, other)[2] as RawPoint;
}

describe("a reading whose speed overshot", () => {
  // The falling branch stands 1° higher, which is 100 rpm at one angle.
  const rising = branch(500, XS);
  const falling = branch(400, XS);

  it("belongs to the farthest speed where friction is wider than the way back", () => {
    const { x, xStandardUncertainty, advanceDeg, targetX } = at700(overshot(rising, 730), falling);
    expect(x).toBeCloseTo(730, 9);
    expect(advanceDeg).toBe(2);
    expect(targetX).toBe(700);
    // 0.1 of its own; a fifth of the 30 rpm moved; 1.5 % of the friction's 100 rpm.
    expect(xStandardUncertainty).toBeCloseTo(Math.hypot(0.1, 6, 1.5), 9);
  });

  it("has come back by all but the friction's width where that is narrower", () => {
    // 160 rpm beyond and back: the weights follow the falling branch for the last 60 rpm and stand
    // where a speed 100 rpm higher leaves them.
    const { x, xStandardUncertainty } = at700(overshot(rising, 860), falling);
    expect(x).toBeCloseTo(800, 9);
    // Anywhere on the 160 rpm, as a rectangle of that width.
    expect(xStandardUncertainty).toBeCloseTo(Math.hypot(0.1, 160 / Math.sqrt(12), 1.5), 9);
  });

  it("is doubted over the whole way back where friction is hardly wider than that", () => {
    const { x, xStandardUncertainty } = at700(overshot(rising, 770), falling);
    expect(x).toBeCloseTo(770, 9);
    expect(xStandardUncertainty).toBeCloseTo(Math.hypot(0.1, 70 / Math.sqrt(12), 1.5), 9);
  });

  it.each([
    [0.005, 0.01],
    [0.01, 0.005],
  ])("takes the steeper side where the curve bends: %d and %d deg/rpm", (left, right) => {
    const bent = XS.map((x) => point(x, 2 + (x < 700 ? left : right) * (x - 700)));
    // 1° higher on the other branch is 100 rpm by the steeper side.
    const other = bent.map((one) => ({ ...one, advanceDeg: one.advanceDeg + 1 }));
    expect(at700(overshot(bent, 860), other).x).toBeCloseTo(800, 9);
  });

  it("is moved downward on the falling branch", () => {
    const { x, xStandardUncertainty } = at700(overshot(falling, 680), rising);
    expect(x).toBeCloseTo(680, 9);
    expect(xStandardUncertainty).toBeCloseTo(Math.hypot(0.1, 4, 1.5), 9);
    expect(at700(overshot(falling, 540), rising).x).toBeCloseTo(600, 9);
  });

  it("stays where it is without friction, and the way back is its doubt", () => {
    const { x, xStandardUncertainty } = at700(overshot(rising, 724), rising);
    expect(x).toBe(700);
    expect(xStandardUncertainty).toBeCloseTo(Math.hypot(0.1, 24 / Math.sqrt(12)), 9);
  });

  it.each<[string, readonly RawPoint[]]>([
    ["is missing", []],
    ["does not reach so far", branch(400, [500, 600, 700])],
    ["does not begin so low", branch(400, [800, 900])],
  ])("lies half way, anywhere between, where the other branch %s", (_, other) => {
    const { x, xStandardUncertainty } = at700(overshot(rising, 724), other);
    expect(x).toBe(712);
    expect(xStandardUncertainty).toBeCloseTo(Math.hypot(0.1, 24 / Math.sqrt(12)), 9);
  });

  it("reads the other branch between its places", () => {
    // 450 to 750 by 100: 700 lies between two.
    const other = branch(400, [450, 550, 650, 750]);
    expect(at700(overshot(rising, 860), other).x).toBeCloseTo(800, 9);
  });
});

describe("heldAtFarthest", () => {
  it("leaves points alone whose farthest speed is not known", () => {
    const rising = branch(500, XS);
    expect(heldAtFarthest(rising, branch(400, XS))).toEqual(rising);
  });

  it("leaves the speed alone where nothing overshot", () => {
    const { x, xStandardUncertainty } = at700(overshot(branch(500, XS), 700), branch(400, XS));
    expect(x).toBe(700);
    // Weights left to settle still rest anywhere within a little of their friction.
    expect(xStandardUncertainty).toBeCloseTo(Math.hypot(0.1, 1.5), 9);
  });

  it("moves a reading between its speed and its farthest, and never makes it surer", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -300, max: 300, noNaN: true }),
        fc.double({ min: 0, max: 300, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (away, frictionRpm, own) => {
          const rising = branch(500, XS).map((one) => ({ ...one, xStandardUncertainty: own }));
          const moved = at700(overshot(rising, 700 + away), branch(500 - frictionRpm, XS));
          expect(moved.x).toBeGreaterThanOrEqual(Math.min(700, 700 + away) - 1e-9);
          expect(moved.x).toBeLessThanOrEqual(Math.max(700, 700 + away) + 1e-9);
          expect(Math.abs(moved.x - 700)).toBeLessThanOrEqual(frictionRpm + 1e-6);
          expect(moved.xStandardUncertainty).toBeGreaterThanOrEqual(own);
        },
      ),
    );
  });
});
