// One false event among lobes that stand wide: those after it are still known for what they are.
import { describe, expect, it } from "vitest";
import { LobeTracker } from "../../core/angles/lobes.ts";
import { TurnLog } from "../../core/angles/turnLog.ts";
import { rampTurn } from "./turns.ts";

describe("a false event 40° off", () => {
  const reference = [10, 100, 190, 280];

  // Were the advance taken to be what the false event says, the next would stand 50° beside its lobe and only
  // 40° beside its neighbour.
  it.each([
    ["early, before lobes that turned 10° late", [10, 60, 110, 200, 290], [0, 40, -10, -10, -10]],
    ["late, before lobes that turned 10° early", [10, 100, 140, 180, 270], [0, 0, -40, 10, 10]],
  ])("%s", (_, anglesDeg, advances) => {
    const log = new TurnLog();
    const tracker = new LobeTracker(log, reference, {
      firingEdge: "a",
      tickHz: 1e9,
      edgesPerTurn: 1,
    });
    log.push(rampTurn(1, reference, {}));
    log.push(rampTurn(2, anglesDeg, {}));
    tracker.track(0);
    const { events, from, to } = tracker.track(1);
    expect([...events.lobes.subarray(from, to)]).toEqual([0, 1, 1, 2, 3]);
    for (const [i, deg] of advances.entries()) {
      expect(events.advancesDeg[from + i]).toBeCloseTo(deg, 6);
    }
  });
});
