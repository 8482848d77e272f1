// What the rig sends (firmware-protocol.md, part 3): typed messages, parsed from and written to line bodies.
import { FieldReader, formatTenths } from "./fields.ts";

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

/** `malformed`: a known type that breaks clause 1.6. `unknown`: a type of a later version (clause 1.5). */
export type ParsedRigLine = RigLine | { readonly type: "malformed" } | { readonly type: "unknown" };

const MALFORMED = { type: "malformed" } as const;

const FAULTS: ReadonlySet<string> = new Set<RigFault>([
  "none",
  "alive",
  "guard",
  "stop-input",
  "overspeed",
  "stall",
  "sensor",
]);
const REASONS: ReadonlySet<string> = new Set<RefusalReason>([
  "old-number",
  "fields",
  "guard-open",
  "stop-input",
  "latched",
  "not-armed",
  "bad-token",
  "direction",
  "turning",
  "range",
  "no-sensor",
]);
const VALVES: ReadonlySet<string> = new Set<ValveState>(["vent", "control", "hold"]);
const DIRECTIONS: Readonly<Record<string, readonly Direction[]>> = {
  cw: ["cw"],
  ccw: ["ccw"],
  "cw+ccw": ["cw", "ccw"],
};
const INPUTS: Readonly<Record<string, { guardInput: boolean; stopInput: boolean }>> = {
  none: { guardInput: false, stopInput: false },
  guard: { guardInput: true, stopInput: false },
  stop: { guardInput: false, stopInput: true },
  "guard+stop": { guardInput: true, stopInput: true },
};
const BOARD_NAME = /^[A-Za-z0-9 ._-]{1,40}$/;
export const TOKEN_FORM = /^[0-9A-F]{8}$/;
export const EDGES_MAX = 360;

/** Parses a line's body, bytes `from` to `to` (framing already checked). Never throws. */
export function parseRigLine(bytes: Uint8Array, from = 0, to = bytes.length): ParsedRigLine {
  const fields = new FieldReader(bytes, from, to);
  switch (fields.word()) {
    case "rev":
      return parseRev(fields);
    case "pick":
      return parsePick(fields);
    case "vac":
      return parseVacuum(fields);
    case "state":
      return parseState(fields);
    case "ok":
      return parseOk(fields);
    case "no":
      return parseNo(fields);
    case "hello":
      return parseHello(fields);
    default:
      return { type: "unknown" };
  }
}

function parseRev(fields: FieldReader): ParsedRigLine {
  const sequence = fields.whole();
  const indexTick = fields.whole();
  const beforeTicks = fields.whole();
  const duringTicks = fields.whole();
  const afterTicks = fields.whole();
  const lost = fields.whole();
  const every = fields.whole();
  const part = fields.whole();
  const parts = fields.whole();
  const eventEdges: TriggerEdge[] = [];
  const eventTicks: number[] = [];
  const complete = !fields.done;
  const eventsGood = fields.events(eventEdges, eventTicks);
  const sum = sequence + indexTick + beforeTicks + duringTicks + afterTicks;
  const partsGood = part >= 1 && part <= parts;
  if (!complete || !eventsGood || Number.isNaN(sum) || !partsGood) return MALFORMED;
  if (!(lost <= 1) || !(every >= 1) || duringTicks === 0 || afterTicks === 0) return MALFORMED;
  return {
    type: "rev",
    sequence,
    indexTick,
    beforeTicks,
    duringTicks,
    afterTicks,
    lost: lost === 1,
    every,
    part,
    parts,
    eventEdges,
    eventTicks,
  };
}

function parsePick(fields: FieldReader): ParsedRigLine {
  const sequence = fields.whole();
  const part = fields.whole();
  const parts = fields.whole();
  if (Number.isNaN(sequence) || !(part >= 1 && part <= parts) || fields.done) return MALFORMED;
  const differenceTicks: number[] = [];
  while (!fields.done) {
    const difference = fields.whole();
    if (Number.isNaN(difference) || differenceTicks.length === EDGES_MAX) return MALFORMED;
    differenceTicks.push(difference);
  }
  return { type: "pick", sequence, part, parts, differenceTicks };
}

