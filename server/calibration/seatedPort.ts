// The way to the rig for a check. The stand-in's unit is re-seated half a turn round where the check asks for it.
import type { Scheduler } from "../../core/scheduler.ts";
import type { Unit } from "../../core/unit.ts";
import type { NamedFile } from "../files.ts";
import type { BytePort } from "../link/bytePort.ts";
import { type BoardMaker, portFor } from "../measurement.ts";
import type { RigFile } from "../rigFile.ts";
import { scenarioFor } from "../standInScenario.ts";

export type Seat = "first" | "second";

/**
 * `scenario`: what the stand-in rig plays; null: a sound unit. `makeBoard`: another board than its own.
 * @throws FILE_INVALID
 */
export function seatedPort(
  rig: RigFile,
  scenario: NamedFile | null,
  unit: Unit,
  seat: Seat,
  scheduler: Scheduler,
  makeBoard?: BoardMaker,
): BytePort {
  const choice = { rig, capsule: 0 };
  if (rig.kind === "serial") return portFor(choice, null, scheduler);
  const played = scenarioFor({ rig, scenario }, unit);
  if (seat === "first") return portFor(choice, played, scheduler, makeBoard);
  // Nobody can re-seat a simulated unit by hand; and chance does not repeat itself.
  const couplingDeg = (played.rig.couplingDeg + 180) % 360;
  const reseated = { ...played, seed: played.seed + 1, rig: { ...played.rig, couplingDeg } };
  return portFor(choice, reseated, scheduler, makeBoard);
}
