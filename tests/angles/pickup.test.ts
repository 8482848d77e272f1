// Spacing errors told from ripple: edge patterns made in closed form, by the law that each follows.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type EdgePattern,
  edgePattern,
  learnPickup,
  type Pickup,
  rippleAt,
  rippleIn,
} from "../../core/angles/pickup.ts";
import { Draws } from "../uncertainty/draws.ts";
import { rampTurn } from "./turns.ts";

/** Spacing errors of eight edges in revolutions, the index always right. */
const SPACING = [0, 3e-4, -2e-4, 5e-4, 1e-4, -4e-4, 2e-4, -1e-4];
/** Of the shaft at 1000 rpm, at each edge. */
const RIPPLE = [0, 1e-4, 2e-4, 1e-4, 0, -1e-4, -2e-4, -1e-4];

/** A ripple ahead makes an edge come early: it seems to stand before its place. */
function pattern(speedRpm: number, spacing: readonly number[], ripple: readonly number[]) {
  const fallen = (1000 / speedRpm) ** 2;
  return {
    speedRpm,
    offsets: spacing.map((error, k) => error - (ripple[k] as number) * fallen),
    variance: 0,
  };
}

const still = SPACING.map(() => 0);

function patterns(speeds: readonly number[], spacing = SPACING, ripple = RIPPLE): EdgePattern[] {
  return speeds.map((speedRpm) => pattern(speedRpm, spacing, ripple));
}

function errorsOf({ places }: Pickup): number[] {
  return places.map((place, k) => place - k / (places.length - 1));
}

function rms(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, one) => sum + one ** 2, 0) / values.length);
}

describe("edgePattern", () => {
  it("gives the misplacement of each edge of a steady shaft", () => {
    const turns = [1, 2, 3].map((k) => {
      const turn = rampTurn(k, [], { startRpm: 600, edges: 8 });
      const edgeTicks = Array.from(turn.edgeTicks ?? []).map(
        (tick, edge) => tick + (SPACING[edge] ?? 0) * turn.duringTicks,
      );
      return { ...turn, edgeTicks };
    });
    const found = edgePattern(turns, 8, 600);
    expect(found?.speedRpm).toBe(600);
    expect(found?.offsets).toHaveLength(8);
    for (const [k, offset] of (found?.offsets ?? []).entries()) {
      expect(offset).toBeCloseTo(SPACING[k] as number, 10);
    }
    expect(found?.variance).toBeCloseTo(0, 15);
  });

  it("takes a steady ramp of the speed for no misplacement", () => {
    const turns = [1, 2].map((k) => rampTurn(k, [], { startRpm: 500, rpmPerS: 300, edges: 8 }));
    for (const offset of edgePattern(turns, 8, 500)?.offsets ?? [1]) {
      expect(offset).toBeCloseTo(0, 8);
    }
  });

  it("knows the mean of n turns with the variance of one over n", () => {
    // Every edge 1e-3 of a turn early or late in turn: squares sum to 4e-6 over 3 degrees of freedom
    // and are shared by 4 turns.
    const turns = [1, 2, 3, 4].map((k) => {
      const turn = rampTurn(k, [], { startRpm: 600, edges: 4 });
      const off = (k % 2 === 0 ? 1e-3 : -1e-3) * turn.duringTicks;
      const edgeTicks = Array.from(turn.edgeTicks ?? []).map((tick, edge) =>
        edge === 0 || edge === 4 ? tick : tick + off,
      );
      return { ...turn, edgeTicks };
    });
    const found = edgePattern(turns, 4, 600);
    expect(found?.offsets[2]).toBeCloseTo(0, 10);
    expect((found?.variance ?? Number.NaN) * 1e6).toBeCloseTo(4 / 3 / 4, 6);
  });

  it("is nothing without pickup lines, or with the index alone", () => {
    expect(edgePattern([rampTurn(1, [], {})], 8, 600)).toBeNull();
    expect(edgePattern([], 8, 600)).toBeNull();
    expect(edgePattern([rampTurn(1, [], { edges: 1 })], 1, 600)).toBeNull();
  });
});

