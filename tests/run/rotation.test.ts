import { describe, expect, it } from "vitest";
import { mayTurnBackwards } from "../../core/rotation.ts";

function read(places: readonly (readonly [number, number])[]) {
  return places.map(([speedRpm, advanceDeg]) => ({
    speedRpm,
    advanceDeg,
    standardUncertaintyDeg: 0.01,
    coverageFactor: 2,
  }));
}

describe("A curve that falls", () => {
  it("in a straight line, 200 µs late, is no question of rotation", () => {
    // 6 · 10⁻⁶ · 200 µs · (2000 − 200) rpm = 2.16°.
    expect(
      mayTurnBackwards(
        read([
          [700, -0.6],
          [1200, -1.2],
          [2000, -2.16],
        ]),
        200,
      ),
    ).toBe(false);
  });

  it("only from its start on is one", () => {
    expect(
      mayTurnBackwards(
        read([
          [700, 0],
          [1200, -0.7],
          [2000, -2.16],
        ]),
        200,
      ),
    ).toBe(true);
  });

  it("farther than 500 µs would have it is one, straight or not", () => {
    // 6 · 10⁻⁶ · 500 µs · 1000 rpm = 3°.
    expect(mayTurnBackwards(read([[1200, -3.1]]), 200)).toBe(true);
    expect(mayTurnBackwards(read([[1200, -2.9]]), 200)).toBe(false);
  });

  it("by no more than its uncertainty allows to deny is none", () => {
    const doubtful = {
      speedRpm: 500,
      advanceDeg: -3,
      standardUncertaintyDeg: 0.6,
      coverageFactor: 2,
    };
    expect(mayTurnBackwards([doubtful], 450)).toBe(false);
    expect(mayTurnBackwards([{ ...doubtful, standardUncertaintyDeg: 0.4 }], 450)).toBe(true);
  });
});
