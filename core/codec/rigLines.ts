// What the rig sends (firmware-protocol.md, part 3): typed messages, parsed from and written to line bodies.
import { formatTenths } from "./fields.ts";

export const PROTOCOL_VERSION = 1;

export type Direction = "cw" | "ccw";
export type TriggerEdge = "a" | "b";
export type ValveState = "vent" | "control" | "hold";
export type RigFault = "none" | "alive" | "guard" | "stop-input" | "overspeed" | "stall" | "sensor";
export type RefusalReason =
  | "old-number"
  | "fields"
  | "guard-open"
  | "stop-input"
  | "latched"
  | "not-armed"
  | "bad-token"
  | "direction"
  | "turning"
  | "range"
  | "no-sensor";

/** Clause 3.1. Vacuum in pascals below ambient, ambient pressure in pascals absolute (0: not measured). */
export interface Hello {
  readonly type: "hello";
  readonly ask: number;
  readonly version: number;
  readonly board: string;
  readonly boot: number;
  readonly tickHz: number;
  readonly tickPpm: number;
  readonly indexesPerTurn: number;
  readonly edgesPerTurn: number;
  readonly directions: readonly Direction[];
  readonly speedMinRpm: number;
  readonly speedMaxRpm: number;
  readonly vacuumMinPa: number;
  readonly vacuumMaxPa: number;
  readonly guardInput: boolean;
  readonly stopInput: boolean;
  readonly ambientPa: number;
}

/** Clause 3.2: one part of a turn. All times in rig ticks; 0 in `beforeTicks` means unknown. */
export interface RevPart {
  readonly type: "rev";
  readonly sequence: number;
  readonly indexTick: number;
  readonly beforeTicks: number;
  readonly duringTicks: number;
  readonly afterTicks: number;
  readonly lost: boolean;
  readonly every: number;
  readonly part: number;
  readonly parts: number;
  readonly eventEdges: readonly TriggerEdge[];
  readonly eventTicks: readonly number[];
}

/** Clause 3.3: some of a turn's differences between successive pickup edges, in rig ticks. */
export interface PickPart {
  readonly type: "pick";
  readonly sequence: number;
  readonly part: number;
  readonly parts: number;
  readonly differenceTicks: readonly number[];
}

/** Clause 3.4. */
export interface VacuumLine {
  readonly type: "vac";
  readonly sequence: number;
  readonly tick: number;
  readonly vacuumPa: number;
  readonly pumpPermille: number;
  readonly valve: ValveState;
}

/** Clause 3.5. */
export interface StateLine {
  readonly type: "state";
  readonly sequence: number;
  readonly tick: number;
  readonly setRpm: number;
  readonly nowRpm: number;
  readonly direction: Direction | "none";
  readonly armed: boolean;
  readonly guardShut: boolean;
  readonly stopPressed: boolean;
  readonly fault: RigFault;
}

/** Clause 3.6. */
export type Answer =
  | { readonly type: "ok"; readonly number: number; readonly token: string | null }
  | { readonly type: "no"; readonly number: number; readonly reason: RefusalReason };

export type RigLine = Hello | RevPart | PickPart | VacuumLine | StateLine | Answer;

export const TOKEN_FORM = /^[0-9A-F]{8}$/;
export const EDGES_MAX = 360;

function inputsWord(hello: Hello): string {
  if (hello.guardInput) return hello.stopInput ? "guard+stop" : "guard";
  return hello.stopInput ? "stop" : "none";
}

const flag = (value: boolean): string => (value ? "1" : "0");

/** Writes a message as a line's body; `encodeLine` closes it. */
export function formatRigLine(line: RigLine): string {
  switch (line.type) {
    case "hello":
      return [
        "hello",
        line.ask,
        line.version,
        line.board,
        line.boot,
        line.tickHz,
        line.tickPpm,
        line.indexesPerTurn,
        line.edgesPerTurn,
        line.directions.join("+"),
        formatTenths(line.speedMinRpm),
        formatTenths(line.speedMaxRpm),
        line.vacuumMinPa,
        line.vacuumMaxPa,
        inputsWord(line),
        line.ambientPa,
      ].join(",");
    case "rev": {
      let events = "";
      for (let i = 0; i < line.eventTicks.length; i++) {
        events += `${line.eventEdges[i]}${line.eventTicks[i]}`;
      }
      const { sequence, indexTick, beforeTicks, duringTicks, afterTicks } = line;
      const ticks = `${sequence},${indexTick},${beforeTicks},${duringTicks},${afterTicks}`;
      return `rev,${ticks},${flag(line.lost)},${line.every},${line.part},${line.parts},${events}`;
    }
    case "pick":
      return `pick,${line.sequence},${line.part},${line.parts},${line.differenceTicks.join(",")}`;
    case "vac":
      return `vac,${line.sequence},${line.tick},${line.vacuumPa},${line.pumpPermille},${line.valve}`;
    case "state":
      return [
        "state",
        line.sequence,
        line.tick,
        formatTenths(line.setRpm),
        formatTenths(line.nowRpm),
        line.direction,
        flag(line.armed),
        flag(line.guardShut),
        flag(line.stopPressed),
        line.fault,
      ].join(",");
    case "ok":
      return line.token === null ? `ok,${line.number}` : `ok,${line.number},${line.token}`;
    case "no":
      return `no,${line.number},${line.reason}`;
  }
}
