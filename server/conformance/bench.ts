// What every check of a rig works with: the wire, numbers, the token and its stay-alive, and the ledger.
import type { Direction, Hello, RigLine, StateLine } from "../../core/codec/rigLines.ts";
import type { Timer } from "../../core/scheduler.ts";
import type { Ledger } from "./ledger.ts";
import type { Person } from "./person.ts";
import type { HeardLine, LineOf, Wire } from "./wire.ts";

/** What a serial converter and this computer may add to a time (common practice, no source). */
export const HOST_MARGIN_MS = 30;
/** How long an answer is waited for; its being late is judged apart. */
const ANSWER_WAIT_MS = 400;
/** How long a line that is to be dropped is given to be answered after all. */
const SILENCE_MS = 130;
const STATE_WAIT_MS = 500;
const ALIVE_EVERY_MS = 100;
/** Longer than any spindle coasts; common practice, no source. */
const COAST_LIMIT_MS = 30_000;
/** Faster than this times what was asked for, the test ends itself. */
const RUNAWAY_RATIO = 1.3;
const RUNAWAY_RPM = 100;

export interface Settings {
  /** Highest speed that the test asks the drive for, rpm. */
  readonly speedMaxRpm: number;
  /** Of a serial port; null where bytes take no time. */
  readonly baud: number | null;
  /** Null where nobody is there. */
  readonly person: Person | null;
}

/** Ends a check early: what it would have shown next cannot be told. */
export class CheckEnded extends Error {}

export class TestBench {
  readonly wire: Wire;
  readonly ledger: Ledger;
  readonly settings: Settings;
  readonly hello: Hello;
  /** Of the last `arm` that was accepted. */
  token = "00000000";
  private number: number;
  private aliveTimer: Timer | null = null;
  private allowedRpm = 0;
  /** True while the board is to boot. */
  isBootExpected = false;
  /** Why the spindle is not to be set in motion again; null while nothing forbids it. */
  unsafe: string | null = null;

  constructor(wire: Wire, ledger: Ledger, settings: Settings, hello: Hello, number: number) {
    this.wire = wire;
    this.ledger = ledger;
    this.settings = settings;
    this.hello = hello;
    this.number = number;
    wire.onLine = (line) => this.watch(line);
  }

  get direction(): Direction {
    return this.hello.directions[0] ?? "cw";
  }

  /** The other direction, or null where the drive has one only. */
  get otherDirection(): Direction | null {
    return this.hello.directions[1] ?? null;
  }

  /** Another token than the one in force. */
  get wrongToken(): string {
    return `${this.token.startsWith("0") ? "1" : "0"}${this.token.slice(1)}`;
  }

  get lastNumber(): number {
    return this.number;
  }

  nextNumber(): number {
    return ++this.number;
  }

  /** Numbers go on from here. */
  startNumbersAt(number: number): void {
    this.number = number;
  }

  /** Sends a numbered line and gives the answer: `ok`, `hello` or the reason; `silence` where none came. */
  async answerTo(body: string): Promise<{ word: string; heard: HeardLine | null }> {
    const sent = this.wire.send(body);
    return this.answerFrom(Number(body.split(",")[1]), sent.heardBefore);
  }

  async answerFrom(
    number: number,
    from: number,
  ): Promise<{ word: string; heard: HeardLine | null }> {
    const heard = await this.wire.until(
      ({ line }) => line !== null && answers(line, number),
      ANSWER_WAIT_MS,
      from,
    );
    return { word: wordOf(heard?.line ?? null), heard };
  }

  /** A new command by its type and the fields after its number. */
  async command(type: string, ...fields: (string | number)[]): Promise<string> {
    const { word } = await this.answerTo([type, this.nextNumber(), ...fields].join(","));
    return word;
  }

  /** Sends a body and judges its answer. `wanted`: `ok`, `hello` or a reason. */
  async expect(clause: string, what: string, body: string, wanted: string): Promise<boolean> {
    const { word, heard } = await this.answerTo(body);
    const seen = `${heard === null ? "no answer" : `"${heard.text}"`} to "${body}"`;
    return this.ledger.judge(clause, what, word === wanted, seen, wordsFor(wanted));
  }

