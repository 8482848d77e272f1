// How the test itself behaves: nothing moves unasked, and it ends with stop whatever happens.
import { describe, expect, it } from "vitest";
import { BobweightError } from "../../core/errors.ts";
import { insidesOf, type Tried, tryRig } from "./standIn.ts";

/** Types of the lines sent, in their order, without what was sent to be dropped. */
function typesSent({ port }: Tried): string[] {
  return port.sent.map((line) => /^[a-z]+/.exec(line)?.[0] ?? "");
}

const lastSent = ({ port }: Tried) => port.sent.at(-1);

describe("consent", () => {
  it("nothing that could move anything is sent without it", async () => {
    const tried = await tryRig({}, { agrees: false });
    const moving = ["arm", "speed", "vacuum", "alive"];
    expect(typesSent(tried).filter((type) => moving.includes(type))).toEqual([]);
    expect(tried.agreed).toBe(false);
    expect(tried.broken).toEqual([]);
    const speeds = tried.findings.find(({ clause }) => clause === "6.5");
    expect(speeds).toMatchObject({ verdict: "not tested", text: "motion was not agreed to" });
    expect(tried.findings.find(({ clause }) => clause === "1.3")?.verdict).toBe("holds");
  });

  it("is asked with the highest speed, after all that needs none", async () => {
    let asked: { rpm: number; sentBefore: number } | null = null;
    const tried = await tryRig(
      {},
      {
        speedMaxRpm: 700,
        agree: (rpm, port) => {
          asked = { rpm, sentBefore: port.sent.length };
          return false;
        },
      },
    );
    expect(asked).toEqual({ rpm: 700, sentBefore: tried.port.sent.length - 1 });
  });

  it("is not asked where the slowest speed is above the one allowed", async () => {
    const tried = await tryRig({ rig: { speedMinRpm: 600 } }, { speedMaxRpm: 500 });
    expect(typesSent(tried)).not.toContain("arm");
    expect(tried.findings.find(({ clause }) => clause === "6.5")?.text).toContain("MINRPM is 600");
  });
});

describe("the end", () => {
  it("is a stop that the rig confirmed", async () => {
    const tried = await tryRig({}, { alone: true });
    expect(lastSent(tried)).toMatch(/^stop,/);
    expect(tried.said).not.toContain("did not confirm");
  });

  it.each([500, 5000, 12_000, 20_000, 30_000])(
    "is a stop at once where it is interrupted after %i ms",
    async (afterMs) => {
      let sentBefore = 0;
      let sentAtOnce: readonly string[] = [];
      const tried = await tryRig(
        {},
        {
          begin: (test, port, scheduler) =>
            scheduler.after(afterMs, () => {
              sentBefore = port.sent.length;
              test.interrupt();
              sentAtOnce = port.sent.slice(sentBefore);
            }),
        },
      );
      expect(tried.ended?.code).toBe("STOPPED_BY_USER");
      // Not only when whoever waits has noticed.
      expect(sentAtOnce).toEqual([expect.stringMatching(/^stop,/)]);
      const after = tried.port.sent.slice(sentBefore);
      expect(after.length).toBeGreaterThan(0);
      expect(after.every((line) => line.startsWith("stop,"))).toBe(true);
      expect(insidesOf(tried.port.inner).plant.inputs.drive).toBeNull();
      expect(tried.findings.length).toBeGreaterThan(40);
    },
  );

  it("is a stop where the link breaks, told as such", async () => {
    const tried = await tryRig(
      {},
      { begin: (_, port, scheduler) => scheduler.after(15_000, () => port.onLost("unplugged")) },
    );
    expect(tried.ended?.code).toBe("LINK_LOST");
    expect(lastSent(tried)).toMatch(/^stop,/);
  });

  it("is told where the rig does not confirm it", async () => {
    let isMute = false;
    const tried = await tryRig(
      { out: () => (body) => (isMute ? [] : [body]) },
      {
        begin: (test, _, scheduler) =>
          scheduler.after(15_000, () => {
            isMute = true;
            test.interrupt();
          }),
      },
    );
    expect(tried.said).toContain("Take the power from it before you touch it.");
  });

  it("is an error where nothing at all comes from the rig", async () => {
    const mute = tryRig({ out: () => () => [] });
    await expect(mute).rejects.toThrow(BobweightError);
    await expect(mute).rejects.toThrow("RIG_NO_HELLO");
  });
});

describe("a person who does nothing", () => {
  it("leaves not tested what was asked of them", async () => {
    const tried = await tryRig({}, { idle: true });
    expect(tried.broken).toEqual([]);
    const guard = tried.findings.find(
      ({ clause, what }) => clause === "6.2" && what === "guard input",
    );
    expect(guard?.text).toBe("nobody did what was asked: open guard");
  });
});

describe("a rig that is not ready", () => {
  it.each([
    ["with its guard open", "guardShut", false, "the guard is open"],
    ["with its stop pressed", "stopPressed", true, "the stop input is pressed"],
  ] as const)("%s is not accused, and not armed", async (_, input, value, why) => {
    const tried = await tryRig({
      board: (_board, plant) => {
        plant[input] = value;
      },
    });
    expect(tried.broken).toEqual([]);
    expect(tried.moved).toBe(false);
    expect(typesSent(tried)).not.toContain("arm");
    expect(tried.findings.find(({ clause }) => clause === "4.3")?.text).toContain(why);
  });

  it("since it boots in the middle of a part, has that part not tested", async () => {
    const tried = await tryRig(
      {},
      {
        alone: true,
        begin: (_, port, scheduler) =>
          scheduler.after(14_000, () => insidesOf(port.inner).reboot()),
      },
    );
    expect(tried.broken).toEqual([]);
    expect(tried.moved).toBe(false);
    const texts = tried.findings.map(({ text }) => text);
    expect(texts).toContain("the board booted in the middle of it");
  });

  it("goes on where all is well", async () => {
    expect((await tryRig({}, { alone: true })).moved).toBe(true);
  });
});

describe("a rig that is not safe to go on with", () => {
  it("is not set in motion again once it ran away", async () => {
    const tried = await tryRig({
      board: (board) => {
        const { speedControl } = board as unknown as {
          speedControl: { goTo(goal: number, ramp: number, now: number): void };
        };
        const goTo = speedControl.goTo.bind(speedControl);
        speedControl.goTo = (goal, ramp, now) => goTo(goal * 3, ramp, now);
      },
    });
    expect(tried.broken).toEqual(["6.5"]);
    const speeds = tried.port.sent.filter((line) => /^speed,\d+,[0-9A-F]+,c?cw,300,/.test(line));
    expect(speeds).toHaveLength(1);
    expect(tried.port.inner.truth().speedRpm).toBeLessThan(1);
  });
});
