// The usual cautions of the trade around a spindle and ignition parts. Common practice, no source.

/** Shown before every run on a real rig and on the page, and printed by the commands. */
export const CAUTIONS: readonly string[] = [
  "Gloves, sleeves and rings off; long hair tied back. Nothing loose may come near the spindle.",
  "Eyes covered: a weight, spring or chuck can come off at speed.",
  "Chuck key out of the chuck, unit clamped, spindle turned round once by hand.",
  "Guard shut. A hard-wired emergency stop that takes the power from the drive must be in reach; the stop in this program is not one.",
  "Coil and high tension off unless needed; keep away from them with a pacemaker.",
  "Local rules and licensed practice come first.",
];
