// Speeds: what is asked of the rig (clause 4.1), when a speed counts as reached, and when waiting ends.
import { describe, expect, it } from "vitest";
import { BobweightError } from "../../core/errors.ts";
import { approachSpeed, goToSpeed, settle, speedToleranceRpm } from "../../server/run/moves.ts";
import { rigInHand, TOKEN } from "./rigInHand.ts";

const STOPPED = new BobweightError("STOPPED_BY_USER", "Stopped.");

describe("going to a speed", () => {
  it("asks for it by the plan's ramp, and is there after three turns at it", async () => {
    const { rig, sent, due, turns, outcome } = rigInHand();
    turns(3, 600);
    const gone = outcome(goToSpeed(rig, 600));
    await due();
    expect(sent).toEqual([`speed,1,${TOKEN},cw,600,500`]);
    // The three turns from before are of another way.
    expect(gone.is).toBe("open");
    turns(1, 300);
    turns(2, 600);
    await due();
    expect(gone.is).toBe("open");
    turns(1, 600);
    await due();
    expect(gone.is).toBe("done");
    expect(sent).toHaveLength(1);
  });

  it("looks at 0.15 s of turns where three take less", async () => {
    const { rig, due, turns, outcome } = rigInHand();
    const gone = outcome(goToSpeed(rig, 4000));
    await due();
    // A turn takes 15 ms.
    turns(9, 4000);
    await due();
    expect(gone.is).toBe("open");
    turns(1, 4000);
    await due();
    expect(gone.is).toBe("done");
  });

  it.each([
    [600, 603, true],
    [600, 597, true],
    [600, 603.1, false],
    [600, 596.9, false],
    [150, 152, true],
    [150, 148, true],
    [150, 152.1, false],
  ])("of %d rpm takes %d rpm for it: %s", async (targetRpm, rpm, isReached) => {
    const { rig, due, turns, outcome } = rigInHand();
    const gone = outcome(goToSpeed(rig, targetRpm));
    await due();
    // A hair inside, since rounding would decide at the limit itself.
    turns(4, rpm > targetRpm ? rpm - 1e-6 : rpm + 1e-6);
    await due();
    expect(gone.is).toBe(isReached ? "done" : "open");
  });

  it.each([148, 152])(
    "of %d rpm takes 150 rpm for it, 2 rpm off to the tick",
    async (targetRpm) => {
      const { rig, due, turns, outcome } = rigInHand();
      const gone = outcome(goToSpeed(rig, targetRpm));
      await due();
      turns(3, 150);
      await due();
      expect(gone.is).toBe("done");
    },
  );

  it("takes half a per cent for the speed, or 2 rpm where that is more", () => {
    expect([150, 400, 1000].map(speedToleranceRpm)).toEqual([2, 2, 5]);
  });

  it("gives up after ramp, six turns and 15 s, and says whether any turns came", async () => {
    // 600 rpm by 500 rpm/s: 1.2 s; six turns: 0.6 s.
    const still = rigInHand();
    const none = still.outcome(goToSpeed(still.rig, 600));
    await still.pass(20_000);
    expect(none).toMatchObject({
      is: "RIG_NO_TURNS No turns were seen on the way to 600 rpm.",
      atMs: 16_800,
    });
    const slow = rigInHand();
    const late = slow.outcome(goToSpeed(slow.rig, 600));
    await slow.due();
    slow.turns(5, 400);
    slow.turns(1, 500);
    await slow.pass(20_000);
    expect(late).toMatchObject({
      is: "RIG_SPEED_NOT_REACHED The spindle should turn at 600 rpm and turns at 500 rpm.",
      atMs: 16_800,
    });
  });

  it("asks for nothing after an interruption", async () => {
    const { rig, watch, sent, due, outcome } = rigInHand();
    watch.interrupt(STOPPED);
    const moves = [goToSpeed(rig, 600), approachSpeed(rig, 600), settle(rig)].map(outcome);
    await due();
    expect(moves.map(({ is }) => is)).toEqual(Array(3).fill("STOPPED_BY_USER Stopped."));
    expect(sent).toEqual([]);
  });
});

