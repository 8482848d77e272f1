// Lobes: found at the reference, then never mistaken for a neighbour.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  findLobes,
  firingAngles,
  LobeTracker,
  meanDirection,
  smallestSpacingDeg,
  wrap180,
} from "../../core/angles/lobes.ts";
import type { TrackedTurn } from "../../core/angles/trackedTurn.ts";
import { TurnLog } from "../../core/angles/turnLog.ts";
import type { Turn } from "../../core/turns.ts";
import { rampTurn } from "./turns.ts";

describe("meanDirection", () => {
  it("gives the worked example of Zar, Biostatistical Analysis (2010), Ex. 26.4", () => {
    const { meanDeg, r } = meanDirection([45, 55, 81, 96, 110, 117, 132, 154]);
    expect(meanDeg).toBeCloseTo(99, 0);
    expect(r).toBeCloseTo(0.82522, 4);
  });

  it("does not break at north: 355, 5, 15 → 5", () => {
    expect(meanDirection([355, 5, 15]).meanDeg).toBeCloseTo(5, 9);
  });
});

describe("findLobes", () => {
  it("tells an unevenly spaced V6 (45/75°, from memory) by its spacing", () => {
    const nominal = [0, 45, 120, 165, 240, 285];
    const events = [20, 95, 140, 215, 260, 335];
    const found = findLobes([events], nominal);
    expect(found.found && found.anglesDeg.map((deg) => Math.round(deg))).toEqual([
      95, 140, 215, 260, 335, 20,
    ]);
  });

  it("calls the first event lobe 1 where spacing is even, also at the index", () => {
    const found = findLobes([[0.02, 90.01, 180, 269.99]], [0, 90, 180, 270]);
    expect(found.found && found.anglesDeg.map((deg) => Math.round(deg) % 360)).toEqual([
      0, 90, 180, 270,
    ]);
  });

  it("does not find four lobes in eight, nor even ones where they are uneven", () => {
    const eight = [0, 45, 90, 135, 180, 225, 270, 315];
    expect(findLobes([eight], [0, 90, 180, 270])).toEqual({ found: false, eventsPerTurn: 8 });
    const even = [0, 60, 120, 180, 240, 300];
    expect(findLobes([even], [0, 45, 120, 165, 240, 285])).toEqual({
      found: false,
      eventsPerTurn: 6,
    });
    expect(findLobes([], [0])).toEqual({ found: false, eventsPerTurn: 0 });
  });
});

describe("the smallest spacing", () => {
  it.each([
    ["of a single lobe is a whole turn", [0], 360],
    ["may be the first", [0, 45, 180, 270], 45],
    ["may be the one over the index", [0, 100, 220, 340], 20],
    ["is none between two at one place", [0, 0, 100], 100],
  ])("%s", (_, lobes, spacing) => {
    expect(smallestSpacingDeg(lobes)).toBe(spacing);
  });
});

describe("a lobe off its nominal place", () => {
  // One of two lobes d off turns the mean by half of that, so that both stand d / 2 beside it.
  it.each([
    ["6° beside is found", [0, 180], [20, 211.9], true],
    ["more is not, either way", [0, 180], [20, 212.1], false],
    ["more is not, either way", [0, 180], [20, 187.9], false],
    ["0.3 of a spacing of 15° beside is found", [0, 15], [20, 43.9], true],
    ["more is not", [0, 15], [20, 44.1], false],
    // Three others stand a quarter of 9° beside the mean, it three quarters.
    ["more is not among others that are not", [0, 90, 180, 270], [10, 100, 190, 289], false],
  ])("%s", (_, nominal, events, found) => {
    expect(findLobes([events], nominal).found).toBe(found);
  });
});

