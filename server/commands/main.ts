// The command line: one program, one catalogue of exit statuses.
import { Command, CommanderError } from "commander";
import { engineVersion } from "../measurement.ts";
import { addBackup } from "./backup.ts";
import { addByHand } from "./byHand.ts";
import { addEngine } from "./engine.ts";
import { EXIT_HELP, EXIT_OF_KIND, exitOfError } from "./exit.ts";
import { addJobs } from "./jobs.ts";
import { addMeasure } from "./measure.ts";
import { addNearest } from "./nearest.ts";
import { addRecompute } from "./recompute.ts";
import { addRefit } from "./refit.ts";
import { addRigs } from "./rigs.ts";
import { addSchema } from "./schema.ts";
import { addServe } from "./serve.ts";
import { addSheet } from "./sheet.ts";
import { addSimulate } from "./simulate.ts";
import { addSprings } from "./springs.ts";

/** Runs the command in `argv` (as process.argv) and gives the exit status. Never rejects. */
export async function main(argv: readonly string[]): Promise<number> {
  let status = 0;
  const exit = (value: number) => {
    status = value;
  };
  const program = new Command("bobweight")
    .description("Measures, judges and documents classic-car ignition distributors.")
    .version(engineVersion())
    .addHelpText("after", EXIT_HELP)
    .exitOverride();
  for (const add of [
    addServe,
    addMeasure,
    addByHand,
    addSheet,
    addJobs,
    addEngine,
    addRecompute,
    addSimulate,
    addRigs,
    addSprings,
    addRefit,
    addNearest,
    addBackup,
    addSchema,
  ]) {
    add(program, exit);
  }
  for (const command of program.commands) command.exitOverride();
  try {
    await program.parseAsync(argv);
    return status;
  } catch (error) {
    // Commander has already said what was wrong; help and version are no errors.
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : EXIT_OF_KIND.usage;
    return exitOfError(error);
  }
}