describe("learnPickup", () => {
  it.each([[[500, 2000]], [[200, 400, 800, 1600, 3000]], [[900, 1000, 1100]]])(
    "tells spacing errors from a ripple that falls with the square of speed: %j rpm",
    (speeds) => {
      const pickup = learnPickup(patterns(speeds), 8);
      expect(pickup.learnt).toBe(true);
      expect(pickup.places).toHaveLength(9);
      expect(pickup.places[0]).toBe(0);
      expect(pickup.places[8]).toBe(1);
      for (const [k, error] of errorsOf(pickup).slice(0, 8).entries()) {
        expect(error).toBeCloseTo(SPACING[k] as number, 9);
      }
    },
  );

  it("leaves a pure ripple alone", () => {
    const pickup = learnPickup(patterns([300, 900, 2700], still), 8);
    for (const error of errorsOf(pickup)) expect(error).toBeCloseTo(0, 9);
  });

  it("takes a ripple of constant percentage for spacing: it looks the same at all speeds", () => {
    const same = [400, 1000, 2500].map((speedRpm) => pattern(speedRpm, RIPPLE, still));
    for (const [k, error] of errorsOf(learnPickup(same, 8)).slice(0, 8).entries()) {
      expect(error).toBeCloseTo(RIPPLE[k] as number, 9);
    }
  });

  it.each<[string, readonly number[]]>([
    ["a single speed", [800]],
    ["readings all at one speed", [800, 800, 800]],
  ])("learns nothing from %s, says so, and doubts all that it saw", (_, speeds) => {
    const seen = patterns(speeds);
    const pickup = learnPickup(seen, 8);
    expect(pickup.learnt).toBe(false);
    expect(errorsOf(pickup)).toEqual([0, 0, 0, 0, 0, 0, 0, 0, 0]);
    expect(pickup.standardUncertainty).toBeCloseTo(rms(seen[0]?.offsets ?? []), 12);
  });

  it("learns nothing from speeds too close together for the noise", () => {
    // 1 % apart in speed, so 2 % in ripple: an error of 1e-4 comes out as 7e-3 of spacing.
    const close = patterns([1000, 1010]).map((one) => ({ ...one, variance: 1e-8 }));
    expect(learnPickup(close, 8).learnt).toBe(false);
  });

  it("has nothing to learn and nothing to doubt without patterns", () => {
    expect(learnPickup([], 4)).toEqual({
      places: [0, 0.25, 0.5, 0.75, 1],
      learnt: false,
      standardUncertainty: 0,
    });
  });

  it("is as sure as a straight line's value at nothing: σ √(1/n + mean² / squares)", () => {
    // (1000/n)² = 4, 1, 0.25: mean 1.75, squares about it 7.875.
    const seen = patterns([500, 1000, 2000], SPACING, still).map((one) => ({
      ...one,
      variance: 1e-10,
    }));
    const { standardUncertainty } = learnPickup(seen, 8);
    expect(standardUncertainty * 1e5).toBeCloseTo(Math.sqrt(1 / 3 + 1.75 ** 2 / 7.875), 3);
  });

  it("states what its places are truly off by where the turns scatter", () => {
    const draws = new Draws(4711);
    const sigma = 2e-5;
    let squares = 0;
    let count = 0;
    for (let run = 0; run < 200; run++) {
      const seen = patterns([500, 1000, 2000, 4000], SPACING, still).map((one) => ({
        ...one,
        offsets: one.offsets.map((offset, k) =>
          k === 0 ? 0 : offset + sigma * draws.of("normal"),
        ),
        variance: sigma ** 2,
      }));
      const pickup = learnPickup(seen, 8);
      for (const [k, error] of errorsOf(pickup).slice(1, 8).entries()) {
        squares += ((error - (SPACING[k + 1] as number)) / pickup.standardUncertainty) ** 2;
        count++;
      }
    }
    // 1400 draws know it to 2 %.
    const ratio = Math.sqrt(squares / count);
    expect(ratio).toBeGreaterThan(0.8);
    expect(ratio).toBeLessThan(1.1);
  });

  it("is not misled far by a ripple a little off its law at low speed", () => {
    // 4 % off at 200 rpm, where it is 25 times that at 1000 rpm: trusted fully it would spoil the
    // places by about as much as 1000 rpm's whole ripple.
    const seen = patterns([200, 1000, 2000, 4000]).map((one) =>
      one.speedRpm === 200
        ? pattern(
            200,
            SPACING,
            RIPPLE.map((r) => 1.04 * r),
          )
        : one,
    );
    const pickup = learnPickup(seen, 8);
    const off = errorsOf(pickup)
      .slice(0, 8)
      .map((error, k) => error - (SPACING[k] as number));
    expect(rms(off)).toBeLessThan(2 * pickup.standardUncertainty);
    expect(rms(off)).toBeLessThan(0.1 * rms(RIPPLE));
  });

  it("finds any spacing under any ripple from clean readings at speeds far apart", () => {
    const places = fc.array(fc.double({ min: -1e-3, max: 1e-3, noNaN: true }), {
      minLength: 5,
      maxLength: 5,
    });
    fc.assert(
      fc.property(places, places, (spacing, ripple) => {
        const [errors, waves] = [
          [1e-3, ...spacing],
          [0, ...ripple],
        ];
        // The index is where angles count from.
        errors[0] = 0;
        const pickup = learnPickup(patterns([300, 1000, 3000], errors, waves), 6);
        fc.pre(pickup.learnt);
        for (const [k, error] of errorsOf(pickup).slice(0, 6).entries()) {
          expect(Math.abs(error - (errors[k] as number))).toBeLessThan(1e-9);
        }
      }),
    );
  });
});

