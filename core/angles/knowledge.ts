// What a record says of its rig, as the measurement needs it.
import type { VacuumLine } from "../codec/rigLines.ts";
import type { RigDescription } from "../documents.ts";

/** What is known of the rig's own errors before a run. Standard uncertainties by JCGM 100. */
export interface RigKnowledge {
  readonly tickHz: number;
  /** Limit of the clock's error. */
  readonly tickPpm: number;
  readonly edgesPerTurn: number;
  /** Fixed delay from the unit's firing to the rig's tick; taken off. */
  readonly delayUs: number;
  readonly delayStandardUncertaintyUs: number;
  /** Null: infinite. */
  readonly delayDegreesOfFreedom: number | null;
  /** True vacuum = offset + gain · sensed. */
  readonly vacuumOffsetPa: number;
  readonly vacuumGain: number;
  readonly vacuumStandardUncertaintyPa: number;
  /** What the coupling adds to a lobe's place once per turn: amplitude, and where it is largest. */
  readonly couplingRunOutDeg: number;
  readonly couplingPhaseDeg: number;
}

export function rigKnowledge(rig: RigDescription): RigKnowledge {
  const { hello, calibration } = rig;
  const { delay, coupling, vacuum } = calibration ?? { delay: null, coupling: null, vacuum: null };
  return {
    tickHz: hello.tickHz,
    tickPpm: hello.tickPpm,
    edgesPerTurn: hello.edgesPerTurn,
    delayUs: delay?.delayUs ?? 0,
    delayStandardUncertaintyUs: rig.triggerDelayStandardUncertaintyUs,
    delayDegreesOfFreedom: delay?.degreesOfFreedom ?? null,
    vacuumOffsetPa: vacuum?.offsetPa ?? 0,
    vacuumGain: vacuum?.gain ?? 1,
    vacuumStandardUncertaintyPa: rig.vacuumSensorStandardUncertaintyPa,
    couplingRunOutDeg: coupling?.runOutDeg ?? 0,
    couplingPhaseDeg: coupling?.phaseDeg ?? 0,
  };
}

type VacuumScale = Pick<RigKnowledge, "vacuumOffsetPa" | "vacuumGain">;

/** The line as a right sensor would have given it. */
export function trueVacuum(line: VacuumLine, rig: VacuumScale): VacuumLine {
  return { ...line, vacuumPa: rig.vacuumOffsetPa + rig.vacuumGain * line.vacuumPa };
}

/** What the rig's sensor reads, whole pascals, where the true vacuum is `vacuumPa`. */
export function sensedPa(vacuumPa: number, rig: VacuumScale): number {
  return Math.max(0, Math.round((vacuumPa - rig.vacuumOffsetPa) / rig.vacuumGain));
}
