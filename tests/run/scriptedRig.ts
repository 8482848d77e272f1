// A run on a rig that answers by the protocol and does what a test has it do, in virtual time.
import { formatRigLine } from "../../core/codec/rigLines.ts";
import type { EndDocument, RunDocument } from "../../core/documents.ts";
import type { Plan } from "../../core/plan.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { Run, type RunSetup } from "../../server/run/run.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import { HELLO } from "../angles/turns.ts";
import { LineRig } from "./lineRig.ts";
import { TOKEN } from "./rigInHand.ts";

export const UNIT = { description: "four", lobes: 4, rotation: "cw" };
/** A reference and a return, at 150 rpm: a turn takes 400 ms. */
export const PLAN: Plan = {
  ...{ referenceRpm: 150, speedsRpm: [], capsules: [], vacuumSweepRpm: 300, rampRpmPerS: 500 },
  ...{ turnsPerReading: 8, secondsPerReading: 600 },
};
const TURN_MS = 400;
/** Contacts of four lobes, a tenth of a turn shut. */
export const SPARKS = "a50000b80000a150000b180000a250000b280000a350000b380000";

export interface Script {
  /** Instead of the usual answer; undefined: that one. */
  readonly answer?: (type: string, number: string) => string | undefined;
  /** Events of every turn; left out: the spindle does not turn. */
  readonly events?: string;
  /** After a stop, until drive and token are gone in its state lines. */
  readonly restAfterMs?: number;
  /** What its state lines say then, where that is no rest. */
  readonly restless?: { readonly armed?: boolean; readonly setRpm?: number };
  /** Called with each line once it has been answered. */
  readonly heard?: (type: string, run: Run, rig: ScriptedRig) => void;
}

class ScriptedRig extends LineRig {
  isOpen = false;
  run: Run | null = null;
  private armed = false;
  private setRpm = 0;
  private sequence = 0;
  private turning = false;
  private readonly scheduler: VirtualScheduler;
  private readonly script: Script;

  constructor(scheduler: VirtualScheduler, script: Script) {
    super();
    this.scheduler = scheduler;
    this.script = script;
  }

  override async open() {
    this.isOpen = true;
    this.scheduler.after(100, () => this.beat());
  }

  override async close() {
    this.isOpen = false;
  }

  override say(...bodies: readonly string[]) {
    if (this.isOpen) super.say(...bodies);
  }

  /** By itself, or for a stop. */
  disarm(fault = "none") {
    this.armed = this.script.restless?.armed ?? false;
    this.setRpm = this.script.restless?.setRpm ?? 0;
    this.turning = false;
    this.sayState(fault);
  }

  private beat() {
    this.sayState();
    this.scheduler.after(100, () => this.beat());
  }

  private sayState(fault = "none") {
    const sequence = ++this.sequence;
    this.say(
      `state,${sequence},${1000 * sequence},${this.setRpm},0,cw,${Number(this.armed)},1,0,${fault}`,
    );
  }

  protected override hear(body: string) {
    const { scheduler, script } = this;
    this.heard.push(`${scheduler.nowMs()} ${body}`);
    const [type = "", number = ""] = body.split(",");
    if (type === "alive") return;
    if (type === "stop") scheduler.after(script.restAfterMs ?? 0, () => this.disarm());
    const usual =
      type === "ask"
        ? formatRigLine({ ...HELLO, ask: Number(number) })
        : `ok,${number}${type === "arm" ? `,${TOKEN}` : ""}`;
    const answer = script.answer?.(type, number) ?? usual;
    scheduler.after(1, () => {
      if (type === "arm") this.armed = true;
      if (type === "speed") this.begin(Number(body.split(",")[4]));
      this.say(answer);
      if (this.run !== null) script.heard?.(type, this.run, this);
    });
  }

  private begin(setRpm: number) {
    this.setRpm = setRpm;
    if (this.turning || this.script.events === undefined) return;
    this.turning = true;
    // The first turn is told after two more indexes (clause 3.2).
    this.scheduler.after(3 * TURN_MS, () => this.turn(0));
  }

  private turn(k: number) {
    if (!this.turning) return;
    const before = k === 0 ? 0 : 400_000;
    this.say(`rev,${k},${400_000 * k},${before},400000,400000,0,1,1,1,${this.script.events}`);
    this.scheduler.after(TURN_MS, () => this.turn(k + 1));
  }
}

export function scripted(script: Script = {}, changes: Partial<RunSetup> = {}) {
  const scheduler = new VirtualScheduler();
  const rig = new ScriptedRig(scheduler, script);
  const documents: RunDocument[] = [];
  /** Of each document, when it was told. */
  const toldMs: number[] = [];
  const kept: string[] = [];
  const raw: number[] = [];
  const run = new Run({
    ...{ port: rig, scheduler, recordId: "record", engineVersion: "9", unitFile: UNIT },
    unit: unitFromFile(UNIT, "unit"),
    afterRecordId: null,
    planFor: () => PLAN,
    describeRig: (hello) => ({
      ...{ name: "scripted", simulated: true, scenario: null, hello, calibration: null },
      ...{ vacuumSensorStandardUncertaintyPa: 0, triggerDelayStandardUncertaintyUs: 0 },
      ambientPa: null,
    }),
    record: () => ({
      append: ({ type }) => kept.push(type),
      raw: (bytes) => raw.push(bytes.length),
      end: ({ type }) => kept.push(type),
    }),
    emit: (document) => {
      documents.push(document);
      toldMs.push(scheduler.nowMs());
    },
    ...{ liveEveryMs: null, isFresh: () => true, utcNow: () => "2000-01-01T00:00:00.000Z" },
    explains: false,
    ...changes,
  });
  rig.run = run;
  const pass = (ms: number) =>
    scheduler.run(new Promise<void>((resolve) => scheduler.after(ms, resolve)));
  return {
    ...{ run, rig, scheduler, documents, toldMs, kept, raw, pass },
    types: () => documents.map(({ type }) => type),
    /** What the rig heard, signs of life left out. */
    heard: () => rig.heard.filter((line) => !line.includes(" alive,")),
    alivesMs: () =>
      rig.heard.filter((line) => line.includes(" alive,")).map((line) => Number.parseInt(line, 10)),
    /** To the end, and three seconds beyond. */
    play: async (): Promise<EndDocument> => {
      const end = await scheduler.run(run.prepare().then(() => run.carryOut()));
      await pass(3000);
      return end;
    },
  };
}