describe("the turn that lobes are found in", () => {
  const anglesOf = (turns: readonly (readonly number[])[]) => {
    const found = findLobes(turns, [0, 180]);
    return found.found ? found.anglesDeg.map((deg) => Math.round(deg * 1000) / 1000) : null;
  };

  it("is the one that fits best", () => {
    // Both lobes stand 1° beside in the first; the second fits.
    expect(
      anglesOf([
        [10, 192],
        [30, 210],
      ]),
    ).toEqual([30, 210]);
    expect(
      anglesOf([
        [30, 210],
        [10, 192],
      ]),
    ).toEqual([30, 210]);
  });

  it("is an earlier one that fits as well as a tenth of a degree", () => {
    expect(
      anglesOf([
        [10, 192],
        [30, 211.9],
      ]),
    ).toEqual([11, 191]);
    expect(
      anglesOf([
        [10, 190.1],
        [30, 210],
      ]),
    ).toEqual([10.05, 190.05]);
  });

  it("is one with as many events as lobes", () => {
    expect(anglesOf([[10], [10, 100, 190], [30, 210]])).toEqual([30, 210]);
    const not = findLobes([[10], [10, 100, 190], [10, 100]], [0, 180]);
    expect(not).toEqual({ found: false, eventsPerTurn: 2 });
  });

  it("may have its last lobe over the index", () => {
    const uneven = findLobes([[10, 310]], [0, 60]);
    expect(uneven.found && uneven.anglesDeg.map(Math.round)).toEqual([310, 10]);
  });
});

describe("firing angles", () => {
  it("are those of the turns asked for", () => {
    const log = new TurnLog();
    for (const [k, deg] of [10, 20, 30, 40].entries()) log.push(rampTurn(k + 1, [deg, 200], {}));
    const angles = firingAngles(log, { from: 1, to: 3 }, 2, RIG);
    expect(angles.map((own) => own.map(Math.round))).toEqual([
      [20, 200],
      [30, 200],
    ]);
  });
});

const RIG = { firingEdge: "a", tickHz: 1e9, edgesPerTurn: 1 } as const;

function eventsOf({ events, from, to }: TrackedTurn) {
  return Array.from({ length: to - from }, (_, i) => ({
    lobe: events.lobes[from + i] as number,
    advanceDeg: events.advancesDeg[from + i] as number,
  }));
}

/** Follows turns as they come. */
class Following {
  private readonly log = new TurnLog();
  private readonly tracker: LobeTracker;

  constructor(reference: readonly number[]) {
    this.tracker = new LobeTracker(this.log, reference, RIG);
  }

  track(turn: Turn): TrackedTurn {
    this.log.push(turn);
    return this.tracker.track(this.log.turns.length - 1);
  }
}

/** Events of turn k when lobe j stands at reference − advance(phase), wherever that falls. */
function anglesAt(k: number, reference: readonly number[], advanceDeg: (turn: number) => number) {
  return reference
    .flatMap((deg) => [deg - 360, deg, deg + 360])
    .map((deg) => {
      // The advance is what it is when the lobe fires; a few steps of iteration settle it.
      let angle = deg;
      for (let i = 0; i < 20; i++) angle = deg - advanceDeg(k + angle / 360);
      return angle;
    })
    .filter((deg) => deg >= 0 && deg < 360)
    .sort((a, b) => a - b);
}

describe("LobeTracker", () => {
  it.each([1, 2, 3, 4, 5, 6, 8, 12])(
    "follows 35° of travel on %i lobes, up and down and over the index",
    (lobes) => {
      const reference = Array.from({ length: lobes }, (_, j) => 2 + (j * 360) / lobes);
      const advance = (turn: number) => {
        const ramp = turn < 30 ? (turn / 30) * 35 : turn < 40 ? 35 : Math.max(0, 35 - (turn - 40));
        return Math.max(0, ramp);
      };
      const tracker = new Following(reference);
      let events = 0;
      for (let k = 1; k < 80; k++) {
        const tracked = tracker.track(rampTurn(k, anglesAt(k, reference, advance), {}));
        for (const event of eventsOf(tracked)) {
          events++;
          const phase = k + ((reference[event.lobe] as number) - event.advanceDeg) / 360;
          expect(Math.abs(event.advanceDeg - advance(phase))).toBeLessThan(1.5);
        }
      }
      expect(events).toBeGreaterThan(78 * lobes);
    },
  );

  it("is not led astray by one false event anywhere", () => {
    const reference = [10, 55, 100, 145, 190, 235, 280, 325];
    fc.assert(
      fc.property(fc.double({ min: 0, max: 359.9, noNaN: true }), (falseDeg) => {
        const tracker = new Following(reference);
        for (let k = 1; k < 4; k++) tracker.track(rampTurn(k, reference, {}));
        const noisy = [...reference, falseDeg].sort((a, b) => a - b);
        tracker.track(rampTurn(4, noisy, {}));
        const after = tracker.track(rampTurn(5, reference, {}));
        for (const event of eventsOf(after)) expect(event.advanceDeg).toBeCloseTo(0, 6);
      }),
    );
  });
});

