// What a record says of its rig, as the measurement needs it.
import { latestDeg } from "../calibration/calibration.ts";
import type { Direction, Hello, VacuumLine } from "../codec/rigLines.ts";
import type { PresentRig } from "../documents.ts";

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
  /** What the coupling adds to a lobe's place once per turn: amplitude, and where it is largest, the way the unit turns. */
  readonly couplingRunOutDeg: number;
  readonly couplingPhaseDeg: number;
}

/** As if the rig had no errors: what a check of the rig itself reads by. */
export function uncorrectedRig({ tickHz, tickPpm, edgesPerTurn }: Hello): RigKnowledge {
  return {
    tickHz,
    tickPpm,
    edgesPerTurn,
    delayUs: 0,
    delayStandardUncertaintyUs: 0,
    delayDegreesOfFreedom: null,
    vacuumOffsetPa: 0,
    vacuumGain: 1,
    vacuumStandardUncertaintyPa: 0,
    couplingRunOutDeg: 0,
    couplingPhaseDeg: 0,
  };
}

/** Of a rig that turns a unit this way round. */
export function rigKnowledge(rig: PresentRig, rotation: Direction): RigKnowledge {
  const { delay, coupling, vacuum } = rig.calibration ?? {};
  const bare = uncorrectedRig(rig.hello);
  return {
    ...bare,
    delayUs: delay?.delayUs ?? bare.delayUs,
    delayStandardUncertaintyUs: rig.triggerDelayStandardUncertaintyUs,
    delayDegreesOfFreedom: delay?.degreesOfFreedom ?? bare.delayDegreesOfFreedom,
    vacuumOffsetPa: vacuum?.offsetPa ?? bare.vacuumOffsetPa,
    vacuumGain: vacuum?.gain ?? bare.vacuumGain,
    vacuumStandardUncertaintyPa: rig.vacuumSensorStandardUncertaintyPa,
    couplingRunOutDeg: coupling?.runOutDeg ?? bare.couplingRunOutDeg,
    couplingPhaseDeg: latestDeg(coupling?.phaseDeg ?? bare.couplingPhaseDeg, rotation),
  };
}

type VacuumScale = Pick<RigKnowledge, "vacuumOffsetPa" | "vacuumGain">;

/** The line as a right sensor would have given it. */
export function trueVacuum(line: VacuumLine, rig: VacuumScale): VacuumLine {
  const { type, sequence, tick, pumpPermille, valve } = line;
  const vacuumPa = rig.vacuumOffsetPa + rig.vacuumGain * line.vacuumPa;
  return { type, sequence, tick, vacuumPa, pumpPermille, valve };
}

/** What the rig's sensor reads, whole pascals, where the true vacuum is `vacuumPa`. */
export function sensedPa(vacuumPa: number, rig: VacuumScale): number {
  return Math.max(0, Math.round((vacuumPa - rig.vacuumOffsetPa) / rig.vacuumGain));
}
