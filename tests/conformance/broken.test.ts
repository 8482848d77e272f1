// Each stand-in is broken in one thing, and the test of the rig has to name the clauses that it breaks, and no others.
import { describe, expect, it } from "vitest";
import { BROKEN_COMMANDS } from "./brokenCommands.ts";
import { BROKEN_HEARING } from "./brokenHearing.ts";
import { BROKEN_NUMBERS } from "./brokenNumbers.ts";
import { BROKEN_REPORTS } from "./brokenReports.ts";
import { BROKEN_SAFETY } from "./brokenSafety.ts";
import { BROKEN_TURNS } from "./brokenTurns.ts";
import type { Broken } from "./changedLines.ts";
import { type Tried, tryRig } from "./standIn.ts";

const BROKEN = [
  ...BROKEN_HEARING,
  ...BROKEN_REPORTS,
  ...BROKEN_TURNS,
  ...BROKEN_NUMBERS,
  ...BROKEN_COMMANDS,
  ...BROKEN_SAFETY,
];

const TRIED = new Map<Broken, Promise<Tried>>();

/** Each rig is tried once, whichever test asks first. */
function tried(broken: Broken): Promise<Tried> {
  const { flaw, speedMaxRpm, alone } = broken;
  const known =
    TRIED.get(broken) ?? tryRig(flaw, { speedMaxRpm: speedMaxRpm ?? 1000, alone: alone ?? false });
  TRIED.set(broken, known);
  return known;
}

describe.each(BROKEN)("a rig with $what", (rig) => {
  it(`breaks ${rig.clauses.join(" and ")}`, async () => {
    const { broken, findings } = await tried(rig);
    const texts = findings
      .filter(({ verdict }) => verdict === "broken")
      .map(({ clause, what, text }) => `${clause} ${what}: ${text}`);
    expect(broken, texts.join("\n")).toEqual(rig.clauses);
  });
});

/** Of these the breach is told under the name of the field that is wrong, or of the ticks. */
const TOLD_OTHERWISE = [
  /^1\.[1237] form of the rig's lines$/,
  /^3\.[2345] form of (rev|pick|vac|state) lines$/,
  /^3\.1 ask is answered by a hello of the form given$/,
  /^2\.1 the counter wraps$/,
];

it("no check is one that cannot fail: each that sound rigs hold is broken by one of these", async () => {
  const names = async (wanted: string, all: readonly Promise<Tried>[]) =>
    (await Promise.all(all)).flatMap(({ findings }) =>
      findings
        .filter(({ verdict }) => verdict === wanted)
        .map(({ clause, what }) => `${clause} ${what}`),
    );
  const broken = new Set(await names("broken", BROKEN.map(tried)));
  const sound = [
    {},
    { vacuumMaxPa: 0 },
    { directions: "cw" },
    { pickupEdges: 1 },
    { lostShare: 0.1 },
    { linkBytesPerS: 5000 },
  ];
  const held = await names(
    "holds",
    sound.map((rig) => tryRig({ rig }, { speedMaxRpm: 4500 })),
  );
  const neverBroken = [...new Set(held)].filter(
    (name) => !broken.has(name) && !TOLD_OTHERWISE.some((form) => form.test(name)),
  );
  expect(held.length).toBeGreaterThan(500);
  expect(neverBroken).toEqual([]);
});
