// Advance and dwell of each event, from events at literal ticks: a thousand ticks are one degree.
import { describe, expect, it } from "vitest";
import { FiringEvents, UNKNOWN } from "../../core/angles/firingEvents.ts";
import { measuredEvents, type RigErrors } from "../../core/angles/measuredEvents.ts";
import { evenPlaces } from "../../core/angles/phase.ts";
import { TrackedTurn } from "../../core/angles/trackedTurn.ts";
import type { TurnTimes } from "../../core/turns.ts";
import { EVEN_TICKS, evenTurn } from "./literals.ts";

const NO_ERRORS: RigErrors = {
  places: [0, 1],
  ripple: { constant: 0, harmonics: [], doubtful: 0 },
  delayTicks: 0,
};

interface Event {
  /** Degrees after the index. */
  readonly angleDeg: number;
  readonly lobe?: number;
  /** As the tracker has it; 0 where it does not matter. */
  readonly roughDeg?: number;
  /** Turn and degrees after its index; none where it is not known. */
  readonly closing?: readonly [turn: number, angleDeg: number];
}

/** The events of turn k in `turns`, for each turn. */
function tracked(turns: readonly TurnTimes[], given: readonly (readonly Event[])[]): TrackedTurn[] {
  const events = new FiringEvents(turns);
  return given.map((own, k) => {
    const from = events.count;
    for (const { angleDeg, lobe = 0, roughDeg = 0, closing } of own) {
      const row = events.count;
      events.push(angleDeg * 1000, closing?.[0] ?? UNKNOWN, (closing?.[1] ?? 0) * 1000);
      events.lobes[row] = lobe;
      events.advancesDeg[row] = roughDeg;
    }
    return new TrackedTurn(turns[k] as TurnTimes, events, from, events.count, 0, 0);
  });
}

const EVEN = [0, 1, 2].map((k) => evenTurn(k));

function close(column: Float64Array, expected: readonly number[], digits = 9): void {
  expect(column).toHaveLength(expected.length);
  for (const [i, value] of expected.entries()) {
    if (Number.isNaN(value)) expect(column[i]).toBeNaN();
    else expect(column[i]).toBeCloseTo(value, digits);
  }
}

describe("events of turns", () => {
  it("are nothing of none", () => {
    const { lobes, turnEnds } = measuredEvents([], [10], NO_ERRORS);
    expect([lobes.length, turnEnds.length]).toEqual([0, 0]);
  });

  it("have their lobes, and each turn's end, also of turns without events", () => {
    const turns = tracked(EVEN, [
      [
        { angleDeg: 10, lobe: 1 },
        { angleDeg: 20, lobe: 2 },
      ],
      [],
      [{ angleDeg: 30, lobe: 0 }],
    ]);
    const { lobes, turnEnds, advancesDeg } = measuredEvents(turns, [30, 11, 22], NO_ERRORS);
    expect([...lobes]).toEqual([1, 2, 0]);
    expect([...turnEnds]).toEqual([2, 2, 3]);
    close(advancesDeg, [1, 2, 0]);
  });

  it("are those of the turns asked for, though others came before", () => {
    const turns = tracked(EVEN, [
      [{ angleDeg: 300 }, { angleDeg: 310 }],
      [{ angleDeg: 40, closing: [1, 15] }],
      [
        { angleDeg: 50, closing: [2, 20] },
        { angleDeg: 60, closing: [2, 55] },
      ],
    ]);
    const { advancesDeg, dwellsDeg, turnEnds } = measuredEvents(turns.slice(1), [100], NO_ERRORS);
    close(advancesDeg, [60, 50, 40]);
    close(dwellsDeg, [25, 30, 5]);
    expect([...turnEnds]).toEqual([1, 3]);
  });

  it.each([
    // 10 − 180 is −170, or 190 a turn on.
    ["more than half a turn early", 10, 180, 190],
    ["over the index", 10, 355, 15],
    ["late", 10, 15, -5],
    ["more than a turn early", 10, 180, 550],
  ])("have the advance next to the tracker's where they are %s", (_, reference, angleDeg, deg) => {
    for (const roughDeg of [deg - 20, deg, deg + 20]) {
      const turns = tracked(EVEN, [[{ angleDeg, roughDeg }]]);
      close(measuredEvents(turns, [reference], NO_ERRORS).advancesDeg, [deg]);
    }
  });
});

