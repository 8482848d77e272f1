// A record beside the same record computed again: every figure that moved is named, and nothing else.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { compare } from "../../core/comparison.ts";
import type { EndDocument, PointDocument, RunDocument } from "../../core/documents.ts";
import { judge } from "../../core/judge/result.ts";
import { planFor } from "../../core/planFile.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { documentsOf, REACH, SOUND } from "./documentList.ts";

const FILE = JSON.parse(
  readFileSync(new URL("../../examples/everyday.unit.json", import.meta.url), "utf8"),
);
const UNIT = unitFromFile(FILE, "everyday");
const AGAIN = documentsOf(UNIT, planFor(UNIT, REACH, null), SOUND);
const POINTS = AGAIN.filter((one): one is PointDocument => one.type === "point");

function ended(documents: readonly RunDocument[]): RunDocument[] {
  const end: EndDocument = {
    type: "end",
    endedUtc: "2024-01-01T00:10:00.000Z",
    ending: "completed",
    reason: null,
    restConfirmed: true,
    findings: null,
    mechanism: null,
    link: {
      linesGood: 1,
      linesBad: 0,
      turnsGood: 1,
      turnsSetAside: 0,
      turnsMissing: 0,
      commandRepeats: 0,
    },
    result: judge(UNIT, documents),
  };
  return [...documents, { ...end, result: judge(UNIT, [...documents, end]) }];
}

/** The fifth reading with another advance. */
function withAdvance(advanceDeg: number): RunDocument[] {
  let seen = 0;
  return AGAIN.map((one) =>
    one.type === "point" && ++seen === 5
      ? { ...one, reading: { ...one.reading, advanceDeg } }
      : one,
  );
}

describe("compare", () => {
  it("finds a record the same as itself, with its verdict", () => {
    const comparison = compare(UNIT, ended(AGAIN), AGAIN);
    expect(comparison).toMatchObject({
      same: true,
      holdsSame: true,
      recordedVerdict: "within",
      verdict: "within",
    });
    expect(comparison.readings).toHaveLength(POINTS.length);
    expect(comparison.readings.every(({ same }) => same)).toBe(true);
  });

  it("names the one reading that moved, with both figures", () => {
    const was = POINTS[4] as PointDocument;
    const moved = was.reading.advanceDeg + 2 ** -40;
    const comparison = compare(UNIT, ended(AGAIN), withAdvance(moved));
    expect(comparison.same).toBe(false);
    expect(comparison.readings.filter(({ same }) => !same)).toEqual([
      {
        sweep: was.sweep,
        branch: was.branch,
        capsule: was.capsule,
        targetRpm: was.targetRpm,
        targetPa: was.targetPa,
        recordedAdvanceDeg: was.reading.advanceDeg,
        advanceDeg: moved,
        recordedStandardUncertaintyDeg: 0.05,
        standardUncertaintyDeg: 0.05,
        same: false,
      },
    ]);
  });

  it("compares the readings of the end where there are such", () => {
    const readings = POINTS.map(({ reading }) => ({ ...reading, advanceDeg: 1 }));
    const final: RunDocument = {
      type: "final",
      readings,
      rig: {
        spacingErrorsDeg: null,
        rippleSeenDeg: null,
        rippleUnseenDegAt1000Rpm: 0,
        rippleUnseenStandardUncertaintyDegAt1000Rpm: 0,
      },
    };
    const comparison = compare(UNIT, AGAIN, [...AGAIN, final]);
    expect(comparison.same).toBe(false);
    expect(comparison.readings.map(({ advanceDeg }) => advanceDeg)).toEqual(POINTS.map(() => 1));
    expect(comparison.readings[6]?.recordedAdvanceDeg).toBe(POINTS[6]?.reading.advanceDeg);
  });

  it("tells a hold test that moved", () => {
    const again = AGAIN.map((one) => (one.type === "hold" ? { ...one, endPa: 1 } : one));
    const comparison = compare(UNIT, AGAIN, again);
    expect(comparison.same).toBe(false);
    expect(comparison.holdsSame).toBe(false);
    expect(comparison.readings.every(({ same }) => same)).toBe(true);
  });

  it("tells a judgement that is not the recorded one though all readings are", () => {
    const tampered = ended(AGAIN).map(
      (one): RunDocument =>
        one.type === "end" ? { ...one, result: { ...one.result, verdict: "outside" } } : one,
    );
    expect(compare(UNIT, tampered, AGAIN)).toMatchObject({
      same: false,
      holdsSame: true,
      recordedVerdict: "outside",
      verdict: "within",
    });
  });

  it("has no recorded verdict without an end", () => {
    expect(compare(UNIT, AGAIN, AGAIN)).toMatchObject({ same: true, recordedVerdict: null });
  });
});
