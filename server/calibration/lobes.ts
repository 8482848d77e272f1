// Readings for checks of the rig itself: where each lobe fires after the index, and a locked cam over speed.
import { findLobes, firingEvents, LobeTracker, wrap180 } from "../../core/angles/lobes.ts";
import {
  meanAndSpread,
  type Reference,
  type RigErrors,
  readingFrom,
  referenceFrom,
} from "../../core/angles/reading.ts";
import type { LobePlaces } from "../../core/calibration/coupling.ts";
import type { LockedReading } from "../../core/calibration/delay.ts";
import type { Hello } from "../../core/codec/rigLines.ts";
import { BobweightError } from "../../core/errors.ts";
import { type Plan, turnsAt } from "../../core/plan.ts";
import type { Branch, Unit } from "../../core/unit.ts";
import { lobesUnknown } from "../run/course.ts";
import { collectTurns, goToSpeed, type Rig, settle } from "../run/moves.ts";

/** Uncorrected, and without what a check is about to find: only spread and tick are asked for. */
function bareErrors({ tickHz, tickPpm, edgesPerTurn }: Hello): RigErrors {
  return {
    tickHz,
    tickPpm,
    vacuumSensorPa: 0,
    triggerDelayUs: 0,
    indexOnly: edgesPerTurn === 1,
  };
}

/** Takes the zero at the plan's reference speed. @throws LOBES_UNKNOWN, and what a move throws */
async function takeReference(rig: Rig, plan: Plan, unit: Unit, hello: Hello) {
  const { firingEdge } = unit.trigger;
  await goToSpeed(rig, plan.referenceRpm);
  await settle(rig);
  const turns = await collectTurns(rig, turnsAt(plan, plan.referenceRpm), plan.referenceRpm);
  const rough = findLobes(
    turns.map(({ turn }) => firingEvents(turn, firingEdge, null).anglesDeg),
    unit.lobeAnglesDeg,
  );
  if (!rough.found) throw lobesUnknown(rough.eventsPerTurn, unit);
  const track = (anglesDeg: readonly number[]) => {
    const tracker = new LobeTracker(anglesDeg, firingEdge);
    return turns.map(({ turn }) => tracker.track(turn));
  };
  const reference = referenceFrom(rough.anglesDeg, track(rough.anglesDeg), bareErrors(hello));
  rig.watch.trackFrom(reference.anglesDeg);
  return { reference, turns: track(reference.anglesDeg) };
}

/** `count` readings at the plan's reference speed, lobes counted alike in all of them. */
export async function readPlaces(
  rig: Rig,
  plan: Plan,
  unit: Unit,
  hello: Hello,
  count: number,
): Promise<LobePlaces[]> {
  const { reference } = await takeReference(rig, plan, unit, hello);
  const places = [placesOf(reference, unit)];
  while (places.length < count) {
    const turns = await collectTurns(rig, turnsAt(plan, plan.referenceRpm), plan.referenceRpm);
    const again = referenceFrom(reference.anglesDeg, turns, bareErrors(hello));
    places.push(placesOf(again, unit));
  }
  return places;
}

function placesOf({ anglesDeg }: Reference, { lobeAnglesDeg }: Unit): LobePlaces {
  const first = anglesDeg[0] as number;
  const offs = anglesDeg.map((angle, lobe) => wrap180(angle - first - (lobeAnglesDeg[lobe] ?? 0)));
  const { mean } = meanAndSpread(offs);
  return {
    anglesDeg: anglesDeg.map((angle) => (angle + 360) % 360),
    deviationsDeg: offs.map((off) => off - mean),
  };
}

/** Reference, every speed of the plan up and back down, and the reference again. */
export async function readLocked(
  rig: Rig,
  plan: Plan,
  unit: Unit,
  hello: Hello,
  say: (text: string) => void,
): Promise<LockedReading[]> {
  const { reference, turns } = await takeReference(rig, plan, unit, hello);
  const errors = bareErrors(hello);
  const told = (branch: Branch | null, targetRpm: number, of: typeof turns): LockedReading => {
    const reading = readingFrom(of, reference, unit.lobeAnglesDeg, [], errors, false);
    if (reading === null) {
      throw new BobweightError("NO_SPARKS", `No usable sparks came at ${targetRpm} rpm.`);
    }
    const { speedRpm, advanceDeg, spreadDeg } = reading;
    const tickDeg = (6 * speedRpm) / hello.tickHz;
    const standardUncertaintyDeg = Math.hypot(
      spreadDeg / Math.sqrt(reading.turns),
      tickDeg / Math.sqrt(12),
    );
    say(`  ${targetRpm} rpm: ${advanceDeg.toFixed(3)}°`);
    return { branch, targetRpm, speedRpm, advanceDeg, standardUncertaintyDeg };
  };
  const read = async (branch: Branch | null, targetRpm: number) => {
    await goToSpeed(rig, targetRpm);
    await settle(rig);
    return told(branch, targetRpm, await collectTurns(rig, turnsAt(plan, targetRpm), targetRpm));
  };
  const readings = [told(null, plan.referenceRpm, turns)];
  for (const rpm of plan.speedsRpm) readings.push(await read("rising", rpm));
  for (const rpm of [...plan.speedsRpm].reverse()) readings.push(await read("falling", rpm));
  readings.push(await read(null, plan.referenceRpm));
  return readings;
}
