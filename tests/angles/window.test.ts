// The turns of one reading and their figures, from events at literal ticks: a thousand ticks are one degree.
import { describe, expect, it } from "vitest";
import { FiringEvents, UNKNOWN } from "../../core/angles/firingEvents.ts";
import { evenPlaces } from "../../core/angles/phase.ts";
import type { Pickup } from "../../core/angles/pickup.ts";
import { TrackedTurn, untracked } from "../../core/angles/trackedTurn.ts";
import { figuresOf, meanSpeedRpm, windowOf } from "../../core/angles/window.ts";
import type { TurnTimes } from "../../core/turns.ts";
import { EVEN_TICK_HZ, evenTurn, lobe } from "./literals.ts";

const NO_RIPPLE = { constant: 0, harmonics: [], doubtful: 0 };
const ONE_INDEX: Pickup = { places: [0, 1], learnt: false, standardUncertainty: 0 };
const REFERENCE_DEG = [100, 280];

/** Lobe, degrees after the index, dwell (null: its closing is not known). */
type Fired = readonly [lobe: number, angleDeg: number, dwellDeg: number | null];
interface Given extends Partial<TurnTimes> {
  readonly fired: readonly Fired[];
  readonly noise?: number;
  readonly bounces?: number;
}

/** Even turns in which these fired; each closing lies in its opening's own turn. */
function tracked(turns: readonly Given[]): TrackedTurn[] {
  const times = turns.map(({ fired, noise, bounces, ...more }, k) => evenTurn(k, more));
  const events = new FiringEvents(times);
  return turns.map(({ fired, noise = 0, bounces = 0 }, k) => {
    const from = events.count;
    for (const [lobe, angleDeg, dwellDeg] of fired) {
      const row = events.count;
      const closing = dwellDeg === null ? UNKNOWN : k;
      events.push(angleDeg * 1000, closing, (angleDeg - (dwellDeg ?? 0)) * 1000);
      events.lobes[row] = lobe;
      events.advancesDeg[row] = (REFERENCE_DEG[lobe] as number) - angleDeg;
    }
    return new TrackedTurn(times[k] as TurnTimes, events, from, events.count, noise, bounces);
  });
}

function figures(turns: readonly Given[], delayTicks = 0) {
  const window = windowOf(tracked(turns), 1, EVEN_TICK_HZ);
  return figuresOf(window, REFERENCE_DEG, ONE_INDEX, delayTicks);
}

function plain(turns: readonly TurnTimes[], edgesPerTurn = 1) {
  return windowOf(turns.map(untracked), edgesPerTurn, EVEN_TICK_HZ);
}

describe("a window", () => {
  it("counts lost turns for the speed and for nothing else", () => {
    const turns = [evenTurn(0), evenTurn(1, { lost: true, duringTicks: 720_000 }), evenTurn(2)];
    const window = plain(turns);
    expect(window.turns.map(({ turn }) => turn)).toEqual(turns);
    expect(window.whole.map(({ turn }) => turn)).toEqual([turns[0], turns[2]]);
    // Three turns in 1,440,000 of 6,000,000 ticks a second: 0.24 s.
    expect(window.speedRpm).toBeCloseTo(750, 9);
    expect(window.interpolationDeg).toBe(0);
  });

  it("has no pattern of edges with one index a turn", () => {
    expect(plain([evenTurn(0)]).pattern).toBeNull();
  });

  it("has the pattern of the edges of whole turns, at the speed of all", () => {
    // The edge halfway comes late by a hundredth of a turn of 360,000 ticks; that of the lost turn by a tenth.
    const late = { edgeTicks: [0, 183_600, 360_000] };
    const lost = { lost: true, edgeTicks: [0, 216_000, 360_000] };
    const { pattern } = plain([evenTurn(0, late), evenTurn(1, lost), evenTurn(2, late)], 2);
    expect(pattern?.speedRpm).toBeCloseTo(1000, 9);
    expect(pattern?.offsets[0]).toBe(0);
    expect(pattern?.offsets[1]).toBeCloseTo(0.01, 12);
  });

  // Of a first turn an eighth of how much longer the next one lasts, as a share of it, is open.
  const first = (sequence: number, longer: number) =>
    evenTurn(sequence, {
      beforeTicks: 0,
      duringTicks: 100_000,
      afterTicks: 100_000 * (1 + longer),
    });

  it("bounds the interpolation by the mean of what each turn leaves open", () => {
    // 360° · (0.1 − 0.02) / 8 / 2.
    expect(plain([first(0, 0.1), first(1, -0.02)]).interpolationDeg).toBeCloseTo(1.8, 9);
    expect(plain([first(0, -0.1), first(1, 0.02)]).interpolationDeg).toBeCloseTo(1.8, 9);
    expect(plain([first(0, 0.1), first(1, -0.1)]).interpolationDeg).toBeCloseTo(0, 9);
  });

  it("bounds nothing without a whole turn", () => {
    expect(plain([evenTurn(0, { lost: true })]).interpolationDeg).toBe(0);
  });
});