  /** Sends characters that no rig may act on or answer, and judges that it does not. */
  async expectSilence(clause: string, what: string, text: string): Promise<boolean> {
    const shown = JSON.stringify(text.length > 60 ? `${text.slice(0, 60)}…` : text);
    const sent = this.wire.sendText(text, "", true);
    const heard = await this.wire.until(
      ({ line }) => line !== null && isAnswer(line),
      SILENCE_MS,
      sent.heardBefore,
    );
    const seen = `"${heard?.text}" after ${shown}`;
    return this.ledger.judge(clause, what, heard === null, seen, "no answer");
  }

  /** Arms, and keeps the token alive from then on. @throws CheckEnded where the rig refuses */
  async arm(): Promise<void> {
    const { word, heard } = await this.answerTo(`arm,${this.nextNumber()}`);
    const { line } = heard ?? { line: null };
    if (line?.type !== "ok" || line.token === null) {
      const seen = heard === null ? "no answer" : `"${heard.text}"`;
      // What keeps a rig from arming by right is judged where it was brought about.
      const isByRight = word === "guard-open" || word === "stop-input" || word === "latched";
      if (!isByRight) this.ledger.broken("4.3", "arm gives a token", seen, "ok with a token");
      throw new CheckEnded(`the rig did not arm: ${seen}`);
    }
    this.keepAlive(line.token);
  }

  keepAlive(token: string): void {
    this.letGo();
    this.token = token;
    const beat = () => {
      this.wire.send(`alive,${token}`);
      this.aliveTimer = this.wire.scheduler.after(ALIVE_EVERY_MS, beat);
    };
    beat();
  }

  /** Sends no more stay-alive. Gives when the last one went out. */
  letGo(): number {
    this.aliveTimer?.cancel();
    this.aliveTimer = null;
    return this.wire.sent.findLast(({ body }) => body.startsWith("alive,"))?.atMs ?? 0;
  }

  /** A vacuum that any line can bear. */
  get vacuumPa(): number {
    const { vacuumMinPa, vacuumMaxPa } = this.hello;
    return Math.max(vacuumMinPa, Math.round(vacuumMaxPa / 4));
  }

  /** Has the line under vacuum, where the rig can, so that a stop has something to vent. */
  async drawVacuum(): Promise<void> {
    if (this.hello.vacuumMaxPa > 0) await this.command("vacuum", this.token, this.vacuumPa);
  }

  /** Asks for a speed that the motion agreed to covers. */
  async speed(rpm: number, rampRpmPerS: number, direction = this.direction): Promise<string> {
    this.allowedRpm = Math.max(this.allowedRpm, rpm);
    return this.command("speed", this.token, direction, rpm, rampRpmPerS);
  }

  /** Brings an armed rig to a speed and gives the number of the command. @throws CheckEnded */
  async turn(rpm: number, direction = this.direction): Promise<number> {
    const word = await this.speed(rpm, TURN_RAMP_RPM_PER_S, direction);
    const number = this.lastNumber;
    if (!this.ledger.judge("4.1", "a speed is taken", word === "ok", word, "ok")) {
      throw new CheckEnded(`the rig did not take a speed: ${word}`);
    }
    const limitMs = (rpm / TURN_RAMP_RPM_PER_S) * 1000 + 5000;
    const near = (line: StateLine) => Math.abs(line.nowRpm - rpm) <= 0.1 * rpm;
    if ((await this.wire.state(near, limitMs)) === null) {
      const seen = `"${this.wire.all("state").at(-1)?.text}"`;
      const wanted = `NOWRPM near ${rpm} within ${(limitMs / 1000).toFixed(1)} s`;
      this.ledger.broken("4.1", "speed is reached and held", seen, wanted);
      throw new CheckEnded(`the spindle did not come near ${rpm} rpm`);
    }
    return number;
  }

  /** The first state line after an answer: the rig does what it is told before it answers. */
  async stateAfter(answer: HeardLine | null): Promise<LineOf<"state">> {
    const { heard } = this.wire;
    const from = answer === null ? heard.length : heard.indexOf(answer) + 1;
    const state = await this.wire.state(() => true, STATE_WAIT_MS, from);
    if (state === null) throw new CheckEnded("no state line came");
    return state;
  }

