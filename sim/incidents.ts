// Mishaps that a scenario has in store for a run.
import type { Plant } from "./plant.ts";
import type { Incident } from "./scenario.ts";

/** What mishaps can do to the board itself. */
export interface BoardSwitch {
  reboot(): void;
  fallSilent(): void;
}

export class Incidents {
  private readonly plant: Plant;
  private readonly board: BoardSwitch;
  private pending: readonly Incident[];
  private later: readonly { readonly atS: number; readonly action: () => void }[] = [];

  constructor(incidents: readonly Incident[], plant: Plant, board: BoardSwitch) {
    this.pending = incidents;
    this.plant = plant;
    this.board = board;
  }

  /** Lets happen what is due. `firstSpeedS`: when the first `speed` was accepted, null before. */
  check(firstSpeedS: number | null): void {
    if (this.pending.length === 0 && this.later.length === 0) return;
    const { timeS, speedRpm } = this.plant;
    const due = (incident: Incident) =>
      incident.atS === undefined
        ? speedRpm >= (incident.atRpm ?? Number.POSITIVE_INFINITY)
        : firstSpeedS !== null && timeS >= firstSpeedS + incident.atS;
    const happening = this.pending.filter(due);
    if (happening.length > 0) {
      this.pending = this.pending.filter((incident) => !happening.includes(incident));
      for (const incident of happening) this.happen(incident);
    }
    const over = this.later.filter(({ atS }) => timeS >= atS);
    if (over.length === 0) return;
    this.later = this.later.filter((item) => !over.includes(item));
    for (const { action } of over) action();
  }

  private happen(incident: Incident): void {
    const { plant } = this;
    switch (incident.what) {
      case "guardOpens":
        plant.guardShut = false;
        this.after(incident.shutAfterS, () => {
          plant.guardShut = true;
        });
        break;
      case "stopPressed":
        plant.stopPressed = true;
        this.after(incident.releasedAfterS, () => {
          plant.stopPressed = false;
        });
        break;
      case "spindleJams":
        plant.motor.jammed = true;
        break;
      case "driveRunsAway":
        plant.motor.runsAway = true;
        break;
      case "sensorFails":
        plant.sensorFailed = true;
        break;
      case "boardReboots":
        this.board.reboot();
        break;
      case "boardFallsSilent":
        this.board.fallSilent();
        break;
    }
  }

  private after(delayS: number | undefined, action: () => void): void {
    if (delayS === undefined) return;
    this.later = [...this.later, { atS: this.plant.timeS + delayS, action }];
  }
}
