// What the host sends (firmware-protocol.md, part 4): typed commands, parsed from and written to line bodies.
import { FieldReader, formatTenths } from "./fields.ts";
import { type Direction, TOKEN_FORM } from "./rigLines.ts";

/** A command without its number. Vacuum in pascals below ambient. */
export type Command =
  | { readonly type: "ask" }
  | { readonly type: "arm" }
  | {
      readonly type: "speed";
      readonly token: string;
      readonly direction: Direction;
      readonly speedRpm: number;
      readonly rampRpmPerS: number;
    }
  | { readonly type: "vacuum"; readonly token: string; readonly vacuumPa: number }
  | { readonly type: "hold"; readonly token: string }
  | { readonly type: "vent" }
  | { readonly type: "stop" };

export type NumberedCommand = Command & { readonly number: number };

export type HostLine = NumberedCommand | { readonly type: "alive"; readonly token: string };

/** `fields`: a known numbered command whose other fields are wrong (refused with that reason). */
export type ParsedHostLine =
  | HostLine
  | { readonly type: "fields"; readonly number: number }
  | { readonly type: "malformed" }
  | { readonly type: "unknown" };

const NUMBERED: ReadonlySet<string> = new Set<Command["type"]>([
  "ask",
  "arm",
  "speed",
  "vacuum",
  "hold",
  "vent",
  "stop",
]);

/** Parses a line's body, bytes `from` to `to` (framing already checked). Never throws. */
export function parseHostLine(bytes: Uint8Array, from = 0, to = bytes.length): ParsedHostLine {
  const fields = new FieldReader();
  fields.lay(bytes, from, to);
  const type = fields.word();
  if (type === "alive") {
    const token = fields.word();
    return TOKEN_FORM.test(token) ? { type, token } : { type: "malformed" };
  }
  if (!NUMBERED.has(type)) return { type: "unknown" };
  const number = fields.whole();
  if (!(number >= 1)) return { type: "malformed" };
  switch (type) {
    case "ask":
    case "arm":
    case "vent":
    case "stop":
      return { type, number };
  }
  const token = fields.word();
  if (!TOKEN_FORM.test(token)) return { type: "fields", number };
  if (type === "hold") return { type, number, token };
  if (type === "vacuum") {
    const vacuumPa = fields.whole();
    return Number.isNaN(vacuumPa) ? { type: "fields", number } : { type, number, token, vacuumPa };
  }
  const direction = fields.word();
  const speedRpm = fields.tenths();
  const rampRpmPerS = fields.tenths();
  const directionGood = direction === "cw" || direction === "ccw";
  if (!directionGood || Number.isNaN(speedRpm + rampRpmPerS)) return { type: "fields", number };
  return { type: "speed", number, token, direction, speedRpm, rampRpmPerS };
}

/** Writes a command as a line's body; `encodeLine` closes it. */
export function formatHostLine(line: HostLine): string {
  switch (line.type) {
    case "alive":
      return `alive,${line.token}`;
    case "speed":
      return [
        "speed",
        line.number,
        line.token,
        line.direction,
        formatTenths(line.speedRpm),
        formatTenths(line.rampRpmPerS),
      ].join(",");
    case "vacuum":
      return `vacuum,${line.number},${line.token},${line.vacuumPa}`;
    case "hold":
      return `hold,${line.number},${line.token}`;
    default:
      return `${line.type},${line.number}`;
  }
}
