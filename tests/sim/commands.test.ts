import { describe, expect, it } from "vitest";
import { BoardBench } from "./boardBench.ts";

describe("numbers and repeats (clauses 4.2, 4.5, 4.6)", () => {
  it("answers a repeat alike and does it once", () => {
    const bench = new BoardBench();
    expect(bench.send("ask,5")).toBe("hello");
    expect(bench.send("arm,6")).toBe("ok,6,TOKEN");
    const { token } = bench;
    expect(bench.send("arm,6")).toBe("ok,6,TOKEN");
    expect(bench.token).toBe(token);
    expect(bench.send(`speed,7,${token},cw,500,500`)).toBe("ok,7");
    bench.runAlive(0.5);
    expect(bench.send("stop,8")).toBe("ok,8");
    // The token of a repeated arm is void by now, but it is the same one.
    expect(bench.send("arm,9")).toBe("ok,9,TOKEN");
    const second = bench.token;
    expect(second).not.toBe(token);
    expect(bench.send("stop,10")).toBe("ok,10");
    expect(bench.send("stop,10")).toBe("ok,10");
  });

  it("gives a repeated arm its void token, and leaves it void", () => {
    const bench = new BoardBench();
    bench.send("arm,1");
    const { token } = bench;
    bench.run(0.5);
    expect(bench.state.fault).toBe("alive");
    expect(bench.send("arm,1")).toBe("ok,1,TOKEN");
    expect(bench.token).toBe(token);
    expect(bench.send(`speed,2,${token},cw,500,500`)).toBe("no,2,not-armed");
  });

  it("repeats a refusal even when its reason has gone", () => {
    const bench = new BoardBench();
    bench.plant.guardShut = false;
    expect(bench.send("arm,1")).toBe("no,1,guard-open");
    bench.plant.guardShut = true;
    expect(bench.send("arm,1")).toBe("no,1,guard-open");
    expect(bench.send("arm,2")).toBe("ok,2,TOKEN");
  });

  it("refuses older numbers, and the same number with other content", () => {
    const bench = new BoardBench();
    expect(bench.send("ask,10")).toBe("hello");
    expect(bench.send("arm,9")).toBe("no,9,old-number");
    expect(bench.send("stop,9")).toBe("no,9,old-number");
    expect(bench.send("arm,10")).toBe("no,10,old-number");
    expect(bench.send("arm,11")).toBe("ok,11,TOKEN");
    expect(bench.send("vent,11")).toBe("no,11,old-number");
    // An old number with wrong fields is old first (5.1 before 5.2).
    expect(bench.send("speed,9")).toBe("no,9,old-number");
  });

  it("takes a stop with the number of the last command, since only a lower one is too old", () => {
    const bench = new BoardBench();
    bench.send("arm,1");
    bench.send(`speed,2,${bench.token},cw,500,500`);
    expect(bench.send("stop,2")).toBe("ok,2");
    expect(bench.plant.inputs.drive).toBe(null);
  });

  it("lets ask start anew from a lower number", () => {
    const bench = new BoardBench();
    bench.send("arm,4000000000");
    expect(bench.send("ask,3")).toBe("hello");
    expect(bench.lines.find(({ type }) => type === "hello")).toMatchObject({ ask: 3, boot: 7 });
    expect(bench.send("vent,4")).toBe("ok,4");
  });
});

