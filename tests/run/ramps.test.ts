// Ramps that lobes can be followed on, and a drive that hunts.
import { describe, expect, it } from "vitest";
import { rampTowards } from "../../server/run/ramps.ts";
import type { Rig } from "../../server/run/rig.ts";

/** A rig whose speed goes through `speeds`, one a look; once they are through, no more comes. */
function rigAt(speeds: readonly number[], edgesPerTurn: number) {
  const ratesRpmPerS: number[] = [];
  let at = 0;
  const watch = {
    interruption: null,
    get state() {
      return { nowRpm: speeds[Math.min(at, speeds.length - 1)] };
    },
    forgetTurns: () => {},
    until: async <T>(check: () => T | undefined): Promise<T | null> => {
      for (; at < speeds.length; at++) {
        const found = check();
        if (found !== undefined) return found;
      }
      return null;
    },
  };
  const link = {
    command: async ({ rampRpmPerS }: { rampRpmPerS: number }) => {
      ratesRpmPerS.push(rampRpmPerS);
      return null;
    },
  };
  const rig = { watch, link, token: "t", direction: "cw", knowledge: { edgesPerTurn } };
  return { rig: rig as unknown as Rig, ratesRpmPerS };
}

describe("rampTowards", () => {
  it("with one index goes no faster than a fifth of the speed a turn, faster as the speed grows", async () => {
    const { rig, ratesRpmPerS } = rigAt([60, 120, 240, 480], 1);
    await rampTowards(rig, 500, 1000, () => undefined, 1000);
    // 0.2 × 60 rpm × 1 turn a second; then by the square of the speed, at most as planned.
    expect(ratesRpmPerS).toEqual([12, 48, 192, 768]);
  });

  it("with many edges goes as planned", async () => {
    const { rig, ratesRpmPerS } = rigAt([60, 480], 36);
    await rampTowards(rig, 500, 1000, () => undefined, 1000);
    expect(ratesRpmPerS).toEqual([1000]);
  });

  it("gives what is found on the way, and null where nothing is", async () => {
    const { rig } = rigAt([60, 120], 36);
    expect(await rampTowards(rig, 500, 1000, () => 7, 1000)).toBe(7);
    expect(await rampTowards(rig, 500, 1000, () => undefined, 1000)).toBeNull();
  });

  it("does not follow a hunting drive for ever", async () => {
    const hunting = Array.from({ length: 1000 }, (_, i) => (i % 2 === 0 ? 100 : 200));
    const { rig, ratesRpmPerS } = rigAt(hunting, 1);
    expect(await rampTowards(rig, 500, 1000, () => undefined, 1000)).toBeNull();
    expect(ratesRpmPerS).toHaveLength(50);
  });
});
