// `bobweight by-hand`: a record from readings that were typed in, without a rig.
import type { Command } from "commander";
import { byHandNotes } from "../../core/byHand/notes.ts";
import { hasOwnTarget, OWN_TARGET_WARNING } from "../../core/ownTarget.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { VACUUM_UNITS } from "../../core/units.ts";
import { keepByHandRecord, makeByHandRecord } from "../byHand.ts";
import { readJsonFile, readTextFile } from "../files.ts";
import { reportFrom } from "../report.ts";
import { keptSettings, withTolerance } from "../settings.ts";
import { checkedFollowing } from "../store/chain.ts";
import { AFTER_OPTION, DATA_OPTION, JOB_OPTION, jobIdNamed, openData } from "./data.ts";
import { EXIT_HELP, exitOfEnd } from "./exit.ts";
import {
  addTargetOptions,
  TARGET_HELP,
  type TargetOptions,
  typedTarget,
  withTarget,
} from "./target.ts";

interface ByHandOptions extends TargetOptions {
  readonly unit: string;
  readonly after?: string;
  readonly job?: string;
  readonly json?: true;
  readonly data?: string;
  readonly record: boolean;
}

const HELP = `
The notes are a text file, a line for each reading; what follows a # is passed over:
  means: timing light            or: degree wheel
  degrees: crankshaft            or: distributor; likewise rpm
  rpm: crankshaft
  initial: 10                    initial timing that is part of the degrees (default: 0)
  uncertainty: 1                 limit of one reading either way, in the degrees typed (default: 1)
  rpm uncertainty: 20            likewise, in the rpm typed (default: 20)
  vacuum uncertainty: 1 inHg     likewise (default: 1 inHg)
  cam turns by hand: yes         with the spindle held; or: no
  cam springs back: yes
  500 0                          rpm and degrees, speed rising; a comma may stand between
  falling                        the lines after it were read on the way down
  1200 9
  rising
  vacuum rpm: 600                speed while vacuum was read (default: at rest)
  10 inHg 4                      vacuum and degrees (${VACUUM_UNITS.join(", ")})
  20 inHg held 30 s dropped 2    or: 20 inHg reached only 5
  capsule: 1                     which one of the unit's the vacuum was for

Whatever the specification asks for and the notes do not tell is unproven, so that few readings never make
a unit "within".`;

export function addByHand(program: Command, exit: (status: number) => void): void {
  const command = program
    .command("by-hand")
    .description("judge readings taken by hand against a unit's specification and keep the record")
    .argument("<notes>", "what was read, a text file")
    .requiredOption("--unit <file>", "unit file")
    .option(...AFTER_OPTION)
    .option(...JOB_OPTION)
    .option("--json", "print one JSON object on standard output")
    .option(...DATA_OPTION)
    .option("--no-record", "keep no record");
  addTargetOptions(command)
    .addHelpText("after", TARGET_HELP)
    .addHelpText("after", HELP)
    .addHelpText("after", EXIT_HELP)
    .action(async (path: string, options: ByHandOptions) => exit(await judged(path, options)));
}

async function judged(path: string, options: ByHandOptions): Promise<number> {
  const unitFile = withTarget(
    { name: options.unit, content: readJsonFile(options.unit) },
    typedTarget(options),
  );
  const notes = byHandNotes(readTextFile(path), path);
  const store = options.record ? (await openData(options.data)).store : null;
  try {
    const jobId = await jobIdNamed(options.job, store);
    const judgedBy = store === null ? unitFile : withTolerance(unitFile, await keptSettings(store));
    const unit = unitFromFile(judgedBy.content, judgedBy.name);
    const follows = { store, recordId: options.after ?? null };
    const after = await checkedFollowing(follows, unit, false);
    const record = makeByHandRecord(notes, judgedBy, after);
    const { start, end } = record;
    if (store !== null) {
      await keepByHandRecord(record, store);
      if (jobId !== null) await store.jobs.attach(jobId, start.recordId);
      process.stderr.write(`Record ${start.recordId} kept; \`bobweight sheet\` prints it.\n`);
    }
    const verdict = end.result.verdict ?? "not judged";
    if (hasOwnTarget(start.unit)) process.stderr.write(`${OWN_TARGET_WARNING}\n`);
    process.stderr.write(`${start.unit.description}, by hand: ${verdict}.\n`);
    const report = () => JSON.stringify(reportFrom(start, end, notes.capsule), null, 2);
    process.stdout.write(`${options.json ? report() : verdict}\n`);
    return exitOfEnd(end);
  } finally {
    await store?.close();
  }
}
