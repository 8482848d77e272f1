import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { encodeLine } from "../../core/codec/framing.ts";
import { BoardBench } from "./boardBench.ts";

function turningBench(rpm = 1000, rig: Record<string, unknown> = {}): BoardBench {
  const bench = new BoardBench(rig);
  bench.arm();
  bench.speed(rpm);
  bench.runAlive(rpm / 1000 + 1);
  expect(bench.state).toMatchObject({ setRpm: rpm, armed: true, fault: "none" });
  expect(Math.abs(bench.state.nowRpm - rpm)).toBeLessThan(1);
  return bench;
}

const OFF = { drive: null, pump: 0, bleed: 0, valve: "vent" };

describe("stay-alive (clause 6.1)", () => {
  it("switches drive and vacuum off between 400 and 500 ms after the last sign of life", () => {
    const bench = turningBench();
    bench.command("vacuum", bench.token, 30_000);
    bench.alive();
    bench.run(0.399);
    expect(bench.plant.inputs.drive).not.toBe(null);
    expect(bench.plant.inputs.valve).toBe("control");
    bench.run(0.1);
    expect(bench.plant.inputs).toMatchObject(OFF);
    expect(bench.state).toMatchObject({ fault: "alive", armed: false, setRpm: 0 });
  });

  it("does not take another token's sign of life", () => {
    const bench = turningBench();
    bench.run(0.5, () => bench.board.receive(encodeLine("alive,00000000")));
    expect(bench.board.linesDropped).toBe(0);
    expect(bench.plant.inputs.drive).toBe(null);
  });

  it("is not latched", () => {
    const bench = new BoardBench();
    bench.arm();
    bench.run(0.5);
    expect(bench.state.fault).toBe("alive");
    expect(bench.arm()).toBe("ok");
    bench.run(0.11);
    expect(bench.state).toMatchObject({ fault: "none", armed: true });
  });
});

describe("latched faults (clause 6.2)", () => {
  it.each([
    ["guard", (bench: BoardBench, on: boolean) => (bench.plant.guardShut = !on)],
    ["stop-input", (bench: BoardBench, on: boolean) => (bench.plant.stopPressed = on)],
  ] as const)(
    "%s stops at once and stays until its cause is gone and a stop came",
    (fault, set) => {
      const bench = turningBench();
      set(bench, true);
      bench.run(0.002);
      expect(bench.plant.inputs).toMatchObject(OFF);
      expect(bench.state).toMatchObject({ fault, armed: false });
      expect(bench.command("stop")).toBe("ok");
      set(bench, false);
      // The stop came while the cause was there.
      expect(bench.arm()).toBe("latched");
      expect(bench.command("stop")).toBe("ok");
      bench.run(0.002);
      expect(bench.state.fault).toBe("none");
      expect(bench.arm()).toBe("ok");
    },
  );

  it("guard and stop input at rest set no fault, and inputs that are not wired none at all", () => {
    const bench = new BoardBench();
    bench.plant.guardShut = false;
    bench.run(0.2);
    expect(bench.state).toMatchObject({ fault: "none", guardShut: false });
    const bare = turningBench(500, { inputs: "none" });
    bare.plant.guardShut = false;
    bare.plant.stopPressed = true;
    bare.runAlive(0.3);
    expect(bare.state).toMatchObject({ fault: "none", guardShut: true, stopPressed: false });
  });

  it("a guard opened while the spindle coasts is a fault too", () => {
    const bench = turningBench();
    bench.command("stop");
    bench.run(0.05);
    bench.plant.guardShut = false;
    bench.run(0.002);
    expect(bench.state.fault).toBe("guard");
  });

  it("stops a drive that runs away above 110 % of the highest speed (6.4)", () => {
    const bench = turningBench(4000);
    bench.plant.motor.runsAway = true;
    let highest = 0;
    bench.run(0.35, () => {
      highest = Math.max(highest, bench.plant.speedRpm);
      if (Math.round(bench.plant.timeS * 1000) % 50 === 0) bench.alive();
    });
    expect(bench.state).toMatchObject({ fault: "overspeed", armed: false });
    expect(bench.plant.inputs).toMatchObject(OFF);
    expect(highest).toBeGreaterThan(4950);
    // One turn more at this acceleration, then it slows.
    expect(highest).toBeLessThan(5060);
  });

  it("sees a jammed spindle after the stall time (6.6)", () => {
    const bench = turningBench(1000);
    bench.plant.motor.jammed = true;
    bench.runAlive(0.4);
    expect(bench.plant.inputs.drive).not.toBe(null);
    bench.runAlive(0.2);
    expect(bench.state).toMatchObject({ fault: "stall", armed: false, nowRpm: 0 });
  });

  it("waits one second more from rest", () => {
    const bench = new BoardBench();
    bench.plant.motor.jammed = true;
    bench.arm();
    bench.speed(1000, 2000);
    bench.runAlive(1.4);
    expect(bench.state.fault).toBe("none");
    bench.runAlive(0.2);
    expect(bench.state.fault).toBe("stall");
  });

  it("does not take a slow start for a stall", () => {
    const bench = new BoardBench();
    bench.arm();
    bench.speed(50, 10);
    bench.runAlive(12);
    expect(bench.state).toMatchObject({ fault: "none", setRpm: 50 });
  });

  it("stops when the vacuum sensor fails, and sends no reading then (6.7, 7.2)", () => {
    const bench = turningBench();
    bench.plant.sensorFailed = true;
    bench.run(0.05);
    expect(bench.state).toMatchObject({ fault: "sensor", armed: false });
    expect(bench.plant.inputs).toMatchObject(OFF);
    bench.lines = [];
    bench.run(0.5);
    expect(bench.lines.filter(({ type }) => type === "vac")).toHaveLength(0);
    bench.plant.sensorFailed = false;
    bench.command("stop");
    expect(bench.arm()).toBe("ok");
  });
});

