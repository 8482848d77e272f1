// A short share of the bars on the line, and that each bar can be missed.
import { describe, expect, it } from "vitest";
import type { Bar } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { type ExpiryResult, expiry } from "../../storm/bars/expiry.ts";
import { type FaultsResult, faults } from "../../storm/bars/faults.ts";
import { drawRun } from "../../storm/link/drawnRun.ts";
import type { Fault, Trouble } from "../../storm/link/faults.ts";
import { type PlayedRun, type Storm, storm } from "../../storm/link/stormRun.ts";

const SHARE = 6;

async function missed<R>(bar: Bar<R>, from: number): Promise<readonly unknown[]> {
  const results: R[] = [];
  for (let i = from; i < from + SHARE; i++) results.push(await bar.job(i));
  return bar.figures(results).filter(({ met, count }) => met === false && count > 0);
}

const GOOD: PlayedRun = {
  ending: "completed",
  code: null,
  readings: 8,
  wrong: [],
  gapHidden: false,
  worstDeg: 0.01,
  replayed: null,
  link: null,
};
const stormOf = (run: Partial<PlayedRun>, changes: Partial<Storm> = {}): Storm => ({
  runs: [{ ...GOOD, ...run }],
  unsafe: [],
  hang: null,
  rigMs: 30_000,
  troubled: 100,
  worstAliveS: 0.401,
  ...changes,
});

describe("faults on the line", () => {
  it("make no reading wrong, leave nothing turning and hang nothing", async () => {
    expect(await missed(faults, 0)).toEqual([]);
  });

  const ALWAYS: readonly Trouble[] = [
    { kind: "flipped", share: 1e-3 },
    { kind: "burst", share: 5e-4, bytesMax: 8 },
    { kind: "lost", share: 5e-4, bytesMax: 3 },
    { kind: "lost", share: 1e-4, bytesMax: 1000 },
    { kind: "doubled", share: 5e-4, bytesMax: 3 },
    { kind: "doubled", share: 5e-4, bytesMax: 1000 },
    { kind: "merged", everyMs: 120 },
    { kind: "delayed", byMs: 60 },
    { kind: "flood", of: "noise", bytesPerS: 20_000 },
  ];

  it.each(ALWAYS)("do so if they last all the run: %o", async (trouble) => {
    for (let i = 0; i < 3; i++) {
      const fault: Fault = {
        ...trouble,
        ways: ["fromRig", "toRig"],
        fromMs: 0,
        toMs: Number.POSITIVE_INFINITY,
      };
      const played = await storm({
        drawn: drawRun(new Draw("always", i)),
        seed: i,
        faults: [fault],
        undisturbedMs: 60_000,
      });
      const { hang, unsafe, runs, troubled } = played;
      const wrong = runs.flatMap((run) => run.wrong);
      expect({ hang, unsafe, wrong }).toEqual({ hang: null, unsafe: [], wrong: [] });
      const changes = trouble.kind !== "merged" && trouble.kind !== "delayed";
      expect(troubled > 0).toBe(changes);
    }
  });

  const judged = (disturbed: Storm, undisturbed = stormOf({})) => {
    const result: FaultsResult = { index: 0, kinds: [], undisturbed, disturbed };
    return faults.figures([result]).filter(({ met }) => met === false);
  };

  it.each<[string, Storm, Storm?]>([
    ["a wrong reading", stormOf({ wrong: ["advance 44 where 4 is true"] })],
    ["a wrong reading without faults", stormOf({}), stormOf({ wrong: ["advance"] })],
    ["a calm run that does not complete", stormOf({}), stormOf({ ending: "link lost" })],
    ["an unsafe moment", stormOf({}, { unsafe: ["the guard is open"] })],
    ["a hang", stormOf({}, { hang: "not over" })],
    ["a hidden gap", stormOf({ gapHidden: true })],
    ["a record that its bytes tell otherwise", stormOf({ replayed: "other figures" })],
  ])("miss the bar by %s", (_, disturbed, undisturbed) => {
    expect(judged(stormOf({}))).toEqual([]);
    expect(judged(disturbed, undisturbed)).toHaveLength(1);
  });
});

describe("a host that is gone", () => {
  it("has the rig stop by itself in its time", async () => {
    expect(await missed(expiry, 0)).toEqual([]);
  });

  const judged = (changes: Partial<ExpiryResult>) => {
    const lost = stormOf({ ending: "link lost" });
    const result: ExpiryResult = { way: "link lost", driven: true, storm: lost, ...changes };
    const others = (["page closed", "server frozen"] as const).map((way) => ({ ...result, way }));
    return expiry.figures([result, ...others]).filter(({ met }) => met === false).length;
  };

  it("misses the bar by a drive that is on too long, in any way, and by never being gone", () => {
    expect(judged({})).toBe(0);
    expect(judged({ storm: stormOf({ ending: "link lost" }, { worstAliveS: 0.502 }) })).toBe(3);
    expect(judged({ storm: stormOf({ ending: "completed" }) })).toBe(1);
    expect(judged({ driven: false })).toBe(4);
  });
});
