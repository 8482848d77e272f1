// The form of what a rig sends (firmware-protocol.md, parts 1 and 3), checked field by field so that a fault can be named.
import { crc32 } from "../../core/codec/crc32.ts";

/** What is wrong with a line, and which clause says so. */
export interface FormFault {
  readonly clause: string;
  readonly what: string;
  readonly wanted: string;
}

const LINE_BYTES_MAX = 240;
const CLOSED = /^([^*]+)\*([0-9A-F]{8})$/;

/** The frame of a line without its LF, one character a byte. Null where it is as it must be. */
export function frameFault(line: string): FormFault | null {
  const fault = (clause: string, what: string, wanted: string) => ({ clause, what, wanted });
  if (line.length + 1 > LINE_BYTES_MAX) {
    return fault("1.1", "length of lines", `at most ${LINE_BYTES_MAX} bytes with the LF`);
  }
  if (!/^[ -~]*$/.test(line)) {
    return fault("1.1", "bytes of lines", "bytes 0x20 to 0x7E, and nothing but an LF at the end");
  }
  const [, body, digits] = CLOSED.exec(line) ?? [];
  if (body === undefined || digits === undefined) {
    return fault("1.2", "close of lines", "one asterisk and eight upper-case digits at the end");
  }
  if (/ ,|, /.test(body)) return fault("1.2", "blanks", "no blanks around commas");
  const right = crcDigits(body);
  if (right !== digits) return fault("1.3", "CRC of lines", `the CRC ${right}`);
  return null;
}

export function crcDigits(body: string): string {
  const bytes = Uint8Array.from(body, (letter) => letter.charCodeAt(0));
  return crc32(bytes).toString(16).toUpperCase().padStart(8, "0");
}

export function bodyOf(line: string): string {
  return line.slice(0, line.lastIndexOf("*"));
}

interface Field {
  readonly name: string;
  readonly wanted: string;
  readonly good: (text: string) => boolean;
  /** Where another clause than the line's own says what may stand here. */
  readonly clause?: string;
}

const isWhole = (text: string) => /^(0|[1-9]\d{0,9})$/.test(text) && Number(text) <= 4294967295;
const isSpeed = (text: string) => /^(0|[1-9]\d{0,6})(\.\d)?$/.test(text);

function whole(name: string, min = 0, max = 4294967295, clause?: string): Field {
  const good = (text: string) => isWhole(text) && Number(text) >= min && Number(text) <= max;
  const field = { name, wanted: `a whole number from ${min} to ${max}`, good };
  return clause === undefined ? field : { ...field, clause };
}
const speed = (name: string): Field => ({
  name,
  wanted: "a speed with at most one digit after a full stop",
  good: isSpeed,
});
const words = (name: string, ...allowed: string[]): Field => ({
  name,
  wanted: allowed.join(" or "),
  good: (text) => allowed.includes(text),
});
const form = (name: string, wanted: string, pattern: RegExp, clause?: string): Field => {
  const field = { name, wanted, good: (text: string) => pattern.test(text) };
  return clause === undefined ? field : { ...field, clause };
};
const tick = (name: string) => whole(name, 0, 4294967295, "2.1");
const sequence = whole("SEQ", 0, 4294967295, "2.2");
const part = [whole("PART", 1, 4294967295, "3.2.3"), whole("PARTS", 1, 4294967295, "3.2.3")];

const REASONS = [
  ...["old-number", "fields", "guard-open", "stop-input", "latched", "not-armed", "bad-token"],
  ...["direction", "turning", "range", "no-sensor"],
];
export const FAULTS = ["none", "alive", "guard", "stop-input", "overspeed", "stall", "sensor"];

const TYPES: Readonly<Record<string, { clause: string; fields: readonly Field[] }>> = {
  hello: {
    clause: "3.1",
    fields: [
      whole("ASK"),
      whole("VERSION", 1, 1),
      form("BOARD", "1 to 40 letters, digits, blanks, . - _", /^[A-Za-z0-9 ._-]{1,40}$/),
      whole("BOOT"),
      whole("TICKHZ", 100_000, 100_000_000),
      whole("PPM"),
      whole("INDEXES", 1, 1),
      whole("EDGES", 1, 360),
      words("DIRECTIONS", "cw", "ccw", "cw+ccw"),
      speed("MINRPM"),
      speed("MAXRPM"),
      whole("VACMIN"),
      whole("VACMAX"),
      words("INPUTS", "none", "guard", "stop", "guard+stop"),
      whole("AMBIENT"),
    ],
  },
  rev: {
    clause: "3.2",
    fields: [
      sequence,
      tick("INDEX"),
      whole("BEFORE"),
      whole("DURING", 1),
      whole("AFTER", 1),
      words("LOST", "0", "1"),
      whole("EVERY", 1),
      ...part,
      form(
        "EVENTS",
        "letters a or b, each with a whole number",
        /^([ab](0|[1-9]\d{0,9}))*$/,
        "3.2.1",
      ),
    ],
  },
  pick: { clause: "3.3", fields: [sequence, ...part] },
  vac: {
    clause: "3.4",
    fields: [
      sequence,
      tick("TICK"),
      whole("PASCALS"),
      whole("PUMP", 0, 1000),
      words("VALVE", "vent", "control", "hold"),
    ],
  },
  state: {
    clause: "3.5",
    fields: [
      sequence,
      tick("TICK"),
      speed("SETRPM"),
      speed("NOWRPM"),
      words("DIRECTION", "cw", "ccw", "none"),
      words("ARMED", "0", "1"),
      words("GUARD", "0", "1"),
      words("STOP", "0", "1"),
      words("FAULT", ...FAULTS),
    ],
  },
  ok: { clause: "3.6", fields: [whole("N", 1)] },
  no: { clause: "3.6", fields: [whole("N", 1), words("REASON", ...REASONS)] },
};

/** What is wrong with the fields of a line whose frame is good; null where nothing is, or its type is not known. */
export function fieldFault(body: string): FormFault | null {
  const [type, ...given] = body.split(",");
  const known = Object.hasOwn(TYPES, type ?? "") ? TYPES[type as string] : undefined;
  if (known === undefined) return null;
  for (const [i, field] of known.fields.entries()) {
    const text = given[i];
    if (text !== undefined && field.good(text)) continue;
    return {
      clause: field.clause ?? known.clause,
      what: `${type}: ${field.name}`,
      wanted: field.wanted,
    };
  }
  // A rig of this version has no further fields to send but the differences and an arm's token.
  const further = given.slice(known.fields.length);
  if (type === "pick" && !(further.length > 0 && further.every(isWhole))) {
    return {
      clause: "3.3",
      what: "pick: DIFFERENCES",
      wanted: "whole numbers with commas between",
    };
  }
  if (type === "ok" && further.length > 0 && !/^[0-9A-F]{8}$/.test(further[0] as string)) {
    return { clause: "4.3", what: "ok: TOKEN", wanted: "8 upper-case hexadecimal digits" };
  }
  return null;
}
