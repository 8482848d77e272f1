import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { BoardBench } from "./boardBench.ts";

/** Changes speed and gives the true speed's extremes on the way, and its mean once settled. */
function ramp(bench: BoardBench, rpm: number, rampRpmPerS: number) {
  const spanS = Math.abs(rpm - bench.plant.speedRpm) / rampRpmPerS;
  let [lowest, highest, sum, count] = [Number.POSITIVE_INFINITY, 0, 0, 0];
  expect(bench.speed(rpm, rampRpmPerS)).toBe("ok");
  const startS = bench.plant.timeS;
  for (let left = spanS + 6; left > 0; left -= 0.1) {
    bench.alive();
    bench.run(0.1, () => {
      const { speedRpm, timeS } = bench.plant;
      lowest = Math.min(lowest, speedRpm);
      highest = Math.max(highest, speedRpm);
      if (timeS < startS + spanS + 2) return;
      sum += speedRpm;
      count++;
    });
  }
  return { lowest, highest, mean: sum / count };
}

describe("speed control", () => {
  // The drag is not the one on the nameplate, so that the control has something to do.
  it.each([0.15, 0.12, 0.18])("ends ramps without passing the target, drag %d Nm", (dragNm) => {
    const bench = new BoardBench({ dragNm });
    bench.arm();
    for (const [rpm, rampRpmPerS] of [
      [200, 100],
      [500, 300],
      [1000, 1000],
      [4000, 1000],
    ] as const) {
      const { highest, mean } = ramp(bench, rpm, rampRpmPerS);
      expect(highest - rpm).toBeLessThan(Math.max(3, 0.005 * rpm));
      expect(Math.abs(mean - rpm)).toBeLessThan(0.2);
    }
    for (const [rpm, rampRpmPerS] of [
      [2000, 1000],
      [800, 300],
      [300, 1000],
      [100, 100],
    ] as const) {
      const { lowest, mean } = ramp(bench, rpm, rampRpmPerS);
      expect(rpm - lowest).toBeLessThan(Math.max(3, 0.005 * rpm));
      expect(Math.abs(mean - rpm)).toBeLessThan(0.2);
    }
  });

  it("follows the ramp (6.5)", () => {
    const bench = new BoardBench();
    bench.arm();
    bench.speed(200, 1000);
    bench.runAlive(4);
    bench.speed(2200, 500);
    bench.runAlive(2);
    expect(Math.abs(bench.plant.speedRpm - 1200)).toBeLessThan(5);
  });

  it("comes to rest for 0 and stays armed", () => {
    const bench = new BoardBench();
    bench.arm();
    bench.speed(1000);
    bench.runAlive(2);
    bench.speed(0, 500);
    bench.runAlive(4);
    expect(bench.plant.speedRpm).toBe(0);
    expect(bench.plant.inputs.drive).toBe(null);
    expect(bench.state).toMatchObject({ armed: true, setRpm: 0, nowRpm: 0 });
  });
});

describe("vacuum control", () => {
  it.each([
    ["a quiet sensor", 0, 20],
    ["a sensor with 25 Pa of noise", 25, 50],
  ])("comes to targets from either side without passing them, with %s", (_, noise, past) => {
    const bench = new BoardBench({ sensorNoisePa: noise });
    bench.arm();
    let from = 0;
    for (const target of [10_000, 30_000, 50_000, 55_000, 20_000, 15_000, 5_000]) {
      expect(bench.command("vacuum", bench.token, target)).toBe("ok");
      let [lowest, highest] = [Number.POSITIVE_INFINITY, 0];
      for (let i = 0; i < 25; i++) {
        bench.alive();
        bench.run(0.1, () => {
          const { vacuumPa, timeS } = bench.plant;
          if (timeS === 0) return;
          lowest = Math.min(lowest, vacuumPa);
          highest = Math.max(highest, vacuumPa);
        });
        if (i >= 20) expect(Math.abs(bench.plant.vacuumPa - target)).toBeLessThan(50);
      }
      if (target > from) expect(highest - target).toBeLessThan(past);
      else expect(target - lowest).toBeLessThan(past);
      from = target;
    }
  });

  it("holds what it reached with the pump at rest, and vents", () => {
    const bench = new BoardBench();
    bench.arm();
    bench.command("vacuum", bench.token, 30_000);
    bench.runAlive(3);
    const tight = bench.lines.findLast(({ type }) => type === "vac");
    expect(tight).toMatchObject({ valve: "control", pumpPermille: 0 });
    expect(bench.command("hold", bench.token)).toBe("ok");
    bench.runAlive(2);
    expect(bench.lines.findLast(({ type }) => type === "vac")).toMatchObject({ valve: "hold" });
    expect(Math.abs(bench.plant.vacuumPa - 30_000)).toBeLessThan(50);
    expect(bench.command("vent")).toBe("ok");
    bench.runAlive(1);
    expect(bench.plant.vacuumPa).toBeLessThan(1);
  });

  it("makes up for a small leak, says how hard it works, and loses vacuum in the hold", () => {
    const bench = new BoardBench({}, leaky());
    bench.arm();
    bench.command("vacuum", bench.token, 50_000);
    bench.runAlive(4);
    expect(Math.abs(bench.plant.vacuumPa - 50_000)).toBeLessThan(50);
    // 30 ml/s of leak against a pump of 300 ml/s, of which (1 − 50/85) is left at 50 kPa: 243 ‰.
    const vac = bench.lines.findLast(({ type }) => type === "vac");
    const permille = vac?.type === "vac" ? vac.pumpPermille : 0;
    expect(Math.abs(permille - 243)).toBeLessThan(5);
    bench.command("hold", bench.token);
    bench.runAlive(0.2);
    // Choked: 30 ml/s · 101 325 Pa / 250 ml is 12.16 kPa/s.
    expect(Math.abs(bench.plant.vacuumPa - (50_000 - 0.2 * 12_159))).toBeLessThan(60);
  });
});

function leaky() {
  const file = new URL("../../examples/healthy.scenario.json", import.meta.url);
  const { rig: _, ...unit } = JSON.parse(readFileSync(file, "utf8"));
  return { ...unit, faults: [{ fault: "capsule-leak", flowMlPerS: 30 }] };
}
