// What one reading is worked out from: its own turns, and what the whole run knows.
import type { VacuumLine } from "../codec/rigLines.ts";
import type { RigKnowledge } from "./knowledge.ts";
import type { Pickup } from "./pickup.ts";
import type { Window, WindowFigures } from "./window.ts";
import type { Zero } from "./zero.ts";

/** How a reading of the speed sweep was come to. */
export interface Way {
  readonly farthestRpm: number;
  readonly wayFromTick: number;
}

export interface ReadingInput {
  readonly window: Window;
  readonly figures: WindowFigures;
  readonly vacuums: readonly VacuumLine[];
  readonly way: Way | null;
  /** Nothing but speed moves the advance: the line to the capsule is vented. */
  readonly bySpeedAlone: boolean;
}

export interface ReadingContext {
  readonly reference: Pick<ReadingInput, "window" | "figures">;
  /** The tracker's angles, against which the figures' advances count. */
  readonly referenceDeg: readonly number[];
  readonly lobeAnglesDeg: readonly number[];
  readonly rig: RigKnowledge;
  readonly pickup: Pickup;
  readonly zero: Zero;
  readonly hasDwell: boolean;
}
