// A check of the rig as its operator goes through it, on the stand-in rig in virtual time.
import { PassThrough } from "node:stream";
import type { CheckKind, RigCalibration } from "../core/calibration/calibration.ts";
import type { Unit } from "../core/unit.ts";
import type { CheckBench, Outcome } from "../server/calibration/checks.ts";
import { Operator } from "../server/calibration/operator.ts";
import { seatedPort } from "../server/calibration/seatedPort.ts";
import { Session } from "../server/calibration/session.ts";
import type { RigFile } from "../server/rigFile.ts";
import { VirtualScheduler } from "../server/schedulers.ts";
import type { BoardMaker } from "../sim/standInRig.ts";

/** Invented: no clock says when a check in virtual time was made. */
const CHECKED_UTC = "2000-01-01T00:00:00.000Z";

export interface CheckChoice {
  readonly unit: Unit;
  /** Content of a scenario file. */
  readonly scenario: unknown;
  readonly rig: RigFile;
  /** What the operator types to each question for a number. */
  readonly typed?: (question: string) => string;
  /** Another board than the stand-in's own. */
  readonly makeBoard?: BoardMaker;
}

/** What the check found, dated as a rig file keeps it. @throws what ends a check */
export async function checkOnStandIn<K extends CheckKind>(
  { unit, scenario, rig, typed, makeBoard }: CheckChoice,
  check: (bench: CheckBench) => Promise<Outcome<K>>,
): Promise<NonNullable<RigCalibration[K]>> {
  const scheduler = new VirtualScheduler();
  const input = new PassThrough();
  const hear = (text: string) => {
    if (typed !== undefined && text.endsWith("?\n")) input.write(`${typed(text)}\n`);
  };
  const operator = new Operator(input, hear, true);
  const played = { name: "scenario", content: scenario };
  const connect: CheckBench["connect"] = (seat) =>
    Session.connect(
      seatedPort(rig, played, unit, seat, scheduler, makeBoard),
      scheduler,
      unit.trigger.firingEdge,
    );
  const { found } = await scheduler.run(check({ operator, connect }));
  return { checkedUtc: CHECKED_UTC, ...found } as NonNullable<RigCalibration[K]>;
}
