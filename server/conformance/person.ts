// Whoever stands at the rig: agrees to motion, and does with the hands what no line can do.

/** What may be asked for, and how it is asked. */
export const HAND_TASKS = {
  "open guard": "Open the guard, no further than its switch needs. Hands away from the spindle.",
  "shut guard": "Shut the guard.",
  "press stop": "Press the stop that is wired to the board's stop input, and keep it pressed.",
  "release stop": "Release the stop input.",
  "pull index": "Unplug the lead of the index pickup at the board, hands away from the spindle.",
  "put index back": "Plug the lead of the index pickup in again.",
  "pull sensor": "Unplug the lead of the vacuum sensor.",
  "put sensor back": "Plug the lead of the vacuum sensor in again.",
  "reset board": "Press the board's reset button, or let the firmware's watchdog bite.",
} as const;

export type HandTask = keyof typeof HAND_TASKS;

export interface Person {
  /** Whether they are ready for it, asked once before the first of it. */
  agrees(): Promise<boolean>;
  /** Asks for something to be done now; what the rig says tells that it was. */
  please(task: HandTask, withinS: number): void;
  /** Asks afterwards whether it was, where the rig said nothing. The rig is stopped by then. */
  did(task: HandTask): Promise<boolean>;
}
