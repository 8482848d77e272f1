// The link against a rig that says what it should not: lines that come again, news that stops, a token that is gone.
import { describe, expect, it } from "vitest";
import { formatRigLine } from "../../core/codec/rigLines.ts";
import type { BobweightError } from "../../core/errors.ts";
import { LineOrder } from "../../core/lineOrder.ts";
import { RigLink } from "../../server/link/rigLink.ts";
import { Watch } from "../../server/run/watch.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import { HELLO } from "../angles/turns.ts";
import { LineRig, STATE } from "./lineRig.ts";

/** A rig that answers every command, and says beside that what the test has it say. */
class TalkingRig extends LineRig {
  private readonly scheduler: VirtualScheduler;

  constructor(scheduler: VirtualScheduler) {
    super();
    this.scheduler = scheduler;
  }

  protected override hear(body: string) {
    this.heard.push(body);
    const [type, number] = body.split(",");
    if (type === "alive") return;
    const answer =
      type === "ask"
        ? formatRigLine({ ...HELLO, ask: Number(number) })
        : `ok,${number}${type === "arm" ? ",0A1B2C3D" : ""}`;
    this.scheduler.after(1, () => this.say(answer));
  }
}

async function linked() {
  const scheduler = new VirtualScheduler();
  const rig = new TalkingRig(scheduler);
  const vacuumsPa: number[] = [];
  const lost: BobweightError[] = [];
  const link = new RigLink(rig, scheduler, {
    onTurn: () => {},
    onVacuum: ({ vacuumPa }) => vacuumsPa.push(vacuumPa),
    onState: () => {},
    onRaw: () => {},
    onLost: (error) => lost.push(error),
  });
  const pass = (ms: number) =>
    scheduler.run(new Promise<void>((resolve) => scheduler.after(ms, resolve)));
  await scheduler.run(link.connect());
  return { rig, link, vacuumsPa, lost, pass };
}

const vac = (sequence: number, vacuumPa: number) =>
  `vac,${sequence},${40_000 * sequence},${vacuumPa},0,control`;
const state = (sequence: number) => formatRigLine({ ...STATE, sequence, tick: 100_000 * sequence });

describe("the link", () => {
  it("hands on no vacuum line twice, and counts what came again as bad", async () => {
    const { rig, link, vacuumsPa } = await linked();
    rig.say(vac(1, 100), vac(2, 200), vac(1, 100), vac(2, 200), vac(3, 300));
    expect(vacuumsPa).toEqual([100, 200, 300]);
    expect(link.counts.linesBad).toBe(2);
  });

  it("is lost a second after the last new state, whatever else still comes", async () => {
    const { rig, lost, pass } = await linked();
    rig.say(state(1));
    for (let i = 0; i < 8; i++) {
      await pass(100);
      rig.say(state(1), vac(i, 100));
    }
    expect(lost).toEqual([]);
    for (let i = 8; i < 13; i++) {
      await pass(100);
      rig.say(state(1), vac(i, 100));
    }
    expect(lost.map(({ code }) => code)).toEqual(["LINK_LOST"]);
  });

  it("takes nothing any more once it is lost, though the rig comes back", async () => {
    const { rig, link, vacuumsPa, pass } = await linked();
    await pass(1600);
    rig.say(vac(1, 100));
    expect(vacuumsPa).toEqual([]);
    expect(rig.heard.at(-1)).toMatch(/^stop,/);
    await expect(link.command({ type: "arm" })).rejects.toMatchObject({ code: "LINK_LOST" });
  });
});

describe("the order of lines", () => {
  it("goes on over the wraps of sequence and tick, and over gaps", () => {
    const order = new LineOrder();
    const taken = [
      { sequence: 4_294_967_290, tick: 4_294_000_000 },
      { sequence: 3, tick: 100 },
      { sequence: 400, tick: 100 },
      { sequence: 399, tick: 200 },
      { sequence: 401, tick: 99 },
      { sequence: 401, tick: 101 },
    ].map((line) => order.take(line));
    expect(taken).toEqual([true, true, true, false, false, true]);
    expect(order.setAside).toBe(2);
  });
});

describe("a run's watch", () => {
  const watching = () => new Watch(new VirtualScheduler(), "a", () => {});

  it("ends the run on a rig that is no longer armed and says no reason", () => {
    const watch = watching();
    watch.onState({ ...STATE, armed: false });
    expect(watch.interruption).toBeNull();
    watch.minds();
    watch.onState(STATE);
    expect(watch.interruption).toBeNull();
    watch.onState({ ...STATE, armed: false });
    expect(watch.interruption?.code).toBe("RIG_DISARMED");
  });

  it("waits for a rig to say that it is armed: a line from before may come after its answer", () => {
    const watch = watching();
    watch.minds();
    watch.onState({ ...STATE, armed: false });
    expect(watch.interruption).toBeNull();
  });

  it("expects a rig that was told to stop to be disarmed", () => {
    const watch = watching();
    watch.minds();
    watch.expectsRest();
    watch.onState({ ...STATE, armed: false });
    expect(watch.interruption).toBeNull();
  });
});
