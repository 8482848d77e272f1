// What `bobweight simulate` plays: the scenario file, completed by the unit file where one is given.
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { playedScenario } from "../../server/commands/simulate.ts";
import { dwellsDeg } from "../../sim/truth.ts";

const unit = fileURLToPath(new URL("../../examples/two-set-eight.unit.json", import.meta.url));
const scenario = join(mkdtempSync(join(tmpdir(), "bobweight-")), "plain.scenario.json");
writeFileSync(scenario, JSON.stringify({ mechanism: {} }));

const dwells = (played: ReturnType<typeof playedScenario>) =>
  dwellsDeg(played).map(({ dwellDeg }) => dwellDeg);

it("has the unit file's lobes, rotation and both its sets of contacts", () => {
  const played = playedScenario({ scenario, unit });
  expect(played.unit).toMatchObject({ rotation: "cw", dwellDeg: 28 });
  expect(played.pulses.secondSet).toEqual({
    arrangement: "overlapped",
    dwellDeg: 28,
    offsetDeg: 6,
  });
  // 28° each, 6° apart.
  expect(dwells(played)).toEqual(Array(8).fill(34));
});

it("has the sets connected that were chosen", () => {
  const played = playedScenario({ scenario, unit, contacts: "second" });
  expect(played.pulses.contactsConnected).toBe("second");
  expect(dwells(played)).toEqual(Array(8).fill(28));
});

it("is the scenario alone without a unit file, which has no sets to choose from", () => {
  expect(dwells(playedScenario({ scenario }))).toEqual([51, 51, 51, 51]);
  expect(() => playedScenario({ scenario, contacts: "first" })).toThrow(/--contacts needs --unit/);
});
