// How far off the form of a curve may be: not at what friction or a hung cam leaves behind.
import { describe, expect, it } from "vitest";
import { formCovariance, type Point } from "../../core/findings/doubts.ts";

function points(
  branch: Point["branch"],
  places: readonly (readonly [x: number, advanceDeg: number])[],
): readonly Point[] {
  return places.map(([x, advanceDeg]) => ({
    x,
    targetX: x,
    branch,
    advanceDeg,
    standardUncertaintyDeg: 0.02,
    coverageFactor: 2,
    budget: [],
  }));
}

const STILL = [
  [300, 0],
  [400, 0],
] as const;

describe("formCovariance", () => {
  it("grows with the advance up to 2°, and stays beyond", () => {
    const covariance = formCovariance(
      points("rising", [
        [300, 1],
        [400, 1],
        [500, 1],
      ]),
      1.5,
    );
    // On a level curve nothing is added for the speed: half of 1.5°, squared.
    expect(covariance.map((row, i) => row[i])).toEqual([0.5625, 0.5625, 0.5625]);
    const beyond = formCovariance(points("rising", [[300, 6]]), 1.5);
    expect(beyond[0]?.[0]).toBe(2.25);
  });

  it("is nothing where a cam stays out that had not moved on its way up", () => {
    const covariance = formCovariance(
      [
        ...points("rising", STILL),
        ...points("falling", [
          [200, 0.9],
          [300, 0.9],
          [400, 0.9],
        ]),
      ],
      1.5,
    );
    expect(covariance.map((row, i) => row[i])).toEqual([0, 0, 0, 0, 0]);
  });

  it("takes the rising branch between its readings, and its last one beyond them", () => {
    const falling = points("falling", [
      [350, 3],
      [600, 3],
    ]);
    const covariance = formCovariance(
      [
        ...points("rising", [
          [300, 0],
          [400, 1],
        ]),
        ...falling,
      ],
      1,
    );
    // Half way up to 1°: a quarter of the doubt at 2°; beyond: a half. Falling it is level.
    expect(covariance[2]?.[2]).toBeCloseTo(0.25 ** 2, 12);
    expect(covariance[3]?.[3]).toBeCloseTo(0.5 ** 2, 12);
  });
});
