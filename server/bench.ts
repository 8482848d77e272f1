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
import type { Scheduler } from "../core/scheduler.ts";
import { SPEECHES } from "../core/speech/languages.ts";
import { parseJsonFile } from "../core/unitFile/jsonText.ts";
import { unitFromFile } from "../core/unitFile.ts";
import { parseScenario } from "../sim/scenario.ts";
import { keepByHandRecord, makeByHandRecord } from "./byHand.ts";
import { type NamedFile, readJsonFile } from "./files.ts";
import type { Bench, Run as BenchRun, StartRequest } from "./http/bench.ts";
import { makeRun, projectFolder } from "./measurement.ts";
import { type RigFile, rigFromFile, STAND_IN } from "./rigFile.ts";
import { PacedScheduler, RealScheduler } from "./schedulers.ts";
import { keptSettings, withTolerance } from "./settings.ts";
import type { Store } from "./store/store.ts";
import { unitFilesIn } from "./unitFolder.ts";

/** A page that was not heard of for this long is gone, asleep or stuck. */
const ALIVE_LIMIT_MS = 1000;
const LIVE_EVERY_MS = 100;

export class WorkshopBench implements Bench {
  private readonly store: Store;
  private readonly ports: () => Promise<readonly { path: string; note: string }[]>;
  private readonly dataFolder: string;
  private busy = false;

  /** Rig files (`*.rig.json`) in the data folder are offered beside the stand-in rigs of the examples. */
  constructor(
    store: Store,
    dataFolder: string,
    ports: () => Promise<readonly { path: string; note: string }[]>,
  ) {
    this.store = store;
    this.dataFolder = dataFolder;
    this.ports = ports;
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
    const units = [...this.unitFiles()].map(([id, file]) => {
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
    const cautions = SPEECHES[keptSettings(this.store).language].cautions.rig;
    return { rigs, units, scenarios, cautions };
  }

  units(): UnitsOnHand {
    const stored = new Map(this.store.units.current().map((unit) => [unit.id, unit]));
    const { files, passedOver } = unitFilesIn(this.dataFolder);
    const units = [...this.unitFiles(files)].map(([id, { content }]) => ({
      id,
      file: content,
      addedUtc: stored.get(id)?.addedUtc ?? null,
      fileName: files.some(({ name }) => name === id) ? id : null,
      versions: this.store.units.versionsBefore(id).map(({ id, addedUtc }) => ({ id, addedUtc })),
    }));
    return { units, passedOver };
  }

  byHand({ unitId, notes, jobId }: NewByHand): string {
    if (jobId !== null) this.store.jobs.job(jobId);
    const unitFile = chosen(this.unitFiles(), unitId, "unit");
    const judgedBy = withTolerance(unitFile, keptSettings(this.store));
    const record = makeByHandRecord(byHandNotes(notes, "Readings"), judgedBy);
    keepByHandRecord(record, this.store);
    if (jobId !== null) this.store.jobs.attach(jobId, record.start.recordId);
    return record.start.recordId;
  }

  async start(request: StartRequest, emit: (document: RunDocument) => void): Promise<BenchRun> {
    if (this.busy) throw new BobweightError("RIG_BUSY", said("A run is in progress."));
    const { jobId } = request;
    if (jobId !== null) this.store.jobs.job(jobId);
    const rig = chosen(this.rigs(), request.rigId, "rig");
    const unitFile = chosen(this.unitFiles(), request.unitId, "unit");
    const scenario =
      request.scenarioId === null ? null : chosen(scenarioFiles(), request.scenarioId, "scenario");
    const paced = rig.kind === "stand-in" ? new PacedScheduler(request.pace) : null;
    const scheduler: Scheduler = paced ?? new RealScheduler();
    let lastAliveMs = performance.now();
    const run = makeRun(
      {
        rig,
        unitFile,
        scenario: rig.kind === "stand-in" ? scenario : null,
        plan: request.plan === null ? null : { name: "the plan", content: request.plan },
        capsule: 0,
        contacts: request.contacts,
        afterRecordId: request.afterRecordId,
      },
      {
        scheduler,
        store: this.store,
        emit: (document) => {
          if (document.type === "start" && jobId !== null) {
            this.store.jobs.attach(jobId, document.recordId);
          }
          emit(document);
        },
        liveEveryMs: LIVE_EVERY_MS * (paced === null ? 1 : request.pace),
        // Real time on purpose, also on the stand-in rig: it is a person's page that must be there.
        isFresh: () => {
          const fresh = performance.now() - lastAliveMs < ALIVE_LIMIT_MS;
          if (!fresh) run.stop("STOPPED_PAGE_GONE");
          return fresh;
        },
      },
    );
    this.busy = true;
    const release = () => {
      paced?.close();
      this.busy = false;
    };
    try {
      await run.prepare();
    } catch (error) {
      release();
      throw error;
    }
    lastAliveMs = performance.now();
    return {
      ended: run.carryOut().finally(release),
      stop: (code) => run.stop(code),
      alive: () => {
        lastAliveMs = performance.now();
      },
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

  /** Whole names are keys of files in the data folder alone: an example's has no ending, what was added a UUID. */
  private unitFiles(inFolder = unitFilesIn(this.dataFolder).files): Map<string, NamedFile> {
    const units = new Map<string, NamedFile>();
    for (const path of exampleFiles("unit")) {
      units.set(idOf(path, "unit"), { name: basename(path), content: readJsonFile(path) });
    }
    for (const { id, fileText } of this.store.units.current()) {
      units.set(id, { name: `unit ${id}`, content: parseJsonFile(fileText, `unit ${id}`) });
    }
    for (const file of inFolder) units.set(file.name, file);
    return units;
  }
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
