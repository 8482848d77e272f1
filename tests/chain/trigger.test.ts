// Faults of the contacts on the stand-in rig, and what a run tells of them.
import { describe, expect, it } from "vitest";
import type { TriggerResult } from "../../core/triggerResult.ts";
import { measureOnStandIn } from "./standIn.ts";

const UNIT = {
  description: "faults of the contacts",
  lobes: 4,
  rotation: "cw",
  speedMaxRpm: 2600,
  capsules: [{ name: "capsule", vacuum: "kPa" }],
};
const PLAN = {
  speedsRpm: [400, 800, 1200, 1600, 2000, 2400],
  vacuums: { unit: "kPa", values: [5, 12, 20, 27, 40] },
  hold: false,
  turnsPerReading: 100,
};
const MECHANISM = {
  speedTable: [
    [0, 0],
    [600, 0],
    [2000, 10],
  ],
  vacuumTable: [
    [0, 0],
    [10, 0],
    [40, 12],
  ],
};

async function told(trigger: object, rig: object = {}): Promise<TriggerResult> {
  const scenario = { mechanism: MECHANISM, unit: { dwellDeg: 51 }, ...trigger, rig };
  const { end } = await measureOnStandIn(UNIT, scenario, { plan: PLAN });
  expect(end.ending).toBe("completed");
  return end.result.trigger;
}

it("takes ripple that one index cannot see for no change of dwell", async () => {
  // As often round as there are lobes.
  const ripple = [{ perTurn: 4, percentAt1000Rpm: 0.3, phaseDeg: 40 }];
  const { dwell } = await told({}, { pickupEdges: 1, ripple });
  expect(dwell?.overSpeed.change?.isClear).toBe(false);
  // It shifts both flanks, at 800 rpm by up to 0.07° each; against the reference it shows and is taken off.
  const low = dwell?.overSpeed.low;
  expect(low?.expandedUncertaintyDeg).toBeLessThan(0.025);
  expect(Math.abs((low?.valueDeg ?? 0) - 51)).toBeLessThan(low?.expandedUncertaintyDeg ?? 0);
});

describe.each([1, 36])("with %i pickup edges", (pickupEdges) => {
  it("finds nothing in sound contacts", async () => {
    const { dwell, bounce, missing, scatter } = await told({}, { pickupEdges });
    expect(bounce).toBeNull();
    expect(missing).toEqual({ overSpeed: null, overVacuum: [null] });
    expect(dwell?.overSpeed.change?.isClear).toBe(false);
    expect(dwell?.overVacuum[0]?.change?.isClear).toBe(false);
    expect(scatter?.fixed?.change?.isClear).toBe(false);
    expect(scatter?.oncePerTurn?.change?.isClear).toBe(false);
    expect(scatter?.random.change?.isClear).toBe(false);
  });

  it("finds a weak spring: bounce, then openings lost and dwell falling", async () => {
    const weak = {
      fault: "contact-spring-weak",
      bounce: { fromRpm: 1300, sharePer1000Rpm: 0.3 },
      float: { fromRpm: 1700, lateUsPer1000Rpm: 300, lostSharePer1000Rpm: 0.2 },
    };
    const { dwell, bounce, missing } = await told({ faults: [weak] }, { pickupEdges });
    expect(bounce?.begins?.afterRpm).toBeCloseTo(1200, 0);
    expect(bounce?.begins?.byRpm).toBeCloseTo(1600, 0);
    // 0.3 for each 1000 rpm above 1300, over 800 closings of both branches.
    expect(Math.abs((bounce?.at.at(-1)?.share ?? 0) - 0.33)).toBeLessThan(0.05);
    expect(missing.overSpeed).toMatchObject({ soundBelow: 4, soundAbove: 0 });
    expect(missing.overSpeed?.fromX).toBeCloseTo(2000, 0);
    // 0.7 of 300 µs at 2400 rpm, 0.0144° a microsecond.
    const change = dwell?.overSpeed.change;
    expect(change?.isClear).toBe(true);
    expect(Math.abs((change?.changeDeg ?? 0) + 0.7 * 300 * 0.0144)).toBeLessThan(0.1);
  });

  it("finds a breaking lead where the plate stands at it only, whole or in part", async () => {
    for (const share of [0.5, 1]) {
      const lead = { fault: "plate-lead-breaking", plateFromDeg: 3, plateToDeg: 8, share };
      const { missing } = await told({ faults: [lead] }, { pickupEdges });
      expect(missing.overSpeed).toBeNull();
      // At 20 and 27 kPa the plate stands at 4 and 6.8°.
      const [places] = missing.overVacuum;
      expect(places?.fromX).toBeCloseTo(20_000, -3);
      expect(places?.toX).toBeCloseTo(27_000, -3);
      expect(places).toMatchObject({ soundBetween: 0, soundAbove: 1 });
      expect(places?.soundBelow).toBeGreaterThanOrEqual(2);
      expect(Math.abs((places?.share ?? 0) - share)).toBeLessThan(0.1);
    }
  });

  it("parts a bent shaft from a worn cam and from a worn bush", async () => {
    const bent = { fault: "shaft-bent", peakDeg: 0.4 };
    const pulses = { lobeErrorsDeg: [0.3, -0.3, 0.3, -0.3] };
    const rig = { pickupEdges, eventJitterUs: 5 };
    const { scatter } = await told({ pulses, faults: [bent] }, rig);
    const high = {
      fixed: scatter?.fixed?.change?.high,
      oncePerTurn: scatter?.oncePerTurn?.change?.high,
      random: scatter?.random.change?.high,
    };
    expect(Math.abs((high.fixed?.valueDeg ?? 0) - 0.3)).toBeLessThan(0.03);
    expect(Math.abs((high.oncePerTurn?.valueDeg ?? 0) - 0.4)).toBeLessThan(0.03);
    // 5 µs are 0.072° at 2400 rpm.
    expect(Math.abs((high.random?.valueDeg ?? 0) - 0.072)).toBeLessThan(0.01);
    expect(scatter?.fixed?.change?.isClear).toBe(false);
    expect(scatter?.random.change?.isClear).toBe(true);
  });

  it("finds dwell that changes with the plate", async () => {
    const { dwell } = await told({ pulses: { dwellChangeDegPerDeg: 0.3 } }, { pickupEdges });
    const change = dwell?.overVacuum[0]?.change;
    // 12° of plate.
    expect(Math.abs((change?.changeDeg ?? 0) - 3.6)).toBeLessThan(0.1);
    expect(change?.isClear).toBe(true);
    expect(dwell?.overSpeed.change?.isClear).toBe(false);
  });
});
