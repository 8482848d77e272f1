// Bytes waiting for the link, which may be slower than the board.
import { encodeLine } from "../core/codec/framing.ts";

/** What a pause may save up: a serial port has a small buffer of its own. */
const SAVED_UP_S = 0.02;

export class Outbox {
  private lines: Uint8Array[] = [];
  private waiting = 0;
  private credit = 0;
  private readonly bytesPerS: number | null;

  constructor(bytesPerS: number | null) {
    this.bytesPerS = bytesPerS;
  }

  /** Closes a body with its CRC and puts it last; gives the line's length in bytes. */
  push(body: string): number {
    const line = encodeLine(body);
    this.lines.push(line);
    this.waiting += line.length;
    return line.length;
  }

  /** Seconds that the link needs for what waits. */
  get backlogS(): number {
    return this.bytesPerS === null ? 0 : this.waiting / this.bytesPerS;
  }

  /** What the link carries in the `elapsedS` since the last call; null where that is nothing. */
  take(elapsedS: number): Uint8Array | null {
    let count = this.waiting;
    if (this.bytesPerS !== null) {
      this.credit += elapsedS * this.bytesPerS;
      count = Math.min(count, Math.floor(this.credit));
      this.credit = Math.min(this.credit - count, SAVED_UP_S * this.bytesPerS);
    }
    if (count === 0) return null;
    const bytes = new Uint8Array(count);
    let filled = 0;
    let whole = 0;
    while (filled < count) {
      const line = this.lines[whole] as Uint8Array;
      const room = count - filled;
      if (line.length > room) {
        bytes.set(line.subarray(0, room), filled);
        this.lines[whole] = line.subarray(room);
        break;
      }
      bytes.set(line, filled);
      filled += line.length;
      whole++;
    }
    this.lines = this.lines.slice(whole);
    this.waiting -= count;
    return bytes;
  }
}
