// The turns at the reference, and where in them the unit's lobes are.

import type { Span } from "../../core/angles/runLog.ts";
import { BobweightError } from "../../core/errors.ts";
import { type Plan, turnsAt } from "../../core/plan.ts";
import { said } from "../../core/said.ts";
import type { Unit } from "../../core/unit.ts";
import { collectTurns } from "./moves.ts";
import type { Rig } from "./rig.ts";

/**
 * Lobes are found in a turn with all its openings. At a slow reference a reading may be three turns, each of
 * which may lack one by chance; of so many hardly ever all, so only then they are called unknown.
 */
const TURNS_FOR_LOBES = 12;

/** At the reference's speed, settled. @throws LOBES_UNKNOWN, NO_SPARKS, and what a move throws */
export async function referenceTurns(
  rig: Rig,
  plan: Plan,
  unit: Unit,
): Promise<{ readonly span: Span; readonly anglesDeg: readonly number[] }> {
  const over = async (turns: number) => {
    const span = await collectTurns(rig, turns, plan.referenceRpm, null);
    return { span, lobes: rig.watch.log.takeReference(span, unit.lobeAnglesDeg) };
  };
  const planned = turnsAt(plan, plan.referenceRpm);
  let { span, lobes } = await over(planned);
  if (!lobes.found && lobes.eventsPerTurn > 0 && planned < TURNS_FOR_LOBES) {
    ({ span, lobes } = await over(TURNS_FOR_LOBES));
  }
  if (!lobes.found) throw lobesUnknown(lobes.eventsPerTurn, unit);
  return { span, anglesDeg: lobes.anglesDeg };
}

/** By what came instead of the unit's lobes. */
function lobesUnknown(eventsPerTurn: number, unit: Unit): BobweightError {
  if (eventsPerTurn === 0) {
    return new BobweightError("NO_SPARKS", said("The spindle turns, but no firing edge comes."));
  }
  return new BobweightError(
    "LOBES_UNKNOWN",
    said(
      "The unit file says {} lobes; {.1} firing edges a turn came, or not at these angles.",
      unit.lobeAnglesDeg.length,
      eventsPerTurn,
    ),
  );
}
