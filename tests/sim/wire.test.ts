import { describe, expect, it } from "vitest";
import { TurnAssembler } from "../../core/turns.ts";
import { Bench } from "./bench.ts";

const NOISY = {
  mechanism: {
    speedTable: [
      [300, 0],
      [3000, 15],
    ],
  },
  rig: {
    sensorNoisePa: 30,
    eventJitterUs: 2,
    indexJitterUs: 2,
    ripple: [{ perTurn: 1, percentAt1000Rpm: 0.05 }],
  },
};
const WRAP = 2 ** 32;

function shortRun(scenario: object): Bench {
  const bench = new Bench(scenario);
  bench.arm();
  bench.speed(1500, 1000);
  bench.vacuum(20_000);
  bench.keepAlive(4);
  bench.command("stop");
  bench.wait(1);
  return bench;
}

/** Every turn as the host's own check sees it. */
function countTurns(bench: Bench) {
  let sent = 0;
  const assembler = new TurnAssembler(bench.all("hello")[0] ?? fail(), () => sent++);
  for (const line of bench.lines) {
    if (line.type === "pick") assembler.pushPick(line);
    if (line.type === "rev") assembler.pushRev(line);
  }
  return { ...assembler.counts, sent };
}

function fail(): never {
  throw new Error("no hello came");
}

describe("seed", () => {
  it("the same gives the same bytes, another gives others", () => {
    const first = shortRun(NOISY);
    const again = shortRun(NOISY);
    const other = shortRun({ ...NOISY, seed: 2 });
    expect(first.bytes.length).toBeGreaterThan(20_000);
    expect(again.bytes).toEqual(first.bytes);
    expect(again.token).toBe(first.token);
    expect(other.bytes).not.toEqual(first.bytes);
    expect(other.token).not.toBe(first.token);
  });
});

