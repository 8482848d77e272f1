// Bytes to checked lines and back (firmware-protocol.md, part 1). Knows nothing of what the lines mean.
import { crc32 } from "./crc32.ts";

/** Longest line on the wire, its LF included (clause 1.1). */
export const LINE_BYTES_MAX = 240;

const LF = 10;
const CR = 13;
const ASTERISK = 42;
const CRC_TAIL = 9; // the asterisk and eight digits

/** ASCII text to bytes. Codes above 0x7E would break clause 1.1 and throw. */
export function asciiBytes(text: string): Uint8Array {
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code > 0x7e) throw new RangeError(`not ASCII: "${text}"`);
    bytes[i] = code;
  }
  return bytes;
}

/** Bytes to text, one character a byte. */
export function asciiText(bytes: Uint8Array): string {
  return String.fromCharCode(...bytes);
}

/** Closes a line's body with its CRC, without LF: `ask,1` becomes `ask,1*…`. */
export function closeLine(body: string): string {
  const crc = crc32(asciiBytes(body)).toString(16).toUpperCase().padStart(8, "0");
  return `${body}*${crc}`;
}

/** A whole line as bytes for the wire, LF included. Throws where it would exceed 240 bytes. */
export function encodeLine(body: string): Uint8Array {
  const line = `${closeLine(body)}\n`;
  if (line.length > LINE_BYTES_MAX) throw new RangeError(`line of ${line.length} bytes: ${body}`);
  return asciiBytes(line);
}

/** What became of the bytes so far. */
export interface FramingCounts {
  readonly good: number;
  readonly tooLong: number;
  readonly badByte: number;
  readonly badCrc: number;
}

function hexValue(code: number): number {
  if (code >= 48 && code <= 57) return code - 48;
  if (code >= 65 && code <= 70) return code - 55;
  return -1;
}

/** Printable ASCII begins here and has so many more codes (clause 1.1). */
const PRINTABLE = 0x20;
const PRINTABLE_SPAN = 0x7e - PRINTABLE;

/**
 * Cuts a byte stream into lines and hands on the body of each good one (the bytes before the
 * asterisk). The array handed on is reused: a consumer that keeps it must copy it.
 */
export class LineCutter {
  private readonly buffer = new Uint8Array(LINE_BYTES_MAX);
  /** Bodies of each length as views of the buffer, made once: a new view costs more than its line. */
  private readonly bodies: (Uint8Array | undefined)[] = new Array(LINE_BYTES_MAX).fill(undefined);
  /** Bytes of the line so far; those beyond the buffer are counted only. */
  private length = 0;
  /** Among them, those outside clause 1.1, and asterisks. */
  private unprintable = 0;
  private asterisks = 0;
  private good = 0;
  private tooLong = 0;
  private badByte = 0;
  private badCrc = 0;
  private readonly onBody: (body: Uint8Array) => void;

  constructor(onBody: (body: Uint8Array) => void) {
    this.onBody = onBody;
  }

  get counts(): FramingCounts {
    const { good, tooLong, badByte, badCrc } = this;
    return { good, tooLong, badByte, badCrc };
  }

  push(chunk: Uint8Array): void {
    const { buffer } = this;
    let { length, unprintable, asterisks } = this;
    for (let i = 0; i < chunk.length; i++) {
      const byte = chunk[i] as number;
      if (byte === LF) {
        this.finish(length, unprintable, asterisks);
        length = 0;
        unprintable = 0;
        asterisks = 0;
        continue;
      }
      // Bytes beyond the buffer's end are not stored.
      buffer[length++] = byte;
      if ((byte - PRINTABLE) >>> 0 > PRINTABLE_SPAN) unprintable++;
      else if (byte === ASTERISK) asterisks++;
    }
    this.length = length;
    this.unprintable = unprintable;
    this.asterisks = asterisks;
  }

  private finish(bytes: number, unprintable: number, asterisks: number): void {
    const { buffer } = this;
    // A CR before the LF is dropped, and may stand in the LF's own last place (clause 1.4).
    const cr = bytes > 0 && bytes <= LINE_BYTES_MAX && buffer[bytes - 1] === CR ? 1 : 0;
    const length = bytes - cr;
    if (length === 0) return;
    // One byte of the 240 is the LF, which is never stored.
    if (length > LINE_BYTES_MAX - 1) {
      this.tooLong++;
      return;
    }
    const bodyEnd = length - CRC_TAIL;
    if (bodyEnd < 1 || buffer[bodyEnd] !== ASTERISK || !this.hasItsCrc(bodyEnd)) {
      this.badCrc++;
      return;
    }
    if (unprintable > cr || asterisks > 1) {
      this.badByte++;
      return;
    }
    this.good++;
    this.onBody(this.body(bodyEnd));
  }

  private hasItsCrc(bodyEnd: number): boolean {
    const { buffer } = this;
    let stated = 0;
    for (let i = bodyEnd + 1; i < bodyEnd + CRC_TAIL; i++) {
      const digit = hexValue(buffer[i] as number);
      if (digit < 0) return false;
      stated = (stated << 4) | digit;
    }
    return crc32(buffer, 0, bodyEnd) === stated >>> 0;
  }

  private body(length: number): Uint8Array {
    const made = this.bodies[length];
    if (made !== undefined) return made;
    const body = this.buffer.subarray(0, length);
    this.bodies[length] = body;
    return body;
  }
}