  /** Judges that the rig is stopped as `stop` does it, by the first lines after the answer. */
  async expectStopped(clause: string, what: string, answer: HeardLine | null): Promise<void> {
    const { text, line } = await this.stateAfter(answer);
    const isOff = !line.armed && line.setRpm === 0;
    this.ledger.judge(clause, what, isOff, `"${text}"`, "ARMED 0, SETRPM 0");
    if (this.hello.vacuumMaxPa === 0) return;
    const from = answer === null ? this.wire.heard.length : this.wire.heard.indexOf(answer) + 1;
    const vac = await this.wire.until(({ line }) => line?.type === "vac", STATE_WAIT_MS, from);
    const isVented =
      vac?.line?.type === "vac" && vac.line.valve === "vent" && vac.line.pumpPermille === 0;
    this.ledger.judge(
      clause,
      `${what}: line vented`,
      isVented,
      `"${vac?.text}"`,
      "PUMP 0, VALVE vent",
    );
  }

  /** Stops, and waits until the spindle stands. @throws CheckEnded where it does not */
  async rest(): Promise<void> {
    this.letGo();
    await this.command("stop");
    await this.standstill("4.4", "the spindle comes to rest after stop");
  }

  /** Where it does not come, the clause is broken and nothing is set in motion again. @throws CheckEnded */
  async standstill(clause: string, what: string): Promise<void> {
    const from = this.wire.heard.length;
    const still = await this.wire.state(({ nowRpm }) => nowRpm === 0, COAST_LIMIT_MS, from);
    if (still !== null) return;
    const last = this.wire.all("state", from).at(-1);
    const wanted = `NOWRPM 0 within ${COAST_LIMIT_MS / 1000} s`;
    // A rig that says nothing of its speed may stand; that it says nothing is judged elsewhere.
    const isOfNow = last !== undefined && last.atMs > this.wire.nowMs - STATE_WAIT_MS;
    if (isOfNow) this.ledger.broken(clause, what, `"${last.text}"`, wanted);
    this.unsafe = "the spindle was not seen to come to rest, and is not set in motion again";
    throw new CheckEnded(this.unsafe);
  }

  /** A drive that does what was not asked for ends the test at once: not everything can be judged calmly. */
  private watch(line: RigLine): void {
    if (line.type === "hello" && line.ask === 0 && !this.isBootExpected) {
      this.wire.end(new CheckEnded("the board booted in the middle of it"));
    }
    const nowRpm = this.toldRpm(line);
    if (nowRpm === null || this.unsafe !== null) return;
    const limitRpm = RUNAWAY_RATIO * this.allowedRpm + RUNAWAY_RPM;
    if (nowRpm <= limitRpm) return;
    const seen = `${nowRpm.toFixed(1)} rpm`;
    const wanted = `no more than the ${this.allowedRpm} rpm asked for`;
    this.ledger.broken("6.5", "no speed is reached that was not asked for", seen, wanted);
    this.unsafe = "the spindle ran faster than it was told to, and is not set in motion again";
    this.wire.end(new CheckEnded(this.unsafe));
  }

  /** By a turn it takes two of them in succession: one alone may be a pulse too many. */
  private toldRpm(line: RigLine): number | null {
    if (line.type === "state") return line.nowRpm;
    if (line.type !== "rev") return null;
    return (60 * this.hello.tickHz) / Math.max(line.duringTicks, line.afterTicks);
  }
}

export const TURN_RAMP_RPM_PER_S = 500;

export function isAnswer(line: RigLine): boolean {
  return line.type === "ok" || line.type === "no" || (line.type === "hello" && line.ask > 0);
}

function answers(line: RigLine, number: number): boolean {
  if (line.type === "hello") return line.ask === number;
  return (line.type === "ok" || line.type === "no") && line.number === number;
}

function wordOf(line: RigLine | null): string {
  if (line?.type === "no") return line.reason;
  return line?.type ?? "silence";
}

function wordsFor(wanted: string): string {
  return wanted === "ok" || wanted === "hello" ? wanted : `no with reason ${wanted}`;
}
