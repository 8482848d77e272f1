// The moves a run is made of: go to a speed, wait until all is settled, set vacuum, take a reading.

import { sensedPa } from "../../core/angles/knowledge.ts";
import type { Span } from "../../core/angles/runLog.ts";
import { meanAndSpread } from "../../core/angles/statistics.ts";
import type { TrackedTurn } from "../../core/angles/trackedTurn.ts";
import { meanSpeedRpm } from "../../core/angles/window.ts";
import { BobweightError } from "../../core/errors.ts";
import { STEADY_WINDOW } from "../../core/plan.ts";
import { said } from "../../core/said.ts";
import { rampTowards } from "./ramps.ts";
import { type Rig, send } from "./rig.ts";

/** Speed counts as reached within this share of the target, or this many rpm where that is more. */
const SPEED_TOLERANCE = 0.005;
const SPEED_TOLERANCE_RPM = 2;
export const SPEED_LIMIT_MS = 15_000;
/** Drift from one window to the next that counts as settled, beyond what their spread explains. */
const SETTLED_DEG = 0.04;
const SETTLE_LIMIT_MS = 6000;
const VACUUM_TOLERANCE = 0.01;
const VACUUM_TOLERANCE_PA = 150;
const VACUUM_LINES = 6;
const VACUUM_LIMIT_MS = 20_000;
/** A vacuum that rose less than this in the time below, with the pump at full drive, will not come. */
const HOPELESS_SHARE = 0.02;
const HOPELESS_LINES = 75;

/** The last stretch to a reading, and its ramp as a share of the plan's. */
const STRETCH_SHARE = 0.02;
const STRETCH_RPM = 10;
const GENTLE_SHARE = 0.1;
const GENTLE_RPM_PER_S = 20;

/**
 * To a reading of the speed sweep: the last stretch is gone slowly. Weights that arrive at full swing
 * run past their place, and friction holds them there.
 */
export async function approachSpeed(rig: Rig, targetRpm: number): Promise<void> {
  const { watch, rampRpmPerS, tickHz } = rig;
  const stretchRpm = Math.max(STRETCH_RPM, STRETCH_SHARE * targetRpm);
  const fromRpm = watch.state?.setRpm ?? 0;
  if (Math.abs(targetRpm - fromRpm) > stretchRpm) {
    const shortRpm = targetRpm - Math.sign(targetRpm - fromRpm) * stretchRpm;
    await ramp(rig, shortRpm, rampRpmPerS, () => {
      const last = watch.turns.slice(-1).map(({ turn }) => turn);
      return last.length === 0 ? null : meanSpeedRpm(last, tickHz);
    });
  }
  const gentleRpmPerS = Math.min(
    rampRpmPerS,
    Math.max(GENTLE_RPM_PER_S, GENTLE_SHARE * rampRpmPerS),
  );
  await ramp(rig, targetRpm, gentleRpmPerS, () => windowSpeedRpm(rig));
}

/** @throws RIG_SPEED_NOT_REACHED, RIG_NO_TURNS, and what a command or the run's interruption throws */
export async function goToSpeed(rig: Rig, targetRpm: number): Promise<void> {
  await ramp(rig, targetRpm, rig.rampRpmPerS, () => windowSpeedRpm(rig));
}

function windowSpeedRpm({ watch, tickHz }: Rig): number | null {
  const window = lastWindow(watch.turns, tickHz);
  return window === null
    ? null
    : meanSpeedRpm(
        window.map(({ turn }) => turn),
        tickHz,
      );
}

