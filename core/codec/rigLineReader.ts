// Lines of the rig (firmware-protocol.md, part 3) from bytes to typed messages.
import { FieldReader } from "./fields.ts";
import { asciiBytes } from "./framing.ts";
import {
  type Direction,
  EDGES_MAX,
  type RefusalReason,
  type RigFault,
  type RigLine,
  TOKEN_FORM,
  type TriggerEdge,
  type ValveState,
} from "./rigLines.ts";

/** `malformed`: a known type that breaks clause 1.6. `unknown`: a type of a later version (clause 1.5). */
export type ParsedRigLine = RigLine | { readonly type: "malformed" } | { readonly type: "unknown" };

const MALFORMED = { type: "malformed" } as const;
const UNKNOWN = { type: "unknown" } as const;

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
// Maps, since a plain object has an answer to words like `constructor` too.
const DIRECTIONS: ReadonlyMap<string, readonly Direction[]> = new Map<string, Direction[]>([
  ["cw", ["cw"]],
  ["ccw", ["ccw"]],
  ["cw+ccw", ["cw", "ccw"]],
]);
const INPUTS: ReadonlyMap<string, { guardInput: boolean; stopInput: boolean }> = new Map([
  ["none", { guardInput: false, stopInput: false }],
  ["guard", { guardInput: true, stopInput: false }],
  ["stop", { guardInput: false, stopInput: true }],
  ["guard+stop", { guardInput: true, stopInput: true }],
]);
const BOARD_NAME = /^[A-Za-z0-9 ._-]{1,40}$/;

/** Bodies begin so where lines come in great number. */
const REV = asciiBytes("rev,");
const PICK = asciiBytes("pick,");
const VAC = asciiBytes("vac,");

/**
 * Parses the lines of a rig (framing already checked). The lists in a line are the reader's own and hold
 * until it reads the next line: new ones for each turn would be most of what is to be cleared away.
 */
export class RigLineReader {
  private readonly fields = new FieldReader();
  private readonly eventEdges: TriggerEdge[] = [];
  private readonly eventTicks: number[] = [];
  private readonly differenceTicks: number[] = [];

  /** Parses a line's body, bytes `from` to `to`. Never throws. */
  read(bytes: Uint8Array, from: number, to: number): ParsedRigLine {
    const { fields } = this;
    fields.lay(bytes, from, to);
    if (fields.skip(REV)) return this.readRev();
    if (fields.skip(PICK)) return this.readPick();
    if (fields.skip(VAC)) return parseVacuum(fields);
    switch (fields.word()) {
      case "state":
        return parseState(fields);
      case "ok":
        return parseOk(fields);
      case "no":
        return parseNo(fields);
      case "hello":
        return parseHello(fields);
      // Without a comma, and so without the fields that they need.
      case "rev":
      case "pick":
      case "vac":
        return MALFORMED;
      default:
        return UNKNOWN;
    }
  }

  private readRev(): ParsedRigLine {
    const { fields, eventEdges, eventTicks } = this;
    const sequence = fields.whole();
    const indexTick = fields.whole();
    const beforeTicks = fields.whole();
    const duringTicks = fields.whole();
    const afterTicks = fields.whole();
    const lost = fields.whole();
    const every = fields.whole();
    const part = fields.whole();
    const parts = fields.whole();
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

  private readPick(): ParsedRigLine {
    const { fields, differenceTicks } = this;
    const sequence = fields.whole();
    const part = fields.whole();
    const parts = fields.whole();
    if (Number.isNaN(sequence) || !(part >= 1 && part <= parts) || fields.done) return MALFORMED;
    if (!fields.wholes(differenceTicks, EDGES_MAX)) return MALFORMED;
    return { type: "pick", sequence, part, parts, differenceTicks };
  }
}

/** Parses the body of a single line, whose lists are its own (framing already checked). Never throws. */
export function parseRigLine(body: Uint8Array): ParsedRigLine {
  return new RigLineReader().read(body, 0, body.length);
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
  const directions = DIRECTIONS.get(fields.word());
  const speedMinRpm = fields.tenths();
  const speedMaxRpm = fields.tenths();
  const vacuumMinPa = fields.whole();
  const vacuumMaxPa = fields.whole();
  const inputs = INPUTS.get(fields.word());
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