describe("refusals (part 5)", () => {
  it("refuses wrong fields where the number can be read, and drops other malformed lines", () => {
    const bench = new BoardBench();
    bench.arm();
    const { token } = bench;
    for (const [i, body] of [
      "speed,N",
      `speed,N,${token},cw,500`,
      `speed,N,${token},up,500,500`,
      `speed,N,${token},cw,500.55,500`,
      `speed,N,${token},cw,-500,500`,
      `vacuum,N,${token},1e4`,
      "hold,N",
      "hold,N,abcdef01",
    ].entries()) {
      const number = 10 + i;
      expect(bench.send(body.replace("N", String(number)))).toBe(`no,${number},fields`);
    }
    expect(bench.board.linesDropped).toBe(0);
    expect(bench.send("speed,1.5,x")).toBe("");
    expect(bench.send("arm")).toBe("");
    expect(bench.send("arm,0")).toBe("");
    expect(bench.send("alive,short")).toBe("");
    expect(bench.board.linesDropped).toBe(4);
    expect(bench.send("sing,20")).toBe("");
    expect(bench.board.linesDropped).toBe(4);
    bench.board.receive(new TextEncoder().encode("stop,21*00000000\n"));
    expect(bench.board.linesDropped).toBe(5);
  });

  it("takes lines with more fields than it knows (clause 1.5)", () => {
    const bench = new BoardBench();
    expect(bench.send("arm,1,later")).toBe("ok,1,TOKEN");
    expect(bench.send(`speed,2,${bench.token},cw,500,500,later`)).toBe("ok,2");
  });

  it("names guard, stop input and latched fault in this order for arm", () => {
    const bench = new BoardBench();
    bench.arm();
    bench.plant.guardShut = false;
    bench.run(0.01);
    bench.plant.stopPressed = true;
    expect(bench.arm()).toBe("guard-open");
    bench.plant.guardShut = true;
    expect(bench.arm()).toBe("stop-input");
    bench.plant.stopPressed = false;
    expect(bench.arm()).toBe("latched");
    expect(bench.command("stop")).toBe("ok");
    expect(bench.arm()).toBe("ok");
  });

  it("wants an arm, and its own token", () => {
    const bench = new BoardBench();
    expect(bench.speed(500)).toBe("not-armed");
    expect(bench.command("vacuum", "00000000", 20000)).toBe("not-armed");
    expect(bench.command("hold", "00000000")).toBe("not-armed");
    expect(bench.command("vent")).toBe("ok");
    bench.arm();
    const other = bench.token === "0000000A" ? "0000000B" : "0000000A";
    expect(bench.command("speed", other, "ccw", 9000, 1)).toBe("bad-token");
    expect(bench.command("vacuum", other, 20000)).toBe("bad-token");
    expect(bench.command("hold", other)).toBe("bad-token");
    expect(bench.speed(500)).toBe("ok");
  });

  it("knows its directions, and does not turn about while turning", () => {
    const oneWay = new BoardBench({ directions: "ccw" });
    oneWay.arm();
    expect(oneWay.speed(500, 500, "cw")).toBe("direction");
    expect(oneWay.speed(500, 500, "ccw")).toBe("ok");
    const bench = new BoardBench();
    bench.arm();
    bench.speed(500, 1000, "cw");
    bench.runAlive(2);
    expect(bench.speed(99999, 0, "ccw")).toBe("turning");
    expect(bench.speed(0, 1000, "cw")).toBe("ok");
    bench.runAlive(0.3);
    expect(bench.speed(500, 500, "ccw")).toBe("turning");
    bench.runAlive(2.5);
    expect(bench.state).toMatchObject({ nowRpm: 0, armed: true, direction: "cw" });
    expect(bench.speed(500, 500, "ccw")).toBe("ok");
    bench.runAlive(3);
    expect(bench.state).toMatchObject({ nowRpm: 500, direction: "ccw" });
  });

  it("keeps speeds, ramps and vacuums within its range", () => {
    const bench = new BoardBench();
    bench.arm();
    for (const [rpm, ramp, answer] of [
      [49.9, 500, "range"],
      [4500.1, 500, "range"],
      [500, 0, "range"],
      [500, 2000.1, "range"],
      [0, 0, "range"],
      [4500, 2000, "ok"],
      [50, 0.1, "ok"],
      [0, 1, "ok"],
    ] as const) {
      expect([rpm, ramp, bench.speed(rpm, ramp)]).toEqual([rpm, ramp, answer]);
    }
    expect(bench.command("vacuum", bench.token, 0)).toBe("range");
    expect(bench.command("vacuum", bench.token, 90_001)).toBe("range");
    expect(bench.command("vacuum", bench.token, 90_000)).toBe("ok");
  });

  it("has no vacuum to control without a sensor, and sends no vac lines", () => {
    const bench = new BoardBench({ vacuumMaxPa: 0 });
    bench.arm();
    expect(bench.command("vacuum", bench.token, 20_000)).toBe("no-sensor");
    expect(bench.command("hold", bench.token)).toBe("no-sensor");
    bench.run(0.3);
    expect(bench.lines.filter(({ type }) => type === "vac")).toHaveLength(0);
  });
});
