// The bench behind the page: which rigs, units and scenarios there are to choose from, and the run in progress.

import { existsSync, readdirSync } from "node:fs";
import { basename, join } from "node:path";
import { performance } from "node:perf_hooks";
import { byHandNotes } from "../core/byHand/notes.ts";
import { CHECK_KINDS } from "../core/calibration/calibration.ts";
import type { RunDocument } from "../core/documents.ts";
import { BobweightError } from "../core/errors.ts";
import type { Choices, NewByHand, UnitsOnHand } from "../core/messages.ts";
import { hasOwnTarget } from "../core/ownTarget.ts";
import { type Said, said, textOf } from "../core/said.ts";
import { SPEECHES } from "../core/speech/languages.ts";
import { parseJsonFile } from "../core/unitFile/jsonText.ts";
import { unitFromFile } from "../core/unitFile.ts";
import { parseScenario } from "../sim/scenario.ts";
import { keepByHandRecord, makeByHandRecord } from "./byHand.ts";
import { type NamedFile, readJsonFile } from "./files.ts";
import type { Bench, Run as BenchRun, StartRequest } from "./http/bench.ts";
import { type MeasurementChoice, makeRun, projectFolder } from "./measurement.ts";
import { type RigFile, rigFromFile, STAND_IN } from "./rigFile.ts";
import { PacedScheduler, RealScheduler } from "./schedulers.ts";
import { keptSettings, withTolerance } from "./settings.ts";
import type { Store } from "./store/store.ts";
import type { StoredUnit } from "./store/units.ts";
import { unitFilesIn } from "./unitFolder.ts";

/** A page that was not heard of for this long is gone, asleep or stuck. */
const ALIVE_LIMIT_MS = 1000;
const LIVE_EVERY_MS = 100;
/** Whoever pressed start longer ago may be elsewhere by now, or have the guard open. */
const BEGIN_MS_MAX = 10_000;

export class WorkshopBench implements Bench {
  private readonly store: Store;
  private readonly ports: () => Promise<readonly { path: string; note: string }[]>;
  private readonly dataFolder: string;
  private readonly nowMs: () => number;
  private busy = false;

  /** Rig files (`*.rig.json`) in the data folder are offered beside the stand-in rigs of the examples. */
  constructor(
    store: Store,
    dataFolder: string,
    ports: () => Promise<readonly { path: string; note: string }[]>,
    nowMs = () => performance.now(),
  ) {
    this.store = store;
    this.dataFolder = dataFolder;
    this.ports = ports;
    this.nowMs = nowMs;
  }

  async choices(): Promise<Choices> {
    const ports = await this.ports();
    const present = new Set(ports.map(({ path }) => path));
    const rigs = [...this.rigs()].map(([id, rig]) => ({
      id,
      ...notedOn(rig, present),
      name: rig.name,
      simulated: rig.kind === "stand-in",
      checks: CHECK_KINDS.map((kind) => ({
        kind,
        checkedUtc: rig.calibration?.[kind]?.checkedUtc ?? null,
      })),
    }));
    const units = [...(await this.unitFiles())].map(([id, file]) => {
      const unit = unitFromFile(file.content, file.name);
      const { description, stampedNumber, invented, contactSets } = unit;
      return {
        id,
        description,
        stampedNumber,
        invented,
        ownTarget: hasOwnTarget(unit),
        contactSets: contactSets?.arrangement ?? null,
      };
    });
    const scenarios = exampleFiles("scenario").map((path) => {
      const { name, note } = parseScenario(readJsonFile(path), path);
      return { id: idOf(path, "scenario"), name, note };
    });
    const cautions = SPEECHES[(await keptSettings(this.store)).language].cautions.rig;
    return { rigs, units, scenarios, cautions };
  }

  async units(): Promise<UnitsOnHand> {
    const stored = new Map((await this.store.units.current()).map((unit) => [unit.id, unit]));
    const { files, passedOver } = unitFilesIn(this.dataFolder);
    const versions = await this.store.units.versionsBefore();
    const units = [...(await this.unitFiles(files))].map(([id, { content }]) => ({
      id,
      file: content,
      addedUtc: stored.get(id)?.addedUtc ?? null,
      fileName: files.some(({ name }) => name === id) ? id : null,
      versions: (versions.get(id) ?? []).map(({ id, addedUtc }) => ({ id, addedUtc })),
    }));
    return { units, passedOver };
  }

  async byHand({ unitId, notes, jobId }: NewByHand): Promise<string> {
    if (jobId !== null) await this.store.jobs.job(jobId);
    const unitFile = chosen(await this.unitFiles(), unitId, "unit");
    const judgedBy = withTolerance(unitFile, await keptSettings(this.store));
    const record = makeByHandRecord(byHandNotes(notes, "Readings"), judgedBy);
    await keepByHandRecord(record, this.store);
    if (jobId !== null) await this.store.jobs.attach(jobId, record.start.recordId);
    return record.start.recordId;
  }

  async start(request: StartRequest, emit: (document: RunDocument) => void): Promise<BenchRun> {
    if (this.busy) throw new BobweightError("RIG_BUSY", said("A run is in progress."));
    this.busy = true;
    try {
      return await this.begin(request, emit);
    } catch (error) {
      this.busy = false;
      throw error;
    }
  }

