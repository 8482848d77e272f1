// What the readings tell of the trigger: dwell, bounce, missing openings and the parts of the scatter.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { LobeFigures, Reading, RunDocument } from "../../core/documents.ts";
import { judge } from "../../core/judge/result.ts";
import { planFor } from "../../core/planFile.ts";
import type { TriggerResult } from "../../core/triggerResult.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { documentsOf, REACH, SOUND } from "./documentList.ts";

const file = new URL("../../examples/everyday.unit.json", import.meta.url);
const UNIT = unitFromFile(JSON.parse(readFileSync(file, "utf8")), "everyday");
const PLAN = planFor(UNIT, REACH, {
  speedsRpm: [500, 1000, 2000],
  vacuums: { unit: "kPa", values: [10, 20, 30] },
});

/** The run of a sound unit with each reading changed as told by its speed and vacuum. */
function told(change: (speedRpm: number, vacuumPa: number | null) => Partial<Reading>) {
  const documents = documentsOf(UNIT, PLAN, SOUND).map((document): RunDocument => {
    if (document.type !== "point") return document;
    const { reading, targetPa } = document;
    const changes = change(document.targetRpm, targetPa);
    return { ...document, reading: { ...reading, ...changes } };
  });
  return judge(UNIT, documents).trigger;
}

function lobes(changes: Partial<LobeFigures>): LobeFigures[] {
  const one = { angleDeg: null, spreadDeg: 0.1, dwellDeg: 51, events: 100, missing: 0 };
  return Array.from({ length: 4 }, () => ({ ...one, standardUncertaintyDeg: 0.01, ...changes }));
}

const NONE = { lostTurns: 0, missingEvents: 0, extraEvents: 0, noiseEvents: 0, bounces: 0 };

describe("dwell", () => {
  it("is told of each lobe, with its change over speed and over vacuum", () => {
    const { dwell } = told((rpm, pa) => ({
      dwellDeg: pa === null ? 51 - (rpm === 2000 ? 4 : 0) : 51 + pa / 100_000,
      dwellStandardUncertaintyDeg: 0.1,
      lobes: lobes({}).map((lobe, i) => ({ ...lobe, dwellDeg: 50 + i })),
    }));
    expect(dwell?.atRpm).toBe(500);
    expect(dwell?.lobesDeg).toEqual([50, 51, 52, 53]);
    // The mean's 1.96 · 0.1° as if it were one of four lobes' alone.
    expect(dwell?.lobeExpandedUncertaintyDeg).toBeCloseTo(2 * 0.196, 3);
    expect(dwell?.overSpeed.low).toMatchObject({ x: 500, valueDeg: 51 });
    expect(dwell?.overSpeed.change).toMatchObject({
      high: { x: 2000, valueDeg: 47 },
      changeDeg: -4,
      isClear: true,
    });
    expect(dwell?.overSpeed.change?.expandedUncertaintyDeg).toBeCloseTo(0.196 * Math.SQRT2, 3);
    const [overVacuum] = dwell?.overVacuum ?? [];
    // 0.2° between 10 and 30 kPa, uncertain by 0.28°.
    expect(overVacuum?.change?.changeDeg).toBeCloseTo(0.2, 9);
    expect(overVacuum?.change?.isClear).toBe(false);
  });

  it("is null where no reading tells it", () => {
    expect(told(() => ({ dwellDeg: null })).dwell).toBeNull();
  });
});

describe("bounce", () => {
  const bouncing = (counts: Record<number, number>, noiseEvents = 0) =>
    told((rpm, pa) => ({
      lobes: lobes({}),
      setAside: { ...NONE, noiseEvents, bounces: pa === null ? (counts[rpm] ?? 0) : 0 },
    })).bounce;

  it("begins between the last speed without and the first with it", () => {
    expect(bouncing({ 1000: 40, 2000: 100 })).toEqual({
      at: [
        { speedRpm: 500, share: 0 },
        { speedRpm: 1000, share: 0.1 },
        { speedRpm: 2000, share: 0.25 },
      ],
      begins: { afterRpm: 500, byRpm: 1000 },
    });
    expect(bouncing({ 500: 4, 1000: 40, 2000: 100 })?.begins).toEqual({
      afterRpm: null,
      byRpm: 500,
    });
  });

  it("has no beginning where it does not go on above", () => {
    expect(bouncing({ 1000: 40 })).toMatchObject({ begins: null });
  });

  it("is nothing where there is none, or no more than noise explains", () => {
    expect(bouncing({})).toBeNull();
    // Of 120 short double edges as many as 40 more fall where bounce would: 3 · √40 above is 59.
    expect(bouncing({ 2000: 25 }, 60)).toBeNull();
    expect(bouncing({ 2000: 60 }, 60)?.at[2]?.share).toBeCloseTo(0.15, 9);
  });
});

