// A run that is interrupted, before and after it is armed: nothing goes out any more but the stop (clauses 4.4, 4.7, 7.1).
import { describe, expect, it } from "vitest";
import { TOKEN } from "./rigInHand.ts";
import { type Script, SPARKS, scripted } from "./scriptedRig.ts";

const BY_USER = { ending: "stopped", reason: { code: "STOPPED_BY_USER" } };

/** Plays a run that `interfere` does something to after so many milliseconds. */
async function playWith(
  atMs: number,
  interfere: (one: ReturnType<typeof scripted>) => void,
  script: Script = {},
  changes: Parameters<typeof scripted>[1] = {},
) {
  const one = scripted(script, changes);
  one.scheduler.after(atMs, () => interfere(one));
  return { ...one, end: await one.play() };
}

describe("a stop", () => {
  it.each([
    ["STOPPED_BY_USER", "The run was stopped by the user."],
    ["STOPPED_PAGE_GONE", "The controlling page is gone."],
  ] as const)("by %s goes out at once, again to be sure, and is told", async (code, what) => {
    const { end, heard, alivesMs } = await playWith(1000, ({ run }) => run.stop(code));
    expect(heard().slice(2)).toEqual([
      `2 speed,3,${TOKEN},cw,150,500`,
      "1000 stop,4",
      "1000 stop,5",
    ]);
    expect(alivesMs().at(-1)).toBe(902);
    expect(end).toMatchObject({ ending: "stopped", reason: { code }, restConfirmed: true });
    expect(end.reason?.text).toContain(what);
  });

  it("before the run is carried out leaves it unarmed", async () => {
    const one = scripted();
    await one.scheduler.run(one.run.prepare());
    one.run.stop("STOPPED_BY_USER");
    const end = await one.scheduler.run(one.run.carryOut());
    await one.pass(3000);
    expect(one.rig.heard).toEqual(["0 ask,1", "1 stop,2", "1 stop,3"]);
    // The rig said nothing of its state before the answer; it is waited for.
    expect(end).toMatchObject({ ...BY_USER, restConfirmed: true });
  });

  it("is what the run ended by, though the command in flight failed of it", async () => {
    const one = scripted({ answer: (type) => (type === "arm" ? "nothing" : undefined) });
    one.scheduler.after(100, () => one.run.stop("STOPPED_BY_USER"));
    const end = await one.play();
    expect(end).toMatchObject(BY_USER);
    expect(one.rig.heard).toEqual(["0 ask,1", "1 arm,2", "100 stop,3", "100 stop,4"]);
  });

  it.each(["arm", "speed"])(
    "in the moment that the rig answers %s is the last it hears",
    async (at) => {
      const one = scripted({
        events: SPARKS,
        heard: (type, run) => {
          if (type === at) run.stop("STOPPED_BY_USER");
        },
      });
      expect(await one.play()).toMatchObject(BY_USER);
      const sent = one.rig.heard.map((line) => line.split(/[ ,]/)[1]);
      expect(sent).toEqual([
        ...["ask", "arm"],
        ...(at === "arm" ? [] : ["alive", "speed"]),
        ...["stop", "stop"],
      ]);
    },
  );

  it("asked for twice is told by the first", async () => {
    const { end, heard } = await playWith(1000, ({ run }) => {
      run.stop("STOPPED_PAGE_GONE");
      run.stop("STOPPED_BY_USER");
    });
    expect(end.reason?.code).toBe("STOPPED_PAGE_GONE");
    expect(heard().slice(3)).toEqual(["1000 stop,4", "1000 stop,5", "1000 stop,6"]);
  });

  it("after the link was lost changes nothing", async () => {
    const { end } = await playWith(1000, ({ run, rig }) => {
      rig.onLost("unplugged");
      run.stop("STOPPED_BY_USER");
    });
    expect(end).toMatchObject({ ending: "link lost", reason: { code: "LINK_LOST" } });
  });

  it("after the end sends nothing", async () => {
    const one = scripted({ events: SPARKS });
    await one.play();
    const count = one.rig.heard.length;
    one.run.stop("STOPPED_BY_USER");
    await one.pass(1000);
    expect(one.rig.heard).toHaveLength(count);
  });
});

