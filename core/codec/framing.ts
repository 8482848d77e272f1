// Bytes to checked lines and back (firmware-protocol.md, part 1). Knows nothing of what the lines mean.
import { crc32, crc32In } from "./crc32.ts";

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

/** Bytes `from` to `to` to text, one character a byte. */
export function asciiText(bytes: Uint8Array, from = 0, to = bytes.length): string {
  return String.fromCharCode(...bytes.subarray(from, to));
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

/** Values of hexadecimal digits by their code, −1 for anything else (clause 1.2 knows no small letters). */
const HEX = Int8Array.from({ length: 256 }, (_, code) =>
  "0123456789ABCDEF".indexOf(String.fromCharCode(code)),
);

/** Room for a line not yet ended and a piece of what comes; whole words of four bytes. */
const BUFFER_BYTES = 4096;
/** Of a line that goes on beyond this it is enough to know that it does. */
const KEPT_BYTES_MAX = LINE_BYTES_MAX + 1;
const PIECE_BYTES_MAX = BUFFER_BYTES - KEPT_BYTES_MAX;

/** Gets the body of a good line (the bytes before the asterisk) as bytes `from` to `to`; they are overwritten later. */
export type BodyTaker = (bytes: Uint8Array, from: number, to: number) => void;

/** Cuts a byte stream into lines and hands on the body of each good one. */
export class LineCutter {
  private readonly buffer = new Uint8Array(BUFFER_BYTES);
  private readonly words = new Int32Array(this.buffer.buffer);
  private readonly view = new DataView(this.buffer.buffer);
  /** Bytes of the line so far, at the buffer's beginning. */
  private length = 0;
  /** Among them, those outside clause 1.1, and asterisks. */
  private unprintable = 0;
  private asterisks = 0;
  private good = 0;
  private tooLong = 0;
  private badByte = 0;
  private badCrc = 0;
  private readonly onBody: BodyTaker;

  constructor(onBody: BodyTaker) {
    this.onBody = onBody;
  }

  get counts(): FramingCounts {
    const { good, tooLong, badByte, badCrc } = this;
    return { good, tooLong, badByte, badCrc };
  }

  push(chunk: Uint8Array): void {
    for (let from = 0; from < chunk.length; from += PIECE_BYTES_MAX) {
      const isWhole = chunk.length <= PIECE_BYTES_MAX;
      this.take(isWhole ? chunk : chunk.subarray(from, from + PIECE_BYTES_MAX));
    }
  }

  private take(piece: Uint8Array): void {
    const { buffer, words } = this;
    buffer.set(piece, this.length);
    const end = this.length + piece.length;
    let lineFrom = 0;
    let at = this.length;
    while (at < end) {
      // Four bytes at a time while nothing but a line's usual bytes comes.
      if (at % 4 === 0) {
        while (at + 4 <= end && isUsual(words[at >> 2] as number)) at += 4;
        if (at === end) break;
      }
      const byte = buffer[at++] as number;
      if (byte === LF) {
        this.finish(lineFrom, at - 1);
        lineFrom = at;
      } else if (byte === ASTERISK) this.asterisks++;
      else if (byte < PRINTABLE_FIRST || byte > PRINTABLE_LAST) this.unprintable++;
    }
    this.length = Math.min(end - lineFrom, KEPT_BYTES_MAX);
    buffer.copyWithin(0, lineFrom, lineFrom + this.length);
  }

  /** A line's bytes without its LF. */
  private finish(from: number, to: number): void {
    const { unprintable, asterisks } = this;
    this.unprintable = 0;
    this.asterisks = 0;
    // A CR before the LF is dropped, and may stand in the LF's own last place (clause 1.4).
    const cr = to > from && this.buffer[to - 1] === CR ? 1 : 0;
    const length = to - from - cr;
    if (length === 0) return;
    // One byte of the 240 is the LF.
    if (length > LINE_BYTES_MAX - 1) {
      this.tooLong++;
      return;
    }
    const bodyEnd = from + length - CRC_TAIL;
    if (bodyEnd <= from || this.buffer[bodyEnd] !== ASTERISK || !this.hasItsCrc(from, bodyEnd)) {
      this.badCrc++;
      return;
    }
    if (unprintable > cr || asterisks > 1) {
      this.badByte++;
      return;
    }
    this.good++;
    this.onBody(this.buffer, from, bodyEnd);
  }

  private hasItsCrc(from: number, bodyEnd: number): boolean {
    const { buffer } = this;
    let stated = 0;
    for (let i = bodyEnd + 1; i < bodyEnd + CRC_TAIL; i++) {
      const digit = HEX[buffer[i] as number] as number;
      if (digit < 0) return false;
      stated = (stated << 4) | digit;
    }
    return crc32In(this.view, from, bodyEnd) === stated >>> 0;
  }
}

/** Printable ASCII (clause 1.1). */
const PRINTABLE_FIRST = 0x20;
const PRINTABLE_LAST = 0x7e;

/** One byte in each of the four places of a word. */
const EACH = 0x01010101;

/**
 * Whether all four bytes of a word are printable and none is an asterisk. The highest bit of a place
 * is set by what is taken off a byte that is too small and by what is added to one that is too large;
 * by the asterisk's, where nothing is left of a byte once the asterisk is taken off bit by bit.
 */
function isUsual(word: number): boolean {
  const tooSmall = word - PRINTABLE_FIRST * EACH;
  const tooLarge = word | (word + (0x7f - PRINTABLE_LAST) * EACH);
  const rest = word ^ (ASTERISK * EACH);
  const asterisk = (rest - EACH) & ~rest;
  return ((tooSmall | tooLarge | asterisk) & (0x80 * EACH)) === 0;
}