/** Until `nowRpm` is there; it is null where there are too few turns to tell. */
async function ramp(
  rig: Rig,
  targetRpm: number,
  rampRpmPerS: number,
  nowRpm: () => number | null,
): Promise<void> {
  const { watch, tickHz } = rig;
  const slowTurnsMs = (2 * STEADY_WINDOW.turns * 60_000) / targetRpm;
  const toleranceRpm = speedToleranceRpm(targetRpm);
  const reached = await rampTowards(
    rig,
    targetRpm,
    rampRpmPerS,
    () => {
      const speedRpm = nowRpm();
      if (speedRpm === null) return undefined;
      return Math.abs(speedRpm - targetRpm) <= toleranceRpm ? speedRpm : undefined;
    },
    slowTurnsMs + SPEED_LIMIT_MS,
  );
  if (reached !== null) return;
  const last = watch.turns[watch.turns.length - 1];
  if (last === undefined) {
    throw new BobweightError(
      "RIG_NO_TURNS",
      said("No turns were seen on the way to {} rpm.", targetRpm),
    );
  }
  const lastRpm = meanSpeedRpm([last.turn], tickHz);
  throw new BobweightError(
    "RIG_SPEED_NOT_REACHED",
    said("The spindle should turn at {} rpm and turns at {.0} rpm.", targetRpm, lastRpm),
  );
}

/** Speed counts as reached within this. */
export function speedToleranceRpm(targetRpm: number): number {
  return Math.max(targetRpm * SPEED_TOLERANCE, SPEED_TOLERANCE_RPM);
}

/** The latest turns that span a window, or null while there are too few. */
function lastWindow(turns: readonly TrackedTurn[], tickHz: number): TrackedTurn[] | null {
  let ticks = 0;
  let from = turns.length;
  while (
    from > 0 &&
    (turns.length - from < STEADY_WINDOW.turns || ticks < STEADY_WINDOW.leastS * tickHz)
  ) {
    from--;
    ticks += (turns[from] as TrackedTurn).turn.duringTicks;
  }
  const enough =
    turns.length - from >= STEADY_WINDOW.turns && ticks >= STEADY_WINDOW.leastS * tickHz;
  return enough ? turns.slice(from) : null;
}

/** Waits until speed and advance no longer drift; goes on after a limit, since a reading shows its spread. */
export async function settle(rig: Rig): Promise<void> {
  const { watch, tickHz } = rig;
  await watch.until(() => {
    const { turns } = watch;
    const later = lastWindow(turns, tickHz);
    if (later === null) return undefined;
    const earlier = lastWindow(turns.slice(0, turns.length - later.length), tickHz);
    if (earlier === null) return undefined;
    return isSteady(earlier, later) ? true : undefined;
  }, SETTLE_LIMIT_MS);
}

function isSteady(earlier: readonly TrackedTurn[], later: readonly TrackedTurn[]): boolean {
  const before = meanAndSpread(advancesOf(earlier));
  const after = meanAndSpread(advancesOf(later));
  const driftDeg = Math.abs(after.mean - before.mean);
  // Without events there is no advance to wait for.
  if (Number.isNaN(driftDeg)) return true;
  const noiseDeg = Math.hypot(before.spread, after.spread) / Math.sqrt(later.length);
  return driftDeg <= SETTLED_DEG + noiseDeg;
}

function advancesOf(turns: readonly TrackedTurn[]): number[] {
  return turns.map(({ advanceDeg }) => advanceDeg).filter((advance) => advance !== null);
}

/** Fewer turns than this say nothing, however many the spindle has made. */
const TURNS_RECEIVED_MIN = 3;

/** A reading that may end early takes at least so long, so that what wanders slowly shows. */
const EARLIEST = { turns: 8, seconds: 1 } as const;

/** Whether the turns tell their mean advance with this standard uncertainty. */
function repeats(turns: readonly TrackedTurn[], tickHz: number, withinDeg: number): boolean {
  const ticks = turns.reduce((sum, { turn }) => sum + turn.duringTicks, 0);
  if (turns.length < EARLIEST.turns || ticks < EARLIEST.seconds * tickHz) return false;
  const advances = advancesOf(turns);
  return (
    advances.length >= EARLIEST.turns &&
    meanAndSpread(advances).spread <= withinDeg * Math.sqrt(advances.length)
  );
}