describe("dwells", () => {
  it("begin in the event's own turn, in the one before, or are not known", () => {
    const turns = tracked(EVEN, [
      [{ angleDeg: 30 }],
      [
        { angleDeg: 10, closing: [0, 320] },
        { angleDeg: 100 },
        { angleDeg: 190, closing: [1, 145] },
        { angleDeg: 280, closing: [1, 240] },
        { angleDeg: 290 },
      ],
    ]);
    const { dwellsDeg } = measuredEvents(turns, [0], NO_ERRORS);
    close(dwellsDeg, [Number.NaN, 50, Number.NaN, 45, 40, Number.NaN]);
  });

  it("go by the times of the turn that the closing lies in", () => {
    // The turn before took twice as long, evenly: 320° of it are 640,000 ticks.
    const slow = evenTurn(0, { beforeTicks: 720_000, duringTicks: 720_000, afterTicks: 720_000 });
    const turns = tracked([slow, evenTurn(1)], [[], [{ angleDeg: 10, closing: [0, 640] }]]);
    close(measuredEvents(turns, [0], NO_ERRORS).dwellsDeg, [50]);
    const both = tracked(
      [slow, evenTurn(1)],
      [
        [],
        [
          { angleDeg: 10, closing: [0, 640] },
          { angleDeg: 100, closing: [1, 60] },
        ],
      ],
    );
    close(measuredEvents(both, [0], NO_ERRORS).dwellsDeg, [50, 40]);
  });
});

describe("a trigger whose ticks come late", () => {
  it("is as much earlier at both edges: 500 ticks are half a degree", () => {
    const turns = tracked(EVEN, [[{ angleDeg: 90, closing: [0, 40] }]]);
    const late = measuredEvents(turns, [90], { ...NO_ERRORS, delayTicks: 500 });
    close(late.advancesDeg, [0.5]);
    close(late.dwellsDeg, [50]);
  });
});

describe("a pickup of eight edges", () => {
  const edgeTicks = [0, 1, 2, 3, 4, 5, 6, 7, 8].map((k) => (k * EVEN_TICKS) / 8);
  const turn = evenTurn(0, { edgeTicks });
  /** Eight times a turn, 0.36° either way: the same at all edges, so that these see nothing of it. */
  const ripple = {
    constant: 0,
    harmonics: [{ order: 8, cosine: 1e-3, sine: 0 }],
    doubtful: 0,
  };
  const errors = { ...NO_ERRORS, places: evenPlaces(8), ripple };
  const events = (angles: readonly number[]) =>
    tracked([turn], [angles.map((angleDeg) => ({ angleDeg }))]);

  it("has its ripple put back at the event: all of it at an edge, none a quarter on, as much the other way half on", () => {
    // Edge 2, then a quarter and a half of the 45° to the next.
    const { advancesDeg } = measuredEvents(events([90, 101.25, 112.5]), [0], errors);
    close(advancesDeg, [-90, -(101.25 - 0.36), -(112.5 - 0.72)]);
  });

  it("has it put back at twenty events in a turn, one by one", () => {
    const angles = Array.from({ length: 20 }, (_, i) => 4 + 8 * i);
    const { advancesDeg } = measuredEvents(events(angles), [0], errors);
    close(
      advancesDeg,
      angles.map((deg) => -(deg - 0.36 + 0.36 * Math.cos((8 * deg * Math.PI) / 180))),
    );
  });

  it("has it put back at closings too", () => {
    const turns = tracked([turn], [[{ angleDeg: 135, closing: [0, 112.5] }]]);
    // The shaft stands 0.72° back at the closing, and as it seems at the edge: 22.5° and 0.72°.
    close(measuredEvents(turns, [135], errors).dwellsDeg, [23.22]);
  });

  it("has it left where the turn's edges did not come", () => {
    const bare = tracked(EVEN, [[{ angleDeg: 112.5 }]]);
    close(measuredEvents(bare, [112.5], errors).advancesDeg, [0]);
  });

  it("is read by where its edges stand", () => {
    // All but the index stand 3.6° on, from the second edge to the last but one.
    const places = evenPlaces(8).map((place, k) => (k === 0 || k === 8 ? place : place + 0.01));
    const plain = { ...NO_ERRORS, places };
    close(measuredEvents(events([112.5]), [112.5], plain).advancesDeg, [-3.6]);
  });
});
