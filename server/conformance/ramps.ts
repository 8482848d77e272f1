// Whether the spindle follows the ramp that it was told (firmware-protocol.md, 6.5), by its own turns.
import type { RevPart } from "../../core/codec/rigLines.ts";
import { CheckEnded, type TestBench } from "./bench.ts";
import { stepTicks, tickAt } from "./ticks.ts";
import type { LineOf } from "./wire.ts";

/** What control and inertia may make of a ramp; common practice, no source. */
const OFF_SHARE_MAX = 0.15;
const LATE_S_MAX = 0.3;
const SETTLING_MS = 1500;
/** Ripple and regulation, at a speed and at the highest; common practice, no source. */
const STEADY_SHARE_MAX = 0.05;
const OVER_SHARE_MAX = 0.01;
/** From turn to turn, of a speed that is held. */
const CHANGE_SHARE_MAX = 0.02;

/** Goes from one speed to another and judges the way there. @throws CheckEnded where it is refused */
export async function judgeRamp(
  bench: TestBench,
  fromRpm: number,
  toRpm: number,
  rampRpmPerS: number,
): Promise<void> {
  const { wire, ledger, hello } = bench;
  const word = await bench.speed(toRpm, rampRpmPerS);
  if (word !== "ok") throw new CheckEnded(`the rig did not take a speed: ${word}`);
  const startMs = wire.nowMs;
  const state = await bench.stateAfter(null);
  const startTick = tickAt(startMs, state, state.line.tick, hello.tickHz);
  const from = wire.heard.length;
  await wire.sleep((Math.abs(toRpm - fromRpm) / rampRpmPerS) * 1000 + SETTLING_MS);
  const way = toRpm > fromRpm ? "up" : "down";
  const allowedRpm = OFF_SHARE_MAX * Math.abs(toRpm - fromRpm) + LATE_S_MAX * rampRpmPerS;
  const turns = wire.all("rev", from);
  const off = turns.find(({ line }) => {
    const { indexTick, duringTicks } = line;
    const afterS = (stepTicks(0, indexTick - startTick) + duringTicks / 2) / hello.tickHz;
    const change = Math.min(Math.max(0, afterS) * rampRpmPerS, Math.abs(toRpm - fromRpm));
    const target = fromRpm + (toRpm > fromRpm ? change : -change);
    return Math.abs(rpmOf(duringTicks, hello.tickHz) - target) > allowedRpm;
  });
  const what = `the ramp ${way} is followed`;
  if (turns.length === 0)
    ledger.broken("3.2", "turns are reported while it turns", "no rev line", "one for each turn");
  else {
    const seen =
      off === undefined
        ? ""
        : `${describe(off, hello.tickHz)} on the way from ${fromRpm} to ${toRpm} rpm at ${rampRpmPerS} rpm per second`;
    ledger.judge(
      "6.5",
      what,
      off === undefined,
      seen,
      `the target within ${Math.round(allowedRpm)} rpm`,
    );
  }
  await judgeSteady(bench, toRpm);
}

async function judgeSteady(bench: TestBench, rpm: number): Promise<void> {
  const { wire, ledger, hello } = bench;
  const { line, text } = await bench.stateAfter(null);
  const isReached = Math.abs(line.nowRpm - rpm) <= STEADY_SHARE_MAX * rpm;
  ledger.judge(
    "4.1",
    "speed is reached and held",
    isReached,
    `"${text}"`,
    `NOWRPM ${rpm} within 5 %`,
  );
  const turn = wire.all("rev").at(-1);
  // On the way from one speed to another the two are of different moments.
  if (turn === undefined || !isSteady(turn.line)) return;
  const turnRpm = rpmOf(turn.line.duringTicks, hello.tickHz);
  const isSame = Math.abs(turnRpm - line.nowRpm) <= STEADY_SHARE_MAX * turnRpm;
  ledger.judge(
    "3.5",
    "NOWRPM is the speed of the turns",
    isSame,
    `"${text}" beside "${turn.text}"`,
    `NOWRPM ${turnRpm.toFixed(1)} within 5 %`,
  );
}

/** At the rig's own highest speed, by all turns from `from` on. */
export function judgeHighest(bench: TestBench, from: number): void {
  const { hello, ledger, wire } = bench;
  const turns = wire.all("rev", from);
  const limitRpm = hello.speedMaxRpm * (1 + OVER_SHARE_MAX);
  const over = turns.find(({ line }) => rpmOf(line.duringTicks, hello.tickHz) > limitRpm);
  const seen = over === undefined ? "" : describe(over, hello.tickHz);
  const wanted = `at most ${hello.speedMaxRpm} rpm (1 % allowed for ripple)`;
  ledger.judge("6.5", "MAXRPM is not passed on command", over === undefined, seen, wanted);
}

function isSteady({ duringTicks, afterTicks }: RevPart): boolean {
  return Math.abs(duringTicks - afterTicks) <= CHANGE_SHARE_MAX * duringTicks;
}

function rpmOf(turnTicks: number, tickHz: number): number {
  return (60 * tickHz) / turnTicks;
}

function describe(turn: LineOf<"rev">, tickHz: number): string {
  return `"${turn.text}" (${rpmOf(turn.line.duringTicks, tickHz).toFixed(1)} rpm)`;
}
