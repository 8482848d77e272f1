// Reads the fields of one line from left to right; a field of the wrong form reads as NaN or "".

const COMMA = 44;
const STOP = 46;
const ZERO = 48;
const LETTER_A = 97;
const LETTER_B = 98;
const WHOLE_MAX = 4294967295;
const QUICK_DIGITS = 9;
/** Digits of a speed or ramp before the stop. */
const TENTHS_DIGITS = 7;

/** Words that come again in line after line; found by their bytes as one number, they need no new text. */
const USUAL = new Map(
  ["rev", "pick", "vac", "state", "ok", "vent", "control", "hold", "cw", "ccw", "none"].map(
    (word) => [
      keyOf(
        Uint8Array.from(word, (letter) => letter.charCodeAt(0)),
        0,
        word.length,
      ),
      word,
    ],
  ),
);

/** A number that no other bytes have; NaN where there is none, for long words and bytes beyond ASCII. */
function keyOf(bytes: Uint8Array, from: number, to: number): number {
  if (to - from > 7) return Number.NaN;
  let key = 1;
  for (let i = from; i < to; i++) {
    const byte = bytes[i] as number;
    if (byte > 0x7f) return Number.NaN;
    key = 128 * key + byte;
  }
  return key;
}

function textOf(bytes: Uint8Array, from: number, to: number): string {
  return USUAL.get(keyOf(bytes, from, to)) ?? newText(bytes, from, to);
}

function newText(bytes: Uint8Array, from: number, to: number): string {
  let text = "";
  for (let i = from; i < to; i++) text += String.fromCharCode(bytes[i] as number);
  return text;
}

export class FieldReader {
  private bytes: Uint8Array = new Uint8Array(0);
  private at = 0;
  private to = 0;
  private ended = true;

  /** Begins with a line's body, bytes `from` to `to`. */
  lay(bytes: Uint8Array, from: number, to: number): void {
    this.bytes = bytes;
    this.at = from;
    this.to = to;
    this.ended = false;
  }

  /** Goes past `beginning` where it is what comes next. */
  skip(beginning: Uint8Array): boolean {
    const { bytes, at, to } = this;
    const end = at + beginning.length;
    if (end > to) return false;
    for (let i = 0; i < beginning.length; i++) {
      if (bytes[at + i] !== beginning[i]) return false;
    }
    this.at = end;
    return true;
  }

  /** True once the last field has been read. */
  get done(): boolean {
    return this.ended;
  }

  /** Next field as text; "" where it is empty or absent. */
  word(): string {
    const end = this.fieldEnd();
    const text = textOf(this.bytes, this.at, end);
    this.leave(end);
    return text;
  }

  /** Next field as a whole number (clause 1.7), else NaN. */
  whole(): number {
    const value = this.digits();
    const { bytes, at, to } = this;
    const wellEnded = at >= to || bytes[at] === COMMA;
    this.leave(wellEnded ? at : this.fieldEnd());
    return wellEnded ? value : Number.NaN;
  }

  /** All that is left as whole numbers, at most so many, in place of what the array holds; false where it is malformed. */
  wholes(values: number[], most: number): boolean {
    const { bytes, to } = this;
    let count = 0;
    while (!this.ended) {
      // As `whole` does where a few digits and a comma come, as nearly always.
      let at = this.at;
      let end = at;
      let value = 0;
      let digit = 0;
      for (; at < to; at = end + 1) {
        value = 0;
        for (end = at; end < to; end++) {
          digit = (bytes[end] as number) - ZERO;
          if (digit < 0 || digit > 9) break;
          value = (Math.imul(value, 10) + digit) | 0;
        }
        const isUsual = end < to && bytes[end] === COMMA && end > at && end - at <= QUICK_DIGITS;
        if (!isUsual || bytes[at] === ZERO || count === most) break;
        values[count++] = value;
      }
      this.at = at;
      const last = this.whole();
      if (Number.isNaN(last) || count === most) return false;
      values[count++] = last;
    }
    if (values.length !== count) values.length = count;
    return true;
  }

  /** Next field as a speed or ramp with at most one digit after the stop (clause 1.7), else NaN. */
  tenths(): number {
    const { bytes, at } = this;
    const end = this.fieldEnd();
    this.leave(end);
    const fraction = end - at > 2 && bytes[end - 2] === STOP;
    const tenth = fraction ? (bytes[end - 1] as number) - ZERO : 0;
    const wholeEnd = fraction ? end - 2 : end;
    let value = 0;
    for (let i = at; i < wholeEnd; i++) {
      const digit = (bytes[i] as number) - ZERO;
      if (digit < 0 || digit > 9) return Number.NaN;
      value = 10 * value + digit;
    }
    const leadingZero = bytes[at] === ZERO && wholeEnd - at > 1;
    const wellFormed = tenth >= 0 && tenth <= 9 && wholeEnd > at && wholeEnd - at <= TENTHS_DIGITS;
    // Divided, not multiplied, so that 547.5 is the number that a literal gives.
    return wellFormed && !leadingZero ? (10 * value + tenth) / 10 : Number.NaN;
  }

  /** Reads `a12b345…` (clause 3.2.1) in place of what the two arrays hold; false where it is malformed. */
  events(edges: ("a" | "b")[], ticks: number[]): boolean {
    const { bytes, to } = this;
    let count = 0;
    while (this.at < to && bytes[this.at] !== COMMA) {
      const letter = bytes[this.at++];
      const value = this.digits();
      if ((letter !== LETTER_A && letter !== LETTER_B) || Number.isNaN(value)) return false;
      edges[count] = letter === LETTER_A ? "a" : "b";
      ticks[count++] = value;
    }
    this.leave(this.at);
    if (ticks.length !== count) {
      edges.length = count;
      ticks.length = count;
    }
    return true;
  }

  /** Goes past the digits that come next: the whole number that they are (clause 1.7), else NaN. */
  private digits(): number {
    const { bytes, at, to } = this;
    // So many digits fit a number of 32 bits, with which reckoning is several times faster.
    const quickTo = Math.min(at + QUICK_DIGITS, to);
    let end = at;
    let quick = 0;
    for (; end < quickTo; end++) {
      const digit = (bytes[end] as number) - ZERO;
      if (digit < 0 || digit > 9) break;
      quick = (Math.imul(quick, 10) + digit) | 0;
    }
    let value = quick;
    if (end === at + QUICK_DIGITS && end < to) {
      const digit = (bytes[end] as number) - ZERO;
      if (digit >= 0 && digit <= 9) {
        value = 10 * quick + digit;
        end++;
      }
    }
    this.at = end;
    const leadingZero = bytes[at] === ZERO && end - at > 1;
    return end === at || leadingZero || value > WHOLE_MAX ? Number.NaN : value;
  }

  private fieldEnd(): number {
    const { bytes, to } = this;
    let end = this.at;
    while (end < to && bytes[end] !== COMMA) end++;
    return end;
  }

  private leave(end: number): void {
    if (end >= this.to) {
      this.ended = true;
      this.at = this.to;
    } else {
      this.at = end + 1;
    }
  }
}

/** A speed or ramp as clause 1.7 writes it: at most one digit after the stop. */
export function formatTenths(value: number): string {
  return String(Math.round(value * 10) / 10);
}
