// `bobweight backup` and `bobweight restore`: the whole data folder as one file, and back.
import type { Command } from "commander";
import type { BackupContents } from "../../core/backup.ts";
import { BobweightError } from "../../core/errors.ts";
import { restoreBackup, writeBackup } from "../store/backup.ts";
import { DATA_OPTION, DATABASE_VARIABLE, databaseUrlFrom, defaultDataFolder } from "./data.ts";

const BACKUP_HELP = `
The backup may be made while Bobweight runs. It holds records, jobs, photos, units, the spring drawer and
the JSON files of the data folder, and is read back before the command says that it is good.

Exit status: 0 written and read back, 64 wrong usage, 74 storage.`;

const RESTORE_HELP = `
The backup is read whole and held against its digests first; the folder must be new or empty, so that
nothing is overwritten. Use it then by --data or BOBWEIGHT_DATA.

Exit status: 0 restored and read back, 64 wrong usage, 65 the backup is not whole, 74 storage.`;

const JSON_OPTION = ["--json", "print what it holds as JSON on standard output"] as const;

export function addBackup(program: Command, exit: (status: number) => void): void {
  program
    .command("backup")
    .description("write the whole data folder to one file, and read it back")
    .argument("<file>", "a new file")
    .option(...DATA_OPTION)
    .option(...JSON_OPTION)
    .addHelpText("after", BACKUP_HELP)
    .action(async (file: string, { data, json }: { data?: string; json?: true }) => {
      if (databaseUrlFrom(undefined) !== null) {
        throw new BobweightError(
          "USAGE",
          `The records are in the database that ${DATABASE_VARIABLE} names: back it up by its own means, such as pg_dump, or have a copy of it here by \`bobweight move to-folder\`.`,
        );
      }
      const contents = await writeBackup(data ?? defaultDataFolder(), file);
      process.stderr.write(`${contentsText(contents)} are in ${file}, read back and whole.\n`);
      if (json) process.stdout.write(`${JSON.stringify(contents)}\n`);
      exit(0);
    });
  program
    .command("restore")
    .description("bring a backup back into a new data folder")
    .argument("<file>", "a file that `bobweight backup` wrote")
    .requiredOption("--data <folder>", "a new or empty folder")
    .option(...JSON_OPTION)
    .addHelpText("after", RESTORE_HELP)
    .action(async (file: string, { data, json }: { data: string; json?: true }) => {
      const contents = await restoreBackup(file, data);
      process.stderr.write(`${contentsText(contents)} are in ${data}, read back and whole.\n`);
      if (json) process.stdout.write(`${JSON.stringify(contents)}\n`);
      exit(0);
    });
}

function contentsText({ records, jobs, files }: BackupContents): string {
  const counted = (count: number, one: string) => `${count} ${one}${count === 1 ? "" : "s"}`;
  return `${counted(records, "record")}, ${counted(jobs, "job")} and ${counted(files.length, "other file")}`;
}
