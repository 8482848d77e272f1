// Lobes: found at the reference, then never mistaken for a neighbour.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findLobes, LobeTracker, meanDirection, wrap180 } from "../../core/angles/lobes.ts";
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

describe("wrap180", () => {
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
