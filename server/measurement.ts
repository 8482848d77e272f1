// Puts a run together from what the user chose: rig, unit, scenario, plan. Page and command line both come through here.

import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { calibrationFromBlock } from "../core/calibration/calibrationFile.ts";
import type { Hello } from "../core/codec/rigLines.ts";
import type { PresentRig, RunDocument } from "../core/documents.ts";
import { BobweightError } from "../core/errors.ts";
import type { Plan } from "../core/plan.ts";
import { planFor, type RigReach, walkLimits } from "../core/planFile.ts";
import { said } from "../core/said.ts";
import type { Scheduler } from "../core/scheduler.ts";
import { FIRST_SETTINGS, type Settings } from "../core/settings/settings.ts";
import type { ConnectedContacts, Unit } from "../core/unit.ts";
import { unitFromFile } from "../core/unitFile.ts";
import type { Scenario } from "../sim/scenario.ts";
import type { BoardMaker } from "../sim/standInRig.ts";
import type { NamedFile } from "./files.ts";
import type { BytePort } from "./link/bytePort.ts";
import { SerialBytePort } from "./link/serialPort.ts";
import { StandInBytePort } from "./link/standInPort.ts";
import {
  type RigFile,
  STAND_IN_SENSOR_PA,
  UNCHECKED_DELAY_US,
  UNCHECKED_SENSOR_PA,
} from "./rigFile.ts";
import type { Recorder } from "./run/narrator.ts";
import { Run } from "./run/run.ts";
import { keptSettings, withTolerance } from "./settings.ts";
import { reachOf, scenarioFor } from "./standInScenario.ts";
import { checkedFollowing } from "./store/chain.ts";
import { newKey } from "./store/keys.ts";
import type { RecordWriter } from "./store/recordWriter.ts";
import type { Store } from "./store/store.ts";

export type { BoardMaker };

export interface MeasurementChoice {
  readonly rig: RigFile;
  readonly unitFile: NamedFile;
  /** Stand-in rig only; null: a unit that meets the specification. */
  readonly scenario: NamedFile | null;
  readonly plan: NamedFile | null;
  /** Which of the unit's capsules the hose is on, counted from 0. */
  readonly capsule: number;
  /** Which of two sets of contacts the rig is on; null: all there are. */
  readonly contacts: ConnectedContacts | null;
  /** The record of the same unit that a change came after; null: none. */
  readonly afterRecordId: string | null;
}

export interface Surroundings {
  readonly scheduler: Scheduler;
  readonly store: Store | null;
  /** The job that the record goes with, which is there; left out: none. */
  readonly jobId?: string | null;
  readonly emit: (document: RunDocument) => void;
  readonly liveEveryMs: number | null;
  readonly isFresh: () => boolean;
  /** False where nobody asks for findings and a fitted mechanism, which take long; else they are told. */
  readonly explains?: boolean;
  /** Another board than the stand-in rig's own, such as a firmware image. */
  readonly makeBoard?: BoardMaker;
  /** What lies between program and rig, such as a cable with faults; gives the port as the program has it. */
  readonly cable?: (rig: BytePort) => BytePort;
}

/**
 * Checks everything that can be checked without a rig, and makes the run.
 * @throws FILE_INVALID, RECORD_UNKNOWN, RECORD_OTHER_UNIT
 */
export async function makeRun(choice: MeasurementChoice, around: Surroundings): Promise<Run> {
  const { store, scheduler } = around;
  const settings = store === null ? FIRST_SETTINGS : await keptSettings(store);
  const unitFile = withTolerance(choice.unitFile, settings);
  const unit = unitFromFile(unitFile.content, unitFile.name, choice.contacts);
  checkCapsule(unit, choice.capsule);
  const scenario = choice.rig.kind === "stand-in" ? scenarioFor(choice, unit) : null;
  const port = portFor(choice, scenario, scheduler, around.makeBoard);
  const ambientPa = (hello: Hello) => choice.rig.ambientPa ?? (hello.ambientPa || null);
  return new Run({
    port: around.cable?.(port) ?? port,
    scheduler,
    recordId: newKey(),
    engineVersion: engineVersion(),
    unit,
    unitFile: unitFile.content,
    afterRecordId: await checkedFollowing(
      { store, recordId: choice.afterRecordId },
      unit,
      choice.rig.kind === "stand-in",
    ),
    ...(store === null ? {} : { bench: store.bench }),
    planFor: (hello) => {
      checkDirection(unit, hello);
      const reach: RigReach = {
        speedMinRpm: hello.speedMinRpm,
        speedMaxRpm: hello.speedMaxRpm,
        vacuumMaxPa: hello.vacuumMaxPa,
        ambientPa: ambientPa(hello),
      };
      return planWithin(choice, unit, reach, settings);
    },
    describeRig: (hello) => describeRig(choice.rig, scenario, hello, ambientPa(hello)),
    record: (start) =>
      store === null ? NO_RECORD : recorderOf(store.begin(start, scheduler, around.jobId ?? null)),
    emit: around.emit,
    liveEveryMs: around.liveEveryMs,
    isFresh: around.isFresh,
    utcNow: () => new Date().toISOString(),
    explains: around.explains ?? true,
  });
}

