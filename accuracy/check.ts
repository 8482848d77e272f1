// A check of the rig as its operator goes through it, on the stand-in rig in virtual time.
import { Readable } from "node:stream";
import type { CheckKind, RigCalibration } from "../core/calibration/calibration.ts";
import type { Unit } from "../core/unit.ts";
import type { CheckBench, Outcome } from "../server/calibration/checks.ts";
import { Operator } from "../server/calibration/operator.ts";
import { seatedPort } from "../server/calibration/seatedPort.ts";
import { Session } from "../server/calibration/session.ts";
import type { RigFile } from "../server/rigFile.ts";
import { VirtualScheduler } from "../server/schedulers.ts";

/** Invented: no clock says when a check in virtual time was made. */
const CHECKED_UTC = "2000-01-01T00:00:00.000Z";

export interface CheckChoice {
  readonly unit: Unit;
  /** Content of a scenario file. */
  readonly scenario: unknown;
  readonly rig: RigFile;
  /** What the operator types beside agreeing, in order. */
  readonly typed?: readonly string[];
}

/** What the check found, dated as a rig file keeps it. @throws what ends a check */
export async function checkOnStandIn<K extends CheckKind>(
  { unit, scenario, rig, typed = [] }: CheckChoice,
  check: (bench: CheckBench) => Promise<Outcome<K>>,
): Promise<NonNullable<RigCalibration[K]>> {
  const scheduler = new VirtualScheduler();
  const operator = new Operator(Readable.from(typed.map((line) => `${line}\n`)), () => {}, true);
  const played = { name: "scenario", content: scenario };
  const connect: CheckBench["connect"] = (seat) =>
    Session.connect(
      seatedPort(rig, played, unit, seat, scheduler),
      scheduler,
      unit.trigger.firingEdge,
    );
  const { found } = await scheduler.run(check({ operator, connect }));
  return { checkedUtc: CHECKED_UTC, ...found } as NonNullable<RigCalibration[K]>;
}
