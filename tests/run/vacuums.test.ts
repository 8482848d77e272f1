// Vacuums: when one counts as reached, when it is given up, and venting (clauses 3.4, 4.1, 5.9).
import { describe, expect, it } from "vitest";
import { uncorrectedRig } from "../../core/angles/knowledge.ts";
import { BobweightError } from "../../core/errors.ts";
import { goToVacuum, vent } from "../../server/run/moves.ts";
import { HELLO } from "../angles/turns.ts";
import { rigInHand, TOKEN } from "./rigInHand.ts";

const STOPPED = new BobweightError("STOPPED_BY_USER", "Stopped.");

describe("going to a vacuum", () => {
  const going = (targetPa: number, knowledge = uncorrectedRig(HELLO)) => {
    const one = rigInHand({ knowledge });
    one.turns(2, 600);
    one.vacuums(6, targetPa);
    const gone = one.outcome(goToVacuum(one.rig, targetPa));
    return { ...one, gone };
  };

  it.each([
    [20_000, 20_200, 20_201],
    [20_000, 19_800, 19_799],
    [10_000, 10_150, 10_151],
  ])(
    "of %d Pa is there after six lines within a hundredth or 150 Pa",
    async (targetPa, near, far) => {
      const { gone, watch, sent, due, vacuums } = going(targetPa);
      await due();
      expect([gone.is, sent]).toEqual(["open", [`vacuum,1,${TOKEN},${targetPa}`]]);
      vacuums(3, near);
      vacuums(1, far);
      vacuums(5, near);
      await due();
      expect(gone.is).toBe("open");
      expect(watch.turns).toHaveLength(2);
      vacuums(1, near, 300);
      await due();
      expect(gone.value).toEqual({ reached: true, vacuumPa: near, pumpEffort: 0.3 });
      // What came on the way says nothing of where the plate rests.
      expect(watch.turns).toEqual([]);
    },
  );

  it("asks for what the rig's sensor reads there", async () => {
    // (20000 − 100) / 1.01 = 19703, to the pascal.
    const off = { ...uncorrectedRig(HELLO), vacuumOffsetPa: 100, vacuumGain: 1.01 };
    const { sent, gone, due, vacuums } = going(20_000, off);
    await due();
    expect(sent).toEqual([`vacuum,1,${TOKEN},19703`]);
    vacuums(6, 19_703);
    await due();
    expect(gone.value).toMatchObject({ reached: true });
  });

  it("gives up after 20 s, and tells how far it came", async () => {
    const { gone, pass, due, vacuums } = going(20_000);
    await due();
    vacuums(100, 12_000, 800);
    await pass(25_000);
    expect(gone).toMatchObject({
      value: { reached: false, vacuumPa: 12_000, pumpEffort: 0.8 },
      atMs: 20_000,
    });
  });

  it("is a fault of the sensor where no line comes", async () => {
    const { gone, pass } = going(20_000);
    await pass(25_000);
    expect(gone).toMatchObject({
      is: "RIG_SENSOR No vacuum readings come from the rig.",
      atMs: 20_000,
    });
  });

  it("sends nothing after an interruption, and waits for nothing", async () => {
    const { rig, watch, sent, due, outcome } = rigInHand();
    watch.interrupt(STOPPED);
    const moves = [goToVacuum(rig, 20_000), goToVacuum(rig, 0), vent(rig)].map(outcome);
    await due();
    expect(moves.map(({ is }) => is)).toEqual(Array(3).fill("STOPPED_BY_USER Stopped."));
    expect(sent).toEqual([]);
  });
});

describe("a vacuum that will not come", () => {
  const pumping = async (
    lines: readonly (readonly [count: number, pa: number, pump: number])[],
  ) => {
    const { rig, due, vacuums, outcome } = rigInHand();
    const gone = outcome(goToVacuum(rig, 20_000));
    await due();
    for (const [count, vacuumPa, pumpPermille] of lines) vacuums(count, vacuumPa, pumpPermille);
    await due();
    return gone;
  };

  it("is given up after 75 lines of full drive", async () => {
    expect((await pumping([[74, 5000, 1000]])).is).toBe("open");
    expect((await pumping([[75, 5000, 1000]])).value).toEqual({
      reached: false,
      vacuumPa: 5000,
      pumpEffort: 1,
    });
  });

  it.each<[string, readonly (readonly [number, number, number])[], boolean]>([
    [
      "rose by less than 2 %",
      [
        [74, 5000, 1000],
        [1, 5399, 1000],
      ],
      true,
    ],
    [
      "rose by 2 %",
      [
        [74, 5000, 1000],
        [1, 5400, 1000],
      ],
      false,
    ],
    [
      "fell",
      [
        [74, 5000, 1000],
        [1, 4000, 1000],
      ],
      true,
    ],
    [
      "was not pumped at full drive throughout",
      [
        [1, 5000, 999],
        [74, 5000, 1000],
      ],
      false,
    ],
    [
      "was so in the latest 75",
      [
        [10, 1000, 500],
        [75, 5000, 1000],
      ],
      true,
    ],
    ["stands above the target", [[75, 21_000, 1000]], false],
    [
      "came down to the target",
      [
        [74, 25_000, 1000],
        [1, 20_000, 1000],
      ],
      false,
    ],
  ])("where it %s: given up %s", async (_, lines, isGivenUp) => {
    expect((await pumping(lines)).is).toBe(isGivenUp ? "done" : "open");
  });
});

describe("venting (clause 4.1)", () => {
  it("needs no token, and waits until less than 500 Pa are left", async () => {
    const { rig, sent, due, vacuums, outcome } = rigInHand();
    vacuums(1, 20_000);
    const vented = outcome(vent(rig));
    await due();
    expect(sent).toEqual(["vent,1"]);
    vacuums(1, 500);
    await due();
    expect(vented.is).toBe("open");
    vacuums(1, 499);
    await due();
    expect(vented.is).toBe("done");
  });

  it("goes on after 10 s", async () => {
    const { rig, due, pass, vacuums, outcome } = rigInHand();
    vacuums(1, 20_000);
    const vented = outcome(vent(rig));
    await due();
    await pass(11_000);
    expect(vented).toMatchObject({ is: "done", atMs: 10_000 });
  });

  it("waits for nothing on a rig that sends no vacuums", async () => {
    const { rig, due, outcome } = rigInHand();
    const vented = outcome(vent(rig));
    await due();
    expect(vented).toMatchObject({ is: "done", atMs: 0 });
  });

  it("is how no vacuum is asked for, which the rig would refuse (clause 5.9)", async () => {
    const { rig, watch, sent, due, turns, outcome } = rigInHand();
    turns(3, 600);
    const gone = outcome(goToVacuum(rig, 0));
    await due();
    expect(sent).toEqual(["vent,1"]);
    expect(gone.value).toEqual({ reached: true, vacuumPa: 0, pumpEffort: 0 });
    expect(watch.turns).toEqual([]);
  });
});
