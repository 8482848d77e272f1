// What the link sends, and when: repeats, stops, signs of life and hello, to the millisecond of part 4 and 6 of the protocol.
import { describe, expect, it } from "vitest";
import { formatRigLine, type Hello } from "../../core/codec/rigLines.ts";
import { RigLink } from "../../server/link/rigLink.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import { HELLO } from "../angles/turns.ts";
import { LineRig, STATE } from "./lineRig.ts";
import { outcome } from "./outcome.ts";

const TOKEN = "0A1B2C3D";
/** A rig that says nothing of itself but hello; what it hears stands with the time. */
class SilentRig extends LineRig {
  isClosed = false;
  /** Whether it answers `ask` with the number asked for, and what else it says then. */
  hello: ((number: number) => Hello) | null = (ask) => ({ ...HELLO, ask });
  private readonly scheduler: VirtualScheduler;

  constructor(scheduler: VirtualScheduler) {
    super();
    this.scheduler = scheduler;
  }

  override async close() {
    this.isClosed = true;
  }

  protected override hear(body: string) {
    this.heard.push(`${this.scheduler.nowMs()} ${body}`);
    const [type, number] = body.split(",");
    if (type !== "ask" || this.hello === null) return;
    const { hello } = this;
    this.scheduler.after(1, () => this.say(formatRigLine(hello(Number(number)))));
  }
}

function bench() {
  const scheduler = new VirtualScheduler();
  const rig = new SilentRig(scheduler);
  const lost: string[] = [];
  const link = new RigLink(rig, scheduler, {
    onTurn: () => {},
    onVacuum: () => {},
    onState: () => {},
    onRaw: () => {},
    onLost: ({ code }) => lost.push(code),
  });
  let sequence = 0;
  /** So much time, with news of the rig's state in it. */
  const pass = (ms: number) =>
    scheduler.run(
      new Promise<void>((resolve) => {
        const news = () =>
          rig.say(formatRigLine({ ...STATE, sequence: ++sequence, tick: sequence }));
        for (let at = 100; at < ms; at += 100) scheduler.after(at, news);
        scheduler.after(ms, resolve);
      }),
    );
  return { scheduler, rig, link, lost, pass };
}

async function connected() {
  const one = bench();
  await one.scheduler.run(one.link.connect());
  one.rig.heard.length = 0;
  const startMs = one.scheduler.nowMs();
  /** What the rig heard, with milliseconds since the connection. */
  const heard = () =>
    one.rig.heard.map((line) => {
      const [ms = "", body = ""] = line.split(" ");
      return `${Number(ms) - startMs} ${body}`;
    });
  return { ...one, heard };
}

describe("a command (clause 4.7)", () => {
  it("is repeated every 250 ms, twice, and then given up", async () => {
    const { link, pass, heard } = await connected();
    const armed = outcome(link.command({ type: "arm" }));
    await pass(749);
    expect(heard()).toEqual(["0 arm,2", "250 arm,2", "500 arm,2"]);
    expect([armed.is, link.counts.commandRepeats]).toEqual(["open", 2]);
    await pass(1);
    await pass(1);
    expect(armed.is).toBe('RIG_REPLY_TIMEOUT No reply to "arm" within 250 ms, sent 3 times.');
    await pass(1000);
    expect(heard()).toHaveLength(3);
  });

  it("is not repeated once it is answered, by its own number alone", async () => {
    const { rig, link, pass, heard } = await connected();
    const armed = outcome(link.command({ type: "arm" }));
    await pass(10);
    rig.say("ok,1,FFFFFFFF", "no,3,latched");
    await pass(10);
    expect(armed.is).toBe("open");
    rig.say(`ok,2,${TOKEN}`);
    await pass(1000);
    expect([armed.is, heard()]).toEqual([`done ${TOKEN}`, ["0 arm,2"]]);
    expect(link.counts.commandRepeats).toBe(0);
  });

  it("waits for the one before it", async () => {
    const { rig, link, pass, heard } = await connected();
    outcome(link.command({ type: "vent" }));
    outcome(link.command({ type: "vacuum", token: TOKEN, vacuumPa: 20_000 }));
    await pass(100);
    expect(heard()).toEqual(["0 vent,2"]);
    rig.say("ok,2");
    await pass(1);
    expect(heard()).toEqual(["0 vent,2", `100 vacuum,3,${TOKEN},20000`]);
  });

  it.each([
    ["guard-open", "RIG_GUARD_OPEN"],
    ["stop-input", "RIG_STOP_INPUT"],
    ["latched", "RIG_REFUSED"],
  ])("refused for %s is an error of its own", async (reason, code) => {
    const { rig, link, pass } = await connected();
    const set = outcome(link.command({ type: "vacuum", token: TOKEN, vacuumPa: 20_000 }));
    await pass(1);
    rig.say(`no,2,${reason}`);
    await pass(1);
    expect(set.is).toMatch(new RegExp(`^${code} The rig refused "set vacuum 20000 Pa"`));
  });

  it("says which speed was not answered", async () => {
    const { link, pass } = await connected();
    const speed = { type: "speed", token: TOKEN, direction: "cw", rampRpmPerS: 100 } as const;
    const set = outcome(link.command({ ...speed, speedRpm: 600 }));
    await pass(751);
    expect(set.is).toContain('No reply to "set speed 600 rpm"');
  });
});

