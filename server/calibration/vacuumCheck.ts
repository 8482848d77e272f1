// The check of the vacuum sensor: the line held at several vacuums, the gauge read by the operator; the motor stays off.
import { meanAndSpread } from "../../core/angles/statistics.ts";
import { estimateVacuum, type Gauge, type GaugePoint } from "../../core/calibration/vacuum.ts";
import { BobweightError } from "../../core/errors.ts";
import { highestVacuumPa } from "../../core/planFile/reach.ts";
import { pascalsFrom, type VacuumUnit, vacuumFromPascals } from "../../core/units.ts";
import { goToVacuum, vent } from "../run/moves.ts";
import type { Rig } from "../run/rig.ts";
import { type CheckBench, type Outcome, withSession } from "./checks.ts";
import type { Operator } from "./operator.ts";
import type { Session } from "./session.ts";

export interface GaugeInUse extends Gauge {
  readonly unit: VacuumUnit;
}

const VACUUMS = 5;
const LOWEST_PA = 10_000;
/** Of what sensor and pump can reach: above, pumps hunt. Common practice, no source. */
const HIGHEST_SHARE = 0.7;
const SETTLE_MS = 3000;
/** Averaged before the gauge is asked for, and as long again after the answer. */
const AVERAGE_MS = 2000;
/** No speed is asked for; the rig wants a ramp named all the same. */
const ANY_RAMP_RPM_PER_S = 100;

/** @throws CHECK_TOO_LITTLE, CHECK_DOUBTFUL, and what the rig or the operator stops it with */
export function checkVacuum(
  bench: CheckBench,
  gauge: GaugeInUse,
  askedPa: readonly number[] | null,
): Promise<Outcome<"vacuum">> {
  const { operator } = bench;
  return withSession(bench, "first", async (session) => {
    const targetsPa = targets(session, askedPa);
    const shown = (pa: number) => vacuumFromPascals(pa, gauge.unit).toFixed(1);
    operator.steps("The vacuum sensor is checked against a gauge. The motor stays off.", [
      "Take the hose off the unit and join gauge and line with a tee, as near to the sensor as can be; plug what is left open.",
      "Let the gauge come to the temperature of the room, and tap it before each reading if it has a needle.",
    ]);
    await operator.agree(
      `Next, the pump draws ${targetsPa.map(shown).join(", ")} ${gauge.unit} in turn; no spindle turns. Is the line closed?`,
    );
    const rig = await session.arm("cw", ANY_RAMP_RPM_PER_S);
    const points: GaugePoint[] = [];
    for (const targetPa of targetsPa) points.push(await read(rig, operator, gauge, targetPa));
    await vent(rig);
    const { chiSquare, worstResidualPa, ...found } = estimateVacuum(points, gauge);
    return { found, evidence: { chiSquare, worstResidualPa, points } };
  });
}

function targets({ hello }: Session, askedPa: readonly number[] | null): readonly number[] {
  if (hello.vacuumMaxPa === 0) {
    throw new BobweightError("CHECK_TOO_LITTLE", "The rig has no vacuum sensor.");
  }
  const highestPa = highestVacuumPa({ ...hello, ambientPa: hello.ambientPa || null });
  const tooHigh = askedPa?.find((pa) => pa > highestPa);
  if (tooHigh !== undefined) {
    throw new BobweightError(
      "PLAN_BEYOND_LIMITS",
      `${tooHigh / 1000} kPa is more than sensor and pump reach here, ${highestPa / 1000} kPa.`,
    );
  }
  if (askedPa !== null) return [...askedPa].sort((a, b) => a - b);
  const stepPa = (HIGHEST_SHARE * highestPa - LOWEST_PA) / (VACUUMS - 1);
  return Array.from(
    { length: VACUUMS },
    (_, i) => Math.round((LOWEST_PA + i * stepPa) / 100) * 100,
  );
}

async function read(
  rig: Rig,
  operator: Operator,
  gauge: GaugeInUse,
  targetPa: number,
): Promise<GaugePoint> {
  const { reached, vacuumPa } = await goToVacuum(rig, targetPa);
  if (!reached) {
    throw new BobweightError(
      "CHECK_DOUBTFUL",
      `The line stayed at ${(vacuumPa / 1000).toFixed(1)} kPa where ${(targetPa / 1000).toFixed(1)} kPa were asked for: it leaks, or the pump is weak.`,
    );
  }
  await rig.watch.pause(SETTLE_MS);
  const before = await average(rig);
  const value = await operator.number(
    `The sensor says ${vacuumFromPascals(before.mean, gauge.unit).toFixed(2)} ${gauge.unit} below ambient. What does the gauge say, in ${gauge.unit}?`,
  );
  const after = await average(rig);
  return {
    sensedPa: (before.mean + after.mean) / 2,
    // Scatter of both means, and the drift from one to the other as a rectangle.
    sensedStandardUncertaintyPa: Math.hypot(
      before.ofMean / 2,
      after.ofMean / 2,
      (after.mean - before.mean) / Math.sqrt(12),
    ),
    gaugePa: pascalsFrom(value, gauge.unit),
  };
}

/** @throws RIG_SENSOR where the sensor has fallen silent */
async function average({ watch }: Rig): Promise<{ mean: number; ofMean: number }> {
  watch.forgetVacuums();
  await watch.pause(AVERAGE_MS);
  const values = watch.vacuums.map((line) => line.vacuumPa);
  if (values.length < 2) {
    throw new BobweightError("RIG_SENSOR", "No vacuum readings come from the rig.");
  }
  const { mean, spread } = meanAndSpread(values);
  return { mean, ofMean: spread / Math.sqrt(values.length) };
}
