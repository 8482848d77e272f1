// A run from hello to rest: what goes to the rig and when, to the millisecond, and what is told of it.
import { describe, expect, it } from "vitest";
import type { EndDocument } from "../../core/documents.ts";
import { BobweightError, type ErrorCode } from "../../core/errors.ts";
import { TOKEN } from "./rigInHand.ts";
import { PLAN, type Script, SPARKS, scripted, UNIT } from "./scriptedRig.ts";

/** Nothing at all may follow the stop, signs of life neither. */
function expectStopLast({ rig }: ReturnType<typeof scripted>): void {
  expect(rig.heard.at(-1)).toMatch(/ stop,\d+$/);
  expect(rig.isOpen).toBe(false);
}

describe("what a run prepares", () => {
  it("is told by one start document; nothing but the question went to the rig", async () => {
    const bench = { id: "b", name: "bench" };
    const one = scripted({}, { afterRecordId: "before", bench });
    await one.scheduler.run(one.run.prepare());
    expect(one.documents).toHaveLength(1);
    expect(one.documents[0]).toMatchObject({
      ...{ type: "start", recordId: "record", startedUtc: "2000-01-01T00:00:00.000Z" },
      ...{ unitFile: UNIT, plan: PLAN, engineVersion: "9", afterRecordId: "before", bench },
      rig: { name: "scripted", simulated: true, hello: { board: "test" } },
    });
    // 0.3 s up and 1.2 s of turns, 1.2 s settling and 3.2 s reading; the return without the ramp.
    expect(one.documents[0]).toHaveProperty("expectedS", expect.closeTo(11.5, 6));
    await one.pass(1000);
    expect(one.rig.heard).toEqual(["0 ask,1"]);
    // From the start document on every byte is kept.
    expect(one.raw.length).toBeGreaterThan(8);
  });

  it("names no bench where nothing is kept", async () => {
    const one = scripted();
    await one.scheduler.run(one.run.prepare());
    expect(one.documents[0]).not.toHaveProperty("bench");
    expect(one.documents[0]).toHaveProperty("afterRecordId", null);
  });

  it.each(["planFor", "describeRig", "record"])(
    "closes the port where it fails: %s",
    async (step) => {
      const refused = new BobweightError("PLAN_BEYOND_LIMITS", "Too fast.");
      const one = scripted(
        {},
        {
          [step]: () => {
            throw refused;
          },
        },
      );
      await expect(one.scheduler.run(one.run.prepare())).rejects.toBe(refused);
      expect([one.rig.isOpen, one.rig.heard, one.documents]).toEqual([false, ["0 ask,1"], []]);
      await expect(one.run.carryOut()).rejects.toThrow("carryOut before prepare");
      expect(one.rig.heard).toHaveLength(1);
    },
  );
});

describe("a run", () => {
  it("arms, gives signs of life, moves, and ends with a stop", async () => {
    const one = scripted({ events: SPARKS });
    const end = await one.play();
    // To the reference; the gentle way to the return, which is a tenth of the ramp.
    expect(one.heard().map((line) => line.replace(/^\d+ /, ""))).toEqual([
      ...["ask,1", "arm,2", `speed,3,${TOKEN},cw,150,500`, `speed,4,${TOKEN},cw,150,50`, "stop,5"],
    ]);
    expect(one.rig.heard.slice(1, 4)).toEqual([
      ...["1 arm,2", `2 alive,${TOKEN}`, `2 speed,3,${TOKEN},cw,150,500`],
    ]);
    expect(one.alivesMs().slice(0, 3)).toEqual([2, 102, 202]);
    expect(end).toMatchObject({ ending: "completed", reason: null, restConfirmed: true });
    expect(end).toMatchObject({ findings: null, mechanism: null, link: { linesBad: 0 } });
    expect(end.endedUtc).toBe("2000-01-01T00:00:00.000Z");
    expect(end.link.turnsGood).toBeGreaterThan(16);
    const types = ["start", "step", "point", "step", "point", "final", "end"];
    expect([one.types(), one.kept]).toEqual([types, types.slice(1)]);
    expectStopLast(one);
  });

  it("says what is wrong where it is asked to", async () => {
    const end = await scripted({ events: SPARKS }, { explains: true }).play();
    expect(end.findings).not.toBeNull();
    expect(end.mechanism).not.toBeNull();
  });

  it("without an end that can be kept is at rest first, and tells it all the same", async () => {
    const full = new BobweightError("STORE_FAILED", "Full.");
    const nothing = () => {};
    const fails = () => {
      throw full;
    };
    const one = scripted({}, { record: () => ({ append: nothing, raw: nothing, end: fails }) });
    await expect(one.play()).rejects.toBe(full);
    expect(one.documents.at(-1)).toMatchObject({ type: "end", restConfirmed: true });
    expectStopLast(one);
  });

  it("whose last readings cannot be kept is stopped, not completed", async () => {
    const one = scripted(
      { events: SPARKS },
      {
        record: () => ({
          append: ({ type }) => {
            if (type === "final") throw new BobweightError("STORE_FAILED", "Full.");
          },
          raw: () => {},
          end: () => {},
        }),
      },
    );
    const end = await one.play();
    expect(end).toMatchObject({ ending: "stopped", reason: { code: "STORE_FAILED" } });
    expect(end.restConfirmed).toBe(true);
    expectStopLast(one);
  });

  it("gives no sign of life while the user gives none (clause 4.8)", async () => {
    const one = scripted({ events: SPARKS }, { isFresh: () => false });
    await one.play();
    expect(one.alivesMs()).toEqual([]);
  });
});