describe("a stop", () => {
  it("goes before all that waits, which is never sent", async () => {
    const { rig, link, pass, heard } = await connected();
    const first = outcome(link.command({ type: "vent" }));
    const speed = { type: "speed", token: TOKEN, direction: "cw", rampRpmPerS: 100 } as const;
    const waiting = outcome(link.command({ ...speed, speedRpm: 600 }));
    await pass(10);
    const stopped = outcome(link.stop());
    await pass(10);
    expect(heard()).toEqual(["0 vent,2", "10 stop,3"]);
    rig.say("ok,2", "ok,3");
    await pass(1000);
    expect(heard()).toEqual(["0 vent,2", "10 stop,3"]);
    const givenUp = "RIG_REPLY_TIMEOUT The command was given up for a stop.";
    expect([first.is, waiting.is, stopped.is]).toEqual([givenUp, givenUp, "done undefined"]);
    // What is asked for afterwards is asked anew.
    outcome(link.command({ type: "arm" }));
    await pass(1);
    expect(heard().at(-1)).toBe("1020 arm,4");
  });

  it("ends the signs of life at once", async () => {
    const { rig, link, pass, heard } = await connected();
    link.keepAlive(TOKEN, () => true);
    await pass(250);
    outcome(link.stop());
    rig.say("ok,2");
    await pass(1000);
    const alive = `alive,${TOKEN}`;
    expect(heard().slice(0, 4)).toEqual([
      `0 ${alive}`,
      `100 ${alive}`,
      `200 ${alive}`,
      "250 stop,2",
    ]);
    expect(heard().filter((line) => line.includes("alive"))).toHaveLength(3);
  });

  it("is sent where the link is lost, and nothing after it", async () => {
    const { rig, link, lost, pass, heard } = await connected();
    const waiting = outcome(link.command({ type: "vent" }));
    await pass(10);
    link.keepAlive(TOKEN, () => true);
    rig.onLost("unplugged");
    await pass(2000);
    expect(heard()).toEqual(["0 vent,2", `10 alive,${TOKEN}`, "10 stop,3"]);
    expect([waiting.is, lost]).toEqual(["LINK_LOST The link broke: unplugged.", ["LINK_LOST"]]);
    rig.onLost("again");
    expect([lost.length, heard().length]).toEqual([1, 3]);
  });
});

describe("signs of life", () => {
  it("go out only while the user is fresh, and come back with them", async () => {
    const { link, pass, heard } = await connected();
    let fresh = true;
    link.keepAlive(TOKEN, () => fresh);
    await pass(150);
    fresh = false;
    await pass(300);
    fresh = true;
    await pass(100);
    expect(heard().map((line) => line.split(" ")[0])).toEqual(["0", "100", "500"]);
  });

  it("of one token end where those of another begin, and with the link", async () => {
    const { rig, link, pass, heard } = await connected();
    link.keepAlive(TOKEN, () => true);
    await pass(50);
    link.keepAlive("FFFFFFFF", () => true);
    await pass(99);
    expect(heard()).toEqual([`0 alive,${TOKEN}`, "50 alive,FFFFFFFF"]);
    await link.close();
    await pass(1000);
    expect([heard().length, rig.isClosed]).toEqual([2, true]);
  });
});

