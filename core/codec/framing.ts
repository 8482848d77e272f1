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

/**
 * Cuts a byte stream into lines and hands on the body of each good one (the bytes before the
 * asterisk). The array handed on is reused: a consumer that keeps it must copy it.
 */
export class LineCutter {
  private readonly buffer = new Uint8Array(LINE_BYTES_MAX);
  private length = 0;
  private overlong = false;
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
    let from = 0;
    while (from < chunk.length) {
      const lf = chunk.indexOf(LF, from);
      const to = lf === -1 ? chunk.length : lf;
      this.collect(chunk, from, to);
      if (lf === -1) return;
      this.finish();
      from = lf + 1;
    }
  }

  private collect(chunk: Uint8Array, from: number, to: number): void {
    if (this.overlong) return;
    // One byte of the 240 is the LF, which is never stored.
    if (this.length + (to - from) > LINE_BYTES_MAX - 1) {
      // A CR before the LF may stand in the last place (clause 1.4).
      const fitsWithCr = this.length + (to - from) === LINE_BYTES_MAX && chunk[to - 1] === CR;
      if (!fitsWithCr) {
        this.overlong = true;
        return;
      }
    }
    this.buffer.set(
      from === 0 && to === chunk.length ? chunk : chunk.subarray(from, to),
      this.length,
    );
    this.length += to - from;
  }

  private finish(): void {
    let { length } = this;
    const overlong = this.overlong;
    this.length = 0;
    this.overlong = false;
    if (overlong) {
      this.tooLong++;
      return;
    }
    const { buffer } = this;
    if (length > 0 && buffer[length - 1] === CR) length--;
    if (length === 0) return;
    const bodyEnd = length - CRC_TAIL;
    if (bodyEnd < 1 || buffer[bodyEnd] !== ASTERISK) {
      this.badCrc++;
      return;
    }
    let expected = 0;
    for (let i = bodyEnd + 1; i < length; i++) {
      const digit = hexValue(buffer[i] as number);
      if (digit < 0) {
        this.badCrc++;
        return;
      }
      expected = expected * 16 + digit;
    }
    if (crc32(buffer, 0, bodyEnd) !== expected) {
      this.badCrc++;
      return;
    }
    for (let i = 0; i < bodyEnd; i++) {
      const byte = buffer[i] as number;
      if (byte < 0x20 || byte > 0x7e || byte === ASTERISK) {
        this.badByte++;
        return;
      }
    }
    this.good++;
    this.onBody(buffer.subarray(0, bodyEnd));
  }
}