const EDGES = 36;

interface Wave {
  readonly order: number;
  readonly size: number;
  readonly phase: number;
}

/** Ahead of the mean motion, counted from the index: there it is nothing by definition. */
function waveAt(waves: readonly Wave[], phase: number): number {
  const at = (p: number) =>
    waves.reduce(
      (sum, one) => sum + one.size * Math.cos(2 * Math.PI * (one.order * p - one.phase)),
      0,
    );
  return at(phase) - at(0);
}

function seenBy(waves: readonly Wave[], errors: readonly number[], variance = 0): EdgePattern {
  const offsets = errors.map((error, k) => error - waveAt(waves, k / EDGES));
  return { speedRpm: 1000, offsets, variance };
}

const EVEN: Pickup = {
  places: Array.from({ length: EDGES + 1 }, (_, k) => k / EDGES),
  learnt: true,
  standardUncertainty: 0,
};
const NO_ERRORS = Array.from({ length: EDGES }, () => 0);

describe("rippleIn", () => {
  const waves: readonly Wave[] = [
    { order: 1, size: 4e-4, phase: 0.1 },
    { order: 4, size: 1e-4, phase: 0.7 },
    { order: 11, size: 3e-5, phase: 0.35 },
  ];

  it("finds the orders that are there, and the shaft between the edges", () => {
    const ripple = rippleIn(seenBy(waves, NO_ERRORS, 1e-14), EVEN);
    expect(ripple.harmonics.map(({ order }) => order)).toEqual([1, 4, 11]);
    for (const [i, { cosine, sine }] of ripple.harmonics.entries()) {
      const { size, phase } = waves[i] as Wave;
      expect(cosine).toBeCloseTo(size * Math.cos(2 * Math.PI * phase), 12);
      expect(sine).toBeCloseTo(size * Math.sin(2 * Math.PI * phase), 12);
    }
    for (let phase = 0; phase < 1; phase += 0.0137) {
      expect(rippleAt(ripple, phase)).toBeCloseTo(waveAt(waves, phase), 12);
    }
    expect(rippleAt(ripple, 0)).toBeCloseTo(0, 12);
  });

  it("is what spacing errors leave", () => {
    const errors = NO_ERRORS.map((_, k) => (k === 0 ? 0 : 1e-3 * Math.sin(k * k)));
    const places = EVEN.places.map((place, k) => place + (errors[k] ?? 0));
    const ripple = rippleIn(seenBy(waves, errors, 1e-14), { ...EVEN, places });
    expect(ripple.harmonics.map(({ order }) => order)).toEqual([1, 4, 11]);
    expect(rippleAt(ripple, 0.3)).toBeCloseTo(waveAt(waves, 0.3), 12);
  });

  it("takes for chance what is below four times what chance makes", () => {
    // Chance makes an amplitude of √(2/36 · 1e-10) = 2.36e-6 either way: the limit is 9.4e-6.
    const orders = (size: number, pickup = EVEN) =>
      rippleIn(seenBy([{ order: 3, size, phase: 0.2 }], NO_ERRORS, 1e-10), pickup).harmonics.map(
        ({ order }) => order,
      );
    expect(orders(9e-6)).toEqual([]);
    expect(orders(1e-5)).toEqual([3]);
    // Places known as badly as the turns scatter make chance √2 as large: 13.3e-6.
    expect(orders(1e-5, { ...EVEN, standardUncertainty: 1e-5 })).toEqual([]);
    expect(orders(1.4e-5, { ...EVEN, standardUncertainty: 1e-5 })).toEqual([3]);
  });

  it("doubts an order the more the nearer it is to half of the edges", () => {
    const doubt = (order: number) =>
      rippleIn(seenBy([{ order, size: 1e-4, phase: 0.1 }], NO_ERRORS, 1e-16), EVEN).doubtful;
    const orders = Array.from({ length: 17 }, (_, i) => i + 1);
    const doubts = orders.map(doubt);
    for (const [i, one] of doubts.slice(1).entries()) {
      expect(one).toBeGreaterThanOrEqual((doubts[i] as number) * (1 - 1e-9));
    }
    // Order 1 may be order 35, of the same torque 35² times smaller; twice that share is doubted.
    expect(doubts[0]).toBeCloseTo((1e-4 * 2) / 35 ** 2 / Math.SQRT2, 12);
    // Order 17 may as well be order 19: all of its root mean square.
    expect(doubts[16]).toBeCloseTo(1e-4 / Math.SQRT2, 9);
  });

  it("sees an order above half of the edges as a lower one, within what it doubts", () => {
    const truth: readonly Wave[] = [{ order: 20, size: 5e-5, phase: 0.15 }];
    const ripple = rippleIn(seenBy(truth, NO_ERRORS, 1e-16), EVEN);
    expect(ripple.harmonics.map(({ order }) => order)).toEqual([16]);
    expect(rippleAt(ripple, 5 / EDGES)).toBeCloseTo(waveAt(truth, 5 / EDGES), 12);
    const off = Array.from({ length: 360 }, (_, i) => {
      const phase = (i + 0.5) / 360;
      return rippleAt(ripple, phase) - waveAt(truth, phase);
    });
    expect(rms(off)).toBeLessThan(2 * ripple.doubtful);
  });

  it.each<[string, EdgePattern, Pickup]>([
    [
      "a pickup not learnt",
      seenBy(waves, NO_ERRORS),
      { ...EVEN, learnt: false, standardUncertainty: 1e-4 },
    ],
    [
      "fewer than six edges",
      { speedRpm: 1000, offsets: [0, 1e-3, 0, -1e-3, 5e-4], variance: 0 },
      { places: [0, 0.2, 0.4, 0.6, 0.8, 1], learnt: true, standardUncertainty: 0 },
    ],
  ])("finds none with %s", (_, seen, pickup) => {
    expect(rippleIn(seen, pickup)).toEqual({ constant: 0, harmonics: [], doubtful: 0 });
  });
});
