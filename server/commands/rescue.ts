// `bobweight rescue`: what can be read of a damaged store, in a new file.
import type { Command } from "commander";
import { rescueStore } from "../store/rescue.ts";
import { DATA_OPTION, defaultDataFolder } from "./data.ts";

const RESCUE_HELP = `
For a store that Bobweight says is damaged. A backup that is whole is the better way where there is one.
Every row that can be read goes into a new file, which takes the place of the damaged one; that stays
beside it under another name, to be tried by other means. Nothing else may use the folder meanwhile.

Exit status: 0 all that the file has was carried over, 1 some rows could not be read,
69 a Bobweight serves the folder, 74 storage, or not even the list of tables can be read.`;

export function addRescue(program: Command, exit: (status: number) => void): void {
  program
    .command("rescue")
    .description(
      "carry what can be read of a damaged store into a new one, and keep the damaged file",
    )
    .option(...DATA_OPTION)
    .addHelpText("after", RESCUE_HELP)
    .action(async ({ data }: { data?: string }) => {
      const { keptAs, carried, lost, incomplete } = await rescueStore(data ?? defaultDataFolder());
      for (const [table, rows] of Object.entries(carried)) {
        process.stdout.write(`${rows}\t${table}\n`);
      }
      process.stderr.write(`${lost} rows could not be read. The damaged file is kept: ${keptAs}\n`);
      for (const id of incomplete) {
        process.stderr.write(`Of record ${id} parts are missing between others.\n`);
      }
      exit(lost === 0 && incomplete.length === 0 ? 0 : 1);
    });
}
