// What a check of the rig found, taken out of what is measured after it: check, rig file, run, truth.
import { describe, expect, it } from "vitest";
import { checkOnStandIn } from "../../accuracy/check.ts";
import { measure, type StandInRun } from "../../accuracy/standIn.ts";
import type { RigCalibration } from "../../core/calibration/calibration.ts";
import type { Direction } from "../../core/codec/rigLines.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { checkCoupling, checkDelay } from "../../server/calibration/checks.ts";
import { checkVacuum } from "../../server/calibration/vacuumCheck.ts";
import { type RigFile, rigFromFile } from "../../server/rigFile.ts";
import { Table } from "../../sim/advance.ts";

/** Standard deviations of the edges of trigger and index, in microseconds. Invented. */
const JITTER = { eventJitterUs: 1.5, indexJitterUs: 1 };
const LOCKED = { speedTable: [[0, 0]] };

function rigWith(errors: object, calibration: Partial<RigCalibration> = {}): RigFile {
  const rig = { ...JITTER, ...errors };
  return rigFromFile({ kind: "stand-in", name: "Invented rig", rig, calibration }, "rig");
}

/** A run by the rig file as it stands after a check, or before it. */
function runBy(rig: RigFile, unit: object, scenario: object, plan: object): Promise<StandInRun> {
  const { kind: _kind, name: _name, ...stated } = rig as Extract<RigFile, { kind: "stand-in" }>;
  return measure({ unit, scenario, plan: { hold: false, ...plan }, rig: stated });
}

describe.each([36, 1])("20 µs of delay, %i edges a turn", (pickupEdges) => {
  const errors = { pickupEdges, delayUs: 20 };
  const points: [number, number][] = [
    [0, 0],
    [400, 0],
    [1000, 8],
    [2000, 12],
  ];
  const unit = { description: "invented", lobes: 4, rotation: "cw", speedMaxRpm: 4000 };
  const speedsRpm = [600, 1500, 2500, 4000];

  /** Largest distance of the rising curve from the truth, and that at the highest speed. */
  async function offDeg(rig: RigFile) {
    const scenario = { seed: 7, unit: { lobes: 4 }, mechanism: { speedTable: points } };
    const { end } = await runBy(rig, unit, scenario, { speedsRpm });
    const offs = end.result.speed.rising.map(({ x, advanceDeg }) =>
      Math.abs(advanceDeg - new Table(points).at(x)),
    );
    return { count: offs.length, largest: Math.max(...offs), atHighest: offs.at(-1) ?? Number.NaN };
  }

  it("found with a locked cam, is gone at 4,000 rpm", async () => {
    const locked = unitFromFile(unit, "unit");
    const scenario = { seed: 8, unit: { lobes: 4 }, mechanism: LOCKED };
    const delay = await checkOnStandIn({ unit: locked, scenario, rig: rigWith(errors) }, (bench) =>
      checkDelay(bench, locked, null),
    );
    const checked = await offDeg(rigWith(errors, { delay }));
    expect(checked.count).toBe(4);
    expect(checked.atHighest).toBeLessThan(0.02);
    // The clock's microsecond, and a table's corner where nothing but the speed's own scatter moves it.
    expect(checked.largest).toBeLessThan(0.03);
    // 6e-6 · 20 µs · (4000 − 200) rpm
    expect((await offDeg(rigWith(errors))).atHighest).toBeCloseTo(0.456, 1);
  });
});

