import type { Equivalent } from "./equivalent.ts";

export const SAFETY: readonly Equivalent[] = [
  {
    file: "server/run/moves.ts",
    line: "return last.length === 0 ? null : meanSpeedRpm(last, tickHz);",
    becomes: "false",
    reason: "the speed of no turns is no number, and no speed is near that",
  },
  {
    file: "server/run/moves.ts",
    line: "turns.length - from >= STEADY_WINDOW.turns && ticks >= STEADY_WINDOW.leastS * tickHz;",
    becomes: "turns.length + from",
    reason: "the loop before ends with enough turns, or with `from` at 0",
  },
  {
    file: "server/run/moves.ts",
    line: "return isSteady(earlier, later) ? true : undefined;",
    becomes: "false",
    reason: "what the wait gives is not looked at",
  },
  {
    file: "server/run/moves.ts",
    line: "if (turns.length < EARLIEST.turns || ticks < EARLIEST.seconds * tickHz) return false;",
    becomes: "false",
    reason: "as many turns with an advance are asked for below",
  },
  {
    file: "server/run/moves.ts",
    line: "return last === undefined || last.vacuumPa < VENTED_PA ? true : undefined;",
    becomes: "false",
    reason: "what the wait gives is not looked at",
  },
  {
    file: "server/run/watch.ts",
    line: "return value !== undefined;",
    becomes: "false",
    reason: "nobody asks whether a look ended the wait",
  },
  {
    file: "server/run/watch.ts",
    line: "return value !== undefined;",
    becomes: "true",
    reason: "nobody asks whether a look ended the wait",
  },
  {
    file: "server/run/watch.ts",
    line: "return value !== undefined;",
    becomes: "value === undefined",
    reason: "nobody asks whether a look ended the wait",
  },
];
