// Each kind of trigger end to end on the stand-in rig, and a pickup coil with its leads exchanged.
import { describe, expect, it } from "vitest";
import { measureOnStandIn } from "./standIn.ts";

const PLAN = { speedsRpm: [300, 600, 1000, 2000], hold: false, turnsPerReading: 40 };
const MECHANISM = {
  speedTable: [
    [0, 0],
    [500, 0],
    [1000, 6],
    [1500, 10],
  ],
};

function measured(trigger: object, pulses: object = {}, lobes: object = { lobes: 6 }) {
  const unit = { description: "a trigger", rotation: "ccw", speedMaxRpm: 2200, trigger, ...lobes };
  return measureOnStandIn(unit, { mechanism: MECHANISM, pulses }, { plan: PLAN });
}

describe.each([
  { kind: "contacts", firingEdge: "a" },
  { kind: "contacts", firingEdge: "b" },
  { kind: "magnetic", firingEdge: "a" },
  { kind: "magnetic", firingEdge: "b" },
  { kind: "hall", firingEdge: "a" },
  { kind: "hall", firingEdge: "b" },
  { kind: "optical", firingEdge: "a" },
  { kind: "optical", firingEdge: "b" },
])("%j", (trigger) => {
  it("gives the curve of the mechanism", async () => {
    const { end } = await measured(trigger);
    expect(end.ending).toBe("completed");
    const { speed, scatterDeg, dwellDeg } = end.result;
    const expected = [0, 1.2, 6, 10];
    for (const branch of [speed.rising, speed.falling]) {
      expect(branch).toHaveLength(4);
      branch.forEach(({ advanceDeg }, i) => {
        expect(Math.abs(advanceDeg - (expected[i] as number))).toBeLessThan(0.02);
      });
    }
    expect(scatterDeg).toBeLessThan(0.02);
    expect(dwellDeg === null).toBe(trigger.kind !== "contacts");
  });
});

describe("a pickup coil with its leads exchanged", () => {
  const trigger = { kind: "magnetic", firingEdge: "b" };
  const placesOf = async (pulses: object) => {
    const { end, documents } = await measured(trigger, pulses);
    const reference = documents.find((document) => document.type === "point");
    const places = reference?.reading.lobes.map(({ angleDeg }) => angleDeg ?? Number.NaN) ?? [];
    return { end, places };
  };

  it("fires a pulse's width late at every lobe, which no curve shows", async () => {
    const right = await placesOf({});
    const reversed = await placesOf({ magnetic: { reversed: true } });
    // 0.4 of the spacing of six lobes. Advance counts from the reference, so the shift falls out of it:
    // only timing it on the engine, or a coil known to be right, tells.
    reversed.places.forEach((place, lobe) => {
      expect(Math.abs(place - (right.places[lobe] as number) - 24)).toBeLessThan(0.01);
    });
    expect(reversed.end.ending).toBe("completed");
    reversed.end.result.speed.rising.forEach(({ advanceDeg }, i) => {
      const rightDeg = right.end.result.speed.rising[i]?.advanceDeg ?? Number.NaN;
      expect(Math.abs(advanceDeg - rightDeg)).toBeLessThan(0.01);
    });
  });
});
