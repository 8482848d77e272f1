// `bobweight jobs`: the jobs on file, and what is on a card.
import type { Command } from "commander";
import type { Job, JobHead } from "../../core/jobs/job.ts";
import type { Store } from "../store/store.ts";
import { DATA_OPTION, openData } from "./data.ts";

interface JobsOptions {
  readonly archive?: true;
  readonly json?: true;
  readonly data?: string;
}

const HELP = `
Without --json one line a job, tabs between: number, unit, stamped number, owner, car, records, last verdict.
With --json the whole jobs: cards, photos by name, and their records, the oldest first.

Exit status: 0 good, 64 wrong usage, 74 storage.`;

export function addJobs(program: Command, exit: (status: number) => void): void {
  program
    .command("jobs")
    .description("list the jobs on file, the last changed first")
    .argument("[words...]", "only jobs with all these words on their cards")
    .option("--archive", "those in the archive instead")
    .option("--json", "print JSON")
    .option(...DATA_OPTION)
    .addHelpText("after", HELP)
    .action(async (words: readonly string[], options: JobsOptions) => {
      const { store } = await openData(options.data);
      try {
        const search = words.join(" ");
        const heads = await store.jobs.list({ search, archived: options.archive ?? false });
        process.stdout.write(
          options.json
            ? `${JSON.stringify({ jobs: await whole(store, heads) }, null, 2)}\n`
            : heads.map((head) => `${line(head)}\n`).join(""),
        );
      } finally {
        await store.close();
      }
      exit(0);
    });
}

async function whole({ jobs }: Store, heads: readonly JobHead[]): Promise<readonly Job[]> {
  const all: Job[] = [];
  for (const { id } of heads) all.push(await jobs.job(id));
  return all;
}

function line({ number, unit, stampedNumber, owner, vehicle, recordCount, last }: JobHead): string {
  const verdict = last?.verdict ?? last?.ending ?? "not measured";
  // A tab or a line feed of a card would make other columns of it.
  return [number, unit, stampedNumber, owner, vehicle, String(recordCount), verdict]
    .map((text) => text.replace(/\s+/g, " "))
    .join("\t");
}