/** @throws FILE_INVALID, PLAN_BEYOND_LIMITS */
function planWithin(
  { plan: file, capsule }: MeasurementChoice,
  unit: Unit,
  reach: RigReach,
  settings: Settings,
): Plan {
  const plan = onlyCapsule(
    planFor(unit, reach, file?.content ?? null, file?.name, settings),
    capsule,
  );
  walkLimits(plan, unit, reach);
  return plan;
}

/**
 * Checks all that a run on the stand-in rig goes by, plan and reach included, without a run. As without a
 * store: the workshop's settings are no part of it. @throws FILE_INVALID, PLAN_BEYOND_LIMITS
 */
export function checkSimulation(choice: MeasurementChoice): void {
  const unitFile = withTolerance(choice.unitFile, FIRST_SETTINGS);
  const unit = unitFromFile(unitFile.content, unitFile.name, choice.contacts);
  checkCapsule(unit, choice.capsule);
  planWithin(choice, unit, reachOf(scenarioFor(choice, unit)), FIRST_SETTINGS);
}

const NO_RECORD: Recorder = { append: () => {}, raw: () => {}, end: () => {} };

function recorderOf(writer: RecordWriter): Recorder {
  return {
    append: (document) => writer.append(document),
    raw: (bytes) => writer.raw(bytes),
    end: (document) => writer.end(document),
  };
}

/** `scenario` is null only for a real rig. */
export function portFor(
  { rig, capsule }: Pick<MeasurementChoice, "rig" | "capsule">,
  scenario: Scenario | null,
  scheduler: Scheduler,
  makeBoard?: BoardMaker,
): BytePort {
  if (rig.kind === "serial") return new SerialBytePort(rig.path, rig.baud);
  return new StandInBytePort(scenario as Scenario, scheduler, capsule, makeBoard);
}

function describeRig(
  rig: RigFile,
  scenario: Scenario | null,
  hello: Hello,
  ambientPa: number | null,
): PresentRig {
  const simulated = rig.kind === "stand-in";
  const calibration = calibrationFromBlock(rig.calibration);
  return {
    name: rig.name,
    simulated,
    scenario: scenario === null ? null : { name: scenario.name, seed: scenario.seed },
    hello,
    calibration,
    // What a check found is better than what was stated before it.
    vacuumSensorStandardUncertaintyPa:
      calibration?.vacuum?.standardUncertaintyPa ??
      rig.vacuumSensorStandardUncertaintyPa ??
      (simulated ? STAND_IN_SENSOR_PA : UNCHECKED_SENSOR_PA),
    triggerDelayStandardUncertaintyUs:
      calibration?.delay?.standardUncertaintyUs ??
      rig.triggerDelayStandardUncertaintyUs ??
      (simulated ? 0 : UNCHECKED_DELAY_US),
    ambientPa,
  };
}

/** The hose is on one capsule; the others are measured in runs of their own. */
function onlyCapsule(plan: Plan, connected: number): Plan {
  const capsules = plan.capsules.map((capsule, index) =>
    index === connected ? capsule : { hold: null, vacuumsPa: [] },
  );
  return { ...plan, capsules };
}

function checkCapsule(unit: Unit, capsule: number): void {
  if (capsule === 0 || capsule < unit.capsules.length) return;
  throw new BobweightError(
    "FILE_INVALID",
    said("Capsule {} was asked for; the unit file has {}.", capsule + 1, unit.capsules.length),
  );
}

function checkDirection(unit: Unit, hello: Hello): void {
  if (hello.directions.includes(unit.rotation)) return;
  throw new BobweightError(
    "PLAN_BEYOND_LIMITS",
    said(
      'The unit turns {}; the rig "{}" turns {} only.',
      said(unit.rotation),
      hello.board,
      hello.directions.join(" and "),
    ),
  );
}

/** The project's folder: two levels up when built (dist/node), one when run from source. */
export function projectFolder(): string {
  let folder = new URL(".", import.meta.url);
  while (!existsSync(new URL("package.json", folder))) {
    const above = new URL("..", folder);
    if (above.href === folder.href) throw new Error("package.json is missing above the program");
    folder = above;
  }
  return fileURLToPath(folder);
}

let version: string | null = null;

export function engineVersion(): string {
  version ??= String(JSON.parse(readFileSync(`${projectFolder()}package.json`, "utf8")).version);
  return version;
}
