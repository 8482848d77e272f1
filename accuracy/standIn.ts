// The stand-in rig in virtual time: whole runs through the product's own door, and turns at speeds of one's choice.
import type { Hello } from "../core/codec/rigLines.ts";
import type { EndDocument, RunDocument } from "../core/documents.ts";
import type { BobweightError } from "../core/errors.ts";
import { keptTurn, type Turn } from "../core/turns.ts";
import { RigLink } from "../server/link/rigLink.ts";
import { StandInBytePort } from "../server/link/standInPort.ts";
import { makeRun } from "../server/measurement.ts";
import type { RigFile } from "../server/rigFile.ts";
import { VirtualScheduler } from "../server/schedulers.ts";
import { parseScenario } from "../sim/scenario.ts";
import type { BoardMaker } from "../sim/standInRig.ts";

export interface StandInRun {
  readonly end: EndDocument;
  readonly documents: readonly RunDocument[];
  /** Seconds of rig time from opening the link to rest. */
  readonly rigS: number;
}

export interface RunChoice {
  /** Content of a unit file, a scenario file and a plan file. */
  readonly unit: unknown;
  readonly scenario: unknown;
  readonly plan?: unknown;
  /** What is known of the rig's errors. */
  readonly rig?: Omit<Extract<RigFile, { kind: "stand-in" }>, "kind" | "name">;
  /** Another board than the stand-in's own. */
  readonly makeBoard?: BoardMaker;
}

/** One whole run with what it says is wrong. @throws where it did not get to its end */
export function measure(choice: RunChoice): Promise<StandInRun> {
  return runThrough(choice, true);
}

/** The same without findings and mechanism, for bars on what was read. @throws as `measure` */
export function measureReadings(choice: RunChoice): Promise<StandInRun> {
  return runThrough(choice, false);
}

async function runThrough(
  { unit, scenario, plan, rig, makeBoard }: RunChoice,
  explains: boolean,
): Promise<StandInRun> {
  const scheduler = new VirtualScheduler();
  const documents: RunDocument[] = [];
  const run = await makeRun(
    {
      rig: { kind: "stand-in", name: "Stand-in rig", ...rig },
      unitFile: { name: "unit", content: unit },
      scenario: { name: "scenario", content: scenario },
      plan: plan === undefined ? null : { name: "plan", content: plan },
      capsule: 0,
      contacts: null,
      afterRecordId: null,
    },
    {
      scheduler,
      store: null,
      emit: (document) => documents.push(document),
      liveEveryMs: null,
      isFresh: () => true,
      explains,
      ...(makeBoard === undefined ? {} : { makeBoard }),
    },
  );
  const end = await scheduler.run(run.prepare().then(() => run.carryOut()));
  if (end.ending !== "completed")
    throw new Error(`the run ended ${end.ending}: ${end.reason?.text}`);
  return { end, documents, rigS: scheduler.nowMs() / 1000 };
}

/** Goes to a speed and gives the turns of the seconds that follow. */
export interface Stretch {
  readonly speedRpm: number;
  readonly rampRpmPerS: number;
  /** Left out after the command, for the ramp and for settling. */
  readonly waitS: number;
  readonly seconds: number;
}

export interface Drive {
  readonly hello: Hello;
  /** Of each stretch, as they come out of the product's link, in rig ticks. */
  readonly turns: readonly (readonly Turn[])[];
  /** All that the rig sent from boot on, in its own pieces. */
  readonly raw: readonly Uint8Array[];
}

/** Turns the unit of a scenario clockwise through stretches of speed; `makeBoard` as the port has it. */
export async function driveThrough(
  scenario: unknown,
  stretches: readonly Stretch[],
  makeBoard?: BoardMaker,
): Promise<Drive> {
  const scheduler = new VirtualScheduler();
  const port = new StandInBytePort(parseScenario(scenario, "scenario"), scheduler, 0, makeBoard);
  let kept: Turn[] = [];
  const raw: Uint8Array[] = [];
  const link = new RigLink(port, scheduler, {
    onTurn: (turn) => kept.push(keptTurn(turn)),
    onVacuum: () => {},
    onState: () => {},
    onRaw: (bytes) => raw.push(bytes),
    onLost: (error: BobweightError) => {
      throw error;
    },
  });
  const pause = (seconds: number) =>
    new Promise<void>((resolve) => scheduler.after(seconds * 1000, resolve));
  const drive = async () => {
    const hello = await link.connect();
    const token = (await link.command({ type: "arm" })) ?? "";
    link.keepAlive(token, () => true);
    const turns: Turn[][] = [];
    for (const { speedRpm, rampRpmPerS, waitS, seconds } of stretches) {
      await link.command({ type: "speed", token, direction: "cw", speedRpm, rampRpmPerS });
      await pause(waitS);
      kept = [];
      await pause(seconds);
      turns.push([...kept]);
    }
    await link.stop();
    await link.close();
    return { hello, turns, raw };
  };
  return scheduler.run(drive());
}