describe("approaching a reading's speed", () => {
  it.each([
    ["up", 500, 980],
    ["down", 1500, 1020],
  ])(
    "%s goes all but 2 %% by the plan's ramp, the rest by a tenth of it",
    async (_, setRpm, shortRpm) => {
      const { rig, sent, due, state, turns, outcome } = rigInHand();
      state({ setRpm });
      const gone = outcome(approachSpeed(rig, 1000));
      await due();
      expect(sent).toEqual([`speed,1,${TOKEN},cw,${shortRpm},500`]);
      turns(3, setRpm);
      await due();
      expect(sent).toHaveLength(1);
      // One turn at it is enough here.
      turns(1, shortRpm);
      await due();
      expect(sent.slice(1)).toEqual([`speed,2,${TOKEN},cw,1000,50`]);
      turns(1, 1000);
      await due();
      expect(gone.is).toBe("open");
      turns(2, 1000);
      await due();
      expect([gone.is, sent.length]).toEqual(["done", 2]);
    },
  );

  it.each([
    ["from within 10 rpm", 290, 300, 500, "300,50"],
    ["from 11 rpm below", 289, 300, 500, "290,500"],
    ["from 11 rpm above", 311, 300, 500, "310,500"],
    ["from within 2 %", 1980, 2000, 500, "2000,50"],
    ["at no less than 20 rpm/s", 290, 300, 100, "300,20"],
    ["at no more than the plan's ramp", 290, 300, 15, "300,15"],
  ])("%s asks first for what is due", async (_, setRpm, targetRpm, rampRpmPerS, first) => {
    const { rig, sent, due, state, outcome } = rigInHand({ rampRpmPerS });
    state({ setRpm });
    outcome(approachSpeed(rig, targetRpm));
    await due();
    expect(sent).toEqual([`speed,1,${TOKEN},cw,${first}`]);
  });

  it("begins from rest where no state has come", async () => {
    const { rig, sent, due, outcome } = rigInHand();
    outcome(approachSpeed(rig, 1000));
    await due();
    expect(sent).toEqual([`speed,1,${TOKEN},cw,980,500`]);
  });

  it("goes no farther once interrupted on the way", async () => {
    const { rig, watch, sent, due, turns, outcome } = rigInHand();
    const gone = outcome(approachSpeed(rig, 1000));
    await due();
    watch.interrupt(STOPPED);
    turns(3, 980);
    await due();
    expect([gone.is, sent.length]).toEqual(["STOPPED_BY_USER Stopped.", 1]);
  });

  it("goes no farther where the interruption comes with the turn that is there", async () => {
    const { rig, watch, sent, due, turns, outcome } = rigInHand();
    const gone = outcome(approachSpeed(rig, 1000));
    await due();
    turns(1, 980);
    watch.interrupt(STOPPED);
    await due();
    expect([gone.is, sent.length]).toEqual(["STOPPED_BY_USER Stopped.", 1]);
  });
});

describe("settling", () => {
  const settling = () => {
    const one = rigInHand();
    const settled = one.outcome(settle(one.rig));
    return { ...one, settled };
  };

  it.each([
    ["at once without advance", [null, null, null], [null, null, null], true],
    ["at a drift of 0.04°", [0, 0, 0], [0.04, 0.04, 0.04], true],
    ["not at 0.041°", [0, 0, 0], [0.041, 0.041, 0.041], false],
    ["not at 0.041° the other way", [0.041, 0.041, 0.041], [0, 0, 0], false],
    // Two spreads of 0.1° in three turns each: 0.1 · √2 / √3 = 0.0816°, and 0.04° more.
    ["at 0.12° in noise", [-0.1, 0, 0.1], [0.02, 0.12, 0.22], true],
    ["not at 0.123° in noise", [-0.1, 0, 0.1], [0.023, 0.123, 0.223], false],
    ["by the events that there are", [null, 0, 0], [0, null, 0], true],
  ] as const)("ends %s", async (_, earlier, later, isSettled) => {
    const { settled, due, turns } = settling();
    for (const advanceDeg of [...earlier, ...later].slice(0, 5)) turns(1, 600, advanceDeg);
    await due();
    expect(settled.is).toBe("open");
    turns(1, 600, later[2]);
    await due();
    expect(settled.is).toBe(isSettled ? "done" : "open");
  });

  it("looks at the latest turns", async () => {
    const { settled, due, turns } = settling();
    turns(3, 600, 5);
    turns(3, 600, 1);
    await due();
    expect(settled.is).toBe("open");
    turns(3, 600, 1);
    await due();
    expect(settled.is).toBe("done");
  });

  it("wants twice 0.15 s of turns", async () => {
    const { settled, due, turns } = settling();
    turns(19, 4000);
    await due();
    expect(settled.is).toBe("open");
    turns(1, 4000);
    await due();
    expect(settled.is).toBe("done");
  });

  it("goes on after 6 s, since a reading shows its spread", async () => {
    const { settled, due, pass, turns } = settling();
    turns(3, 600, 0);
    turns(3, 600, 3);
    await due();
    await pass(7000);
    expect(settled).toMatchObject({ is: "done", atMs: 6000 });
  });
});
