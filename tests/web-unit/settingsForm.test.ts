// The settings as typed on the page.
import { describe, expect, it } from "vitest";
import { FIRST_SETTINGS } from "../../core/settings/settings.ts";
import { settingsFrom, typedSettings } from "../../web/src/settingsForm.ts";
import { firstChoices, withFirstRig } from "../../web/src/startRequest.ts";

describe("the form of the settings", () => {
  it("gives back what was kept", () => {
    const kept = {
      ...FIRST_SETTINGS,
      shownShaft: "crankshaft",
      toleranceDeg: 0.5,
      holdDropMaxPa: 3386,
      firstRigId: "bench",
    } as const;
    const typed = typedSettings(kept, "inHg");
    expect([typed.toleranceDeg, typed.holdDropMax, typed.holdSeconds]).toEqual(["0.5", "1", ""]);
    expect(settingsFrom(typed, "inHg")).toEqual(kept);
  });

  it("takes a decimal comma, and empty for the program's own", () => {
    const typed = { ...typedSettings(FIRST_SETTINGS, "kPa"), toleranceDeg: "0,75" };
    expect(settingsFrom(typed, "kPa")).toEqual({ ...FIRST_SETTINGS, toleranceDeg: 0.75 });
  });

  it.each([
    ["toleranceDeg", "6"],
    ["toleranceDeg", "0"],
    ["holdSeconds", "soon"],
    ["holdDropMax", "-1"],
  ] as const)("says that %s is no figure: %s", (field, text) => {
    const typed = { ...typedSettings(FIRST_SETTINGS, "kPa"), [field]: text };
    expect(settingsFrom(typed, "kPa")).toEqual({ wrong: field });
  });
});

describe("the rig to begin with", () => {
  const rig = (id: string, simulated: boolean) => ({
    id,
    name: id,
    simulated,
    note: "",
    checks: [],
  });
  const unit = {
    id: "everyday",
    description: "four",
    stampedNumber: null,
    invented: true,
    ownTarget: false,
    contactSets: null,
  };
  const choices = { rigs: [rig("stand-in", true), rig("bench", false)], units: [unit] };

  it("is chosen where it is there, without the invented unit", () => {
    const chosen = withFirstRig(firstChoices, { firstRigId: "bench" }, choices);
    expect([chosen.rigId, chosen.unitId]).toEqual(["bench", ""]);
  });

  it.each(["elsewhere", null])("stays the stand-in for %s", (firstRigId) => {
    expect(withFirstRig(firstChoices, { firstRigId }, choices)).toEqual(firstChoices);
  });
});
