// One run of the program on the stand-in rig over a cable with faults, in virtual time, and what became of it.
import type { Ending, LinkCounts, RunDocument } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import { replay } from "../../core/replay.ts";
import type { Scheduler, Timer } from "../../core/scheduler.ts";
import { makeRun } from "../../server/measurement.ts";
import { STAND_IN } from "../../server/rigFile.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import { Cable } from "./cable.ts";
import type { DrawnRun } from "./drawnRun.ts";
import type { Fault } from "./faults.ts";
import { judgeRun } from "./judge.ts";
import { type Boot, Witness } from "./witness.ts";

/** After a run's end the rig's own time runs out (clause 6.1), and something on the line may come late. */
const REST_MS = 1000;
/** A run may take so many times as long as without faults, and this: waits of every move run out. */
const HANG_SHARE = 10;
const HANG_MS = 120_000;
/** Timers of program, rig and faults for a second of rig time; many times what is usual. */
const STEPS_PER_S = 10_000;
/** Turns on their way when the link ends. */
const TURNS_UNDER_WAY = 5;

/** Of one connection, from opening the port to rest. */
export interface PlayedRun {
  /** `not begun`: it was refused before anything moved. */
  readonly ending: Ending | "not begun";
  readonly code: string | null;
  readonly readings: number;
  readonly wrong: readonly string[];
  /** True where turns were lost on the line and the record does not show it. */
  readonly gapHidden: boolean;
  /** Farthest that an advance was off the truth. */
  readonly worstDeg: number;
  /** What the record's own bytes tell otherwise than the run did; null where they tell the same. */
  readonly replayed: string | null;
  readonly link: LinkCounts | null;
}

export interface Storm {
  readonly runs: readonly PlayedRun[];
  readonly unsafe: readonly string[];
  /** What did not end in its time; null where all did. */
  readonly hang: string | null;
  readonly rigMs: number;
  /** Bytes that were troubled. */
  readonly troubled: number;
  /** Longest time in seconds from a stay-alive to the drive going off where nothing else put it off. */
  readonly worstAliveS: number;
}

export interface StormChoice {
  readonly drawn: DrawnRun;
  readonly seed: number;
  readonly faults: readonly Fault[];
  readonly incidents?: readonly object[];
  /** How long the run takes without faults. */
  readonly undisturbedMs: number;
  /** What else happens, once the run is about to begin. */
  readonly during?: (around: {
    readonly scheduler: Scheduler;
    readonly stop: (code: "STOPPED_BY_USER" | "STOPPED_PAGE_GONE") => void;
    readonly witness: Witness;
  }) => void;
  readonly isFresh?: () => boolean;
}

export async function storm(choice: StormChoice): Promise<Storm> {
  const clock = new VirtualScheduler();
  const limitMs = HANG_SHARE * choice.undisturbedMs + HANG_MS;
  const steps = new CountedSteps(clock, (limitMs / 1000) * STEPS_PER_S);
  const witness = new Witness();
  const player = new Player(choice, steps, witness);
  const runs: PlayedRun[] = [];
  const all = async () => {
    runs.push(await player.play());
    if (!player.comesBack) return;
    await player.untilBack();
    runs.push(await player.play());
  };
  let hang: string | null = null;
  const limit = new Promise<never>((_, reject) => {
    clock.after(2 * limitMs, () => reject(new Hang(`not over after ${2 * limitMs} ms`)));
    steps.onTooMany = () => reject(new Hang("too many steps"));
  });
  try {
    await clock.run(Promise.race([all(), limit]));
  } catch (error) {
    if (!(error instanceof Hang)) throw error;
    hang = error.message;
  }
  const rigMs = clock.nowMs();
  await player.close();
  return {
    runs,
    unsafe: witness.unsafe,
    hang,
    rigMs,
    troubled: player.troubled,
    worstAliveS: witness.worstAliveS,
  };
}

class Hang extends Error {}

/** The host's own scheduler, which tells where it sets more timers than time can explain. */
class CountedSteps implements Scheduler {
  onTooMany: () => void = () => {};
  private readonly inner: Scheduler;
  private left: number;

  constructor(inner: Scheduler, most: number) {
    this.inner = inner;
    this.left = most;
  }

  nowMs(): number {
    return this.inner.nowMs();
  }

  after(delayMs: number, action: () => void): Timer {
    this.left--;
    if (this.left === 0) this.onTooMany();
    return this.inner.after(delayMs, action);
  }
}

class Player {
  private readonly choice: StormChoice;
  private readonly scheduler: Scheduler;
  private readonly witness: Witness;
  private cable: Cable | null = null;
  private turnsSent = 0;

  constructor(choice: StormChoice, scheduler: Scheduler, witness: Witness) {
    this.choice = choice;
    this.scheduler = scheduler;
    this.witness = witness;
  }