function parseVacuum(fields: FieldReader): ParsedRigLine {
  const sequence = fields.whole();
  const tick = fields.whole();
  const vacuumPa = fields.whole();
  const pumpPermille = fields.whole();
  const valve = fields.word();
  if (Number.isNaN(sequence + tick + vacuumPa) || !(pumpPermille <= 1000) || !VALVES.has(valve)) {
    return MALFORMED;
  }
  return { type: "vac", sequence, tick, vacuumPa, pumpPermille, valve: valve as ValveState };
}

function parseState(fields: FieldReader): ParsedRigLine {
  const sequence = fields.whole();
  const tick = fields.whole();
  const setRpm = fields.tenths();
  const nowRpm = fields.tenths();
  const direction = fields.word();
  const armed = fields.whole();
  const guard = fields.whole();
  const stop = fields.whole();
  const fault = fields.word();
  const directionGood = direction === "cw" || direction === "ccw" || direction === "none";
  const flagsGood = armed <= 1 && guard <= 1 && stop <= 1;
  if (Number.isNaN(sequence + tick + setRpm + nowRpm) || !directionGood || !flagsGood) {
    return MALFORMED;
  }
  if (!FAULTS.has(fault)) return MALFORMED;
  return {
    type: "state",
    sequence,
    tick,
    setRpm,
    nowRpm,
    direction,
    armed: armed === 1,
    guardShut: guard === 1,
    stopPressed: stop === 1,
    fault: fault as RigFault,
  };
}

function parseOk(fields: FieldReader): ParsedRigLine {
  const number = fields.whole();
  if (Number.isNaN(number)) return MALFORMED;
  const token = fields.word();
  return { type: "ok", number, token: TOKEN_FORM.test(token) ? token : null };
}

function parseNo(fields: FieldReader): ParsedRigLine {
  const number = fields.whole();
  const reason = fields.word();
  if (Number.isNaN(number) || !REASONS.has(reason)) return MALFORMED;
  return { type: "no", number, reason: reason as RefusalReason };
}

function parseHello(fields: FieldReader): ParsedRigLine {
  const ask = fields.whole();
  const version = fields.whole();
  const board = fields.word();
  const boot = fields.whole();
  const tickHz = fields.whole();
  const tickPpm = fields.whole();
  const indexesPerTurn = fields.whole();
  const edgesPerTurn = fields.whole();
  const directions = DIRECTIONS[fields.word()];
  const speedMinRpm = fields.tenths();
  const speedMaxRpm = fields.tenths();
  const vacuumMinPa = fields.whole();
  const vacuumMaxPa = fields.whole();
  const inputs = INPUTS[fields.word()];
  const ambientPa = fields.whole();
  const numbers = [ask, version, boot, tickPpm, speedMinRpm, vacuumMinPa, ambientPa];
  if (numbers.some(Number.isNaN) || !BOARD_NAME.test(board)) return MALFORMED;
  if (directions === undefined || inputs === undefined) return MALFORMED;
  const clockGood = tickHz >= 100_000 && tickHz <= 100_000_000;
  const turnGood = indexesPerTurn >= 1 && edgesPerTurn >= 1 && edgesPerTurn <= EDGES_MAX;
  const rangesGood = speedMaxRpm > speedMinRpm && vacuumMaxPa >= vacuumMinPa;
  if (!clockGood || !turnGood || !rangesGood) return MALFORMED;
  return {
    type: "hello",
    ask,
    version,
    board,
    boot,
    tickHz,
    tickPpm,
    indexesPerTurn,
    edgesPerTurn,
    directions,
    speedMinRpm,
    speedMaxRpm,
    vacuumMinPa,
    vacuumMaxPa,
    ...inputs,
    ambientPa,
  };
}

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
