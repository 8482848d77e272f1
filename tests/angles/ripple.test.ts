// What lobes show of ripple that no pickup sees.
import { describe, expect, it } from "vitest";
import { rippleBetweenLobes, rippleShownByLobes } from "../../core/angles/ripple.ts";
import type { WindowFigures } from "../../core/angles/window.ts";

const figures = (lobes: readonly { advanceDeg: number; dwellDeg: number | null }[]) =>
  ({
    lobes: lobes.map((lobe) => ({ ...lobe, spreadDeg: 0, count: 100, dwellSpreadDeg: 0 })),
  }) as unknown as WindowFigures;

describe("ripple twice a turn under four lobes", () => {
  const SIZE_DEG = 0.01;
  const DWELL_DEG = 45;
  /** Openings and closings, 45° before them, shifted by a ripple of so many degrees at 1,000 rpm. */
  const at = (speedRpm: number, phaseRad: number) => {
    const scale = (1000 / speedRpm) ** 2;
    const shift = (placeDeg: number) =>
      SIZE_DEG * scale * Math.sin((2 * placeDeg * Math.PI) / 180 + phaseRad);
    const lobes = [0, 90, 180, 270].map((placeDeg) => {
      const opening = shift(placeDeg);
      return { advanceDeg: -opening, dwellDeg: DWELL_DEG + opening - shift(placeDeg - DWELL_DEG) };
    });
    return { speedRpm, figures: figures(lobes) };
  };

  it("shows alike wherever the unit was clamped", () => {
    // Openings alternate by ± a and closings by ± b, a² + b² = 0.01²: spreads of √(4/3) a and √(4/3) b.
    const expected = (SIZE_DEG * Math.sqrt(4 / 3)) / Math.SQRT2;
    for (const phaseRad of [0, 0.4, Math.PI / 4, 1.3, Math.PI / 2]) {
      const shown = rippleBetweenLobes(at(100, phaseRad), at(3000, phaseRad));
      expect(shown?.byAll).toBeCloseTo(expected, 9);
      const alternating = SIZE_DEG * Math.abs(Math.sin(phaseRad));
      expect(shown?.byOpenings).toBeCloseTo(alternating * Math.sqrt(4 / 3), 9);
    }
  });

  it("shows by openings alone where closings are not known", () => {
    const blind = (speedRpm: number) => {
      const { figures: seen } = at(speedRpm, Math.PI / 2);
      return {
        speedRpm,
        figures: figures(seen.lobes.map((lobe) => ({ ...lobe, dwellDeg: null }))),
      };
    };
    const expected = SIZE_DEG * Math.sqrt(4 / 3);
    const shown = rippleBetweenLobes(blind(100), blind(3000));
    expect(shown?.byAll).toBeCloseTo(expected, 9);
    expect(shown?.byOpenings).toBe(shown?.byAll);
  });

  it("shows nothing between two readings of one speed, nor without lobes", () => {
    expect(rippleBetweenLobes(at(100, 1), at(100, 1))).toBeNull();
    const none = { advanceDeg: Number.NaN, dwellDeg: null };
    const lost = { speedRpm: 100, figures: figures([none, none]) };
    expect(rippleBetweenLobes(lost, { ...lost, speedRpm: 2000 })).toBeNull();
  });
});

it("is no surprise at the index up to twice what the lobes show", () => {
  expect(rippleShownByLobes(0.005, null)).toEqual({
    rippleSizeDegAt1000Rpm: 0.005,
    usualRippleDegAt1000Rpm: 0.005,
  });
  expect(rippleShownByLobes(0.005, { byOpenings: 0.01, byAll: 0.02 })).toEqual({
    rippleSizeDegAt1000Rpm: 0.01,
    usualRippleDegAt1000Rpm: 0.04,
  });
  const little = { byOpenings: 0.001, byAll: 0.001 };
  expect(rippleShownByLobes(0.005, little).usualRippleDegAt1000Rpm).toBe(0.005);
});