describe("the speed over turns", () => {
  it("goes by the time of all: two in 1 s and 3 s are 30 rpm", () => {
    const turns = [1e6, 3e6].map((duringTicks, k) => evenTurn(k, { duringTicks }));
    expect(meanSpeedRpm(turns, 1e6)).toBe(30);
  });
});

describe("figures of a window", () => {
  it("have mean and spread of each lobe's advance and dwell", () => {
    const { lobes, kept, ripple } = figures([
      {
        fired: [
          [0, 90, 50],
          [1, 275, 40],
        ],
      },
      {
        fired: [
          [0, 90.2, 50.4],
          [1, 275, 40],
        ],
      },
    ]);
    // Two values 0.2 apart: a spread of 0.2 / √2.
    expect(lobes[0]?.advanceDeg).toBeCloseTo(9.9, 9);
    expect(lobes[0]?.spreadDeg).toBeCloseTo(0.2 / Math.SQRT2, 9);
    expect(lobes[0]?.count).toBe(2);
    expect(lobes[0]?.dwellDeg).toBeCloseTo(50.2, 9);
    expect(lobes[0]?.dwellSpreadDeg).toBeCloseTo(0.4 / Math.SQRT2, 9);
    expect(lobes[1]?.advanceDeg).toBeCloseTo(5, 9);
    expect(lobes[1]?.dwellDeg).toBeCloseTo(40, 9);
    expect(kept).toBe(4);
    expect(ripple).toEqual(NO_RIPPLE);
  });

  it("leave out what came in lost turns", () => {
    const { lobes, kept } = figures([
      { fired: [[0, 90, 50]] },
      { lost: true, fired: [[0, 91, 50]], noise: 4, bounces: 2 },
    ]);
    expect(lobes[0]?.advanceDeg).toBeCloseTo(10, 9);
    expect(kept).toBe(1);
  });

  it("have nothing of a lobe that never fired", () => {
    const { lobes } = figures([{ fired: [[0, 90, 50]] }]);
    expect(lobes[1]).toEqual(lobe({ advanceDeg: Number.NaN, count: 0 }));
  });

  it("have the dwell of the events whose closing is known, and none without", () => {
    const { lobes } = figures([
      {
        fired: [
          [0, 90, null],
          [1, 275, null],
        ],
      },
      {
        fired: [
          [0, 90, 50],
          [1, 275, null],
        ],
      },
    ]);
    expect(lobes[0]?.dwellDeg).toBeCloseTo(50, 9);
    expect(lobes[1]?.dwellDeg).toBeNull();
  });

  it.each([
    // All within 0.6° count: a mean of 50 + 0.5 / 4.
    ["counts a dwell near the others", 50.5, 50.125],
    ["leaves out a dwell far from the others, whose event counts", 50.7, 50],
  ])("%s", (_, lastDeg, meanDeg) => {
    const { lobes, kept } = figures(
      [50, 50, 50, lastDeg].map((deg) => ({ fired: [[0, 90, deg]] })),
    );
    expect(lobes[0]?.dwellDeg).toBeCloseTo(meanDeg, 9);
    expect(kept).toBe(4);
  });

  it("take the trigger's delay off both edges: 100 ticks late are 0.1° of advance and no dwell", () => {
    const { lobes } = figures([{ fired: [[0, 90, 50]] }], 100);
    expect(lobes[0]?.advanceDeg).toBeCloseTo(10.1, 9);
    expect(lobes[0]?.dwellDeg).toBeCloseTo(50, 9);
  });

  it("count noise and bounces of the turns, and what is set aside among the events beside", () => {
    const steady: Fired[] = [
      [0, 90, 50],
      [1, 275, 50],
    ];
    const { extra, bounces, noise, kept } = figures([
      { fired: steady, noise: 1, bounces: 10 },
      // Far from its lobe, one soon after a closing and one not.
      { fired: [...steady, [1, 300, 3], [1, 340, 40]], noise: 2, bounces: 20 },
      { fired: steady },
    ]);
    expect({ extra, bounces, noise, kept }).toEqual({ extra: 1, bounces: 31, noise: 3, kept: 6 });
  });
});

