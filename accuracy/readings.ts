// Readings by the product's engine over turns of one's choice, be the speed steady or not.
import { rigKnowledge } from "../core/angles/knowledge.ts";
import { Measurements } from "../core/angles/measurements.ts";
import { RunLog } from "../core/angles/runLog.ts";
import type { Reading } from "../core/documents.ts";
import type { Turn } from "../core/turns.ts";
import type { Unit } from "../core/unit.ts";
import type { Drive } from "./standIn.ts";

/** What the engine knows of a rig that says hello and was never checked. */
export function uncheckedRig(hello: Drive["hello"], triggerDelayStandardUncertaintyUs: number) {
  return rigKnowledge(
    {
      name: "stand-in",
      simulated: true,
      scenario: null,
      hello,
      calibration: null,
      vacuumSensorStandardUncertaintyPa: 20,
      triggerDelayStandardUncertaintyUs,
      ambientPa: null,
    },
    "cw",
  );
}

/** Final readings of the groups of turns, which follow one another in time; the first is the reference. */
export function readingsOf(
  unit: Unit,
  { hello }: Pick<Drive, "hello">,
  groups: readonly (readonly Turn[])[],
): readonly Reading[] {
  const rig = uncheckedRig(hello, 0);
  const log = new RunLog(rig, unit.trigger.firingEdge);
  let measurements: Measurements | null = null;
  for (const group of groups) {
    const from = log.turns.length;
    for (const turn of group) log.pushTurn(turn);
    const span = { from, to: log.turns.length };
    if (measurements === null) {
      const lobes = log.takeReference(span, unit.lobeAnglesDeg);
      if (!lobes.found) throw new Error("the reference has no lobes");
      measurements = new Measurements(unit, rig, log, lobes.anglesDeg);
    }
    measurements.add(span, { sweep: "vacuum", branch: null });
  }
  return measurements?.final()?.readings ?? [];
}