describe("a run that does not come to move", () => {
  it.each([
    ["guard-open", "RIG_GUARD_OPEN"],
    ["stop-input", "RIG_STOP_INPUT"],
    ["latched", "RIG_REFUSED"],
  ])("is refused the token: %s (clauses 5.3, 5.4)", async (refusal, code) => {
    const one = scripted({
      answer: (type, number) => (type === "arm" ? `no,${number},${refusal}` : undefined),
    });
    const end = await one.play();
    expect(end).toMatchObject({ ending: "rig fault", reason: { code }, restConfirmed: true });
    expect(one.rig.heard).toEqual(["0 ask,1", "1 arm,2", "2 stop,3"]);
    expect(one.types()).toEqual(["start", "end"]);
  });

  it("is armed without a token", async () => {
    const one = scripted({
      answer: (type, number) => (type === "arm" ? `ok,${number}` : undefined),
    });
    const end = await one.play();
    expect(end).toMatchObject({ ending: "rig fault", reason: { code: "RIG_REFUSED" } });
    expect(end.reason?.text).toContain("The rig armed without a token.");
    expect(one.rig.heard).toEqual(["0 ask,1", "1 arm,2", "2 stop,3"]);
  });

  it("cannot keep the bytes: the first one told is the end of it", async () => {
    const one = scripted(
      {},
      {
        record: () => ({
          append: () => {},
          raw: () => {
            throw new BobweightError("STORE_FAILED", "Full.");
          },
          end: () => {},
        }),
      },
    );
    const end = await one.play();
    expect(end).toMatchObject({ ending: "stopped", reason: { code: "STORE_FAILED" } });
    expect(one.rig.heard).toEqual(["0 ask,1", "1 arm,2", "2 stop,3"]);
  });
});

describe("how a run ended", () => {
  /** With an error of this code on the way, once it is armed. */
  async function endBy(error: Error, script: Script = {}): Promise<EndDocument> {
    const one = scripted(script, {
      record: () => ({
        append: ({ type }) => {
          if (type === "step") throw error;
        },
        raw: () => {},
        end: () => {},
      }),
    });
    const end = await one.play();
    expect(one.heard()).toEqual(["0 ask,1", "1 arm,2", "2 stop,3"]);
    expect(end.restConfirmed).toBe(true);
    expectStopLast(one);
    return end;
  }

  it.each<[ErrorCode, EndDocument["ending"]]>([
    ["STOPPED_BY_USER", "stopped"],
    ["STOPPED_PAGE_GONE", "stopped"],
    ["ROTATION_DOUBTFUL", "stopped"],
    ["NO_SPARKS", "stopped"],
    ["LOBES_UNKNOWN", "stopped"],
    ["STORE_FAILED", "stopped"],
    ["BUG", "stopped"],
    ["LINK_LOST", "link lost"],
    ["RIG_REPLY_TIMEOUT", "link lost"],
    ["RIG_REFUSED", "rig fault"],
    ["RIG_SPEED_NOT_REACHED", "rig fault"],
    ["RIG_SENSOR", "rig fault"],
    ["RIG_REBOOTED", "rig fault"],
  ])("by %s is called %s, and the rig is stopped", async (code, ending) => {
    expect(await endBy(new BobweightError(code, "So."))).toMatchObject({
      ending,
      reason: { code, text: expect.stringContaining("So.") },
    });
  });

  it("by what has no code is our bug", async () => {
    const end = await endBy(new TypeError("ours"));
    expect(end).toMatchObject({ ending: "stopped", reason: { code: "BUG" } });
    expect(end.reason?.text).toContain("ours.");
  });
});
