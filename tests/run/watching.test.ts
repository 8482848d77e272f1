// What a run waits for, and what ends its waiting.
import { describe, expect, it } from "vitest";
import { BobweightError } from "../../core/errors.ts";
import { type Rig, send } from "../../server/run/rig.ts";
import { Watch } from "../../server/run/watch.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import { STATE } from "./lineRig.ts";
import { outcome } from "./outcome.ts";

describe("a watch", () => {
  const watching = (raw: (bytes: Uint8Array) => void = () => {}) => {
    const scheduler = new VirtualScheduler();
    return { scheduler, watch: new Watch(scheduler, "a", raw) };
  };

  it("lets nothing be sent after an interruption", async () => {
    const { watch } = watching();
    const sent: string[] = [];
    const link = {
      command: async ({ type }: { type: string }) => {
        sent.push(type);
        return null;
      },
    };
    const rig = { watch, link } as unknown as Rig;
    await send(rig, { type: "vent" });
    watch.interrupt(new BobweightError("STOPPED_BY_USER", "Stopped."));
    await expect(send(rig, { type: "vent" })).rejects.toThrow("Stopped.");
    expect(sent).toEqual(["vent"]);
  });

  it("ends what is waited for and every later wait, by the first interruption", async () => {
    const { scheduler, watch } = watching();
    const waited = outcome(watch.until(() => undefined, 1000));
    const paused = () => outcome(watch.pause(10));
    watch.interrupt(new BobweightError("STOPPED_BY_USER", "Stopped."));
    watch.interrupt(new BobweightError("LINK_LOST", "Lost."));
    const later = paused();
    await scheduler.run(new Promise<void>((resolve) => scheduler.after(2000, resolve)));
    expect([waited.is, later.is]).toEqual(["STOPPED_BY_USER Stopped.", "STOPPED_BY_USER Stopped."]);
    expect(watch.interruption?.code).toBe("STOPPED_BY_USER");
  });

  it("waits so long and no longer, and looks once more at the end", async () => {
    const { scheduler, watch } = watching();
    const pass = (ms: number) =>
      scheduler.run(new Promise<void>((resolve) => scheduler.after(ms, resolve)));
    let found: number | undefined;
    const waited = outcome(watch.until(() => found, 100));
    const soon = async () => {
      await pass(99);
      expect(waited.is).toBe("open");
      found = 7;
      await pass(2);
    };
    await soon();
    expect(waited.is).toBe("done 7");
    const vain = outcome(watch.until(() => undefined, 100));
    await pass(101);
    expect(vain.is).toBe("done null");
    const polled = outcome(watch.until(() => watch.state?.sequence, 1000));
    watch.onState({ ...STATE, sequence: 5 });
    await pass(1);
    expect(polled.is).toBe("done 5");
    const paused = outcome(watch.pause(10));
    await pass(9);
    expect(paused.is).toBe("open");
    await pass(2);
    expect(paused.is).toBe("done undefined");
  });

  it("is interrupted where the bytes cannot be kept", () => {
    const kept: number[] = [];
    const fine = watching((bytes) => kept.push(bytes.length)).watch;
    fine.onRaw(new Uint8Array(3));
    expect([kept, fine.interruption]).toEqual([[3], null]);
    const { watch } = watching(() => {
      throw new BobweightError("STORE_FAILED", "Full.");
    });
    watch.onRaw(new Uint8Array(3));
    expect(watch.interruption?.code).toBe("STORE_FAILED");
    const broken = watching(() => {
      throw new TypeError("ours");
    }).watch;
    broken.onRaw(new Uint8Array(3));
    expect([broken.interruption?.code, broken.interruption?.what]).toEqual(["BUG", "ours."]);
  });

  it.each([
    ["alive", "RIG_ALIVE_LOST"],
    ["guard", "RIG_GUARD_OPEN"],
    ["stop-input", "RIG_STOP_INPUT"],
    ["overspeed", "RIG_OVERSPEED"],
    ["stall", "RIG_STALL"],
    ["sensor", "RIG_SENSOR"],
  ] as const)("minds the fault %s once the rig is armed, not before nor after", (fault, code) => {
    const { watch } = watching();
    watch.onState({ ...STATE, fault });
    expect(watch.interruption).toBeNull();
    watch.minds();
    watch.expectsRest();
    watch.onState({ ...STATE, fault });
    expect(watch.interruption).toBeNull();
    watch.minds();
    watch.onState({ ...STATE, fault });
    expect(watch.interruption?.code).toBe(code);
  });

  it("does not take an armed state from before arming for one after it", () => {
    const { watch } = watching();
    watch.onState(STATE);
    watch.minds();
    watch.onState({ ...STATE, armed: false });
    expect(watch.interruption).toBeNull();
    watch.onState(STATE);
    watch.onState({ ...STATE, armed: false });
    expect(watch.interruption?.code).toBe("RIG_DISARMED");
  });
});
