// Which events of a reading count, from columns given as literals.
import { describe, expect, it } from "vitest";
import type { MeasuredEvents } from "../../core/angles/measuredEvents.ts";
import { byLobe, finite, sift } from "../../core/angles/sifting.ts";

/** [lobe, advance, dwell] of each event, turn by turn. */
function events(turns: readonly (readonly (readonly [number, number, number])[])[]) {
  const all = turns.flat();
  let end = 0;
  return {
    lobes: Uint8Array.from(all, ([lobe]) => lobe),
    advancesDeg: Float64Array.from(all, ([, advance]) => advance),
    dwellsDeg: Float64Array.from(all, ([, , dwell]) => dwell),
    turnEnds: Uint32Array.from(turns, (turn) => {
      end += turn.length;
      return end;
    }),
  } satisfies MeasuredEvents;
}

function lists({ lobes, advancesDeg, dwellsDeg, turnEnds }: MeasuredEvents) {
  return {
    lobes: [...lobes],
    advancesDeg: [...advancesDeg],
    dwellsDeg: [...dwellsDeg],
    turnEnds: [...turnEnds],
  };
}

const NOT_KNOWN = Number.NaN;

describe("sift", () => {
  it("keeps all that stand together, parted by lobe in the order of time", () => {
    const given = events([
      [
        [0, 1, 40],
        [1, 5, 41],
      ],
      [
        [0, 1.25, 40],
        [1, 5.25, 41],
      ],
    ]);
    const before = lists(given);
    const { kept, advancesDeg, extra, bounces } = sift(given, 2);
    expect(lists(kept)).toEqual(before);
    expect(advancesDeg.map((own) => [...own])).toEqual([
      [1, 1.25],
      [5, 5.25],
    ]);
    expect({ extra, bounces }).toEqual({ extra: 0, bounces: 0 });
  });

  it("sets an extra event aside and closes the rows behind it", () => {
    const { kept, advancesDeg, extra, bounces } = sift(
      events([
        [
          [0, 0, 40],
          [1, 7, 42],
        ],
        [
          [0, 20, 41],
          [0, 0.125, 43],
          [1, 7, 44],
        ],
        [
          [0, 0, 45],
          [1, 7, 46],
        ],
      ]),
      2,
    );
    expect(lists(kept)).toEqual({
      lobes: [0, 1, 0, 1, 0, 1],
      advancesDeg: [0, 7, 0.125, 7, 0, 7],
      dwellsDeg: [40, 42, 43, 44, 45, 46],
      turnEnds: [2, 4, 6],
    });
    expect(advancesDeg.map((own) => [...own])).toEqual([
      [0, 0.125, 0],
      [7, 7, 7],
    ]);
    expect({ extra, bounces }).toEqual({ extra: 1, bounces: 0 });
  });

  // Four at 0 have no deviation, so that 0.3° either way is the width.
  it.each([
    ["keeps what stands at the width, earlier", 0.3, 0],
    ["keeps what stands at the width, later", -0.3, 0],
    ["sets aside what stands beyond, earlier", 0.3001, 1],
    ["sets aside what stands beyond, later", -0.3001, 1],
  ])("%s", (_, advanceDeg, extra) => {
    // One far off, so that not all stand together.
    const advances = [0, 0, 0, 0, advanceDeg, 50];
    const given = events([advances.map((advance) => [0, advance, 40] as const)]);
    expect(sift(given, 1).extra).toBe(extra + 1);
  });

  it("goes by each lobe's own middle", () => {
    const steady = [0, 0, 0].map(() => [0, 0, 40] as const);
    const others = [30, 30, 30].map((advance) => [1, advance, 40] as const);
    expect(sift(events([[...steady, ...others]]), 2).extra).toBe(0);
    expect(sift(events([[...steady, ...others, [0, 30, 40]]]), 2).extra).toBe(1);
  });
});

describe("bounce", () => {
  /** Dwells of 40 make half the usual dwell 20. */
  const withDwell = (dwellDeg: number) =>
    sift(
      events([
        [
          [0, 0, 40],
          [0, 0, 40],
          [0, 0, 40],
          [0, 9, dwellDeg],
          [0, 0, 17],
          [0, 0, 40],
        ],
      ]),
      1,
    );

  it("is an opening off its lobe that comes within half the usual dwell of a closing", () => {
    const { kept, extra, bounces } = withDwell(19.9);
    expect({ extra, bounces }).toEqual({ extra: 0, bounces: 1 });
    // The opening after it began its dwell before the bounce, which nobody knows; the next is as it was.
    expect([...kept.dwellsDeg]).toEqual([40, 40, 40, NOT_KNOWN, 40]);
    expect([...kept.advancesDeg]).toEqual([0, 0, 0, 0, 0]);
  });

  it.each([
    ["at half of it", 20],
    ["whose closing is not known", NOT_KNOWN],
  ])("is none %s, and leaves the next dwell as it is", (_, dwellDeg) => {
    const { kept, extra, bounces } = withDwell(dwellDeg);
    expect({ extra, bounces }).toEqual({ extra: 1, bounces: 0 });
    expect([...kept.dwellsDeg]).toEqual([40, 40, 40, 17, 40]);
  });

  it("at the end of a turn takes the dwell of the next turn's first opening", () => {
    const { kept, bounces } = sift(
      events([
        [
          [0, 0, 40],
          [0, 0, 40],
          [0, 9, 1],
        ],
        [
          [0, 0, 38],
          [0, 0, 40],
        ],
      ]),
      1,
    );
    expect(bounces).toBe(1);
    expect(lists(kept)).toEqual({
      lobes: [0, 0, 0, 0],
      advancesDeg: [0, 0, 0, 0],
      dwellsDeg: [40, 40, NOT_KNOWN, 40],
      turnEnds: [2, 4],
    });
  });

  it("is told by the dwells that are known", () => {
    const given = events([
      [
        [0, 0, NOT_KNOWN],
        [0, 0, 40],
        [0, 0, 40],
        [0, 9, 15],
      ],
    ]);
    expect(sift(given, 1).bounces).toBe(1);
  });
});

describe("byLobe", () => {
  it("parts a column, with nothing for a lobe without events", () => {
    const given = events([
      [
        [2, 0, 1],
        [0, 0, 2],
        [2, 0, 3],
        [0, 0, 4],
        [2, 0, 5],
      ],
    ]);
    expect(byLobe(given, given.dwellsDeg, 4).map((own) => [...own])).toEqual([
      [2, 4],
      [],
      [1, 3, 5],
      [],
    ]);
  });
});

describe("finite", () => {
  it("gives the column itself where all are known", () => {
    const all = Float64Array.from([3, 1, 2]);
    expect(finite(all)).toBe(all);
    expect(finite(new Float64Array(0))).toHaveLength(0);
  });

  it.each([
    ["first", [NOT_KNOWN, 1, 2], [1, 2]],
    ["in the middle", [1, NOT_KNOWN, 2], [1, 2]],
    ["last", [1, 2, NOT_KNOWN], [1, 2]],
    ["everywhere", [NOT_KNOWN, NOT_KNOWN], []],
  ])("leaves out what is not known %s", (_, given, known) => {
    expect([...finite(Float64Array.from(given))]).toEqual(known);
  });
});