describe("a run whose rig is gone", () => {
  it("is lost with the link; what can be said is the stop, and no rest is claimed", async () => {
    const { end, rig } = await playWith(1000, (one) => one.rig.onLost("unplugged"));
    expect(end).toMatchObject({ ending: "link lost", reason: { code: "LINK_LOST" } });
    expect(end.restConfirmed).toBe(false);
    expect([rig.heard.at(-1), rig.isOpen]).toEqual(["1000 stop,4", false]);
  });

  it("lost in the moment that it arms hears the stop alone", async () => {
    const one = scripted({
      heard: (type, _, rig) => {
        if (type === "arm") rig.onLost("unplugged");
      },
    });
    expect(await one.play()).toMatchObject({ ending: "link lost", restConfirmed: false });
    expect(one.rig.heard).toEqual(["0 ask,1", "1 arm,2", "2 stop,3"]);
  });

  it.each([
    ["none", "RIG_DISARMED"],
    ["guard", "RIG_GUARD_OPEN"],
    ["alive", "RIG_ALIVE_LOST"],
  ])("disarmed by itself with fault %s is a rig fault, and is stopped", async (fault, code) => {
    const { end, heard, alivesMs } = await playWith(950, ({ rig }) => rig.disarm(fault));
    expect(end).toMatchObject({ ending: "rig fault", reason: { code } });
    expect(heard().slice(3)).toEqual(["950 stop,4"]);
    expect(alivesMs().at(-1)).toBe(902);
  });
});

describe("rest", () => {
  const stopped = (script: Script) =>
    playWith(1000, ({ run }) => run.stop("STOPPED_BY_USER"), script);

  it.each([
    // Looked at every 50 ms from the answer on, which comes at 1001 ms.
    [0, true, 1001],
    [30, true, 1051],
    [1400, true, 2401],
    [1490, true, 2501],
    [1520, false, 2501],
    [5000, false, 2501],
  ])("told %d ms after the stop is confirmed: %s", async (restAfterMs, isConfirmed, endMs) => {
    const { end, toldMs } = await stopped({ restAfterMs });
    expect([end.restConfirmed, toldMs.at(-1)]).toEqual([isConfirmed, endMs]);
  });

  it.each([
    [{ armed: true }, false],
    [{ setRpm: 150 }, false],
    [{ armed: true, setRpm: 150 }, false],
    [{ armed: false, setRpm: 0 }, true],
  ])("takes no drive and no token: %j", async (restless, isConfirmed) => {
    expect((await stopped({ restless })).end.restConfirmed).toBe(isConfirmed);
  });
});

describe("the live view", () => {
  const livesOf = ({ documents }: ReturnType<typeof scripted>) =>
    documents.flatMap((document) => (document.type === "live" ? [document.runS] : []));

  it("comes with the first turn after each second, and no more once the run stops", async () => {
    // Turns without sparks from 1.203 s on, one every 0.4 s; they coast on until 1.4 s after the stop.
    const one = scripted({ events: "", restAfterMs: 1400 }, { liveEveryMs: 1000 });
    const end = await one.play();
    expect(end).toMatchObject({ ending: "stopped", reason: { code: "NO_SPARKS" } });
    expect(livesOf(one)).toEqual([1.202, 2.402, 3.602, 4.802, 6.002]);
    expect(one.documents.find(({ type }) => type === "live")).toMatchObject({
      ...{ speedRpm: 150, advanceDeg: null, vacuumPa: null },
    });
  });

  it("that waits for a turn when the run is stopped waits no more", async () => {
    const one = await playWith(
      2300,
      ({ run }) => run.stop("STOPPED_BY_USER"),
      { events: "", restAfterMs: 1400 },
      { liveEveryMs: 1000 },
    );
    expect(livesOf(one)).toEqual([1.202]);
  });

  it("is none where none is wanted", async () => {
    const one = scripted({ events: "" });
    await one.play();
    expect(livesOf(one)).toEqual([]);
  });
});