describe("missing openings", () => {
  const setAside = (missingEvents: number) => ({ setAside: { ...NONE, missingEvents } });

  it("are told by vacuum and by where the plate stood", () => {
    const { missing } = told((_, pa) => ({
      lobes: lobes({}),
      ...setAside(pa === 20_000 ? 100 : 0),
    }));
    expect(missing.overSpeed).toBeNull();
    expect(missing.overVacuum).toEqual([
      {
        fromX: 20_000,
        toX: 20_000,
        share: 0.25,
        soundBelow: 1,
        soundBetween: 0,
        soundAbove: 1,
        plateDeg: { from: 4, to: 4 },
      },
    ]);
  });

  it("are told by speed, and one in a reading is not told", () => {
    const { missing } = told((rpm, pa) => ({
      lobes: lobes({}),
      ...setAside(pa === null ? ({ 500: 1, 1000: 0, 2000: 8 }[rpm] ?? 0) : 0),
    }));
    expect(missing.overSpeed).toMatchObject({ fromX: 2000, toX: 2000, share: 0.02, soundBelow: 2 });
    expect(missing.overVacuum).toEqual([null]);
  });

  it("are all where there was nothing to read", () => {
    const documents = documentsOf(UNIT, PLAN, SOUND).flatMap((document): RunDocument[] => {
      if (document.type !== "point" || document.targetPa !== 20_000) return [document];
      const { capsule, branch, targetRpm, targetPa } = document;
      const at = { capsule, branch, targetRpm, targetPa };
      return [
        { type: "step", step: "vacuum", ...at, done: 0, total: 9, remainingS: 1 },
        { type: "notice", code: "NO_SPARKS", text: "none" },
      ];
    });
    expect(judge(UNIT, documents).trigger.missing.overVacuum).toEqual([
      {
        fromX: 20_000,
        toX: 20_000,
        share: 1,
        soundBelow: 1,
        soundBetween: 0,
        soundAbove: 1,
        plateDeg: null,
      },
    ]);
  });
});

describe("scatter", () => {
  const scattered = (lobeUncertaintyDeg: number) =>
    told((rpm) => ({
      lobes: lobes({ standardUncertaintyDeg: rpm === 500 ? lobeUncertaintyDeg : 0.01 }),
      scatter: {
        oncePerTurnDeg: 0.3,
        oncePerTurnAtDeg: 90,
        fixedDeg: rpm === 500 ? 0.2 : 0.5,
        randomDeg: rpm === 2000 ? 0.4 : 0.1,
      },
    })).scatter;

  it("is told in its three parts at both ends of the sweep", () => {
    const scatter = scattered(0.01);
    expect(scatter?.fixed?.low.valueDeg).toBe(0.2);
    // Of four normal deviations the largest stays below 2.49 in 95 of 100: 0.95^(1/4) = 0.98726.
    expect(scatter?.fixed?.low.expandedUncertaintyDeg).toBeCloseTo(0.0249, 4);
    expect(scatter?.fixed?.change).toMatchObject({ changeDeg: 0.3, isClear: true });
    expect(scatter?.oncePerTurn?.low.expandedUncertaintyDeg).toBeCloseTo(
      2.448 * 0.01 * Math.SQRT1_2,
      5,
    );
    expect(scatter?.oncePerTurn?.change).toMatchObject({ changeDeg: 0, isClear: false });
    expect(scatter?.random.change?.high.valueDeg).toBe(0.4);
    expect(scatter?.random.change?.isClear).toBe(true);
    // 0.4 / √(2 · 4 · 99) and the rounding to microseconds at 2000 rpm.
    expect(scatter?.random.change?.high.expandedUncertaintyDeg).toBeCloseTo(
      1.96 * Math.hypot(0.4 / Math.sqrt(792), 1.34 * 0.012 * 0.288675),
      4,
    );
  });

  it("claims no change that the places of the lobes are too uncertain for", () => {
    const scatter = scattered(0.2);
    expect(scatter?.fixed?.change?.isClear).toBe(false);
    expect(scatter?.fixed?.low.expandedUncertaintyDeg).toBeGreaterThan(0.2);
  });

  it("is null where a lobe never fired", () => {
    expect(told(() => ({ lobes: lobes({ events: 0 }) })).scatter).toBeNull();
  });
});

describe("a run cut short", () => {
  it("tells what it can, down to nothing", () => {
    const documents = documentsOf(UNIT, PLAN, SOUND);
    const nothing: TriggerResult = {
      dwell: null,
      bounce: null,
      missing: { overSpeed: null, overVacuum: [null] },
      scatter: null,
    };
    expect(judge(UNIT, []).trigger).toEqual(nothing);
    expect(judge(UNIT, documents.slice(0, 1)).trigger).toEqual(nothing);
    // With the reference alone there is no change yet.
    const atReference = judge(UNIT, documents.slice(0, 2)).trigger;
    expect(atReference.dwell?.overSpeed).toMatchObject({ low: { valueDeg: 51 }, change: null });
  });
});
