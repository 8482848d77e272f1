// The springs that are in a unit, and the lengths between their posts.
import type { DrawerSpring } from "../drawer/drawer.ts";

/** A spring that is in the unit, and the lengths between its posts; null where not measured. */
export interface Fitted {
  readonly spring: DrawerSpring;
  /** With the weights at rest. */
  readonly restLengthM: number | null;
  /** With the cam turned to its stop. */
  readonly stopLengthM: number | null;
}

export interface Installed {
  readonly first: Fitted | null;
  readonly second: Fitted | null;
}
