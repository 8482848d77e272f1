// How far the vacuum truly fell in a hold test, by the physics of line and leak.
import type { HoldDocument } from "../../core/documents.ts";
import { VacuumLine } from "../../sim/vacuumLine.ts";
import type { DrawnUnit } from "../drawn/unit.ts";
import type { StandInRun } from "../standIn.ts";

const STEP_S = 0.01;
/** The stand-in rig's own where a scenario does not say otherwise. */
const LINE = { lineVolumeMl: 250, ambientPa: 101_325, pumpFlowMlPerS: 300, pumpLimitPa: 85_000 };

/** From the vacuum at which the clock started, in pascals; null without a test. */
export function heldDropPa({ capsule }: DrawnUnit, run: StandInRun): number | null {
  const hold = run.documents.find((document): document is HoldDocument => document.type === "hold");
  if (hold === undefined || capsule === null) return null;
  const line = new VacuumLine(LINE);
  line.vacuumPa = hold.startPa;
  for (let i = 0; i < hold.seconds / STEP_S; i++) line.step(STEP_S, "hold", 0, 0, capsule.leak);
  return hold.startPa - line.vacuumPa;
}
