// The four checks of a rig, each as the operator goes through it at the bench. Steps are common practice, no source.

import { latestDeg, type RigCalibration } from "../../core/calibration/calibration.ts";
import { estimateCoupling } from "../../core/calibration/coupling.ts";
import { estimateDelay } from "../../core/calibration/delay.ts";
import { estimatePickup, type KnownAngle } from "../../core/calibration/pickup.ts";
import { CAUTIONS } from "../../core/cautions.ts";
import { BobweightError } from "../../core/errors.ts";
import type { Plan } from "../../core/plan.ts";
import { highestSpeedRpm } from "../../core/planFile/reach.ts";
import { planFor, type RigReach, walkLimits } from "../../core/planFile.ts";
import type { Unit } from "../../core/unit.ts";
import { readLocked, readPlaces } from "./lobes.ts";
import type { Operator } from "./operator.ts";
import type { Seat } from "./seatedPort.ts";
import type { Session } from "./session.ts";

export interface CheckBench {
  readonly operator: Operator;
  /** Opens the rig, the unit in this seat. */
  readonly connect: (seat: Seat) => Promise<Session>;
}

/** A check without its day, and what it was worked out from. */
export interface Outcome<K extends keyof RigCalibration> {
  readonly found: Omit<NonNullable<RigCalibration[K]>, "checkedUtc">;
  readonly evidence: unknown;
}

/** Connects, and leaves the rig stopped and disarmed whatever happens. */
export async function withSession<T>(
  { operator, connect }: CheckBench,
  seat: Seat,
  work: (session: Session) => Promise<T>,
): Promise<T> {
  const session = await connect(seat);
  try {
    return await work(session);
  } catch (error) {
    // What interrupted the check is why it ended, even if a command failed because of it.
    throw session.interruption ?? error;
  } finally {
    await comeToRest(session, operator);
    await session.close();
  }
}

async function comeToRest(session: Session, operator: Operator): Promise<void> {
  if (await session.rest()) return;
  operator.say(
    "The rig did not confirm that it is off and stands still. Take the power from it before you touch it.",
  );
}

/** Says what to do and the cautions, and waits until the operator agrees to the motion described. */
async function agreeToMotion(
  operator: Operator,
  title: string,
  steps: readonly string[],
  motion: string,
): Promise<void> {
  operator.steps(title, steps);
  operator.say("Cautions:");
  for (const caution of CAUTIONS) operator.say(`  - ${caution}`);
  await operator.agree(`Next, ${motion}. Is all this done and the guard shut?`);
}

const REFERENCE_RPM = 200;
const DELAY_SPEEDS = 8;
const SECONDS_PER_READING = 6;
const TURNS_PER_READING = 400;

/** A plan of speeds alone; `speedsUpTo` is told the highest that unit and rig allow. @throws PLAN_BEYOND_LIMITS */
function planOf(
  unit: Unit,
  { hello }: Session,
  speedsUpTo: (capRpm: number) => readonly number[],
): Plan {
  const reach: RigReach = { ...hello, ambientPa: hello.ambientPa || null };
  const plan = planFor(unit, reach, {
    referenceRpm: Math.max(REFERENCE_RPM, hello.speedMinRpm),
    speedsRpm: speedsUpTo(Math.min(highestSpeedRpm(unit), hello.speedMaxRpm)),
    vacuums: { unit: "Pa", values: [] },
    hold: false,
    turnsPerReading: TURNS_PER_READING,
    secondsPerReading: SECONDS_PER_READING,
  });
  walkLimits(plan, unit, reach);
  return plan;
}

function topOf({ referenceRpm, speedsRpm }: Plan): number {
  return Math.max(referenceRpm, ...speedsRpm);
}

/** Evenly up to the highest, those above the reference. */
function delaySpeeds(capRpm: number): number[] {
  return Array.from({ length: DELAY_SPEEDS }, (_, i) =>
    Math.floor(((i + 1) * capRpm) / DELAY_SPEEDS),
  ).filter((rpm) => rpm > REFERENCE_RPM);
}

/** Fast enough for the drive's ripple to be small. */
const PLACES_RPM = 1000;

/** @throws CAM_NOT_LOCKED, CHECK_TOO_LITTLE, and what the rig or the operator stops it with */
export function checkDelay(
  bench: CheckBench,
  unit: Unit,
  speedsRpm: readonly number[] | null,
): Promise<Outcome<"delay">> {
  const { operator } = bench;
  return withSession(bench, "first", async (session) => {
    const plan = planOf(unit, session, (capRpm) => speedsRpm ?? delaySpeeds(capRpm));
    await agreeToMotion(
      operator,
      "The rig's delay is measured with a unit whose cam cannot move on its shaft.",
      [
        "Lock the cam to the shaft: a solid cam, or weights blocked so that they can neither move nor come loose at speed.",
        "Block the breaker plate too, and take the hose off the capsule.",
        "Disconnect the condenser, and connect the trigger just as for measuring: the delay is the whole of it.",
        "Clamp the unit and turn the spindle once round by hand.",
      ],
      `the motor turns the unit at ${plan.referenceRpm} to ${topOf(plan)} rpm, up and back down`,
    );
    const rig = await session.arm(unit.rotation, plan.rampRpmPerS);
    const say = (text: string) => operator.say(text);
    const readings = await readLocked(rig, plan, unit, say);
    const { delayUs, standardUncertaintyUs, degreesOfFreedom, ...fit } = estimateDelay(readings);
    return {
      found: { delayUs, standardUncertaintyUs, degreesOfFreedom },
      evidence: { ...fit, readings },
    };
  });
}

