// What the start card sends, and what keeps it from sending.
import { describe, expect, it } from "vitest";
import { planFileSchema } from "../../core/planFile/schema.ts";
import { firstChoices, hindrance, startMessage } from "../../web/src/startRequest.ts";

const standIn = { id: "stand-in", name: "Stand-in rig", simulated: true, note: "", checks: [] };
const unit = {
  id: "everyday",
  description: "four",
  stampedNumber: null,
  invented: true,
  ownTarget: false,
  contactSets: null,
};
const bench = { id: "bench", name: "Bench", simulated: false, note: "", checks: [] };

describe("the start message", () => {
  it("takes the first choices as they are", () => {
    expect(startMessage(firstChoices, standIn, unit, true)).toEqual({
      type: "start",
      rigId: "stand-in",
      unitId: "everyday",
      scenarioId: "healthy",
      pace: 10,
      plan: null,
      contacts: null,
      afterRecordId: null,
      jobId: null,
      cautionsRead: true,
    });
  });

  it("says which contacts are connected where the unit has two sets", () => {
    const chosen = { ...firstChoices, contacts: "second" } as const;
    const twoSets = { ...unit, contactSets: "staggered" } as const;
    expect(startMessage(chosen, standIn, twoSets, true)?.contacts).toBe("second");
    expect(startMessage(chosen, standIn, unit, true)?.contacts).toBeNull();
  });

  it("says which record a change came after", () => {
    const chosen = { ...firstChoices, afterRecordId: "a record" };
    expect(startMessage(chosen, standIn, unit, true)?.afterRecordId).toBe("a record");
  });

  it("gives a real rig neither scenario nor pace", () => {
    const message = startMessage({ ...firstChoices, rigId: "bench", pace: 25 }, bench, unit, true);
    expect(message).toMatchObject({ rigId: "bench", scenarioId: null, pace: 1 });
  });

  it("lets the stand-in follow the specification where no scenario is chosen", () => {
    const message = startMessage({ ...firstChoices, scenarioId: "" }, standIn, unit, true);
    expect(message?.scenarioId).toBeNull();
  });

  it.each([
    [{ speedsText: " 500, 1000;1500 2000 " }, { speedsRpm: [500, 1000, 1500, 2000] }],
    [{ holdText: "7.5" }, { hold: { seconds: 7.5 } }],
    [
      { speedsText: "800", holdText: "20" },
      { speedsRpm: [800], hold: { seconds: 20 } },
    ],
  ])("changes the plan for %j in the form of a plan file", (typed, plan) => {
    const message = startMessage({ ...firstChoices, ...typed }, standIn, unit, true);
    expect(message?.plan).toEqual(plan);
    expect(planFileSchema.safeParse(message?.plan).success).toBe(true);
  });
});

describe("what stands in the way of a start", () => {
  it.each([
    ["rig", {}, null, true],
    ["unit", { unitId: "" }, standIn, true],
    ["speeds", { speedsText: "500, fast" }, standIn, true],
    ["speeds", { speedsText: "-500" }, standIn, true],
    ["hold", { holdText: "soon" }, standIn, true],
    ["hold", { holdText: "0" }, standIn, true],
    ["hold", { holdText: "5 10" }, standIn, true],
    ["cautions", {}, standIn, false],
  ] as const)("%s, with %j", (expected, typed, rig, cautionsRead) => {
    const chosen = { ...firstChoices, ...typed };
    expect(hindrance(chosen, rig, cautionsRead)).toBe(expected);
    expect(startMessage(chosen, rig, unit, cautionsRead)).toBeNull();
  });

  it("is nothing where all is chosen and read", () => {
    expect(hindrance(firstChoices, standIn, true)).toBeNull();
  });
});
