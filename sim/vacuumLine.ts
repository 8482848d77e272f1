// The air in the vacuum line: pump, valve, bleed and the capsule's leaks.
import type { Leak } from "./capsule.ts";

export type Valve = "vent" | "control" | "hold";

/** Flow of free air at 50 kPa below ambient through the open vent and the open bleed. */
const VENT_ML_PER_S = 3000;
export const BLEED_ML_PER_S = 800;
const LEAK_REFERENCE_PA = 50_000;

/** Air: ratio of specific heats, and the pressure ratio below which a sharp hole is choked, 0.528. */
const GAMMA = 1.4;
const CRITICAL_RATIO = (2 / (GAMMA + 1)) ** (GAMMA / (GAMMA - 1));

/** Flow through a sharp hole as a share of its choked flow (isentropic nozzle; from memory). */
function orificeShare(pressureRatio: number): number {
  if (pressureRatio <= CRITICAL_RATIO) return 1;
  const flow = (ratio: number) =>
    Math.sqrt(Math.max(0, ratio ** (2 / GAMMA) - ratio ** ((GAMMA + 1) / GAMMA)));
  return flow(Math.min(1, pressureRatio)) / flow(CRITICAL_RATIO);
}

export class VacuumLine {
  /** Pascals below ambient. */
  vacuumPa = 0;
  private readonly volumeMl: number;
  private readonly ambientPa: number;
  private readonly pumpFlowMlPerS: number;
  private readonly pumpLimitPa: number;

  constructor(setup: {
    readonly lineVolumeMl: number;
    readonly ambientPa: number;
    readonly pumpFlowMlPerS: number;
    readonly pumpLimitPa: number;
  }) {
    this.volumeMl = setup.lineVolumeMl;
    this.ambientPa = setup.ambientPa;
    this.pumpFlowMlPerS = setup.pumpFlowMlPerS;
    this.pumpLimitPa = setup.pumpLimitPa;
  }

  /** One step at room temperature; `pump` and `bleed` are shares from 0 to 1. */
  step(dtS: number, valve: Valve, pump: number, bleed: number, leaks: readonly Leak[]): void {
    const { vacuumPa, ambientPa } = this;
    const perMl = ambientPa / this.volumeMl;
    let passageMlPerS = 0;
    let flowMlPerS = 0;
    if (valve === "vent") passageMlPerS += VENT_ML_PER_S;
    if (valve === "control") {
      passageMlPerS += bleed * BLEED_ML_PER_S;
      flowMlPerS += pump * this.pumpFlowMlPerS * Math.max(0, 1 - vacuumPa / this.pumpLimitPa);
    }
    for (const leak of leaks) {
      if (leak.form === "passage") passageMlPerS += leak.flowMlPerS;
      // The reference vacuum chokes a pinhole below 106 kPa of ambient, which benches stay under.
      else flowMlPerS -= leak.flowMlPerS * orificeShare(1 - vacuumPa / ambientPa);
    }
    // Passages let the vacuum fall exponentially; the exact solution needs no small step.
    const rate = (passageMlPerS / LEAK_REFERENCE_PA) * perMl;
    const decay = Math.exp(-rate * dtS);
    const gained = rate > 0 ? (flowMlPerS * perMl * (1 - decay)) / rate : flowMlPerS * perMl * dtS;
    this.vacuumPa = Math.min(Math.max(vacuumPa * decay + gained, 0), ambientPa);
  }
}