const PICKUP_READINGS = 8;

/** The angle from one lobe of the unit file to another, both counted from 1. */
export interface LobePair {
  readonly from: number;
  readonly to: number;
}

/** @throws CHECK_TOO_LITTLE, FILE_INVALID, and what the rig or the operator stops it with */
export function checkPickup(
  bench: CheckBench,
  unit: Unit,
  lobes: LobePair,
  known: KnownAngle,
): Promise<Outcome<"pickup">> {
  checkPair(unit, lobes);
  const { operator } = bench;
  return withSession(bench, "first", async (session) => {
    const plan = planOf(unit, session, (capRpm) => [Math.min(PLACES_RPM, capRpm)]);
    await agreeToMotion(
      operator,
      `The pickup is measured against a known angle: ${known.knownDeg}° from firing event ${lobes.from} to ${lobes.to}.`,
      [
        "Mount the reference disc, or the cam whose angle was measured, centred and without play.",
        "Weights blocked, hose off: nothing but the spindle may move.",
        "Clamp it and turn the spindle once round by hand.",
      ],
      `the motor turns at ${plan.referenceRpm} to ${topOf(plan)} rpm`,
    );
    const rig = await session.arm(unit.rotation, plan.rampRpmPerS);
    const places = await readPlaces(rig, plan, unit, PICKUP_READINGS);
    const top = places.filter(({ targetRpm }) => targetRpm === topOf(plan));
    const anglesDeg = top.map(({ anglesDeg: at }) => {
      const deg = (at[lobes.to - 1] as number) - (at[lobes.from - 1] as number);
      return (deg + 360) % 360;
    });
    // Two places make an angle.
    const hiddenDeg = Math.SQRT2 * (top[0]?.hiddenStandardUncertaintyDeg ?? 0);
    return { found: estimatePickup(anglesDeg, known, hiddenDeg), evidence: { anglesDeg } };
  });
}

function checkPair({ lobeAnglesDeg }: Unit, { from, to }: LobePair): void {
  const count = lobeAnglesDeg.length;
  if (from === to || from > count || to > count) {
    throw new BobweightError(
      "CHECK_TOO_LITTLE",
      `From ${from} to ${to} is no angle between two of the unit file's ${count} lobes.`,
    );
  }
  const even = lobeAnglesDeg.every((angle, i) => Math.abs(angle - (i * 360) / count) < 1);
  if (even) {
    throw new BobweightError(
      "CHECK_TOO_LITTLE",
      "Evenly spaced events cannot be told from each other, so it is not known which angle was measured; use a disc or cam whose events are unevenly spaced.",
    );
  }
}

const COUPLING_READINGS = 5;
const couplingSpeeds = (capRpm: number) => {
  const topRpm = Math.min(PLACES_RPM, capRpm);
  return [topRpm / 2, topRpm];
};

/** @throws CHECK_TOO_LITTLE, CHECK_DOUBTFUL, and what the rig or the operator stops it with */
export async function checkCoupling(bench: CheckBench, unit: Unit): Promise<Outcome<"coupling">> {
  const { operator } = bench;
  const lobes = unit.lobeAnglesDeg.length;
  if (lobes < 3) {
    throw new BobweightError(
      "CHECK_TOO_LITTLE",
      `The unit has ${lobes} of the at least 3 lobes that tell size and place of a run-out: ${lobes === 1 ? "one has nothing to compare with" : "two tell it along their own line only"}.`,
    );
  }
  const read = async (session: Session) => {
    const plan = planOf(unit, session, couplingSpeeds);
    const rig = await session.arm(unit.rotation, plan.rampRpmPerS);
    return readPlaces(rig, plan, unit, COUPLING_READINGS);
  };
  const before = await withSession(bench, "first", async (session) => {
    const topRpm = topOf(planOf(unit, session, couplingSpeeds));
    const motion = `the motor turns the unit at up to ${topRpm} rpm`;
    await agreeToMotion(
      operator,
      "What the coupling adds once a turn is told by measuring a unit in two seats, half a turn apart.",
      [
        "Any sound unit with three lobes or more will do; the hose off its capsule.",
        "Mark unit shaft and coupling with a line across both.",
        "Clamp the unit and turn the spindle once round by hand.",
      ],
      motion,
    );
    const places = await read(session);
    if (!(await session.rest())) {
      throw new BobweightError("LINK_LOST", "The rig did not confirm that it is off and at rest.");
    }
    await agreeToMotion(
      operator,
      "Now the second seat. The rig reports that motor and pump are off and the spindle stands still.",
      [
        "See that the spindle stands still, open the guard and take the unit out of the coupling.",
        "Turn the unit's shaft half a turn in the coupling, so that the two ends of the line stand opposite, and clamp it as before.",
        "Turn the spindle once round by hand.",
      ],
      motion,
    );
    return places;
  });
  const after = await withSession(bench, "second", read);
  const { runOutDeg, phaseDeg, standardUncertaintyDeg, degreesOfFreedom, ...rest } =
    estimateCoupling(before, after);
  return {
    found: {
      runOutDeg,
      phaseDeg: latestDeg(phaseDeg, unit.rotation),
      standardUncertaintyDeg,
      degreesOfFreedom,
    },
    evidence: { ...rest, before, after },
  };
}
