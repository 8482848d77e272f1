// The live view of a run: the latest turn and vacuum, one turn behind the spindle.

import type { Measurements } from "../../core/angles/measurements.ts";
import type { TrackedTurn } from "../../core/angles/trackedTurn.ts";
import { meanSpeedRpm } from "../../core/angles/window.ts";
import type { LiveDocument } from "../../core/documents.ts";
import type { Watch } from "./watch.ts";

export class LiveFeed {
  private readonly watch: Watch;
  private readonly tickHz: number;
  private targetRpm = 0;
  private targetPa: number | null = null;

  constructor(watch: Watch, tickHz: number) {
    this.watch = watch;
    this.tickHz = tickHz;
  }

  aim(targetRpm: number, targetPa: number | null): void {
    this.targetRpm = targetRpm;
    this.targetPa = targetPa;
  }

  /** `turn`: the latest there is. */
  document(turn: TrackedTurn, runS: number, measurements: Measurements | null): LiveDocument {
    return {
      type: "live",
      runS,
      speedRpm: meanSpeedRpm([turn.turn], this.tickHz),
      targetRpm: this.targetRpm,
      vacuumPa: this.watch.vacuums[this.watch.vacuums.length - 1]?.vacuumPa ?? null,
      targetPa: this.targetPa,
      ...(measurements?.now(turn) ?? { advanceDeg: null, lobeDeviationsDeg: [] }),
    };
  }
}
