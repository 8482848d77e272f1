// What goes once round with the turn told from what stays with the lobes, for patterns made in closed form.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { scatterOf } from "../../core/angles/scatter.ts";
import type { LobeEvents } from "../../core/angles/window.ts";

function lobe(spreadDeg: number, count: number): LobeEvents {
  return { advanceDeg: 0, spreadDeg, count, dwellDeg: null, dwellSpreadDeg: 0 };
}

function steady(places: readonly number[]): LobeEvents[] {
  return places.map(() => lobe(0, 50));
}

function cosine(placeDeg: number, latestDeg: number): number {
  return Math.cos(((placeDeg - latestDeg) * Math.PI) / 180);
}

/** As a reading gives deviations: the mean of all removed. */
function centred(values: readonly number[]): number[] {
  const mean = values.reduce((sum, one) => sum + one, 0) / values.length;
  return values.map((one) => one - mean);
}

const FOUR = [10, 100, 190, 280];
const EIGHT = [3, 48, 93, 138, 183, 228, 273, 318];

describe("scatterOf", () => {
  it("gives amplitude and latest place of a bent shaft", () => {
    const deviations = FOUR.map((place) => 0.8 * cosine(place, 130));
    const scatter = scatterOf(deviations, steady(FOUR), FOUR);
    expect(scatter.oncePerTurnDeg).toBeCloseTo(0.8, 12);
    expect(scatter.oncePerTurnAtDeg).toBeCloseTo(130, 9);
    expect(scatter.fixedDeg).toBeCloseTo(0, 12);
  });

  it("calls a cam whose opposite lobes are late by the same fixed, not once per turn", () => {
    const scatter = scatterOf([0.5, -0.5, 0.5, -0.5], steady(FOUR), FOUR);
    expect(scatter.oncePerTurnDeg).toBeCloseTo(0, 12);
    expect(scatter.fixedDeg).toBeCloseTo(0.5, 12);
  });

  it("parts both where they come together", () => {
    const twice = EIGHT.map((place) => 0.3 * Math.cos((2 * (place - 3) * Math.PI) / 180));
    const deviations = EIGHT.map((place, j) => 0.6 * cosine(place, 350) + (twice[j] as number));
    const scatter = scatterOf(deviations, steady(EIGHT), EIGHT);
    expect(scatter.oncePerTurnDeg).toBeCloseTo(0.6, 12);
    expect(scatter.oncePerTurnAtDeg).toBeCloseTo(350, 9);
    expect(scatter.fixedDeg).toBeCloseTo(0.3, 12);
  });

  it("leaves most of one worn lobe of eight fixed", () => {
    // 1° late with the mean removed: 7/8 and seven times −1/8. Its once-per-turn share is 2/8 of 1°,
    // which takes 1/4 off the lobe itself and adds 1/4 opposite.
    const deviations = centred([1, 0, 0, 0, 0, 0, 0, 0]);
    const scatter = scatterOf(deviations, steady(EIGHT), EIGHT);
    expect(scatter.oncePerTurnDeg).toBeCloseTo(0.25, 12);
    expect(scatter.oncePerTurnAtDeg).toBeCloseTo(3, 9);
    expect(scatter.fixedDeg).toBeCloseTo(0.625, 12);
  });

  it("finds the once-per-turn part wherever the lobes stand, the mean of all removed", () => {
    const gaps = fc.array(fc.double({ min: 20, max: 80, noNaN: true }), {
      minLength: 4,
      maxLength: 12,
    });
    fc.assert(
      fc.property(
        gaps,
        fc.double({ min: 0.01, max: 3, noNaN: true }),
        fc.double({ min: 1, max: 359, noNaN: true }),
        (spaces, runOutDeg, latestDeg) => {
          const sum = spaces.reduce((total, one) => total + one, 0);
          let at = 5;
          const places = spaces.map((space) => {
            const place = at;
            at += (space * 360) / sum;
            return place;
          });
          const deviations = centred(places.map((place) => runOutDeg * cosine(place, latestDeg)));
          const scatter = scatterOf(deviations, steady(places), places);
          expect(scatter.oncePerTurnDeg).toBeCloseTo(runOutDeg, 6);
          expect(cosine(scatter.oncePerTurnAtDeg ?? Number.NaN, latestDeg)).toBeCloseTo(1, 6);
          expect(scatter.fixedDeg).toBeCloseTo(0, 6);
        },
      ),
    );
  });

  it("keeps a place from 0 to 360", () => {
    for (let latest = 0; latest < 360; latest += 15) {
      const deviations = EIGHT.map((place) => cosine(place, latest));
      const at = scatterOf(deviations, steady(EIGHT), EIGHT).oncePerTurnAtDeg ?? Number.NaN;
      expect(at).toBeGreaterThanOrEqual(0);
      expect(at).toBeLessThan(360);
    }
  });

  it.each([[[0]], [[0.4, -0.4]], [[-0.7, 0.3, 0.4]]])(
    "cannot part the deviations of fewer than four lobes: %j",
    (deviations) => {
      const places = deviations.map((_, j) => (360 * j) / deviations.length);
      expect(scatterOf(deviations, steady(places), places)).toEqual({
        oncePerTurnDeg: null,
        oncePerTurnAtDeg: null,
        fixedDeg: Math.max(...deviations.map(Math.abs)),
        randomDeg: 0,
      });
    },
  );

  it("does not part them either where a lobe never fired", () => {
    const scatter = scatterOf([0.1, 0, -0.3, 0.2], steady(FOUR), [10, Number.NaN, 190, 280]);
    expect(scatter.oncePerTurnDeg).toBeNull();
    expect(scatter.oncePerTurnAtDeg).toBeNull();
    expect(scatter.fixedDeg).toBe(0.3);
  });

  it("pools the spread of single events by their degrees of freedom", () => {
    // (10 · 0.1² + 30 · 0.3²) / 40; lobes with one event or none know no spread.
    const lobes = [lobe(0.1, 11), lobe(0.3, 31), lobe(0, 1), lobe(0, 0)];
    expect(scatterOf([0, 0, 0, 0], lobes, FOUR).randomDeg).toBeCloseTo(Math.sqrt(0.07), 12);
    const single = FOUR.map(() => lobe(0, 1));
    expect(scatterOf([0, 0, 0, 0], single, FOUR).randomDeg).toBe(0);
  });
});