describe("what is on the wire", () => {
  it("is well framed and well formed", () => {
    const bench = shortRun(NOISY);
    expect(bench.malformed).toBe(0);
    expect(bench.framingCounts).toMatchObject({ tooLong: 0, badByte: 0, badCrc: 0 });
    expect(bench.lines[0]).toMatchObject({ type: "hello", ask: 0, version: 1, edgesPerTurn: 36 });
  });

  it("keeps its rhythm: vac 25 and state 10 a second, one apart in sequence", () => {
    const bench = new Bench({ mechanism: {} });
    bench.wait(10);
    for (const [type, rate] of [
      ["vac", 25],
      ["state", 10],
    ] as const) {
      const sequences = bench.all(type).map(({ sequence }) => sequence);
      expect(Math.abs(sequences.length - 10 * rate)).toBeLessThanOrEqual(1);
      sequences.forEach((sequence, i) => {
        expect(sequence).toBe(((sequences[0] ?? 0) + i) % WRAP);
      });
    }
  });

  it("says a change of state at once", () => {
    const bench = new Bench({
      mechanism: {},
      incidents: [{ what: "guardOpens", atS: 0.512, shutAfterS: 0.05 }],
    });
    bench.arm();
    bench.speed(500);
    bench.clear();
    bench.keepAlive(0.7);
    const states = bench.all("state");
    const open = states.findIndex(({ guardShut }) => !guardShut);
    const shut = states.findIndex(({ guardShut }, i) => i > open && guardShut);
    expect(states[open]).toMatchObject({ armed: false, fault: "guard", setRpm: 0 });
    // To the board's step of 1 ms.
    const openTicks = (states[shut]?.tick ?? 0) - (states[open]?.tick ?? 0);
    expect(Math.abs(openTicks - 50_000)).toBeLessThanOrEqual(1000);
  });

  it("keeps the rules whatever is wrong with rig and trigger", () => {
    const bench = shortRun({
      ...NOISY,
      rig: {
        ...NOISY.rig,
        delayUs: 900,
        spacingErrorPeakDeg: 1,
        eccentricityDeg: 1,
        couplingRunOutDeg: 1,
        tickErrorPpm: -200,
        tickHz: 100_000,
        doubleEdgeShare: 0.3,
        falseEventShare: 0.5,
        missingEventShare: 0.1,
        lostShare: 0.1,
      },
      pulses: {
        bushPlayDeg: 0.5,
        condenserUf: 0.2,
        secondSet: { arrangement: "overlapped", offsetDeg: 3 },
      },
      faults: [
        { fault: "shaft-bent", peakDeg: 1 },
        {
          fault: "contact-spring-weak",
          bounce: { fromRpm: 300 },
          float: { fromRpm: 800, lostSharePer1000Rpm: 0.2 },
        },
      ],
    });
    expect(bench.malformed).toBe(0);
    const counts = countTurns(bench);
    expect(counts).toMatchObject({ setAside: 0, missing: 0 });
    expect(counts.good).toBeGreaterThan(60);
  });

  it("agrees with itself from turn to turn over the wrap of all counters", () => {
    const bench = new Bench(NOISY);
    bench.arm();
    bench.speed(600, 500);
    bench.keepAlive(24);
    const counts = countTurns(bench);
    expect(counts).toMatchObject({ setAside: 0, missing: 0 });
    expect(counts.good).toBeGreaterThan(220);
    for (const type of ["rev", "vac", "state"] as const) {
      const sequences = bench.all(type).map(({ sequence }) => sequence);
      expect(sequences.filter((value, i) => value < (sequences[i - 1] ?? 0))).toHaveLength(1);
    }
    const ticks = bench.all("rev").map(({ indexTick }) => indexTick);
    expect(ticks.filter((value, i) => value < (ticks[i - 1] ?? 0))).toHaveLength(1);
    // And it wraps where it should: from one index to the next by what DURING says.
    bench.all("rev").reduce((before, line) => {
      if (line.beforeTicks > 0) {
        expect((before.indexTick + before.duringTicks) % WRAP).toBe(line.indexTick);
        expect(line.beforeTicks).toBe(before.duringTicks);
      }
      return line;
    });
  });

  it("has one index a 15000 ticks at 4000 rpm, and pickup differences that add up", () => {
    const bench = new Bench({ mechanism: {} });
    bench.arm();
    bench.speed(4000, 2000);
    bench.keepAlive(10);
    const revs = bench.all("rev").slice(-100);
    for (const { duringTicks, eventTicks } of revs) {
      expect(Math.abs(duringTicks - 15_000)).toBeLessThanOrEqual(1);
      // Openings at 5°, 95°…; closings 39° later: 208⅓, 1833⅓, 3958⅓ … ticks.
      eventTicks.forEach((tick, i) => {
        const degrees = (i >> 1) * 90 + 5 + (i % 2) * 39;
        expect(Math.abs(tick - (degrees / 360) * 15_000)).toBeLessThanOrEqual(1);
      });
      expect(eventTicks).toHaveLength(8);
    }
    const { sequence, duringTicks } = bench.last("rev");
    const differences = bench
      .all("pick")
      .filter((pick) => pick.sequence === sequence)
      .flatMap(({ differenceTicks }) => differenceTicks);
    expect(differences).toHaveLength(36);
    expect(differences.reduce((sum, ticks) => sum + ticks, 0)).toBe(duringTicks);
    for (const ticks of differences) expect(Math.abs(ticks - 15_000 / 36)).toBeLessThanOrEqual(1);
  });

  it("splits long turns into parts, 360 pickup edges and twelve lobes", () => {
    const bench = new Bench({
      mechanism: {},
      unit: { lobes: 12, dwellDeg: 18 },
      rig: { pickupEdges: 360, tickHz: 100_000_000 },
    });
    bench.arm();
    bench.speed(300, 500);
    bench.keepAlive(6);
    expect(bench.last("rev").parts).toBeGreaterThan(1);
    expect(bench.last("pick").parts).toBeGreaterThan(5);
    expect(bench.framingCounts).toMatchObject({ tooLong: 0, badCrc: 0 });
    expect(countTurns(bench)).toMatchObject({ setAside: 0, missing: 0 });
    const events = bench.all("rev").slice(-2 * bench.last("rev").parts);
    expect(events.flatMap(({ eventTicks }) => eventTicks)).toHaveLength(48);
  });

  it("sends no pick lines with an index only", () => {
    const bench = new Bench({ mechanism: {}, rig: { pickupEdges: 1 } });
    bench.arm();
    bench.speed(600, 1000);
    bench.keepAlive(3);
    expect(bench.all("pick")).toHaveLength(0);
    expect(countTurns(bench)).toMatchObject({ setAside: 0, missing: 0 });
  });

  it("leaves out turns of a standstill but counts them, and has no BEFORE after it", () => {
    const bench = new Bench({ mechanism: {} });
    bench.arm();
    bench.speed(600, 1000);
    bench.keepAlive(2);
    bench.speed(0, 1000);
    bench.keepAlive(3);
    expect(bench.last("state").nowRpm).toBe(0);
    const before = bench.last("rev");
    bench.speed(600, 1000);
    bench.keepAlive(3);
    const revs = bench.all("rev");
    const first = revs[revs.indexOf(before) + 1];
    expect(first?.beforeTicks).toBe(0);
    // Two more indexes had come: of the turn whose AFTER, and of the one whose DURING is unknown.
    expect((first?.sequence ?? 0) - before.sequence).toBe(3);
  });
});