/** A reading of one lobe whose turns fire so much earlier than at 90°. */
function drifting(earlierDeg: readonly number[]) {
  return figures(earlierDeg.map((deg) => ({ fired: [[0, 90 - deg, 50]] })));
}

describe("means of turns", () => {
  it("are beside their lobes' own means, which differ", () => {
    const { turnMeansDeg } = figures([
      {
        fired: [
          [0, 90, 50],
          [1, 275, 50],
        ],
      },
      {
        fired: [
          [0, 89.9, 50],
          [1, 274.7, 50],
        ],
      },
    ]);
    // Lobe 1 is 0.05 either side of its mean, lobe 2 0.15: a turn's mean is 0.1.
    expect(turnMeansDeg).toHaveLength(2);
    expect(turnMeansDeg[0]).toBeCloseTo(-0.1, 9);
    expect(turnMeansDeg[1]).toBeCloseTo(0.1, 9);
  });

  it("are of turns with events alone", () => {
    const { turnMeansDeg } = figures([
      { fired: [[0, 90, 50]] },
      { fired: [] },
      { fired: [[0, 89.9, 50]] },
    ]);
    expect(turnMeansDeg).toHaveLength(2);
    expect(turnMeansDeg[1]).toBeCloseTo(0.05, 9);
  });

  it("that go up evenly have drifted by all of it", () => {
    expect(drifting([0, 0.05, 0.1, 0.15]).driftDeg).toBeCloseTo(0.15, 9);
    expect(drifting([0.15, 0.1, 0.05, 0]).driftDeg).toBeCloseTo(0.15, 9);
  });

  it("have drifted by what is beyond twice its uncertainty, in squares", () => {
    // Slope 0.06 a turn by least squares, 0.18 in all, with rests of ∓0.01 and ±0.03: a variance of
    // 9 · 0.002 / 2 / 5 = 0.0018, and 0.18² − 4 · 0.0018 = 0.0252.
    expect(drifting([0, 0.1, 0.1, 0.2]).driftDeg).toBeCloseTo(Math.sqrt(0.0252), 9);
  });

  it("have not drifted by less than that", () => {
    expect(drifting([0, 0.1, 0.05]).driftDeg).toBe(0);
  });
});

describe("ripple that the pickup sees", () => {
  // Eight edges, even turns but for a ripple once a turn of a ten-thousandth of a turn: the shaft stands ahead by
  // it at the index and behind it half a turn on. Against the index an edge at place p comes late by
  // 36 · (1 − cos 2πp) ticks.
  const edgeTicks = [0, 1, 2, 3, 4, 5, 6, 7, 8].map(
    (k) => 45_000 * k + 36 * (1 - Math.cos((2 * Math.PI * k) / 8)),
  );
  const window = windowOf(
    tracked([
      { edgeTicks, fired: [[0, 90, 50]] },
      { edgeTicks, fired: [[0, 90, 50]] },
    ]),
    8,
    EVEN_TICK_HZ,
  );

  it("is told from the edges once these are known, and the angles go by it", () => {
    const pickup = { places: evenPlaces(8), learnt: true, standardUncertainty: 1e-9 };
    const { ripple, lobes } = figuresOf(window, REFERENCE_DEG, pickup, 0);
    expect(ripple.harmonics.map(({ order }) => order)).toEqual([1]);
    expect(ripple.harmonics[0]?.cosine).toBeCloseTo(1e-4, 9);
    expect(ripple.harmonics[0]?.sine).toBeCloseTo(0, 9);
    // 90,000 ticks on the shaft stands 36 ticks short of a quarter turn, to first order: 0.036°.
    expect(lobes[0]?.advanceDeg).toBeCloseTo(10.036, 4);
  });

  it("is nothing while the edges' places are not known", () => {
    const pickup = { places: evenPlaces(8), learnt: false, standardUncertainty: 0 };
    expect(figuresOf(window, REFERENCE_DEG, pickup, 0).ripple).toEqual(NO_RIPPLE);
  });
});
