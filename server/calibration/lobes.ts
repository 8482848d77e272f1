// Readings for checks of the rig itself: where each lobe fires after the index, and a locked cam over speed.
import { combined, ownOf } from "../../core/angles/budget.ts";
import { Measurements, type Place } from "../../core/angles/measurements.ts";
import type { Span } from "../../core/angles/runLog.ts";
import type { LockedReading } from "../../core/calibration/delay.ts";
import type { LobePlaces } from "../../core/calibration/seating.ts";
import type { LobeFigures, Reading } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import { type Plan, turnsAt } from "../../core/plan.ts";
import type { Branch, Unit } from "../../core/unit.ts";
import { collectTurns, goToSpeed, settle } from "../run/moves.ts";
import { referenceTurns } from "../run/reference.ts";
import type { Rig } from "../run/rig.ts";

/** In a speed sweep slow readings are believed to be an advance of 0; here what moves them is sought. */
const PLACE: Place = { sweep: "vacuum", branch: null };

/** The readings of a check, the first of them the reference. */
class CheckReadings {
  private readonly rig: Rig;
  private readonly plan: Plan;
  private readonly unit: Unit;
  private readonly targetsRpm: number[] = [];
  private measurements: Measurements | null = null;

  constructor(rig: Rig, plan: Plan, unit: Unit) {
    this.rig = rig;
    this.plan = plan;
    this.unit = unit;
  }

  /** As far as it can be known by now. @throws LOBES_UNKNOWN, NO_SPARKS, and what a move throws */
  async read(targetRpm: number): Promise<Reading> {
    const { rig, plan } = this;
    await goToSpeed(rig, targetRpm);
    await settle(rig);
    const span =
      this.measurements === null
        ? await this.takeReference()
        : await collectTurns(rig, turnsAt(plan, targetRpm), targetRpm, null);
    const reading = this.measurements?.add(span, PLACE) ?? null;
    if (reading === null) {
      throw new BobweightError("NO_SPARKS", `No usable sparks came at ${targetRpm} rpm.`);
    }
    this.targetsRpm.push(targetRpm);
    return reading;
  }

  /** All of them by what they tell of the pickup together. */
  final(): { readonly targetRpm: number; readonly reading: Reading }[] {
    const readings = this.measurements?.final()?.readings ?? [];
    return readings.map((reading, i) => ({ targetRpm: this.targetsRpm[i] as number, reading }));
  }

  private async takeReference(): Promise<Span> {
    const { rig, plan, unit } = this;
    const { span, anglesDeg } = await referenceTurns(rig, plan, unit);
    this.measurements = new Measurements(unit, rig.knowledge, rig.watch.log, anglesDeg);
    return span;
  }
}

/** `count` readings at the reference and at each speed of the plan, lobes counted alike in all of them. */
export async function readPlaces(
  rig: Rig,
  plan: Plan,
  unit: Unit,
  count: number,
): Promise<LobePlaces[]> {
  const readings = new CheckReadings(rig, plan, unit);
  for (const targetRpm of [plan.referenceRpm, ...plan.speedsRpm]) {
    for (let i = 0; i < count; i++) await readings.read(targetRpm);
  }
  return readings.final().map(({ targetRpm, reading }) => placesOf(targetRpm, reading));
}

function placesOf(targetRpm: number, { lobes, lobeDeviationsDeg }: Reading): LobePlaces {
  const anglesDeg = lobes.map(({ angleDeg }, lobe) => {
    if (angleDeg !== null) return angleDeg;
    throw new BobweightError("NO_SPARKS", `Lobe ${lobe + 1} gave no sparks at ${targetRpm} rpm.`);
  });
  return {
    targetRpm,
    hiddenStandardUncertaintyDeg: Math.max(...lobes.map(hiddenDeg)),
    anglesDeg,
    deviationsDeg: lobeDeviationsDeg,
  };
}

/** Tick, pickup and ripple: all but the scatter, which shows when the reading is repeated. */
function hiddenDeg({ standardUncertaintyDeg, spreadDeg, events }: LobeFigures): number {
  return Math.sqrt(Math.max(0, standardUncertaintyDeg ** 2 - spreadDeg ** 2 / events));
}

/** Reference, every speed of the plan up and back down, and the reference again. */
export async function readLocked(
  rig: Rig,
  plan: Plan,
  unit: Unit,
  say: (text: string) => void,
): Promise<LockedReading[]> {
  const stations: { readonly branch: Branch | null; readonly targetRpm: number }[] = [
    { branch: null, targetRpm: plan.referenceRpm },
    ...plan.speedsRpm.map((targetRpm) => ({ branch: "rising" as const, targetRpm })),
    ...[...plan.speedsRpm]
      .reverse()
      .map((targetRpm) => ({ branch: "falling" as const, targetRpm })),
    { branch: null, targetRpm: plan.referenceRpm },
  ];
  const readings = new CheckReadings(rig, plan, unit);
  for (const { targetRpm } of stations) {
    const { advanceDeg } = await readings.read(targetRpm);
    say(`  ${targetRpm} rpm: ${advanceDeg.toFixed(3)}°`);
  }
  return readings.final().map(({ targetRpm, reading }, i) => ({
    branch: stations[i]?.branch ?? null,
    targetRpm,
    speedRpm: reading.speedRpm,
    advanceDeg: reading.advanceDeg,
    standardUncertaintyDeg: combined(ownOf(reading.budget)),
  }));
}
