// What a run's watch keeps, waits for, calls back and says of the rig's faults (clauses 3.5 and 6).
import { describe, expect, it } from "vitest";
import { uncorrectedRig } from "../../core/angles/knowledge.ts";
import { BobweightError } from "../../core/errors.ts";
import type { Turn } from "../../core/turns.ts";
import { asBobweightError, Watch } from "../../server/run/watch.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import { HELLO, rampTurn } from "../angles/turns.ts";
import { rigInHand, STATE } from "./rigInHand.ts";

const STOPPED = new BobweightError("STOPPED_BY_USER", "Stopped.");
const turn = (k: number): Turn => rampTurn(k, [], { tickHz: HELLO.tickHz });
const line = (vacuumPa: number) => ({
  ...({ type: "vac", sequence: 1, tick: 1, pumpPermille: 0, valve: "control" } as const),
  vacuumPa,
});

describe("a watch of the rig", () => {
  it.each([
    ["alive", "The rig stopped for want of a stay-alive."],
    ["guard", "The guard was opened."],
    ["stop-input", "The stop at the rig was pressed."],
    ["overspeed", "The rig reports overspeed."],
    ["stall", "The rig reports that the spindle does not turn."],
    ["sensor", "The rig reports a fault of its vacuum sensor."],
  ] as const)("says what the fault %s is", (fault, what) => {
    const { watch, state } = rigInHand();
    watch.minds();
    state({ fault, armed: false });
    expect(watch.interruption?.what).toBe(what);
  });

  it("says of a rig that is no longer armed that it did not say why", () => {
    const { watch, state } = rigInHand();
    watch.minds();
    state();
    state({ armed: false });
    expect(watch.interruption?.what).toBe("The rig is no longer armed, and did not say why.");
  });

  it("keeps the latest state, of a rig with a fault too", () => {
    const { watch, state } = rigInHand();
    expect(watch.state).toBeNull();
    state({ sequence: 7 });
    expect(watch.state?.sequence).toBe(7);
    watch.minds();
    state({ sequence: 8, fault: "guard", armed: false });
    expect(watch.state).toMatchObject({ sequence: 8, armed: false });
  });

  it("is interrupted by a lost link", () => {
    const { watch } = rigInHand();
    watch.onLost(new BobweightError("LINK_LOST", "Lost."));
    expect(watch.interruption?.code).toBe("LINK_LOST");
  });

  it("keeps turns and vacuums, the log all of them, and forgets each by itself", () => {
    const { watch } = rigInHand({
      knowledge: { ...uncorrectedRig(HELLO), vacuumOffsetPa: 100, vacuumGain: 2 },
    });
    for (const k of [0, 1, 2]) watch.onTurn(turn(k));
    watch.onVacuum(line(1000));
    watch.onVacuum(line(2000));
    expect(watch.turns.map((one) => one.turn.sequence)).toEqual([0, 1, 2]);
    // As a right sensor would have read: 100 + 2 · 1000.
    expect(watch.vacuums.map(({ vacuumPa }) => vacuumPa)).toEqual([2100, 4100]);
    watch.forgetTurns();
    expect([watch.turns, watch.vacuums.length, watch.log.turns.length]).toEqual([[], 2, 3]);
    watch.forgetVacuums();
    expect(watch.vacuums).toEqual([]);
  });

  it("has no log before the rig has said what it is", () => {
    const watch = new Watch(new VirtualScheduler(), "a", () => {});
    expect(() => watch.onTurn(turn(0))).toThrow("turns before the rig's hello");
  });

  it("calls back once with the next turn, and not at all once that is taken back", () => {
    const { watch } = rigInHand();
    const seen: number[] = [];
    watch.onceTurned((one) => seen.push(one.turn.sequence));
    expect(seen).toEqual([]);
    watch.onTurn(turn(0));
    watch.onTurn(turn(1));
    expect(seen).toEqual([0]);
    watch.onceTurned((one) => seen.push(one.turn.sequence));
    watch.onceTurned(null);
    watch.onTurn(turn(2));
    expect(seen).toEqual([0]);
  });

  it("calls back again where the callback asks for it", () => {
    const { watch } = rigInHand();
    const seen: number[] = [];
    const tell = (one: { turn: { sequence: number } }) => {
      seen.push(one.turn.sequence);
      watch.onceTurned(tell);
    };
    watch.onceTurned(tell);
    for (const k of [0, 1, 2]) watch.onTurn(turn(k));
    expect(seen).toEqual([0, 1, 2]);
  });
});

describe("a wait", () => {
  it("looks at once, and with every turn, vacuum line and state", async () => {
    const { watch, due, outcome, state } = rigInHand();
    let looks = 0;
    const waited = outcome(watch.until(() => (++looks === 5 ? "found" : undefined), 1000));
    expect(looks).toBe(1);
    watch.onTurn(turn(0));
    watch.onVacuum(line(1000));
    state();
    await due();
    expect([looks, waited.is]).toEqual([4, "open"]);
    state();
    await due();
    expect(waited.value).toBe("found");
  });

  it.each(["found", "late", "interrupted"])("looks no more once it is over: %s", async (how) => {
    const { watch, pass, outcome, state } = rigInHand();
    let looks = 0;
    const waited = outcome(
      watch.until(() => {
        looks++;
        return how === "found" && looks === 2 ? true : undefined;
      }, 100),
    );
    if (how === "found") state();
    if (how === "late") await pass(100);
    if (how === "interrupted") watch.interrupt(STOPPED);
    await pass(1);
    expect(waited.is).not.toBe("open");
    const before = looks;
    state();
    await pass(500);
    state();
    expect(looks).toBe(before);
  });

  it("that is over takes nothing from the next one", async () => {
    const { watch, pass, outcome, state } = rigInHand();
    let found = false;
    const first = outcome(watch.until(() => (found ? 1 : undefined), 100));
    found = true;
    state();
    await pass(1);
    expect(first).toMatchObject({ value: 1, atMs: 0 });
    let ready = false;
    const second = outcome(watch.until(() => (ready ? 2 : undefined), 1000));
    await pass(200);
    ready = true;
    state();
    await pass(1);
    expect(second).toMatchObject({ value: 2, atMs: 201 });
  });

  it("begun after an interruption ends at once, without a look", async () => {
    const { watch, due, outcome } = rigInHand();
    watch.interrupt(STOPPED);
    let looks = 0;
    const waited = outcome(watch.until(() => ++looks, 1000));
    await due();
    expect([waited.is, waited.atMs, looks]).toEqual(["STOPPED_BY_USER Stopped.", 0, 0]);
  });

  it("ends with the fault that a state tells, though it would have been content with it", async () => {
    const { watch, due, outcome, state } = rigInHand();
    watch.minds();
    const waited = outcome(watch.until(() => watch.state?.fault, 1000));
    state({ fault: "guard" });
    await due();
    expect(waited.is).toBe("RIG_GUARD_OPEN The guard was opened.");
  });
});

describe("what was thrown", () => {
  it("stays what it is where it has a code, and is our bug else, with its cause", () => {
    expect(asBobweightError(STOPPED)).toBe(STOPPED);
    const cause = new TypeError("ours");
    const bug = asBobweightError(cause);
    expect([bug.code, bug.what, bug.cause]).toEqual(["BUG", "ours.", cause]);
    expect(asBobweightError("a text").what).toBe("a text.");
    expect(asBobweightError({ ...STATE, toString: () => "a thing" }).what).toBe("a thing.");
  });
});
