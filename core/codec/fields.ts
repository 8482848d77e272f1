// Reads the fields of one line from left to right; a field of the wrong form reads as NaN or "".

const COMMA = 44;
const ZERO = 48;
const NINE = 57;
const WHOLE_MAX = 4294967295;

export class FieldReader {
  private at = 0;
  private ended = false;
  private readonly bytes: Uint8Array;

  constructor(bytes: Uint8Array) {
    this.bytes = bytes;
  }

  /** True once the last field has been read. */
  get done(): boolean {
    return this.ended;
  }

  /** Next field as text; "" where it is empty or absent. */
  word(): string {
    const { bytes } = this;
    const end = this.fieldEnd();
    let text = "";
    for (let i = this.at; i < end; i++) text += String.fromCharCode(bytes[i] as number);
    this.leave(end);
    return text;
  }

  /** Next field as a whole number (clause 1.7), else NaN. */
  whole(): number {
    const { bytes } = this;
    let i = this.at;
    if (this.ended || i >= bytes.length) {
      this.ended = true;
      return Number.NaN;
    }
    const start = i;
    let value = 0;
    let byte = bytes[i] as number;
    while (byte >= ZERO && byte <= NINE) {
      value = value * 10 + (byte - ZERO);
      i++;
      if (i === bytes.length) break;
      byte = bytes[i] as number;
    }
    const wellEnded = i === bytes.length || byte === COMMA;
    const leadingZero = bytes[start] === ZERO && i - start > 1;
    if (!wellEnded || i === start || leadingZero || value > WHOLE_MAX || i - start > 10) {
      this.leave(this.fieldEnd());
      return Number.NaN;
    }
    this.leave(i);
    return value;
  }

  /** Next field as a speed or ramp with at most one digit after the stop (clause 1.7), else NaN. */
  tenths(): number {
    const text = this.word();
    return /^(0|[1-9]\d{0,6})(\.\d)?$/.test(text) ? Number(text) : Number.NaN;
  }

  /** Reads `a12b345…` (clause 3.2.1) into the two arrays; false where it is malformed. */
  events(edges: ("a" | "b")[], ticks: number[]): boolean {
    const { bytes } = this;
    const end = this.fieldEnd();
    let i = this.at;
    this.leave(end);
    while (i < end) {
      const letter = bytes[i++];
      if (letter !== 97 && letter !== 98) return false;
      const start = i;
      let value = 0;
      while (i < end) {
        const byte = bytes[i] as number;
        if (byte < ZERO || byte > NINE) break;
        value = value * 10 + (byte - ZERO);
        i++;
      }
      const leadingZero = bytes[start] === ZERO && i - start > 1;
      if (i === start || leadingZero || value > WHOLE_MAX || i - start > 10) return false;
      edges.push(letter === 97 ? "a" : "b");
      ticks.push(value);
    }
    return true;
  }

  private fieldEnd(): number {
    const comma = this.bytes.indexOf(COMMA, this.at);
    return comma === -1 ? this.bytes.length : comma;
  }

  private leave(end: number): void {
    if (end >= this.bytes.length) {
      this.ended = true;
      this.at = this.bytes.length;
    } else {
      this.at = end + 1;
    }
  }
}

/** A speed or ramp as clause 1.7 writes it: at most one digit after the stop. */
export function formatTenths(value: number): string {
  return String(Math.round(value * 10) / 10);
}