  private async begin(
    request: StartRequest,
    emit: (document: RunDocument) => void,
  ): Promise<BenchRun> {
    const { nowMs } = this;
    const askedMs = nowMs();
    const { jobId } = request;
    if (jobId !== null) await this.store.jobs.known(jobId);
    const choice = await this.chosenFor(request);
    const paced = choice.rig.kind === "stand-in" ? new PacedScheduler(request.pace) : null;
    let lastAliveMs = nowMs();
    try {
      const run = await makeRun(choice, {
        scheduler: paced ?? new RealScheduler(),
        store: this.store,
        jobId,
        emit,
        liveEveryMs: LIVE_EVERY_MS * (paced === null ? 1 : request.pace),
        // Real time on purpose, also on the stand-in rig: it is a person's page that must be there.
        isFresh: () => {
          const fresh = nowMs() - lastAliveMs < ALIVE_LIMIT_MS;
          if (!fresh) run.stop("STOPPED_PAGE_GONE");
          return fresh;
        },
      });
      // Nothing has been asked of the rig yet.
      if (nowMs() - askedMs > BEGIN_MS_MAX) throw tooLate(nowMs() - askedMs);
      await run.prepare();
      lastAliveMs = nowMs();
      const release = () => {
        paced?.close();
        this.busy = false;
      };
      return {
        ended: run.carryOut().finally(release),
        stop: (code) => run.stop(code),
        alive: () => {
          lastAliveMs = nowMs();
        },
      };
    } catch (error) {
      paced?.close();
      throw error;
    }
  }

  private async chosenFor(request: StartRequest): Promise<MeasurementChoice> {
    const rig = chosen(this.rigs(), request.rigId, "rig");
    const { scenarioId } = request;
    const scenario = scenarioId === null ? null : chosen(scenarioFiles(), scenarioId, "scenario");
    return {
      rig,
      unitFile: chosen(await this.unitFiles(), request.unitId, "unit"),
      scenario: rig.kind === "stand-in" ? scenario : null,
      plan: request.plan === null ? null : { name: "the plan", content: request.plan },
      capsule: 0,
      contacts: request.contacts,
      afterRecordId: request.afterRecordId,
    };
  }

  private rigs(): Map<string, RigFile> {
    const rigs = new Map<string, RigFile>([["stand-in", STAND_IN]]);
    const own = existsSync(this.dataFolder)
      ? readdirSync(this.dataFolder).filter((name) => name.endsWith(".rig.json"))
      : [];
    const paths = [...own.map((name) => join(this.dataFolder, name)), ...exampleFiles("rig")];
    for (const path of paths) rigs.set(idOf(path, "rig"), rigFromFile(readJsonFile(path), path));
    return rigs;
  }

  /** Those that were added on the page, also while the database is away. */
  private unitsAdded(): Promise<readonly StoredUnit[]> {
    return this.store.lastSeen("units", () => this.store.units.current());
  }

  /** Whole names are keys of files in the data folder alone: an example's has no ending, what was added a UUID. */
  private async unitFiles(
    inFolder = unitFilesIn(this.dataFolder).files,
  ): Promise<Map<string, NamedFile>> {
    const units = new Map<string, NamedFile>();
    for (const path of exampleFiles("unit")) {
      units.set(idOf(path, "unit"), { name: basename(path), content: readJsonFile(path) });
    }
    for (const { id, fileText } of await this.unitsAdded()) {
      units.set(id, { name: `unit ${id}`, content: parseJsonFile(fileText, `unit ${id}`) });
    }
    for (const file of inFolder) units.set(file.name, file);
    return units;
  }
}

function tooLate(ms: number): BobweightError {
  return new BobweightError(
    "DATABASE_AWAY",
    said(
      "The database took {.0} s to answer: the run was not begun. Press start again.",
      ms / 1000,
    ),
  );
}

function scenarioFiles(): Map<string, NamedFile> {
  return new Map(
    exampleFiles("scenario").map((path) => [
      idOf(path, "scenario"),
      { name: basename(path), content: readJsonFile(path) },
    ]),
  );
}

function exampleFiles(kind: "unit" | "scenario" | "rig"): string[] {
  const folder = join(projectFolder(), "examples");
  return readdirSync(folder)
    .filter((name) => name.endsWith(`.${kind}.json`))
    .sort(everydayFirst)
    .map((name) => join(folder, name));
}

/** The plainest example stands first, where a new user meets it. */
function everydayFirst(a: string, b: string): number {
  const rank = (name: string) => (/^(everyday|healthy)\./.test(name) ? 0 : 1);
  return rank(a) - rank(b) || a.localeCompare(b);
}

function idOf(path: string, kind: string): string {
  return basename(path).replace(`.${kind}.json`, "");
}

function notedOn(rig: RigFile, present: ReadonlySet<string>) {
  const noteSaid = noteOn(rig, present);
  return { note: textOf(noteSaid), noteSaid };
}

function noteOn(rig: RigFile, present: ReadonlySet<string>): Said {
  if (rig.kind === "stand-in") return said("Simulation: no real rig, no real unit.");
  return present.has(rig.path)
    ? said("On {}.", rig.path)
    : said("On {}, which is not there now.", rig.path);
}

function chosen<T>(from: ReadonlyMap<string, T>, id: string, what: "rig" | "unit" | "scenario"): T {
  const found = from.get(id);
  if (found === undefined) {
    throw new BobweightError(
      "FILE_INVALID",
      said("There is no {} {} to choose.", said(what), JSON.stringify(id)),
    );
  }
  return found;
}
