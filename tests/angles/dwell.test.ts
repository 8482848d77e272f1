// Dwell and each part of its uncertainty alone, from lobes given as literals.
import { describe, expect, it } from "vitest";
import { dwellOf } from "../../core/angles/dwell.ts";
import type { RigKnowledge } from "../../core/angles/knowledge.ts";
import type { LobeEvents } from "../../core/angles/window.ts";
import type { Assumed } from "../../core/angles/zero.ts";
import { figuresWith, lobe, pickupWith, rigWith, windowWith, zeroWith } from "./literals.ts";

/** So many events that their mean does not scatter. */
const COUNTLESS = 1e30;
/** So fast a clock that nothing is rounded. */
const NO_ROUNDING_HZ = 1e15;

/** Lobes of these dwells, which scatter so much. */
function lobesOf(
  dwellsDeg: readonly (number | null)[],
  dwellSpreadDeg = 0,
  count = COUNTLESS,
): LobeEvents[] {
  return dwellsDeg.map((dwellDeg) => lobe({ dwellDeg, dwellSpreadDeg, count }));
}

interface Given {
  readonly speedRpm?: number;
  readonly referenceRpm?: number;
  readonly reference?: readonly LobeEvents[];
  readonly rig?: Partial<RigKnowledge>;
  readonly pickup?: number;
  readonly assumed?: Partial<Assumed>;
  readonly alike?: number;
  readonly other?: number;
}

/** With a pickup that shows ripple, unless told otherwise, so that the reference has no say. */
function dwell(lobes: readonly LobeEvents[], given: Given = {}) {
  const { speedRpm = 1000, referenceRpm = 500, reference = [] } = given;
  return dwellOf(
    { window: windowWith(speedRpm, []), figures: figuresWith(lobes) },
    {
      rig: rigWith({ tickHz: NO_ROUNDING_HZ, edgesPerTurn: 36, ...given.rig }),
      pickup: pickupWith(given.pickup ?? 0),
      zero: zeroWith(given.assumed),
      reference: { window: windowWith(referenceRpm, []), figures: figuresWith(reference) },
      referenceDeg: [],
      lobeAnglesDeg: [],
      hasDwell: true,
    },
    { ripple: 0, delay: 0, reference: 1, alike: given.alike ?? 1, other: given.other ?? 0 },
  );
}

function uncertainty(lobes: readonly LobeEvents[], given: Given = {}): number | undefined {
  return dwell(lobes, given)?.standardUncertaintyDeg;
}

describe("the mean dwell", () => {
  it("is that of the lobes that tell it: (40 + 43) / 2", () => {
    expect(dwell(lobesOf([40, null, 43]))?.dwellDeg).toBe(41.5);
  });

  it("is not known where no lobe tells it", () => {
    expect(dwell(lobesOf([null, null]))).toBeNull();
    expect(dwell([])).toBeNull();
  });

  it("scatters as the mean of two means, each of its own count", () => {
    // 0.3² / 9 + 0.8² / 16 = 0.01 + 0.04; a lobe without a dwell has no share.
    const lobes = [
      lobe({ dwellDeg: 40, dwellSpreadDeg: 0.3, count: 9 }),
      lobe({ dwellDeg: null, dwellSpreadDeg: 5, count: 2 }),
      lobe({ dwellDeg: 40, dwellSpreadDeg: 0.8, count: 16 }),
    ];
    expect(uncertainty(lobes)).toBeCloseTo(Math.sqrt(0.05) / 2, 9);
  });

  it("scatters as a single one where it is one, or where their count is not known", () => {
    expect(uncertainty(lobesOf([40], 0.3, 1))).toBeCloseTo(0.3, 9);
    expect(uncertainty(lobesOf([40], 0.3, 0))).toBeCloseTo(0.3, 9);
  });
});

describe("misplaced pickup edges", () => {
  it("shift both ends, each lobe's by edges of its own", () => {
    // A ten-thousandth of a turn is 0.036°; twice, √2; the mean of eight, 1/√8.
    expect(uncertainty(lobesOf(Array(8).fill(40)), { pickup: 1e-4 })).toBeCloseTo(0.018, 12);
  });
});

