// Why a command is refused, in the order in which the rig looks (firmware-protocol.md, part 5, from 5.2).
import type { Direction, RefusalReason } from "../core/codec/rigLines.ts";
import type { NumberedLine } from "./commandRecord.ts";

const RAMP_RPM_PER_S_MAX = 2000;

/** What the board's condition is when the command comes. */
export interface Condition {
  readonly guardShut: boolean;
  readonly stopPressed: boolean;
  readonly latched: boolean;
  readonly token: string | null;
  readonly directions: readonly Direction[];
  /** The way the spindle turns, null at rest. */
  readonly turning: Direction | null;
  readonly speedMinRpm: number;
  readonly speedMaxRpm: number;
  /** 0 without vacuum sensor. */
  readonly vacuumMaxPa: number;
}

/** Null where the command is to be carried out. */
export function refusal(line: NumberedLine, condition: Condition): RefusalReason | null {
  switch (line.type) {
    case "fields":
      return "fields";
    case "ask":
    case "stop":
    case "vent":
      return null;
    case "arm":
      if (!condition.guardShut) return "guard-open";
      if (condition.stopPressed) return "stop-input";
      return condition.latched ? "latched" : null;
    default:
      if (condition.token === null) return "not-armed";
      if (line.token !== condition.token) return "bad-token";
      return line.type === "speed" ? speedRefusal(line, condition) : vacuumRefusal(line, condition);
  }
}

function speedRefusal(
  line: Extract<NumberedLine, { readonly type: "speed" }>,
  condition: Condition,
): RefusalReason | null {
  const { direction, speedRpm, rampRpmPerS } = line;
  if (!condition.directions.includes(direction)) return "direction";
  if (condition.turning !== null && direction !== condition.turning) return "turning";
  const held = speedRpm >= condition.speedMinRpm && speedRpm <= condition.speedMaxRpm;
  const rampGood = rampRpmPerS > 0 && rampRpmPerS <= RAMP_RPM_PER_S_MAX;
  return (speedRpm === 0 || held) && rampGood ? null : "range";
}

function vacuumRefusal(
  line: Extract<NumberedLine, { readonly type: "vacuum" | "hold" }>,
  condition: Condition,
): RefusalReason | null {
  // Without a sensor there is no range to be within: 5.10 says it better than 5.9.
  if (condition.vacuumMaxPa === 0) return "no-sensor";
  if (line.type === "hold") return null;
  return line.vacuumPa > 0 && line.vacuumPa <= condition.vacuumMaxPa ? null : "range";
}
