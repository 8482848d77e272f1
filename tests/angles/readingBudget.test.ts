// Each part of a reading's uncertainty alone, from figures given as literals.
import { describe, expect, it } from "vitest";
import { ownParts, readingFrom } from "../../core/angles/reading.ts";
import type { UncertaintyPart } from "../../core/documents.ts";
import type { TurnTimes } from "../../core/turns.ts";
import {
  contextWith,
  EVEN_TICK_HZ,
  EVEN_TICKS,
  evenTurn,
  figuresWith,
  inputWith,
  lobe,
  pickupWith,
  rigWith,
  windowWith,
  zeroWith,
} from "./literals.ts";

/** So fast a clock, and so right a one, that it adds nothing. */
const RIGHT_RIG = rigWith({ tickHz: Number.POSITIVE_INFINITY, tickPpm: 0 });

function early(advanceDeg: number, lobes = 4) {
  return figuresWith(Array.from({ length: lobes }, () => lobe({ advanceDeg })));
}

function reading(
  input: Parameters<typeof inputWith>[0],
  context: Parameters<typeof contextWith>[0] = {},
) {
  return readingFrom(inputWith(input), contextWith({ rig: RIGHT_RIG, ...context }));
}

/** The one part there is. */
function onlyPart(
  input: Parameters<typeof inputWith>[0],
  context: Parameters<typeof contextWith>[0] = {},
): UncertaintyPart | undefined {
  const { budget } = reading(input, context) ?? { budget: [] };
  expect(budget).toHaveLength(1);
  return budget[0];
}

describe("parts of the advance's uncertainty", () => {
  it("are none where nothing is uncertain", () => {
    expect(reading({})).toMatchObject({ budget: [], standardUncertaintyDeg: 0 });
  });

  it("have what the turns' means scatter, as the mean of four: √(0.04 / 3) / 2", () => {
    const figures = figuresWith(early(0).lobes, {
      turnMeansDeg: Float64Array.of(-0.1, 0.1, -0.1, 0.1),
    });
    const part = onlyPart({ figures });
    expect(part).toMatchObject({ name: "repeatability", degreesOfFreedom: 3, shared: false });
    expect(part?.standardUncertainty).toBeCloseTo(Math.sqrt(0.04 / 3) / 2, 12);
  });

  it("have a third of the interpolation's bound squared, as of a rectangle", () => {
    const part = onlyPart({ window: windowWith(1000, [evenTurn(0)], 0.3) });
    expect(part).toMatchObject({ name: "interpolation", shape: "rectangular", shared: false });
    expect(part?.standardUncertainty).toBeCloseTo(0.3 / Math.sqrt(3), 12);
  });

  it("have a twelfth of the drift squared, as of a rectangle so wide", () => {
    const part = onlyPart({ figures: figuresWith(early(0).lobes, { driftDeg: 0.6 }) });
    expect(part).toMatchObject({ name: "drift", shape: "rectangular", shared: false });
    expect(part?.standardUncertainty).toBeCloseTo(0.6 / Math.sqrt(12), 12);
  });

  it("have misplaced edges as far as the lobes fire by others than at the reference", () => {
    // 36 edges stand 10° apart: 5° are half of that. 0.036° · √2 / √8 = 0.018°, for a whole one.
    const given = {
      rig: { ...RIGHT_RIG, edgesPerTurn: 36 },
      pickup: pickupWith(1e-4),
      lobeAnglesDeg: [0, 45, 90, 135, 180, 225, 270, 315],
      referenceDeg: [0, 45, 90, 135, 180, 225, 270, 315],
      reference: { window: windowWith(1000, []), figures: early(0, 8) },
    };
    for (const advanceDeg of [5, -5]) {
      const part = onlyPart({ figures: early(advanceDeg, 8) }, given);
      expect(part).toMatchObject({ name: "pickup", shared: true });
      expect(part?.standardUncertainty).toBeCloseTo(0.009, 12);
    }
    expect(onlyPart({ figures: early(30, 8) }, given)?.standardUncertainty).toBeCloseTo(0.018, 12);
    expect(reading({ figures: early(0, 8) }, given)?.budget).toEqual([]);
  });

  it("have ripple where the lobes have moved along it to another place", () => {
    const zero = { ...zeroWith(), rippleSizeDegAt1000Rpm: 0.02 };
    // 22.5° and more on four lobes are a quarter wave; at 500 rpm four times as much.
    const window = windowWith(500, [evenTurn(0)]);
    const part = onlyPart({ window, figures: early(30) }, { zero });
    expect(part).toMatchObject({ name: "ripple elsewhere", shared: false });
    expect(part?.standardUncertainty).toBeCloseTo(0.08, 12);
  });

  it("add in squares, and are covered by 1.96 where all are normal and sure", () => {
    const zero = zeroWith({ referenceDeg: 0.4, delayUs: 10 });
    const window = windowWith(1000, [evenTurn(0)]);
    const reference = { window: windowWith(6000, []), figures: early(0) };
    // 10 µs over 5,000 rpm: 0.3°; with a reference of 0.4°: 0.5°.
    const given = reading({ window }, { zero, reference });
    expect(given?.budget.map(({ name }) => name)).toEqual(["delay", "reference"]);
    expect(given?.standardUncertaintyDeg).toBeCloseTo(0.5, 9);
    expect(given?.coverageFactor).toBeCloseTo(1.96, 3);
  });
});