describe("a coupling's run-out of 0.4°", () => {
  const errors = { couplingRunOutDeg: 0.4, couplingRunOutPhaseDeg: 70 };
  const unitOf = (rotation: Direction) => ({ description: "invented", lobes: 6, rotation });
  const scenarioOf = (rotation: Direction, seed: number) => ({
    seed,
    unit: { lobes: 6, rotation },
    mechanism: LOCKED,
  });

  /** Scatter of a true cam over all readings of a run. */
  async function scatterOf(rig: RigFile, rotation: Direction) {
    const { documents, end } = await runBy(
      rig,
      { ...unitOf(rotation), speedMaxRpm: 2000 },
      scenarioOf(rotation, 9),
      { speedsRpm: [600, 1500] },
    );
    const final = documents.find((document) => document.type === "final");
    const round = (final?.readings ?? []).map(({ scatter }) => scatter.oncePerTurnDeg ?? 1);
    return { onceATurnDeg: Math.max(...round), scatterDeg: end.result.scatterDeg };
  }

  it.each<[Direction]>([["cw"], ["ccw"]])(
    "found with a unit that turns %s, is gone from the scatter of either",
    async (rotation) => {
      const unit = unitFromFile(unitOf(rotation), "unit");
      const coupling = await checkOnStandIn(
        { unit, scenario: scenarioOf(rotation, 10), rig: rigWith(errors) },
        (bench) => checkCoupling(bench, unit),
      );
      // Turning clockwise the shaft is furthest ahead at 70°, so latest half a turn on.
      expect(coupling.phaseDeg).toBeCloseTo(250, -1);
      for (const turning of ["cw", "ccw"] as const) {
        const checked = await scatterOf(rigWith(errors, { coupling }), turning);
        expect(checked.onceATurnDeg).toBeLessThan(0.01);
        expect(checked.scatterDeg).toBeLessThan(0.02);
        const unchecked = await scatterOf(rigWith(errors), turning);
        expect(unchecked.onceATurnDeg).toBeCloseTo(0.4, 2);
      }
    },
  );
});

it("a sensor's gain and offset, found with a gauge, are gone from the capsule's curve", async () => {
  const errors = { sensorGain: 1.03, sensorOffsetPa: 400, sensorNoisePa: 25 };
  const unit = {
    description: "invented",
    lobes: 4,
    rotation: "cw",
    capsules: [{ name: "capsule", vacuum: "kPa" }],
  };
  const vacuumTable: [number, number][] = [
    [0, 0],
    [5, 0],
    [50, 18],
  ];
  const scenario = { seed: 11, unit: { lobes: 4 }, mechanism: { ...LOCKED, vacuumTable } };
  const gauge = { unit: "kPa", standardUncertaintyPa: 30, resolutionPa: 10 } as const;
  const sensedPa = [10_000, 25_000, 40_000, 55_000];
  // The board holds what its sensor says; the gauge shows the truth to its last figure.
  const typed = sensedPa.map((pa) => ((pa - 400) / 1.03 / 1000).toFixed(2));
  const vacuum = await checkOnStandIn(
    {
      unit: unitFromFile(unit, "unit"),
      scenario,
      rig: rigWith(errors),
      typed: () => typed.shift() ?? "",
    },
    (bench) => checkVacuum(bench, gauge, sensedPa),
  );
  const offDeg = async (rig: RigFile) => {
    const plan = { speedsRpm: [600], vacuums: { unit: "kPa", values: [10, 20, 30, 40] } };
    const { end } = await runBy(rig, unit, scenario, plan);
    const curve = end.result.capsules[0]?.rising ?? [];
    // Vented is a reading too.
    return curve.slice(1).map(({ x, targetX, advanceDeg }) => ({
      off: advanceDeg - new Table(vacuumTable).at(x / 1000),
      offTargetPa: x - targetX,
    }));
  };
  const checked = await offDeg(rigWith(errors, { vacuum }));
  expect(checked).toHaveLength(4);
  for (const { off, offTargetPa } of checked) {
    // 0.4° a kilopascal: 0.02° are 50 Pa.
    expect(Math.abs(off)).toBeLessThan(0.02);
    expect(Math.abs(offTargetPa)).toBeLessThan(150);
  }
  // At 40 kPa sensed the true vacuum is 38.45 kPa, and 0.4° are lost with each kilopascal.
  expect((await offDeg(rigWith(errors))).at(-1)?.off).toBeCloseTo(-0.62, 1);
});
