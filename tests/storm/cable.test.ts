// The fault injector itself: each fault does what it is named for, in its time, and a seed replays it.
import { describe, expect, it } from "vitest";
import { Draw } from "../../accuracy/draw.ts";
import { asciiText, encodeLine } from "../../core/codec/framing.ts";
import type { BytePort } from "../../server/link/bytePort.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import { Cable } from "../../storm/link/cable.ts";
import { drawFaults, type Fault, type Trouble } from "../../storm/link/faults.ts";

/** A rig that says a numbered line every 10 ms, and answers what is asked. */
class CountingRig implements BytePort {
  onBytes: (bytes: Uint8Array) => void = () => {};
  onLost: BytePort["onLost"] = () => {};
  heard = "";
  private readonly scheduler: VirtualScheduler;
  private said = 0;

  constructor(scheduler: VirtualScheduler) {
    this.scheduler = scheduler;
  }

  async open() {
    const speak = () => {
      this.onBytes(encodeLine(`vac,${++this.said},0,0,0,vent`));
      this.scheduler.after(10, speak);
    };
    this.scheduler.after(10, speak);
  }

  async close() {}

  write(bytes: Uint8Array) {
    this.heard += asciiText(bytes);
    this.onBytes(encodeLine("ok,1"));
  }
}

interface Came {
  readonly atMs: number;
  readonly text: string;
}

async function carry(faults: readonly Fault[], seed = 1) {
  const scheduler = new VirtualScheduler();
  const rig = new CountingRig(scheduler);
  const cable = new Cable(rig, scheduler, seed, faults);
  const came: Came[] = [];
  let lost = 0;
  const connect = async () => {
    const port = cable.port(cable.portName);
    port.onBytes = (bytes) => came.push({ atMs: scheduler.nowMs(), text: asciiText(bytes) });
    port.onLost = () => lost++;
    await port.open();
    return port;
  };
  const pass = (ms: number) =>
    scheduler.run(new Promise<void>((resolve) => scheduler.after(ms, resolve)));
  const port = await connect();
  await pass(105);
  port.write(encodeLine("ask,1"));
  await pass(200);
  const text = () => came.map((one) => one.text).join("");
  return { rig, cable, came, text, lost: () => lost, connect, pass };
}

/** From 100 ms to 200 ms, both ways unless said otherwise. */
const during = (trouble: Trouble, ways: Fault["ways"] = ["fromRig", "toRig"]): Fault => ({
  ...trouble,
  ways,
  fromMs: 100,
  toMs: 200,
});

const linesIn = (text: string) => text.split("\n").length - 1;

describe("a cable", () => {
  it("without faults carries every byte as it is, at once", async () => {
    const { came, rig, cable } = await carry([]);
    expect(linesIn(came.map(({ text }) => text).join(""))).toBe(31);
    expect(came[0]).toEqual({ atMs: 10, text: asciiText(encodeLine("vac,1,0,0,0,vent")) });
    expect(rig.heard).toBe(asciiText(encodeLine("ask,1")));
    expect(cable.troubled).toBe(0);
  });

  it.each<[string, Trouble]>([
    ["flips bits", { kind: "flipped", share: 1 }],
    ["garbles runs", { kind: "burst", share: 1, bytesMax: 20 }],
    ["loses bytes", { kind: "lost", share: 0.5, bytesMax: 3 }],
    ["doubles bytes", { kind: "doubled", share: 0.5, bytesMax: 3 }],
    ["has the wrong baud", { kind: "wrong baud" }],
  ])("%s in its time only", async (_, trouble) => {
    const { came, rig } = await carry([during(trouble)]);
    const sound = (await carry([])).came;
    const at = (of: readonly Came[], isIn: boolean) =>
      of.filter(({ atMs }) => atMs >= 100 && atMs < 200 === isIn).map(({ text }) => text);
    expect(at(came, false)).toEqual(at(sound, false));
    expect(at(came, true)).not.toEqual(at(sound, true));
    expect(rig.heard).not.toBe(asciiText(encodeLine("ask,1")));
  });

  it("holds back what it stalls, or loses it, one way alone where so wanted", async () => {
    const kept = await carry([during({ kind: "stalled", kept: true }, ["fromRig"])]);
    expect(kept.came.filter(({ atMs }) => atMs >= 100 && atMs < 200)).toEqual([]);
    expect(linesIn(kept.text())).toBe(31);
    expect(kept.rig.heard).not.toBe("");
    const gone = await carry([during({ kind: "stalled", kept: false })]);
    expect(linesIn(gone.text())).toBe(20);
    expect(gone.rig.heard).toBe("");
  });

  it("delays and merges without changing anything", async () => {
    const sound = (await carry([])).text();
    const late = await carry([during({ kind: "delayed", byMs: 30 }, ["fromRig"])]);
    expect(late.text()).toBe(sound);
    expect(late.came.some(({ atMs }) => atMs === 100)).toBe(false);
    const merged = await carry([during({ kind: "merged", everyMs: 50 }, ["fromRig"])]);
    expect(merged.text()).toBe(sound);
  });

  it("floods between the lines", async () => {
    const { text } = await carry([during({ kind: "flood", of: "lines", bytesPerS: 50_000 })]);
    expect(text().length).toBeGreaterThan(5000);
    expect(text()).toContain("gauge,");
  });

  it("plays a rig that is frozen: it answers, and repeats itself", async () => {
    const { text } = await carry([during({ kind: "frozen", repeats: true }, ["fromRig"])]);
    const sequences = [...text().matchAll(/vac,(\d+),/g)].map(([, number]) => Number(number));
    expect(sequences.slice(0, 9)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9]);
    expect(sequences).not.toContain(15);
    expect(sequences.filter((number) => number === 9).length).toBeGreaterThan(2);
    expect(text()).toContain("ok,1");
  });

  it("plays another device on the port, which hears nothing of what is meant for the rig", async () => {
    const { text, rig } = await carry([during({ kind: "other device", speaks: "text" })]);
    expect(text()).toContain("GPGGA");
    expect(text()).not.toContain("vac,15,");
    expect(rig.heard).toBe("");
  });

  it("replays what the host has sent", async () => {
    const fault = {
      kind: "replayed",
      bytes: 400,
      ways: ["toRig"],
      fromMs: 150,
      toMs: 150,
    } as const;
    const { rig } = await carry([fault]);
    expect(linesIn(rig.heard)).toBe(2);
  });

  it("falls out, and comes back under another name to whoever opens that", async () => {
    const { cable, came, lost, connect, pass } = await carry([
      during({ kind: "unplugged", sameName: false }),
    ]);
    expect(lost()).toBe(1);
    expect(came.at(-1)?.atMs).toBeLessThan(100);
    expect(cable.portName).toBe("first again");
    await expect(cable.port("first").open()).rejects.toMatchObject({ code: "RIG_NOT_AVAILABLE" });
    const before = came.length;
    await connect();
    await pass(101);
    expect(
      linesIn(
        came
          .slice(before)
          .map((one) => one.text)
          .join(""),
      ),
    ).toBe(10);
  });

  it("does the same again with the same seed, and something else with another", async () => {
    const faults = drawFaults(new Draw("test", 3), 300);
    expect(drawFaults(new Draw("test", 3), 300)).toEqual(faults);
    const noisy = [during({ kind: "burst", share: 0.05, bytesMax: 9 })];
    const first = (await carry(noisy, 7)).came;
    expect((await carry(noisy, 7)).came).toEqual(first);
    expect((await carry(noisy, 8)).came).not.toEqual(first);
  });
});