  get troubled(): number {
    return this.cable?.troubled ?? 0;
  }

  private get wasOut(): boolean {
    return this.choice.faults.some(({ kind }) => kind === "unplugged");
  }

  /** Whether the cable was out and comes in again, so that one more run is to be tried. */
  get comesBack(): boolean {
    return Number.isFinite(this.cable?.backInMs()) && this.wasOut;
  }

  untilBack(): Promise<void> {
    return this.pause(this.cable?.backInMs() ?? 0);
  }

  async close(): Promise<void> {
    await this.cable?.close();
  }

  async play(): Promise<PlayedRun> {
    const { choice, witness, scheduler } = this;
    const { drawn } = choice;
    const documents: RunDocument[] = [];
    let boot: Boot = { atS: 0, firstTick: 0 };
    const run = await makeRun(
      {
        rig: STAND_IN,
        unitFile: { name: "unit", content: drawn.unit },
        scenario: {
          name: "scenario",
          content: { ...drawn.scenario, incidents: choice.incidents ?? [] },
        },
        plan: { name: "plan", content: drawn.plan },
        capsule: 0,
        contacts: null,
        afterRecordId: null,
      },
      {
        scheduler,
        store: null,
        emit: (document) => {
          if (document.type === "live") return;
          documents.push(document);
          if (document.type === "start") boot = witness.boots.at(-1) ?? boot;
        },
        liveEveryMs: 100,
        isFresh: choice.isFresh ?? (() => true),
        explains: false,
        makeBoard: witness.makeBoard,
        cable: (rig) => {
          this.cable ??= this.cableTo(rig);
          return this.cable.port(this.cable.portName);
        },
      },
    );
    choice.during?.({ scheduler, witness, stop: (code) => run.stop(code) });
    const raw: Uint8Array[] = [];
    if (this.cable !== null) {
      this.cable.onHostBytes = (bytes) => {
        if (documents.length > 0 && !documents.some(({ type }) => type === "end")) raw.push(bytes);
      };
    }
    const turnsBefore = this.turnsSent;
    let code: string | null = null;
    try {
      await run.prepare();
      await run.carryOut();
    } catch (error) {
      if (!(error instanceof BobweightError)) throw error;
      code = error.code;
    }
    const turns = this.turnsSent - turnsBefore;
    await this.rest();
    return {
      ...this.played(documents, boot, code, turns),
      replayed: replayedOtherwise(documents, raw),
    };
  }

  /** At rest by the rig's own time, though nobody has told it anything, once the line is quiet. */
  private async rest(): Promise<void> {
    const { witness, cable } = this;
    do await this.pause(REST_MS);
    while (cable?.quiet === false);
    const moves = witness.notAtRest;
    if (moves !== null) witness.tell(`after the run's end: ${moves}`);
  }

  private played(
    documents: readonly RunDocument[],
    boot: Boot,
    code: string | null,
    turnsSent: number,
  ): Omit<PlayedRun, "replayed"> {
    const { witness, choice } = this;
    const end = documents.find((one) => one.type === "end");
    const { count, wrong, worstDeg } = judgeRun(documents, choice.drawn, witness, boot);
    const link = end?.link ?? null;
    const unseen = link === null ? 0 : turnsSent - link.turnsGood;
    const shows = link !== null && link.turnsMissing + link.turnsSetAside + link.linesBad > 0;
    return {
      ending: end?.ending ?? "not begun",
      code: end?.reason?.code ?? code,
      readings: count,
      wrong,
      worstDeg,
      gapHidden: end?.ending === "completed" && unseen > TURNS_UNDER_WAY && !shows,
      link,
    };
  }

  private cableTo(rig: ConstructorParameters<typeof Cable>[0]): Cable {
    const { choice, witness } = this;
    const cable = new Cable(rig, this.scheduler, choice.seed, choice.faults);
    cable.onRigLine = (body) => {
      witness.rigLine(body);
      if (/^rev,\d+,\d+,\d+,\d+,\d+,\d,\d+,1,/.test(body)) this.turnsSent++;
    };
    return cable;
  }

  private pause(ms: number): Promise<void> {
    return new Promise((resolve) => this.scheduler.after(ms, resolve));
  }
}

/** What is measured, without what is decided while the run goes on. */
const MEASURED: ReadonlySet<string> = new Set(["final", "hold"]);

function replayedOtherwise(
  documents: readonly RunDocument[],
  raw: readonly Uint8Array[],
): string | null {
  if (!documents.some(({ type }) => type === "point")) return null;
  const measured = (of: readonly RunDocument[]) =>
    JSON.stringify(of.filter(({ type }) => MEASURED.has(type)));
  try {
    const again = measured(replay(documents, Buffer.concat(raw)));
    return again === measured(documents) ? null : "other figures";
  } catch (error) {
    return String(error);
  }
}