describe("hello", () => {
  it("is asked for every 250 ms for six seconds, and no longer", async () => {
    const { scheduler, rig, link, pass } = bench();
    rig.hello = null;
    const asked = outcome(link.connect());
    await pass(1);
    rig.say("vac,1,2,3,1001,vent");
    await pass(7000);
    expect(rig.heard.slice(0, 3)).toEqual(["0 ask,1", "250 ask,2", "500 ask,3"]);
    expect(rig.heard).toHaveLength(25);
    expect(asked.is).toMatch(/^RIG_NO_HELLO No hello from the rig within 6 s/);
    expect(scheduler.nowMs()).toBeGreaterThan(7000);
  });

  it("counts only as the answer to the last question", async () => {
    const { rig, link, pass } = bench();
    rig.hello = () => ({ ...HELLO, ask: 0 });
    const asked = outcome(link.connect());
    await pass(300);
    expect(asked.is).toBe("open");
    rig.hello = (ask) => ({ ...HELLO, ask });
    await pass(300);
    expect(asked.is).toMatch(/^done/);
    expect(rig.heard).toEqual(["0 ask,1", "250 ask,2", "500 ask,3"].slice(0, rig.heard.length));
  });

  it.each([{ version: 2 }, { version: 0 }, { indexesPerTurn: 2 }])(
    "of a rig with %j is refused",
    async (changes) => {
      const { rig, link, pass } = bench();
      rig.hello = (ask) => ({ ...HELLO, ...changes, ask });
      const asked = outcome(link.connect());
      await pass(10);
      expect(asked.is).toMatch(/^RIG_VERSION The rig/);
    },
  );

  it("of another boot in mid-run ends the link, and one of the same does not", async () => {
    const { rig, lost, pass } = await connected();
    rig.say(formatRigLine({ ...HELLO, ask: 0 }));
    await pass(10);
    expect(lost).toEqual([]);
    rig.say(formatRigLine({ ...HELLO, ask: 0, boot: HELLO.boot + 1 }));
    await pass(10);
    expect(lost).toEqual(["RIG_REBOOTED"]);
  });
});

describe("bytes", () => {
  it("before the port is open, and after it is closed, are nobody's", async () => {
    const raw: number[] = [];
    const scheduler = new VirtualScheduler();
    const rig = new SilentRig(scheduler);
    const nothing = () => {};
    const link = new RigLink(rig, scheduler, {
      ...{ onTurn: nothing, onVacuum: nothing, onState: nothing, onLost: nothing },
      onRaw: (bytes) => raw.push(bytes.length),
    });
    rig.say("news");
    expect(raw).toEqual([]);
    await scheduler.run(link.connect());
    const count = raw.length;
    await link.close();
    rig.say("news");
    expect(raw).toHaveLength(count);
    await expect(link.command({ type: "arm" })).rejects.toMatchObject({ code: "LINK_LOST" });
  });

  it("are counted as lines, good and bad", async () => {
    const { rig, link } = await connected();
    const before = link.counts;
    const state = formatRigLine({ ...STATE, sequence: 9, tick: 9 });
    // Good, come again, malformed, unknown; a wrong sum, a wrong byte, too long.
    rig.say(state, state, "vac,1,2,3,1001,vent", "news,1", "vac,1,2,3,0,vent", "vac,1,2,3,0,vent");
    for (const text of ["ask,1*00000000\n", `${"x".repeat(300)}\n`]) {
      rig.onBytes(Uint8Array.from(text, (letter) => letter.charCodeAt(0)));
    }
    const after = link.counts;
    expect(after.linesGood - before.linesGood).toBe(3);
    expect(after.linesBad - before.linesBad).toBe(5);
  });
});
