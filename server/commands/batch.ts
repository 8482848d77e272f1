// `bobweight batch`: many simulated units measured over all cores, one result line each.
import { once } from "node:events";
import { availableParallelism } from "node:os";
import type { Command } from "commander";
import { type BatchChoice, carryOutBatch } from "../batch/batch.ts";
import { measuredLines } from "../batch/measured.ts";
import { type Tally, tallyText } from "../batch/tally.ts";
import { JUNIT_HELP } from "../junit.ts";
import { EXIT_OF_KIND } from "./exit.ts";
import { wholeNumber } from "./numbers.ts";

interface BatchOptions {
  readonly workers: number;
  readonly out?: string;
  readonly resume?: true;
  readonly junit?: string;
  readonly json?: string;
}

const HELP = `
A case is a JSON object: "unit", and if wanted "scenario" (else a sound unit), "plan", "name", "capsule",
"contacts". Unit, scenario and plan are paths from the file's folder, or what would stand in such a file;
\`bobweight schema case\` has the form. A .jsonl file has one case a line; of a folder all .jsonl files and
all *.case.json files (one case each) are taken, in the order of their names. All cases are checked before
the first is measured; one with a mistake gets a result that says so, and stops no other.

A result is a line of JSON: "at" (file and line of the case), "name", "digest", and what \`measure --json\`
prints but for record id, findings and mechanism, or "error". The lines stand in the order of the cases,
the same bytes whatever the number of workers. The workshop's settings have no part in them.

Ctrl-C finishes the cases that are being measured and keeps every result; the same command with --resume
goes on from there. A second Ctrl-C ends at once, and costs the cases that were not written yet. JUnit and
summary are written when all is done.
${JUNIT_HELP}

Exit status: 0 all within specification, 1 some outside, 2 none outside but some unproven or not judged,
64 wrong usage, 65 a case with a mistake in it (the others were measured), 70 a mistake of ours,
74 a file cannot be written, 75 interrupted, or runs that a simulated rig fault or lost link ended.`;

export function addBatch(program: Command, exit: (status: number) => void): void {
  program
    .command("batch")
    .description("measure many simulated units on the stand-in rig, over all cores")
    .argument("<cases>", "a .jsonl file of cases, or a folder of them")
    .option(
      "--workers <n>",
      "threads that measure (default: as many as there are cores)",
      wholeNumber(1, 256),
      availableParallelism(),
    )
    .option("--out <file>", "result lines go there instead of to standard output")
    .option("--resume", "go on with the results in --out")
    .option("--junit <file>", "write the verdicts as JUnit XML")
    .option("--json <file>", "write the numbers of verdicts as JSON")
    .addHelpText("after", HELP)
    .action(async (cases: string, options: BatchOptions) => exit(await batch(cases, options)));
}

async function batch(cases: string, options: BatchOptions): Promise<number> {
  const choice: BatchChoice = {
    cases,
    out: options.out ?? null,
    resume: options.resume ?? false,
    junit: options.junit ?? null,
    json: options.json ?? null,
  };
  const say = (text: string) => process.stderr.write(`${text}\n`);
  let isStopped = false;
  const stop = () => {
    isStopped = true;
    say("Finishing the cases that are being measured …");
    // A second signal ends the program as if there were no handler.
    process.off("SIGINT", stop);
    process.off("SIGTERM", stop);
  };
  process.on("SIGINT", stop);
  process.on("SIGTERM", stop);
  try {
    const { tally, total, isWhole } = await carryOutBatch(choice, {
      measured: (texts, onLine) => measuredLines(texts, options.workers, onLine),
      put: async (line) => {
        if (!process.stdout.write(line)) await once(process.stdout, "drain");
      },
      say,
      isStopped: () => isStopped,
    });
    if (tally.cases > 0)
      say(`${tally.cases} of ${total} simulated units done: ${tallyText(tally)}.`);
    if (isWhole) return statusOf(tally);
    say(
      choice.out === null
        ? "Stopped. With --out FILE the results are kept, and --resume goes on with them."
        : "Stopped. The results are kept; the same command with --resume goes on.",
    );
    return EXIT_OF_KIND.rig;
  } finally {
    process.off("SIGINT", stop);
    process.off("SIGTERM", stop);
  }
}

function statusOf(tally: Tally): number {
  if (tally.bugs > 0) return EXIT_OF_KIND.bug;
  if (tally.notMeasured > 0) return EXIT_OF_KIND.input;
  if (tally.notCompleted > 0) return EXIT_OF_KIND.rig;
  if (tally.outside > 0) return 1;
  return tally.unproven + tally.notJudged > 0 ? 2 : 0;
}
