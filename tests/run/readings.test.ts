// Readings: how many turns are waited for, and when a reading may end early (clause 3.2.5).
import { describe, expect, it } from "vitest";
import { BobweightError } from "../../core/errors.ts";
import { collectTurns } from "../../server/run/moves.ts";
import { rigInHand } from "./rigInHand.ts";

const STOPPED = new BobweightError("STOPPED_BY_USER", "Stopped.");

describe("a reading", () => {
  it("is so many turns from now on, as they stand in the log", async () => {
    const { rig, watch, due, turns, vacuums, outcome } = rigInHand();
    turns(5, 600);
    vacuums(1, 7);
    const read = outcome(collectTurns(rig, 8, 600, null));
    turns(7, 600);
    await due();
    expect([read.is, watch.vacuums]).toEqual(["open", []]);
    turns(1, 600);
    await due();
    expect(read.value).toEqual({ from: 5, to: 13 });
  });

  it("counts a turn for as many as the rig made to it (clause 3.2.5)", async () => {
    const { rig, due, turns, outcome } = rigInHand();
    const read = outcome(collectTurns(rig, 8, 600, null));
    turns(3, 600, null, 2);
    await due();
    expect(read.is).toBe("open");
    turns(1, 600, null, 2);
    await due();
    expect(read.value).toEqual({ from: 0, to: 4 });
  });

  it("is three turns at least, or all where fewer were asked for", async () => {
    const { rig, due, turns, outcome } = rigInHand();
    const read = outcome(collectTurns(rig, 8, 600, null));
    turns(2, 600, null, 4);
    await due();
    expect(read.is).toBe("open");
    turns(1, 600, null, 4);
    await due();
    expect(read.value).toEqual({ from: 0, to: 3 });
    const two = outcome(collectTurns(rig, 2, 600, null));
    turns(2, 600);
    await due();
    expect(two.value).toEqual({ from: 3, to: 5 });
  });

  it("waits four times as long as its turns take and 10 s, then makes do with three", async () => {
    const { rig, pass, turns, outcome } = rigInHand();
    const read = outcome(collectTurns(rig, 8, 600, null));
    turns(3, 600);
    await pass(20_000);
    // Eight turns take 800 ms.
    expect(read).toMatchObject({ value: { from: 0, to: 3 }, atMs: 13_200 });
  });

  it.each([
    [8, 2],
    [2, 1],
  ])("of %d turns with %d of them is none", async (count, came) => {
    const { rig, pass, turns, outcome } = rigInHand();
    const read = outcome(collectTurns(rig, count, 600, null));
    turns(came, 600);
    await pass(20_000);
    expect(read.is).toBe(`RIG_NO_TURNS Only ${came} of ${count} turns came at 600 rpm.`);
  });

  it("waits no longer once interrupted", async () => {
    const { rig, watch, due, turns, outcome } = rigInHand();
    const read = outcome(collectTurns(rig, 8, 600, null));
    turns(7, 600);
    watch.interrupt(STOPPED);
    turns(1, 600);
    await due();
    expect(read.is).toBe("STOPPED_BY_USER Stopped.");
  });
});

describe("a reading that may end early", () => {
  /** After how many turns, each told with its advance, the reading ends. */
  async function turnsUntil(withinDeg: number, rpm: number, advances: readonly (number | null)[]) {
    const { rig, due, turns, outcome } = rigInHand();
    const read = outcome(collectTurns(rig, 50, rpm, withinDeg));
    for (const [i, advanceDeg] of advances.entries()) {
      turns(1, rpm, advanceDeg);
      await due();
      if (read.is === "done") return i + 1;
    }
    return null;
  }
  const swinging = Array.from({ length: 30 }, (_, i) => (i % 2 === 0 ? 0.1 : -0.1));

  it("ends once the mean is known so well", async () => {
    // Ten turns of ±0.1° have a spread of 0.1054°, a mean of 0.0333°; eleven 0.0315°.
    expect(await turnsUntil(0.034, 600, swinging)).toBe(10);
    expect(await turnsUntil(0.033, 600, swinging)).toBe(11);
    expect(await turnsUntil(0.001, 600, swinging)).toBeNull();
  });

  it("takes a second and eight turns at least", async () => {
    const steady = Array(30).fill(1);
    expect(await turnsUntil(0.1, 600, steady)).toBe(10);
    expect(await turnsUntil(0.1, 150, steady)).toBe(8);
    expect(await turnsUntil(0.1, 480, steady)).toBe(8);
    // Turns that agree to the last digit repeat within nothing at all.
    expect(await turnsUntil(0, 600, steady)).toBe(10);
  });

  it("counts turns with an advance alone", async () => {
    expect(await turnsUntil(0.1, 600, [null, null, null, ...Array(20).fill(1)])).toBe(11);
    expect(await turnsUntil(0.1, 600, Array(30).fill(null))).toBeNull();
  });
});
