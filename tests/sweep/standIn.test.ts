// Chosen sweeps through the whole chain: the rig's bytes, the run, the documents.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { PointDocument, RunDocument } from "../../core/documents.ts";
import { type CurveReading, curveAt } from "../../core/sweep/curve.ts";
import { restingTravelMm } from "../../sim/capsule.ts";
import { SOUND_UNIT } from "../../sim/mechanism.ts";
import { measureOnStandIn } from "../chain/standIn.ts";
import { TrueCurve } from "./randomUnit.ts";

function example(name: string) {
  return JSON.parse(readFileSync(new URL(`../../examples/${name}`, import.meta.url), "utf8"));
}

const UNIT = example("everyday.unit.json");
const SOUND = example("healthy.scenario.json");
const PLAN = { ...example("choose.plan.json"), hold: false, secondsPerReading: 1 };

function branchOf(
  documents: readonly RunDocument[],
  sweep: PointDocument["sweep"],
  branch: "rising" | "falling",
): Pick<CurveReading, "x" | "advanceDeg">[] {
  return documents
    .filter((document) => document.type === "point")
    .filter((point) => point.sweep === sweep && point.branch === branch)
    .map(({ reading }) => ({
      x: sweep === "speed" ? reading.speedRpm : (reading.vacuumPa ?? Number.NaN),
      advanceDeg: reading.advanceDeg,
    }))
    .sort((a, b) => a.x - b.x);
}

describe("a chosen sweep on the stand-in rig", async () => {
  const { end, documents } = await measureOnStandIn(UNIT, SOUND, { plan: PLAN });

  it("completes with every printed row at its place", () => {
    expect(end.ending).toBe("completed");
    const rows = end.result.rows.filter(({ about }) => about === "speed").map(({ x }) => x);
    expect(rows).toEqual([300, 500, 800, 1200, 1800, 2400, 300, 500, 800, 1200, 1800, 2400]);
  });

  it.each(["rising", "falling"] as const)("knows the %s speed curve within 0.1°", (branch) => {
    const mechanism = { slackMm: 0, tensionN: 0 };
    const springs = SOUND.mechanism.springs.map((spring: object) => ({ ...mechanism, ...spring }));
    const truth = new TrueCurve({ ...SOUND.mechanism, springs, ...SOUND_UNIT }, branch);
    const readings = branchOf(documents, "speed", branch);
    let worst = 0;
    for (let x = 185; x <= 2635; x += 1) {
      const deg = curveAt("speed", readings, x) ?? Number.NaN;
      worst = Math.max(worst, Math.abs(deg - truth.at(x)));
    }
    expect(worst).toBeLessThan(0.1);
  });

  it.each(["rising", "falling"] as const)("knows the %s capsule curve within 0.1°", (branch) => {
    const [capsule] = SOUND.capsules;
    const readings = branchOf(documents, "vacuum", branch);
    let worst = 0;
    for (let x = 5100; x <= 43_900; x += 20) {
      const truth = (restingTravelMm(capsule, x, branch) / capsule.radiusMm) * (180 / Math.PI);
      worst = Math.max(worst, Math.abs((curveAt("vacuum", readings, x) ?? Number.NaN) - truth));
    }
    expect(worst).toBeLessThan(0.1);
  });

  it("keeps its count of readings in order", () => {
    const steps = documents.filter((document) => document.type === "step");
    for (const [i, { done, total }] of steps.entries()) {
      expect(done).toBe(i);
      expect(total).toBeGreaterThan(done);
    }
    expect(steps.at(-1)?.total).toBe(steps.length);
  });
});

describe("a limit of readings", () => {
  it("leaves the rest unknown, says so, and reads the rows all the same", async () => {
    const plan = {
      ...PLAN,
      chooseVacuums: undefined,
      vacuums: { unit: "kPa", values: [] },
      chooseSpeeds: { lowestRpm: 180, highestRpm: 2640, readingsMax: 20 },
    };
    const { end, documents } = await measureOnStandIn(UNIT, SOUND, { plan });
    expect(end.ending).toBe("completed");
    const points = documents
      .filter((one) => one.type === "point")
      .filter(({ sweep }) => sweep === "speed");
    expect(points).toHaveLength(20);
    const rising = points
      .filter(({ branch }) => branch === "rising")
      .map(({ targetRpm }) => targetRpm);
    for (const rpm of [300, 500, 800, 1200, 1800, 2400]) expect(rising).toContain(rpm);
    const notices = documents.filter((one) => one.type === "notice").map(({ code }) => code);
    expect(notices).toContain("CURVE_NOT_KNOWN");
  });
});

describe("a rig with one index", () => {
  it("ends for want of certainty, not of readings", async () => {
    const oneIndex = { ...SOUND, rig: { ...SOUND.rig, pickupEdges: 1 } };
    const { end, documents } = await measureOnStandIn(UNIT, oneIndex, { plan: PLAN });
    expect(end.ending).toBe("completed");
    const points = documents
      .filter((one) => one.type === "point")
      .filter(({ sweep }) => sweep === "speed");
    expect(points.length).toBeLessThan(60);
    const notices = documents.filter((one) => one.type === "notice").map(({ code }) => code);
    expect(notices).toContain("CURVE_NOT_KNOWN");
  });
});

describe("a reading that may end early", () => {
  it("takes eight turns and a second at least, and fewer turns than its time has", async () => {
    const plan = {
      hold: false,
      vacuums: { unit: "kPa", values: [] },
      speedsRpm: [600, 1200],
      secondsPerReading: 4,
      repeatsWithinDeg: 0.005,
    };
    const { documents } = await measureOnStandIn(UNIT, SOUND, { plan });
    const points = documents.filter((one) => one.type === "point");
    for (const { sweep, targetRpm, reading } of points) {
      const full = Math.ceil((targetRpm / 60) * 4);
      if (sweep !== "speed") expect(reading.turns).toBe(full);
      else {
        expect(reading.turns).toBeGreaterThanOrEqual(Math.max(8, targetRpm / 60));
        expect(reading.turns).toBeLessThan(full / 2);
      }
    }
  });
});