describe("rounding to ticks", () => {
  /** 1 MHz at 1,000 rpm: 0.006° a tick. */
  const rig = { tickHz: 1e6 };
  const TICK_DEG = 0.006;

  it("of both ends has a variance of a sixth tick², and six lobes average it: a sixth of a tick", () => {
    expect(uncertainty(lobesOf(Array(6).fill(40)), { rig })).toBeCloseTo(TICK_DEG / 6, 12);
  });

  it("grows with speed", () => {
    const given = { rig, speedRpm: 3000 };
    expect(uncertainty(lobesOf(Array(6).fill(40)), given)).toBeCloseTo(TICK_DEG / 2, 12);
  });

  it.each([
    ["stands in full up to half a tick of spread", 0.4, 1],
    ["by half at three quarters", 0.75, 0.5],
    ["not at all at a whole tick", 1, 0],
    ["nor beyond", 2, 0],
  ])("%s", (_, spreadTicks, share) => {
    const lobes = lobesOf(Array(6).fill(40), spreadTicks * TICK_DEG);
    expect(uncertainty(lobes, { rig })).toBeCloseTo((TICK_DEG * Math.sqrt(share)) / 6, 12);
  });

  it("goes by all lobes' spread: √((0.6² + 0.9²) / 2) of a tick", () => {
    const lobes = [
      lobe({ dwellDeg: 40, dwellSpreadDeg: 0.6 * TICK_DEG, count: COUNTLESS }),
      lobe({ dwellDeg: 40, dwellSpreadDeg: 0.9 * TICK_DEG, count: COUNTLESS }),
    ];
    const share = 2 * (1 - Math.sqrt(0.585));
    expect(uncertainty(lobes, { rig })).toBeCloseTo(TICK_DEG * Math.sqrt(share / 12), 12);
  });
});

describe("ripple that no pickup sees", () => {
  const four = lobesOf([40, 40, 40, 40]);

  it("shifts both ends by what is assumed of it, which falls with the square of speed", () => {
    const assumed = { rippleSizeDegAt1000Rpm: 0.02, rippleBetweenLobesDegAt1000Rpm: 0.03 };
    // At 500 rpm four times as much: √2 · 0.08°.
    expect(uncertainty(four, { assumed, speedRpm: 500 })).toBeCloseTo(0.08 * Math.SQRT2, 12);
  });

  it("may shift one lobe against another instead, which four average to a half", () => {
    const assumed = { rippleSizeDegAt1000Rpm: 0.02, rippleBetweenLobesDegAt1000Rpm: 0.06 };
    expect(uncertainty(four, { assumed })).toBeCloseTo(0.03 * Math.SQRT2, 12);
  });

  describe("shows in the difference to a slower reference", () => {
    // At 500 rpm it is 4 times what it is at 1,000 rpm, so a third of the difference is in what is read here.
    const blind = { edgesPerTurn: 1 };
    const reference = lobesOf([40.6, 40.6, 40.6, 40.6]);

    it("and a third of that is taken off: 40 − 0.2", () => {
      expect(dwell(four, { rig: blind, reference })?.dwellDeg).toBeCloseTo(39.8, 12);
    });

    it("and by less as far as the lobes stand elsewhere along it", () => {
      const moved = { rig: blind, reference, alike: 0.5 };
      expect(dwell(four, moved)?.dwellDeg).toBeCloseTo(39.9, 12);
    });

    it("and its law may be off by a tenth: of 0.2°", () => {
      expect(uncertainty(four, { rig: blind, reference })).toBeCloseTo(0.02, 12);
    });

    it("and what is read here scatters by a third more", () => {
      const scattered = lobesOf([40, 40, 40, 40], 0.6, 9);
      const same = lobesOf([40, 40, 40, 40]);
      // Four means of 0.2° each: 0.1°.
      expect(uncertainty(scattered, { rig: blind, reference: same })).toBeCloseTo(0.4 / 3, 12);
    });

    it("and what was read there scatters by a third of its own", () => {
      const scattered = lobesOf([40, 40, 40, 40], 0.6, 9);
      expect(uncertainty(four, { rig: blind, reference: scattered })).toBeCloseTo(0.1 / 3, 12);
    });

    it("and what is new of it where the lobes now stand is as doubtful as ever", () => {
      const assumed = { rippleSizeDegAt1000Rpm: 0.02 };
      const moved = { rig: blind, assumed, reference: four, other: 0.5 };
      expect(uncertainty(four, moved)).toBeCloseTo(0.01 * Math.SQRT2, 12);
    });

    it("with fewer than six edges a turn only", () => {
      const with5 = { rig: { edgesPerTurn: 5 }, reference };
      const with6 = { rig: { edgesPerTurn: 6 }, reference };
      expect(dwell(four, with5)?.dwellDeg).toBeCloseTo(39.8, 12);
      expect(dwell(four, with6)?.dwellDeg).toBe(40);
    });

    it("not where the reference has no dwell", () => {
      expect(dwell(four, { rig: blind, reference: lobesOf([null]) })?.dwellDeg).toBe(40);
    });

    it("not where it fell by less than what is left of it", () => {
      // 800 rpm: 1.5625 times as much.
      const near = { rig: blind, reference, referenceRpm: 800 };
      expect(dwell(four, near)?.dwellDeg).toBe(40);
    });

    it("and does where it fell by just as much as is left: all of the difference", () => {
      // The nearest to 600 / √2 whose square is half of 600² to the last digit.
      const half = { rig: blind, reference, speedRpm: 600, referenceRpm: 424.2640687119285 };
      expect(dwell(four, half)?.dwellDeg).toBeCloseTo(39.4, 9);
    });
  });
});