describe("a slow link", () => {
  it("thins the turns without losing one silently, and answers in time", () => {
    const bench = new Bench({ ...NOISY, rig: { ...NOISY.rig, linkBytesPerS: 11_520 } });
    bench.arm();
    for (const rpm of [300, 1500, 4000, 500]) {
      expect(bench.speed(rpm, 1000)).toBe("ok");
      bench.keepAlive(6);
    }
    const counts = countTurns(bench);
    expect(counts).toMatchObject({ setAside: 0, missing: 0 });
    expect(bench.bytes.length / (bench.clock.nowMs() / 1000)).toBeLessThan(11_520);
    const revs = bench.all("rev").filter(({ part }) => part === 1);
    expect(Math.max(...revs.map(({ every }) => every))).toBeGreaterThan(2);
    expect(revs.at(-1)?.every).toBe(1);
    // EVERY tells each gap, but for those at a standstill.
    revs.forEach((line, i) => {
      const before = revs[i - 1];
      if (before === undefined || line.beforeTicks === 0) return;
      expect((line.sequence - before.sequence + WRAP) % WRAP).toBe(line.every);
    });
  });

  it("answers within 100 ms while it is busy", () => {
    const bench = new Bench({ ...NOISY, rig: { ...NOISY.rig, linkBytesPerS: 11_520 } });
    bench.arm();
    expect(bench.speed(4000, 2000)).toBe("ok");
    bench.keepAlive(5);
    expect(bench.last("rev").every).toBeGreaterThan(2);
    let number = 100;
    for (let i = 0; i < 40; i++) {
      bench.clear();
      bench.send(`vent,${number++}`);
      bench.send(`alive,${bench.token}`);
      bench.wait(0.1);
      expect(bench.all("ok").map((answer) => answer.number)).toEqual([number - 1]);
      bench.wait(0.013);
    }
  });
});

describe("mishaps", () => {
  it("a reboot announces itself with another BOOT and moves nothing", () => {
    const bench = new Bench({ mechanism: {}, incidents: [{ what: "boardReboots", atRpm: 400 }] });
    bench.arm();
    bench.speed(1000, 500);
    bench.keepAlive(2);
    const [first, , again] = bench.all("hello");
    expect(again).toMatchObject({ ask: 0 });
    expect(again?.boot).not.toBe(first?.boot);
    expect(bench.last("state")).toMatchObject({ armed: false, setRpm: 0, fault: "none" });
    expect(bench.speed(500)).toBe("not-armed");
  });

  it("a silent board says nothing more", () => {
    const bench = new Bench({ mechanism: {}, incidents: [{ what: "boardFallsSilent", atS: 1 }] });
    bench.arm();
    bench.speed(500);
    bench.keepAlive(1.1);
    bench.clear();
    bench.keepAlive(2);
    expect(bench.command("stop")).toBe("");
    expect(bench.lines).toHaveLength(0);
  });

  it.each([
    ["stopPressed", "stop-input"],
    ["spindleJams", "stall"],
    ["driveRunsAway", "overspeed"],
    ["sensorFails", "sensor"],
    ["guardOpens", "guard"],
  ])("%s ends in the fault %s", (what, fault) => {
    const bench = new Bench({ mechanism: {}, incidents: [{ what, atRpm: 900 }] });
    bench.arm();
    bench.speed(1000, 500);
    bench.keepAlive(1.7);
    expect(bench.last("state").fault).toBe("none");
    bench.keepAlive(3);
    expect(bench.last("state").fault).toBe(fault);
  });

  it("an unplugged rig simulates nothing more", () => {
    const bench = new Bench({ mechanism: {} });
    bench.wait(0.1);
    bench.rig.shutdown();
    bench.clear();
    bench.wait(1);
    expect(bench.lines).toHaveLength(0);
  });
});
