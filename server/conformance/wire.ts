// The rig's port as a test of it sees it: every line with the moment it came, good or not, and whatever bytes are to be sent.
import { parseRigLine } from "../../core/codec/rigLineReader.ts";
import type { RigLine, StateLine, VacuumLine } from "../../core/codec/rigLines.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import type { BytePort } from "../link/bytePort.ts";
import { bodyOf, crcDigits, type FormFault, fieldFault, frameFault } from "./forms.ts";

/** A line from the rig, without its LF. */
export interface HeardLine {
  readonly atMs: number;
  /** As it may be printed: a byte that is not printable as \xNN, and not more than a line may have. */
  readonly text: string;
  /** What is wrong with it; null where it is good. */
  readonly fault: FormFault | null;
  /** Null where it is not good, or of no known type. */
  readonly line: RigLine | null;
}

export interface SentLine {
  readonly atMs: number;
  readonly body: string;
  /** Lines heard before it was sent. */
  readonly heardBefore: number;
  /** True for what the rig is to drop or ignore. */
  readonly isToBeDropped: boolean;
  readonly bytes: number;
}

export type LineOf<T extends RigLine["type"]> = HeardLine & {
  readonly line: Extract<RigLine, { readonly type: T }>;
};

const LF = 10;
/** Of a line that never ends, enough to see that it does not. */
const KEPT_CHARACTERS_MAX = 4096;

interface Waiter {
  readonly wants: (heard: HeardLine) => boolean;
  readonly resolve: (heard: HeardLine | null) => void;
  readonly reject: (error: Error) => void;
}

export class Wire {
  readonly heard: HeardLine[] = [];
  readonly sent: SentLine[] = [];
  readonly scheduler: Scheduler;
  /** Called with each good line, before anybody who waits for it. */
  onLine: (line: RigLine) => void = () => {};
  private readonly port: BytePort;
  private readonly waiters = new Set<Waiter>();
  private begun = "";
  private ended: Error | null = null;

  constructor(port: BytePort, scheduler: Scheduler) {
    this.port = port;
    this.scheduler = scheduler;
    port.onBytes = (bytes) => this.take(bytes);
  }

  /** Ends all waiting, now and from now on, with this error; the port can still be written to. */
  end(error: Error): void {
    this.ended ??= error;
    for (const waiter of this.waiters) waiter.reject(this.ended);
    this.waiters.clear();
  }

  /** Lets what comes last be waited for after an end. */
  reopen(): void {
    this.ended = null;
  }

  get nowMs(): number {
    return this.scheduler.nowMs();
  }

  /** Sends a body, closed with its CRC and LF. */
  send(body: string): SentLine {
    return this.sendText(`${body}*${crcDigits(body)}\n`, body, false);
  }

  /** Sends characters as bytes, just as they are. */
  sendText(text: string, body: string, isToBeDropped: boolean): SentLine {
    const heardBefore = this.heard.length;
    const sent = { atMs: this.nowMs, body, heardBefore, isToBeDropped, bytes: text.length };
    this.sent.push(sent);
    this.write(text);
    return sent;
  }

  /** Sends bytes that are no line of their own. */
  write(text: string): void {
    this.port.write(Uint8Array.from(text, (letter) => letter.charCodeAt(0)));
  }

  /** The next line from `from` on (of those heard) that is wanted; null where none comes in time. */
  until(
    wants: (heard: HeardLine) => boolean,
    limitMs: number,
    from = this.heard.length,
  ): Promise<HeardLine | null> {
    if (this.ended !== null) return Promise.reject(this.ended);
    const already = this.heard.slice(from).find(wants);
    if (already !== undefined) return Promise.resolve(already);
    return new Promise((resolve, reject) => {
      const waiter: Waiter = {
        wants,
        resolve: (heard) => {
          timer.cancel();
          resolve(heard);
        },
        reject: (error) => {
          timer.cancel();
          reject(error);
        },
      };
      const timer = this.scheduler.after(limitMs, () => {
        this.waiters.delete(waiter);
        resolve(null);
      });
      this.waiters.add(waiter);
    });
  }

  async sleep(ms: number): Promise<void> {
    await this.until(() => false, ms);
  }

  async state(
    wants: (line: StateLine) => boolean,
    limitMs: number,
    from = this.heard.length,
  ): Promise<LineOf<"state"> | null> {
    const found = await this.until(
      ({ line }) => line?.type === "state" && wants(line),
      limitMs,
      from,
    );
    return found as LineOf<"state"> | null;
  }

  async vacuum(wants: (line: VacuumLine) => boolean, limitMs: number): Promise<HeardLine | null> {
    return this.until(({ line }) => line?.type === "vac" && wants(line), limitMs);
  }

  all<T extends RigLine["type"]>(type: T, from = 0): LineOf<T>[] {
    return this.heard.slice(from).filter((one): one is LineOf<T> => one.line?.type === type);
  }

  private take(bytes: Uint8Array): void {
    for (const byte of bytes) {
      if (byte === LF) {
        const text = this.begun;
        this.begun = "";
        if (text !== "") this.takeLine(text);
      } else if (this.begun.length < KEPT_CHARACTERS_MAX) this.begun += String.fromCharCode(byte);
    }
  }

  private takeLine(whole: string): void {
    const line = afterBoot(whole);
    const frame = frameFault(line);
    const body = bodyOf(line);
    const fault = frame ?? fieldFault(body);
    const parsed =
      frame === null
        ? parseRigLine(Uint8Array.from(body, (letter) => letter.charCodeAt(0)))
        : { type: "malformed" as const };
    const isKnown = parsed.type !== "malformed" && parsed.type !== "unknown";
    const heard = { atMs: this.nowMs, text: printable(line), fault, line: isKnown ? parsed : null };
    this.heard.push(heard);
    if (heard.line !== null) this.onLine(heard.line);
    for (const waiter of [...this.waiters]) {
      if (!waiter.wants(heard)) continue;
      this.waiters.delete(waiter);
      waiter.resolve(heard);
    }
  }
}

/** A board that boots in the middle of a line leaves it cut short, and its hello is all that is of worth. */
function afterBoot(line: string): string {
  const at = line.lastIndexOf("hello,0,");
  return at > 0 && frameFault(line.slice(at)) === null ? line.slice(at) : line;
}

const SHOWN_CHARACTERS_MAX = 240;

function printable(line: string): string {
  const escaped = line.replace(
    /[^ -~]/g,
    (letter) => `\\x${letter.charCodeAt(0).toString(16).padStart(2, "0")}`,
  );
  const isLong = escaped.length > SHOWN_CHARACTERS_MAX;
  return isLong ? `${escaped.slice(0, SHOWN_CHARACTERS_MAX)}…` : escaped;
}
