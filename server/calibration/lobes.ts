// Readings for checks of the rig itself: where each lobe fires after the index, and a locked cam over speed.
import { findLobes, firingEvents, LobeTracker, wrap180 } from "../../core/angles/lobes.ts";
import { type RigErrors, readingFrom, referenceFrom } from "../../core/angles/reading.ts";
import type { LockedReading } from "../../core/calibration/delay.ts";
import { centred, type LobePlaces } from "../../core/calibration/seating.ts";
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

/** `count` readings at the reference and at each speed of the plan, lobes counted alike in all of them. */
export async function readPlaces(
  rig: Rig,
  plan: Plan,
  unit: Unit,
  hello: Hello,
  count: number,
): Promise<LobePlaces[]> {
  const { reference } = await takeReference(rig, plan, unit, hello);
  const places: LobePlaces[] = [];
  for (const targetRpm of [plan.referenceRpm, ...plan.speedsRpm]) {
    await goToSpeed(rig, targetRpm);
    await settle(rig);
    for (let i = 0; i < count; i++) {
      const turns = await collectTurns(rig, turnsAt(plan, targetRpm), targetRpm);
      const { anglesDeg } = referenceFrom(reference.anglesDeg, turns, bareErrors(hello));
      places.push(placesOf(targetRpm, hello, anglesDeg, unit));
    }
  }
  return places;
}

/** Fewer edges than this do not follow the first few orders of ripple. */
const EDGES_THAT_FOLLOW = 12;
/** What ripple of the drive then hides at 1000 rpm: an assumption, no source. */
const UNSEEN_RIPPLE_DEG = 0.005;

/** Tick as a rectangle, not lessened by averaging, since at a steady speed all events round alike; and ripple. */
function hiddenDeg(speedRpm: number, { tickHz, edgesPerTurn }: Hello): number {
  const tickDeg = (6 * speedRpm) / tickHz;
  const unseenDeg =
    edgesPerTurn < EDGES_THAT_FOLLOW ? UNSEEN_RIPPLE_DEG * (1000 / speedRpm) ** 2 : 0;
  return Math.hypot(tickDeg / Math.sqrt(12), unseenDeg);
}

function placesOf(
  targetRpm: number,
  hello: Hello,
  anglesDeg: readonly number[],
  { lobeAnglesDeg }: Unit,
): LobePlaces {
  const first = anglesDeg[0] as number;
  const offs = anglesDeg.map((angle, lobe) => wrap180(angle - first - (lobeAnglesDeg[lobe] ?? 0)));
  return {
    targetRpm,
    hiddenStandardUncertaintyDeg: hiddenDeg(targetRpm, hello),
    anglesDeg: anglesDeg.map((angle) => (angle + 720) % 360),
    deviationsDeg: centred(offs),
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
