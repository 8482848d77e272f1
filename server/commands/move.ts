// `bobweight move`: all records, jobs and units from the data folder into the workshop's database, and back.
import type { Command } from "commander";
import { BobweightError } from "../../core/errors.ts";
import { Database } from "../store/database.ts";
import { holdFolder } from "../store/hold.ts";
import { moveStore } from "../store/move.ts";
import { PostgresDatabase } from "../store/postgres.ts";
import { openStore } from "../store/store.ts";
import {
  DATA_OPTION,
  DATABASE_OPTION,
  DATABASE_VARIABLE,
  databaseUrlFrom,
  defaultDataFolder,
} from "./data.ts";

const MOVE_HELP = `
Every table is held against what it was copied from by a fingerprint of all its rows, and nothing is kept where
one differs. What is moved from stays as it is. A target that has other rows is refused; one that has the very
same ones is left alone. Rig files and unit files of the folder stay in it.

Exit status: 0 all is in the target, 64 wrong usage or a target with other rows, 69 a Bobweight serves the
folder or the database is away, 74 storage.`;

interface MoveOptions {
  readonly data?: string;
  readonly database?: string;
}

export function addMove(program: Command, exit: (status: number) => void): void {
  const command = program
    .command("move")
    .description("move all records, jobs and units between the data folder and a database")
    .addHelpText("after", MOVE_HELP);
  for (const [name, isToDatabase] of [
    ["to-database", true],
    ["to-folder", false],
  ] as const) {
    command
      .command(name)
      .description(
        isToDatabase
          ? "from the data folder into the database"
          : "from the database into the data folder",
      )
      .option(...DATA_OPTION)
      .option(...DATABASE_OPTION)
      .action(async (options: MoveOptions) => {
        await move(options, isToDatabase);
        exit(0);
      });
  }
}

async function move({ data, database }: MoveOptions, isToDatabase: boolean): Promise<void> {
  const folder = data ?? defaultDataFolder();
  const url = databaseUrlFrom(database);
  if (url === null) {
    throw new BobweightError("USAGE", `Name the database by --database or ${DATABASE_VARIABLE}.`);
  }
  const inFolder = await Database.open(folder);
  const hold = await holdFolder(folder);
  const inDatabase = new PostgresDatabase(url);
  try {
    await handOverFirst(folder, url, isToDatabase);
    const { rows, wasThere } = isToDatabase
      ? await moveStore(inFolder, inDatabase)
      : await moveStore(inDatabase, inFolder);
    for (const [table, count] of Object.entries(rows)) {
      process.stdout.write(`${count}\t${table}\n`);
    }
    process.stderr.write(wasThere ? "All of it was there already.\n" : "Moved, and proved.\n");
  } finally {
    await inDatabase.close();
    await inFolder.close();
    hold.release();
  }
}

/** What waits in this folder belongs to the database that is to be moved away. @throws DATABASE_AWAY */
async function handOverFirst(folder: string, url: string, isToDatabase: boolean): Promise<void> {
  if (isToDatabase) return;
  const store = await openStore(folder, url);
  await store.handOver?.wake();
  const waiting = store.handOver?.now().waiting ?? 0;
  await store.close();
  if (waiting === 0) return;
  throw new BobweightError("DATABASE_AWAY", `${waiting} records of this folder still wait.`);
}
