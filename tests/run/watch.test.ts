// What `bobweight rigs watch` says of a rig's inputs.
import { expect, it } from "vitest";
import { type Seen, seenText } from "../../server/commands/rigsWatch.ts";

const NOTHING = { state: null, vacuum: null, turn: null, turns: 0 };

it("tells what has not come", () => {
  expect(seenText(NOTHING, 2_000_000)).toBe("no vacuum reading · no whole turn");
});

it("tells inputs, vacuum and the last turn in words", () => {
  const seen: Seen = {
    state: {
      ...({ type: "state", sequence: 1, tick: 1, setRpm: 0, nowRpm: 61.5 } as const),
      ...({ direction: "none", armed: false, guardShut: false, stopPressed: true } as const),
      fault: "none",
    },
    vacuum: {
      ...({ type: "vac", sequence: 1, tick: 1, vacuumPa: 12_340 } as const),
      ...({ pumpPermille: 0, valve: "vent" } as const),
    },
    turn: {
      ...{ sequence: 1, indexTick: 0, beforeTicks: 0, duringTicks: 2_000_000, afterTicks: 1 },
      ...{ lost: true, every: 1, edgeTicks: null, followsOn: false },
      eventEdges: ["a", "b", "a"] as const,
      eventTicks: [1, 2, 3],
    },
    turns: 3,
  };
  expect(seenText(seen, 2_000_000)).toBe(
    "guard OPEN · stop input PRESSED · fault none · 61.5 rpm · vacuum 12.34 kPa below ambient · valve vent · 3 turns, the last at 60.0 rpm with 2 openings and 1 closings, edges lost",
  );
});
