// Turns made from a known motion, for tests of the angle code: written apart from it, phase given in closed form.
import type { Hello } from "../../core/codec/rigLines.ts";
import type { Turn } from "../../core/turns.ts";

export const HELLO: Hello = {
  type: "hello",
  ask: 1,
  version: 1,
  board: "test",
  boot: 1,
  tickHz: 1_000_000,
  tickPpm: 50,
  indexesPerTurn: 1,
  edgesPerTurn: 1,
  directions: ["cw", "ccw"],
  speedMinRpm: 50,
  speedMaxRpm: 4500,
  vacuumMinPa: 0,
  vacuumMaxPa: 90_000,
  guardInput: true,
  stopInput: true,
  ambientPa: 101_325,
};

/** Exact time in ticks (not rounded) at which a shaft with phase v·t + a·t²/2 (in turns) stands at `phase`. */
export function rampTick(phase: number, startRpm: number, rpmPerS: number, tickHz: number): number {
  const v = startRpm / 60;
  const a = rpmPerS / 60;
  const seconds = a === 0 ? phase / v : (-v + Math.sqrt(v * v + 2 * a * phase)) / a;
  return seconds * tickHz;
}

/** Turn `k` of that motion with firing edges at these angles (negative ones belong to it as given). */
export function rampTurn(
  k: number,
  anglesDeg: readonly number[],
  { startRpm = 600, rpmPerS = 0, tickHz = 1e9, edges = 1 },
): Turn {
  const at = (phase: number) => rampTick(phase, startRpm, rpmPerS, tickHz);
  const index = at(k);
  return {
    sequence: k,
    indexTick: Math.round(index) % 2 ** 32,
    beforeTicks: k === 0 ? 0 : index - at(k - 1),
    duringTicks: at(k + 1) - index,
    afterTicks: at(k + 2) - at(k + 1),
    lost: false,
    every: 1,
    eventEdges: anglesDeg.map(() => "a" as const),
    eventTicks: anglesDeg.map((angle) => at(k + angle / 360) - index),
    edgeTicks:
      edges === 1 ? null : Array.from({ length: edges + 1 }, (_, j) => at(k + j / edges) - index),
    followsOn: k > 0,
  };
}
