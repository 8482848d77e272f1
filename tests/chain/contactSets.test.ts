// Two sets of contacts on the stand-in rig: what is connected decides lobes, dwell and its limits.
import { describe, expect, it } from "vitest";
import type { StartDocument } from "../../core/documents.ts";
import type { ConnectedContacts } from "../../core/unit.ts";
import { measureOnStandIn } from "./standIn.ts";

const PLAN = { speedsRpm: [400, 800, 1500], hold: false, turnsPerReading: 40 };
const UNIT = {
  description: "two sets of contacts",
  rotation: "cw",
  speedMaxRpm: 2000,
  scatterMaxDeg: 1,
};

async function measured(
  file: object,
  contacts: ConnectedContacts | null,
  scenario: unknown = null,
) {
  const unitFile = { ...UNIT, ...file };
  const options = { plan: PLAN, ...(contacts === null ? {} : { contacts }) };
  const { end, documents } = await measureOnStandIn(unitFile, scenario, options);
  expect(end.ending).toBe("completed");
  const { unit } = documents[0] as StartDocument;
  const point = documents.find((document) => document.type === "point");
  return {
    unit,
    dwellDeg: end.result.dwellDeg ?? Number.NaN,
    dwell: end.result.rows.find(({ about }) => about === "dwell"),
    scatterDeg: end.result.scatterDeg,
    lobes: point?.reading.lobes.length,
    lobesDeg: end.result.trigger.dwell?.lobesDeg ?? [],
  };
}

describe("overlapped: both sets on every one of eight lobes", () => {
  // Invented: 28° each, 34° together, as overlapped sets are made to give more dwell.
  const overlapped = {
    lobes: 8,
    dwell: { degrees: "28 ± 2" },
    secondSet: {
      arrangement: "overlapped",
      dwell: { degrees: "26 ± 2" },
      combinedDwell: { degrees: "34 ± 2" },
    },
  };

  it.each([
    ["first", 28, { min: 26, max: 30 }],
    ["second", 26, { min: 24, max: 28 }],
    ["both", 34, { min: 32, max: 36 }],
    [null, 34, { min: 32, max: 36 }],
  ] as const)("%s connected", async (contacts, dwellDeg, limits) => {
    const run = await measured(overlapped, contacts);
    expect(run.unit.contactSets?.connected).toBe(contacts ?? "both");
    expect(run.lobes).toBe(8);
    expect(Math.abs(run.dwellDeg - dwellDeg)).toBeLessThan(0.02);
    expect(run.dwell).toMatchObject({ limits, verdict: "within" });
    expect(run.scatterDeg).toBeLessThan(0.05);
    expect(run.lobesDeg).toHaveLength(8);
  });

  it("together out of their limits, though each by itself is within", async () => {
    // They open together: the dwell of both is that of the longer one.
    const scenario = {
      mechanism: { speedTable: [[0, 0]] },
      pulses: { secondSet: { arrangement: "overlapped", dwellDeg: 26 } },
    };
    for (const [contacts, verdict] of [
      ["first", "within"],
      ["second", "within"],
      ["both", "outside"],
    ] as const) {
      expect((await measured(overlapped, contacts, scenario)).dwell?.verdict).toBe(verdict);
    }
  });
});

describe("staggered: each set fires every second of six lobes", () => {
  const staggered = {
    lobeAnglesDeg: [0, 50, 120, 170, 240, 290],
    dwell: { degrees: "40 ± 3" },
    secondSet: {
      arrangement: "staggered",
      dwell: { degrees: "36 ± 3" },
      combinedDwell: { degrees: "38 ± 5" },
    },
  };

  it.each([
    ["first", [0, 120, 240], [40, 40, 40]],
    ["second", [0, 120, 240], [36, 36, 36]],
    ["both", [0, 50, 120, 170, 240, 290], [40, 36, 40, 36, 40, 36]],
  ] as const)("%s connected", async (contacts, anglesDeg, dwellsDeg) => {
    const run = await measured(staggered, contacts);
    expect(run.unit.lobeAnglesDeg).toEqual(anglesDeg);
    expect(run.unit.contactSets).toMatchObject({ arrangement: "staggered", connected: contacts });
    expect(run.lobes).toBe(anglesDeg.length);
    run.lobesDeg.forEach((deg, lobe) => {
      expect(Math.abs((deg ?? Number.NaN) - (dwellsDeg[lobe] as number))).toBeLessThan(0.02);
    });
    expect(run.lobesDeg).toHaveLength(anglesDeg.length);
    expect(run.dwell?.verdict).toBe("within");
    expect(run.scatterDeg).toBeLessThan(0.05);
  });

  it("is found out where the wrong set is connected: the lobes do not come where they should", async () => {
    // One set at the rig, both expected: every second opening is missing.
    const { secondSet, ...oneSet } = staggered;
    const scenario = {
      mechanism: { speedTable: [[0, 0]] },
      unit: { dwellDeg: 40 },
      pulses: { secondSet: { arrangement: "staggered" }, contactsConnected: "first" },
    };
    const { end } = await measureOnStandIn({ ...UNIT, ...oneSet, dwell: undefined }, scenario, {
      plan: PLAN,
    });
    expect(end.reason?.code).toBe("LOBES_UNKNOWN");
  });
});
