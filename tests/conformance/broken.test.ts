// Each stand-in is broken in one thing, and the test of the rig has to name the clause that it breaks, and no other.
import { describe, expect, it } from "vitest";
import { BROKEN_COMMANDS } from "./brokenCommands.ts";
import { BROKEN_HEARING } from "./brokenHearing.ts";
import { BROKEN_REPORTS } from "./brokenReports.ts";
import { BROKEN_SAFETY } from "./brokenSafety.ts";
import { BROKEN_TURNS } from "./brokenTurns.ts";
import { tryRig } from "./standIn.ts";

const BROKEN = [
  ...BROKEN_HEARING,
  ...BROKEN_REPORTS,
  ...BROKEN_TURNS,
  ...BROKEN_COMMANDS,
  ...BROKEN_SAFETY,
];

describe.each(BROKEN)("a rig with $what", ({ clauses, flaw, speedMaxRpm }) => {
  it(`breaks ${clauses.join(" and ")}`, async () => {
    const { broken, findings } = await tryRig(flaw, { speedMaxRpm: speedMaxRpm ?? 1000 });
    const texts = findings
      .filter(({ verdict }) => verdict === "broken")
      .map(({ clause, what, text }) => `${clause} ${what}: ${text}`);
    expect(broken, texts.join("\n")).toEqual(clauses);
  });
});
