// What one reading says of its turns, from figures given as literals; its uncertainty is in readingBudget.test.ts.
import { describe, expect, it } from "vitest";
import {
  apparentAdvance,
  followsOf,
  lobeDeviations,
  readingFrom,
} from "../../core/angles/reading.ts";
import type { LobeEvents } from "../../core/angles/window.ts";
import type { VacuumLine } from "../../core/codec/rigLines.ts";
import {
  contextWith,
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

const NEVER = lobe({ advanceDeg: Number.NaN, count: 0 });
const FOUR = [lobe(), lobe(), lobe(), lobe()];
/** Two whole turns, a lost one after them. */
const THREE = [evenTurn(0), evenTurn(1), evenTurn(2, { lost: true })];

function reading(
  input: Parameters<typeof inputWith>[0],
  context: Parameters<typeof contextWith>[0] = {},
) {
  return readingFrom(inputWith(input), contextWith(context));
}

describe("no reading", () => {
  it("comes of no turns, of no events, or of lobes that the reference did not see", () => {
    expect(reading({})).not.toBeNull();
    expect(reading({ window: windowWith(1000, []) })).toBeNull();
    expect(reading({ figures: figuresWith(FOUR, { kept: 0 }) })).toBeNull();
    const reference = { window: windowWith(500, []), figures: figuresWith([NEVER]) };
    expect(reading({ figures: figuresWith([lobe()]) }, { reference })).toBeNull();
  });
});

describe("the advance as it appears", () => {
  const at = (...advances: number[]) => advances.map((advanceDeg) => lobe({ advanceDeg }));

  it("is the mean over the lobes of what each is earlier than at the reference", () => {
    expect(apparentAdvance(figuresWith(at(5, 8)), figuresWith(at(1, 2)))).toBe(5);
  });

  it("goes by the lobes seen in both", () => {
    const gone = lobe({ advanceDeg: 100, count: 0 });
    const known = figuresWith(at(1, 2, 3));
    expect(apparentAdvance(figuresWith([...at(5), gone, ...at(9)]), known)).toBe(5);
    expect(apparentAdvance(known, figuresWith([...at(0), gone, ...at(0)]))).toBe(2);
    expect(apparentAdvance(known, figuresWith(at(0)))).toBe(1);
  });
});

describe("how a reading follows what stands in all", () => {
  it("has half of the ripple where it stands 60° along it: 15° on four lobes", () => {
    const moved = followsOf(15, 2000, 500, 4);
    // (1000 / 2000)² = 0.25 here, 4 at the reference.
    expect(moved.alike).toBeCloseTo(0.5, 12);
    expect(moved.ripple).toBeCloseTo(0.125 - 4, 12);
    expect(moved.other).toBeCloseTo(0.25 * Math.sqrt(0.75), 12);
    // 6e-6° a microsecond for each of 1,500 rpm, later.
    expect(moved.delay).toBeCloseTo(-0.009, 12);
    expect(moved.reference).toBe(1);
    expect(followsOf(-15, 2000, 500, 4)).toEqual(moved);
  });

  it("has none of it beyond a quarter wave, and all of what is new", () => {
    for (const advanceDeg of [30, -30]) {
      const moved = followsOf(advanceDeg, 500, 1000, 4);
      expect(moved).toEqual({ ripple: -1, delay: 0.003, reference: 1, alike: 0, other: 4 });
    }
  });
});

describe("the advance", () => {
  const zero = { ...zeroWith(), rippleDegAt1000Rpm: 0.01, delayUs: 10, referenceDeg: 0.02 };
  const reference = { window: windowWith(500, THREE), figures: figuresWith(FOUR) };
  const early = figuresWith(FOUR.map(() => lobe({ advanceDeg: 15 })));

  it("has the zero taken off as far as it follows it", () => {
    const given = { window: windowWith(2000, THREE), figures: early };
    // 15 − (0.01 · (0.125 − 4) − 10 · 0.009 + 0.02), by what 15° on four lobes follow.
    const { advanceDeg } = reading(given, { zero, reference }) ?? {};
    expect(advanceDeg).toBeCloseTo(15.10875, 12);
  });

  it("of the reference is nothing by its meaning, whatever the zero", () => {
    expect(reading(reference, { zero, reference })?.advanceDeg).toBe(0);
  });
});

describe("what stands beside", () => {
  it("is the turns with what was set aside of them", () => {
    const figures = figuresWith(FOUR, { extra: 5, noise: 6, bounces: 7, kept: 8 });
    const { turns, setAside } = reading({ window: windowWith(1000, THREE), figures }) ?? {};
    expect(turns).toBe(3);
    expect(setAside).toEqual({
      lostTurns: 1,
      missingEvents: 0,
      extraEvents: 5,
      noiseEvents: 6,
      bounces: 7,
    });
  });

  it("is the ticks from the first index to the end of the last turn, on a counter that begins anew", () => {
    const window = windowWith(1000, [
      evenTurn(0, { indexTick: 2 ** 32 - EVEN_TICKS - 5 }),
      evenTurn(1, { indexTick: 2 ** 32 - 5 }),
    ]);
    const { fromTick, toTick } = reading({ window }) ?? {};
    expect(fromTick).toBe(2 ** 32 - EVEN_TICKS - 5);
    expect(toTick).toBe(EVEN_TICKS - 5);
  });

  it("is the way to it, if there was one", () => {
    const way = { farthestRpm: 3000, wayFromTick: 17 };
    expect(reading({ way })).toMatchObject(way);
    expect(reading({})).toMatchObject({ farthestRpm: null, wayFromTick: null });
  });

  it("is the spread of the turns' means: 0.2 apart, 0.2 / √2", () => {
    const figures = figuresWith(FOUR, { turnMeansDeg: Float64Array.of(-0.1, 0.1) });
    expect(reading({ figures })?.spreadDeg).toBeCloseTo(0.2 / Math.SQRT2, 12);
  });

  it("is the mean vacuum, by what scatters and by the sensor", () => {
    const line = (vacuumPa: number): VacuumLine => ({
      type: "vac",
      sequence: 0,
      tick: 0,
      vacuumPa,
      pumpPermille: 0,
      valve: "hold",
    });
    const rig = rigWith({ vacuumStandardUncertaintyPa: 75 });
    const { vacuumPa, vacuumStandardUncertaintyPa } =
      reading({ vacuums: [line(20_000), line(20_200)] }, { rig }) ?? {};
    expect(vacuumPa).toBe(20_100);
    // A spread of 200 / √2, over √2: 100; with 75 of the sensor 125.
    expect(vacuumStandardUncertaintyPa).toBeCloseTo(125, 9);
    expect(reading({}, { rig })).toMatchObject({ vacuumPa: null, vacuumStandardUncertaintyPa: 0 });
  });

  it("is the dwell where the unit has one", () => {
    const figures = figuresWith([lobe({ dwellDeg: 40, dwellSpreadDeg: 0.3, count: 9 })]);
    const rig = rigWith({ edgesPerTurn: 36 });
    const given = { rig, lobeAnglesDeg: [0], referenceDeg: [0] };
    const withDwell = reading({ figures }, given);
    expect(withDwell?.dwellDeg).toBe(40);
    expect(withDwell?.dwellStandardUncertaintyDeg).toBeCloseTo(0.1, 9);
    expect(withDwell?.lobes[0]?.dwellDeg).toBe(40);
    const without = reading({ figures }, { ...given, hasDwell: false });
    expect(without).toMatchObject({ dwellDeg: null, dwellStandardUncertaintyDeg: 0 });
    expect(without?.lobes[0]?.dwellDeg).toBeNull();
    expect(reading({})).toMatchObject({ dwellDeg: null, dwellStandardUncertaintyDeg: 0 });
  });
});

describe("openings that did not come", () => {
  const window = windowWith(
    1000,
    [0, 1, 2, 3, 4].map((k) => evenTurn(k)),
  );

  it.each([
    ["none", [5, 5], [0, 0]],
    ["none where one may have moved over the index", [4, 5], [0, 0]],
    ["two of a lobe", [3, 5], [2, 0]],
    ["no fewer than none of a lobe that has one more", [6, 2], [0, 3]],
  ])("are %s", (_, counts, missing) => {
    const figures = figuresWith(counts.map((count) => lobe({ count })));
    const { lobes, setAside } = reading({ window, figures }, { lobeAnglesDeg: [0, 180] }) ?? {};
    expect(lobes?.map((one) => one.missing)).toEqual(missing);
    expect(lobes?.map(({ events }) => events)).toEqual(counts);
    expect(setAside?.missingEvents).toBe((missing[0] as number) + (missing[1] as number));
  });
});

describe("deviations of lobes", () => {
  const referenceDeg = [10, 100, 190, 280];

  /** How far lobe j is late. */
  const late = (...lateDeg: number[]): LobeEvents[] =>
    lateDeg.map((deg) => lobe({ advanceDeg: -deg }));

  it("are from their mean: one of four 2° late", () => {
    const deviations = lobeDeviations(late(0, 0, 0, 2), contextWith({ referenceDeg }));
    expect(deviations).toEqual([-0.5, -0.5, -0.5, 1.5]);
  });

  it("are the same where the index stands between the places", () => {
    const over = { lobeAnglesDeg: [0, 180], referenceDeg: [359.5, 180.5] };
    expect(lobeDeviations(late(0, 0), contextWith(over))).toEqual([-0.5, 0.5]);
  });

  it.each([
    ["opposite its nominal place", [179.5, 0.5], [-0.5, 0.5]],
    ["a quarter turn on", [90.5, 269], [0.75, -0.75]],
  ])("are the same where the index stands %s", (_, places, deviations) => {
    const turned = { lobeAnglesDeg: [0, 180], referenceDeg: places };
    expect(lobeDeviations(late(0, 0), contextWith(turned))).toEqual(deviations);
  });

  it("are nothing for lobes without events, and those of the others go by the others", () => {
    const context = contextWith({ referenceDeg });
    expect(lobeDeviations([NEVER, ...late(0, 1, 2)], context)).toEqual([0, -1, 0, 1]);
    expect(lobeDeviations([NEVER, NEVER, NEVER, NEVER], context)).toEqual([0, 0, 0, 0]);
  });

  it("have what the coupling adds taken off: latest at 100°, opposite earliest", () => {
    const rig = rigWith({ couplingRunOutDeg: 1, couplingPhaseDeg: 100 });
    const deviations = lobeDeviations(FOUR, contextWith({ referenceDeg, rig }));
    for (const [j, deg] of [0, -1, 0, 1].entries()) expect(deviations[j]).toBeCloseTo(deg, 12);
  });

  it("are in the reading, parted into what goes round with the turn and chance", () => {
    const figures = figuresWith(
      late(0, 0.5, 0, -0.5).map((one) => ({ ...one, spreadDeg: 0.2, count: 9 })),
    );
    const { lobeDeviationsDeg, scatter } = reading({ figures }, { referenceDeg }) ?? {};
    expect(lobeDeviationsDeg).toEqual([0, 0.5, 0, -0.5]);
    // Both stand half a degree farther from 10° and 190°, which changes the amplitude by 4e-5 of it.
    expect(scatter?.oncePerTurnDeg).toBeCloseTo(0.5, 4);
    expect(scatter?.oncePerTurnAtDeg).toBeCloseTo(100, 9);
    expect(scatter?.randomDeg).toBeCloseTo(0.2, 12);
  });
});

describe("figures of a lobe", () => {
  it.each([
    ["before the index", 15, 355],
    ["after a whole turn", -355, 5],
    ["as it is", 4, 6],
    ["more than a turn before", 400, 330],
  ])("have its place %s", (_, advanceDeg, angleDeg) => {
    const given = { figures: figuresWith([lobe({ advanceDeg, spreadDeg: 0.25 })]) };
    const { lobes } = reading(given, { referenceDeg: [10], lobeAnglesDeg: [0] }) ?? {};
    expect(lobes?.[0]).toMatchObject({ angleDeg, spreadDeg: 0.25, events: 1 });
  });

  it("have no place without events", () => {
    const figures = figuresWith([lobe(), { ...NEVER, advanceDeg: 1 }]);
    const given = { referenceDeg: [10, 190], lobeAnglesDeg: [0, 180] };
    expect(reading({ figures }, given)?.lobes.map(({ angleDeg }) => angleDeg)).toEqual([10, null]);
  });

  const NO_TICK = { rig: rigWith({ tickHz: 1e15 }) };
  it.each([
    ["what its events scatter", { spreadDeg: 0.3, count: 9 }, NO_TICK, 0.1],
    ["what they scatter, uncounted", { spreadDeg: 0.3, count: 0 }, NO_TICK, 0.3],
    ["a misplaced edge", {}, { ...NO_TICK, pickup: pickupWith(1e-4) }, 0.036],
    // At 2,000 rpm on a clock of 6 MHz a tick is 0.002°.
    ["a tick", {}, {}, 0.002 / Math.sqrt(12)],
    // A quarter of what it is at 1,000 rpm.
    [
      "ripple between lobes",
      {},
      { ...NO_TICK, zero: zeroWith({ rippleBetweenLobesDegAt1000Rpm: 0.04 }) },
      0.01,
    ],
  ])("are as uncertain as %s", (_, own, context, standardUncertaintyDeg) => {
    const figures = figuresWith([lobe(own), lobe()]);
    const window = windowWith(2000, THREE);
    const one = reading({ window, figures }, context)?.lobes[0];
    expect(one?.standardUncertaintyDeg).toBeCloseTo(standardUncertaintyDeg, 11);
  });
});
