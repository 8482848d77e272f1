// `bobweight measure`: one run from the command line, on a serial port, a pseudo-terminal or the stand-in rig.
import { type Command, Option } from "commander";
import { CAUTIONS } from "../../core/cautions.ts";
import type { EndDocument, RunDocument, StartDocument } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import { CONNECTED_CONTACTS, type ConnectedContacts } from "../../core/unit.ts";
import { type NamedFile, readJsonFile } from "../files.ts";
import { JUNIT_END, JUNIT_HEAD, JUNIT_HELP, type Measured, suiteXml } from "../junit.ts";
import { makeRun } from "../measurement.ts";
import { OutputFile } from "../outputFile.ts";
import { reportFrom } from "../report.ts";
import { RealScheduler, VirtualScheduler } from "../schedulers.ts";
import type { Store } from "../store/store.ts";
import {
  AFTER_OPTION,
  DATA_OPTION,
  DATABASE_OPTION,
  JOB_OPTION,
  jobIdNamed,
  openData,
} from "./data.ts";
import { EXIT_HELP, exitOfEnd } from "./exit.ts";
import { wholeNumber } from "./numbers.ts";
import { BAUD_OPTION, RIG_CHOICE, rigNamed } from "./rigNamed.ts";
import { endText, progressText } from "./talk.ts";
import {
  addTargetOptions,
  TARGET_HELP,
  type TargetOptions,
  typedTarget,
  withTarget,
} from "./target.ts";

interface MeasureOptions extends TargetOptions {
  readonly rig: string;
  readonly unit: string;
  readonly scenario?: string;
  readonly plan?: string;
  readonly capsule: number;
  readonly contacts?: ConnectedContacts;
  readonly after?: string;
  readonly job?: string;
  readonly baud?: number;
  readonly fast?: true;
  readonly json?: true;
  readonly junit?: string;
  readonly data?: string;
  readonly database?: string;
  readonly record: boolean;
}

export function addMeasure(program: Command, exit: (status: number) => void): void {
  const command = program
    .command("measure")
    .description("measure a unit, judge it against its specification and keep the record")
    .requiredOption("--rig <rig>", RIG_CHOICE)
    .requiredOption("--unit <file>", "unit file")
    .option("--scenario <file>", "what the stand-in rig plays (default: a sound unit)")
    .option("--plan <file>", "plan file (default: a plan made from the specification)")
    .option("--capsule <n>", "which of the unit's capsules the hose is on", wholeNumber(1, 9), 1)
    .addOption(
      new Option(
        "--contacts <sets>",
        "of two sets of contacts those connected to the rig, a card between the contacts of the other (default: all there are)",
      ).choices(CONNECTED_CONTACTS),
    )
    .option(...AFTER_OPTION)
    .option(...JOB_OPTION)
    .option(...BAUD_OPTION)
    .option("--fast", "stand-in rig only: on a virtual clock, as fast as the computer allows")
    .option("--json", "print one JSON object on standard output")
    .option("--junit <file>", "write the verdicts as JUnit XML")
    .option(...DATA_OPTION)
    .option(...DATABASE_OPTION)
    .option("--no-record", "keep no record");
  addTargetOptions(command)
    .addHelpText("after", TARGET_HELP)
    .addHelpText("after", JUNIT_HELP)
    .addHelpText("after", EXIT_HELP)
    .action(async (options: MeasureOptions) => exit(await measure(options)));
}

async function measure(options: MeasureOptions): Promise<number> {
  const rig = rigNamed(options.rig, options.baud);
  if (rig.kind === "serial" && options.fast) {
    throw new BobweightError("USAGE", "--fast needs the stand-in rig; a real rig takes its time.");
  }
  if (rig.kind === "serial" && options.scenario !== undefined) {
    throw new BobweightError("USAGE", "--scenario needs the stand-in rig.");
  }
  const choice = {
    rig,
    unitFile: withTarget(named(options.unit), typedTarget(options), options.contacts),
    scenario: options.scenario === undefined ? null : named(options.scenario),
    plan: options.plan === undefined ? null : named(options.plan),
    capsule: options.capsule - 1,
    contacts: options.contacts ?? null,
    afterRecordId: options.after ?? null,
  };
  const data = options.record ? await openData(options.data, options.database) : null;
  try {
    return await carryOut(choice, options, data?.store ?? null);
  } finally {
    await data?.store.close();
    const waiting = data?.store.handOver?.now().waiting ?? 0;
    if (waiting > 0) process.stderr.write(waitingText(waiting));
  }
}

async function carryOut(
  choice: Parameters<typeof makeRun>[0],
  options: MeasureOptions,
  store: Store | null,
): Promise<number> {
  // Opened first: a place that cannot be written is better known before the run than after it.
  const junit = options.junit === undefined ? null : new OutputFile(options.junit);
  const virtual = options.fast ? new VirtualScheduler() : null;
  const jobId = await jobIdNamed(options.job, store);
  let start: StartDocument | null = null;
  const run = await makeRun(choice, {
    scheduler: virtual ?? new RealScheduler(),
    store,
    jobId,
    emit: (document: RunDocument) => {
      if (document.type === "start") {
        start = document;
      }
      const text = progressText(document);
      if (text !== null) process.stderr.write(`${text}\n`);
    },
    liveEveryMs: null,
    // This process is the user's own: while it lives, so does the stay-alive.
    isFresh: () => true,
  });
  if (choice.rig.kind === "serial") process.stderr.write(`${CAUTIONS.join("\n")}\n`);
  const stop = () => run.stop("STOPPED_BY_USER");
  process.on("SIGINT", stop);
  process.on("SIGTERM", stop);
  try {
    const work = run.prepare().then(() => run.carryOut());
    const end: EndDocument = await (virtual?.run(work) ?? work);
    process.stderr.write(`${endText(end)}\n`);
    junit?.add(`${JUNIT_HEAD}${suiteXml(suiteOf(start, end))}${JUNIT_END}`);
    if (options.json && start !== null) {
      process.stdout.write(`${JSON.stringify(reportFrom(start, end, choice.capsule), null, 2)}\n`);
    } else if (start !== null) {
      process.stdout.write(`${end.result.verdict ?? "not judged"}\n`);
    }
    return exitOfEnd(end);
  } finally {
    junit?.close();
    process.off("SIGINT", stop);
    process.off("SIGTERM", stop);
  }
}

function suiteOf(start: StartDocument | null, { result, reason }: EndDocument): Measured {
  const { rows, rowsNotMeasured } = result;
  return { name: start?.unit.description ?? "", rows, rowsNotMeasured, trouble: reason };
}

/** Nothing is lost: whatever uses the data folder next hands over. */
function waitingText(count: number): string {
  return `${count === 1 ? "One record waits" : `${count} records wait`} on this computer: the database is away. The next Bobweight with this data folder hands over.\n`;
}

function named(path: string): NamedFile {
  return { name: path, content: readJsonFile(path) };
}