/**
 * Collects turns from now on until the spindle has made so many, or, where `withinDeg` is given, until
 * they tell their mean so well. A rig on a slow link sends every n-th only, which counts for n.
 * @throws RIG_NO_TURNS
 */
export async function collectTurns(
  rig: Rig,
  count: number,
  targetRpm: number,
  withinDeg: number | null,
): Promise<Span> {
  const { watch } = rig;
  watch.forgetTurns();
  watch.forgetVacuums();
  const expectedMs = (count * 60_000) / targetRpm;
  const full = await watch.until(
    () => {
      const made = watch.turns.reduce((sum, { turn }) => sum + turn.every, 0);
      const enough = watch.turns.length >= Math.min(TURNS_RECEIVED_MIN, count);
      const early = withinDeg !== null && repeats(watch.turns, rig.tickHz, withinDeg);
      return early || (made >= count && enough) ? watch.turns : undefined;
    },
    4 * expectedMs + 10_000,
  );
  const turns = full ?? watch.turns;
  if (turns.length < Math.min(TURNS_RECEIVED_MIN, count)) {
    throw new BobweightError(
      "RIG_NO_TURNS",
      said("Only {} of {} turns came at {} rpm.", turns.length, count, targetRpm),
    );
  }
  // What came since is the end of the log.
  const to = watch.log.turns.length;
  return { from: to - turns.length, to };
}

export interface VacuumReached {
  readonly reached: boolean;
  readonly vacuumPa: number;
  readonly pumpEffort: number;
}

/** Sets a vacuum and waits for it. Not reaching it is the unit's news, not an error. */
export async function goToVacuum(rig: Rig, targetPa: number): Promise<VacuumReached> {
  const { watch, token } = rig;
  // Clause 5.9: no vacuum is asked for by venting.
  if (targetPa === 0) {
    await vent(rig);
    watch.forgetTurns();
    return { reached: true, vacuumPa: 0, pumpEffort: 0 };
  }
  await send(rig, { type: "vacuum", token, vacuumPa: sensedPa(targetPa, rig.knowledge) });
  watch.forgetVacuums();
  const tolerancePa = Math.max(targetPa * VACUUM_TOLERANCE, VACUUM_TOLERANCE_PA);
  const settled = await watch.until(() => {
    const lines = watch.vacuums.slice(-HOPELESS_LINES);
    const last = lines.slice(-VACUUM_LINES);
    if (last.length < VACUUM_LINES) return undefined;
    if (last.every((line) => Math.abs(line.vacuumPa - targetPa) <= tolerancePa)) return true;
    return isHopeless(lines, targetPa) ? false : undefined;
  }, VACUUM_LIMIT_MS);
  // What the plate did on the way there says nothing of where it comes to rest.
  watch.forgetTurns();
  const last = watch.vacuums[watch.vacuums.length - 1];
  if (last === undefined) {
    throw new BobweightError("RIG_SENSOR", said("No vacuum readings come from the rig."));
  }
  return {
    reached: settled === true,
    vacuumPa: last.vacuumPa,
    pumpEffort: last.pumpPermille / 1000,
  };
}

function isHopeless(
  lines: readonly { vacuumPa: number; pumpPermille: number }[],
  targetPa: number,
): boolean {
  if (lines.length < HOPELESS_LINES) return false;
  const first = lines[0]?.vacuumPa ?? 0;
  const last = lines[lines.length - 1]?.vacuumPa ?? 0;
  const fullDrive = lines.every((line) => line.pumpPermille === 1000);
  return fullDrive && last < targetPa && last - first < HOPELESS_SHARE * targetPa;
}

const VENTED_PA = 500;
const VENT_LIMIT_MS = 10_000;

export async function vent(rig: Rig): Promise<void> {
  const { watch } = rig;
  await send(rig, { type: "vent" });
  await watch.until(() => {
    const last = watch.vacuums[watch.vacuums.length - 1];
    return last === undefined || last.vacuumPa < VENTED_PA ? true : undefined;
  }, VENT_LIMIT_MS);
}