describe("a turn at a corner of the speed", () => {
  const reference = [10, 100, 190, 280];
  // Of a first turn an eighth of how much longer the next lasts is open; a fifth of 90° is 18°, so 0.4 of it.
  const cornered = (k: number, share: number) => {
    const turn = rampTurn(k, reference, {});
    return { ...turn, beforeTicks: 0, afterTicks: share * turn.duringTicks };
  };

  it.each([
    ["is passed over where a fifth of a spacing is open", 1.41, 0],
    ["is passed over where it is, the other way", 0.59, 0],
    ["counts where less is", 1.39, 4],
    ["counts where less is, the other way", 0.61, 4],
  ])("%s", (_, share, count) => {
    const tracker = new Following(reference);
    tracker.track(rampTurn(1, reference, {}));
    const tracked = tracker.track(cornered(2, share));
    expect(eventsOf(tracked)).toHaveLength(count);
    const next = tracker.track(rampTurn(3, reference, {}));
    expect(eventsOf(next).map(({ lobe }) => lobe)).toEqual([0, 1, 2, 3]);
    expect(next.from).toBe(4 + count);
    for (const { advanceDeg } of eventsOf(next)) expect(advanceDeg).toBeCloseTo(0, 6);
  });

  it("has its noise and bounces counted all the same", () => {
    // Two edges of noise 0.01° apart before the first opening, far from any closing.
    const tracker = new Following(reference);
    const turn = cornered(1, 2);
    const extra = [5, 5.01].map((deg) => (turn.duringTicks * deg) / 360);
    const tracked = tracker.track({
      ...turn,
      eventEdges: ["a", "b", ...turn.eventEdges],
      eventTicks: [...extra, ...turn.eventTicks],
    });
    expect(eventsOf(tracked)).toEqual([]);
    expect(tracked.noise + tracked.bounces).toBe(1);
  });
});

describe("a lobe that does not fire", () => {
  it("leaves the others theirs, in its own turn and after", () => {
    const reference = [10, 100, 190, 280];
    const tracker = new Following(reference);
    tracker.track(rampTurn(1, reference, {}));
    const short = tracker.track(rampTurn(2, [10, 190, 280], {}));
    expect(eventsOf(short).map(({ lobe }) => lobe)).toEqual([0, 2, 3]);
    for (const { advanceDeg } of eventsOf(short)) expect(advanceDeg).toBeCloseTo(0, 6);
  });
});

describe("wrap180", () => {
  it.each([
    [-180, 180],
    [180, 180],
    [540, 180],
    [-540, 180],
    [-179.5, -179.5],
    [180.5, -179.5],
    [-180.5, 179.5],
    [359, -1],
  ])("brings %f to %f", (deg, wrapped) => {
    expect(wrap180(deg)).toBe(wrapped);
  });

  it("keeps to one turn and is periodic", () => {
    fc.assert(
      fc.property(fc.integer({ min: -100_000, max: 100_000 }), (deg) => {
        const wrapped = wrap180(deg);
        expect(wrapped).toBeGreaterThan(-180);
        expect(wrapped).toBeLessThanOrEqual(180);
        expect((((deg - wrapped) % 360) + 360) % 360).toBe(0);
      }),
    );
  });
});