describe("the zero's part", () => {
  const zero = { ...zeroWith({ referenceDeg: 0.04 }), told: true, toldUpToRpm: 800 };
  const at = (speedRpm: number) => windowWith(speedRpm, [evenTurn(0)]);

  it.each([
    ["is left out of a slow reading that told it", 700, true, true, 0],
    ["is left out of the fastest that told it", 800, true, true, 0],
    ["is in a faster one", 801, true, true, 1],
    ["is in one that something beside speed moved", 700, false, true, 1],
    ["is in all where none told it", 700, true, false, 1],
  ])("%s", (_, speedRpm, bySpeedAlone, told, parts) => {
    const given = reading({ window: at(speedRpm), bySpeedAlone }, { zero: { ...zero, told } });
    expect(given?.budget).toHaveLength(parts);
    expect(given?.standardUncertaintyDeg).toBeCloseTo(0.04 * parts, 12);
  });

  it("is not in the reference, against which all counts", () => {
    const reference = { window: at(1000), figures: early(0) };
    expect(reading(reference, { zero, reference })?.budget).toEqual([]);
  });
});

describe("rounding to ticks", () => {
  // At 1,000 rpm on 6 MHz a tick is 0.001°; a rectangle of it has 1/√12. The event's own and the pulses' by
  // their weights: √(1 + 0.79).
  const rig = rigWith({ tickHz: EVEN_TICK_HZ });
  const FULL_DEG = (0.001 / Math.sqrt(12)) * Math.sqrt(1.79);

  function tick(periods: readonly number[], speedRpm = 1000): number | undefined {
    const turns = periods.map((duringTicks, k) => evenTurn(k, { duringTicks }));
    const lost = evenTurn(9, { lost: true, duringTicks: 2 * EVEN_TICKS });
    const given = { window: windowWith(speedRpm, [...turns, lost]), figures: early(0) };
    const part = ownParts(given, rig).find(({ name }) => name === "tick");
    expect(part).toMatchObject({ shape: "normal", shared: false });
    return part?.standardUncertainty;
  }

  it("stands in every turn alike where whole turns never vary", () => {
    expect((tick([EVEN_TICKS, EVEN_TICKS, EVEN_TICKS]) as number) / FULL_DEG).toBeCloseTo(1, 2);
    expect((tick([EVEN_TICKS, EVEN_TICKS], 4000) as number) / FULL_DEG).toBeCloseTo(4, 1);
  });

  it("differs from turn to turn, and is in the repeatability, where one varies by a tick or more", () => {
    // One of two by d: a variance of d² / 2 each, 1 for both where d is 1.
    expect(tick([EVEN_TICKS, EVEN_TICKS + 1])).toBeCloseTo(0, 9);
    expect(tick([EVEN_TICKS, EVEN_TICKS + 3])).toBe(0);
  });

  it("stands in part where periods are known to parts of a tick: 1 − 0.6² = 0.8²", () => {
    const share = (tick([EVEN_TICKS, EVEN_TICKS + 0.6]) as number) / FULL_DEG;
    expect(share).toBeCloseTo(0.8, 2);
  });
});

describe("the speed", () => {
  function speed(turns: readonly TurnTimes[], tickPpm: number) {
    const rig = rigWith({ tickHz: EVEN_TICK_HZ, tickPpm });
    return reading({ window: windowWith(1000, turns) }, { rig });
  }

  it("of turn on turn is as sure as two ticks over all of their time", () => {
    // 720,000 ticks, each end with a variance of 1/12 tick².
    const given = speed([evenTurn(0), evenTurn(1)], 0);
    const expected = (1000 * Math.sqrt(2 / 12)) / 720_000;
    expect(given?.speedRpm).toBe(1000);
    expect(given?.speedStandardUncertaintyRpm).toBeCloseTo(expected, 12);
    expect((given?.speedExpandedUncertaintyRpm as number) / expected).toBeCloseTo(1.96, 3);
  });

  it("is so where the counter begins anew between them", () => {
    const turns = [evenTurn(0, { indexTick: 2 ** 32 - EVEN_TICKS }), evenTurn(1, { indexTick: 0 })];
    const given = speed(turns, 0);
    expect(given?.speedStandardUncertaintyRpm).toBeCloseTo(
      (1000 * Math.sqrt(2 / 12)) / 720_000,
      12,
    );
  });

  it("of turns with others left out is a mean of samples: 1,000 and 900 rpm, 50 of the mean", () => {
    const turns = [evenTurn(0), evenTurn(2, { duringTicks: 400_000 })];
    expect(speed(turns, 0)?.speedStandardUncertaintyRpm).toBeCloseTo(50, 9);
  });

  it("has the clock's tolerance as a rectangle: 50 ppm of 1,000 rpm either way", () => {
    const given = speed([evenTurn(0)], 50);
    expect(given?.speedStandardUncertaintyRpm).toBeCloseTo(0.05 / Math.sqrt(3), 4);
    // 95 % of its half width, but for what the ticks add.
    expect(given?.speedExpandedUncertaintyRpm).toBeCloseTo(0.95 * 0.05, 3);
  });
});
