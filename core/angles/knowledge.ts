// What a record says of its rig, as the measurement needs it.
import type { RigDescription } from "../documents.ts";
import type { RigKnowledge } from "./reading.ts";

export function rigKnowledge(rig: RigDescription): RigKnowledge {
  const { hello } = rig;
  return {
    tickHz: hello.tickHz,
    tickPpm: hello.tickPpm,
    edgesPerTurn: hello.edgesPerTurn,
    delayUs: 0,
    delayStandardUncertaintyUs: rig.triggerDelayStandardUncertaintyUs,
    delayDegreesOfFreedom: null,
    vacuumOffsetPa: 0,
    vacuumGain: 1,
    vacuumStandardUncertaintyPa: rig.vacuumSensorStandardUncertaintyPa,
    couplingRunOutDeg: 0,
    couplingPhaseDeg: 0,
  };
}