describe("arm (clause 4.3)", () => {
  it("while turning voids the old token and stops the drive", () => {
    const bench = turningBench();
    const old = bench.token;
    expect(bench.arm()).toBe("ok");
    expect(bench.token).not.toBe(old);
    expect(bench.plant.inputs.drive).toBe(null);
    expect(bench.command("speed", old, "cw", 500, 500)).toBe("bad-token");
  });
});

/** What may happen to a board, at any time and in any order. */
const event = fc.oneof(
  fc.constant({ what: "ask" } as const),
  fc.constant({ what: "arm" } as const),
  fc.constant({ what: "stop" } as const),
  fc.constant({ what: "vent" } as const),
  fc.record({
    what: fc.constant("speed" as const),
    rpm: fc.constantFrom(0, 100, 1000, 4500),
    direction: fc.constantFrom("cw", "ccw"),
    stale: fc.boolean(),
  }),
  fc.record({ what: fc.constant("alive" as const), stale: fc.boolean() }),
  fc.record({ what: fc.constant("guard" as const), shut: fc.boolean() }),
  fc.record({ what: fc.constant("stopInput" as const), pressed: fc.boolean() }),
  fc.record({ what: fc.constant("time" as const), ms: fc.integer({ min: 1, max: 450 }) }),
);

/** A host that goes about its work, so that the drive is on for most of what else happens. */
const drive = fc.constant([
  { what: "arm" } as const,
  { what: "speed", rpm: 1000, direction: "cw", stale: false } as const,
  { what: "time", ms: 200 } as const,
  { what: "alive", stale: false } as const,
  { what: "time", ms: 200 } as const,
]);

describe("any order of events", () => {
  it("the drive is on only while armed, with a fresh sign of life, guard shut and stop released", () => {
    let drivenSteps = 0;
    fc.assert(
      fc.property(
        fc.array(
          fc.oneof(
            { weight: 2, arbitrary: event.map((one) => [one]) },
            { weight: 1, arbitrary: drive },
          ),
          { maxLength: 40 },
        ),
        (groups) => {
          const events = groups.flat();
          const bench = new BoardBench();
          // The model: which token the board gave last, whether it is in force, and the last sign of life.
          let armed = false;
          let token = "FFFFFFFF";
          let staleToken = "FFFFFFFE";
          let aliveS = Number.NEGATIVE_INFINITY;
          let commanded = false;
          const disarm = () => {
            armed = false;
            commanded = false;
          };
          const check = () => {
            const { drive } = bench.plant.inputs;
            if (drive === null) return;
            drivenSteps++;
            expect(armed).toBe(true);
            expect(commanded).toBe(true);
            expect(bench.plant.timeS - aliveS).toBeLessThanOrEqual(0.402);
          };
          for (const next of events) {
            switch (next.what) {
              case "ask":
              case "stop":
                bench.command(next.what);
                disarm();
                expect(bench.plant.inputs).toMatchObject(OFF);
                break;
              case "arm": {
                const before = bench.token;
                if (bench.arm() !== "ok") break;
                disarm();
                staleToken = before;
                armed = true;
                token = bench.token;
                expect(token).not.toBe(before);
                aliveS = bench.plant.timeS;
                break;
              }
              case "vent":
                bench.command("vent");
                break;
              case "speed": {
                const used = next.stale ? staleToken : token;
                const answer = bench.command("speed", used, next.direction, next.rpm, 2000);
                if (answer === "ok") {
                  expect(armed && used === token).toBe(true);
                  commanded = true;
                }
                break;
              }
              case "alive":
                bench.send(`alive,${next.stale ? staleToken : token}`);
                if (!next.stale && armed) aliveS = bench.plant.timeS;
                break;
              case "guard":
                bench.plant.guardShut = next.shut;
                bench.run(0.001);
                if (!next.shut) disarm();
                break;
              case "stopInput":
                bench.plant.stopPressed = next.pressed;
                bench.run(0.001);
                if (next.pressed) disarm();
                break;
              case "time":
                bench.run(next.ms / 1000, check);
                break;
            }
            check();
          }
        },
      ),
      { numRuns: 200 },
    );
    // Else the property would hold by the drive never being on.
    expect(drivenSteps).toBeGreaterThan(1000);
  });
});
