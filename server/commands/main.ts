// The command line: one program, one catalogue of exit statuses.
import { Command, CommanderError } from "commander";
import { engineVersion } from "../measurement.ts";
import { EXIT_HELP, EXIT_OF_KIND, exitOfError } from "./exit.ts";

type Add = (program: Command, exit: (status: number) => void) => void;

/** Each command's module, loaded when it is wanted: most of a short command's time would be the others' loading. */
const COMMANDS: ReadonlyMap<string, () => Promise<Add>> = new Map([
  ["serve", async () => (await import("./serve.ts")).addServe],
  ["measure", async () => (await import("./measure.ts")).addMeasure],
  ["batch", async () => (await import("./batch.ts")).addBatch],
  ["tolerance", async () => (await import("./tolerance.ts")).addTolerance],
  ["by-hand", async () => (await import("./byHand.ts")).addByHand],
  ["sheet", async () => (await import("./sheet.ts")).addSheet],
  ["settings", async () => (await import("./settings.ts")).addSettings],
  ["jobs", async () => (await import("./jobs.ts")).addJobs],
  ["engine", async () => (await import("./engine.ts")).addEngine],
  ["recompute", async () => (await import("./recompute.ts")).addRecompute],
  ["simulate", async () => (await import("./simulate.ts")).addSimulate],
  ["rigs", async () => (await import("./rigs.ts")).addRigs],
  ["springs", async () => (await import("./springs.ts")).addSprings],
  ["refit", async () => (await import("./refit.ts")).addRefit],
  ["nearest", async () => (await import("./nearest.ts")).addNearest],
  ["backup", async () => (await import("./backup.ts")).addBackup],
  ["move", async () => (await import("./move.ts")).addMove],
  ["rescue", async () => (await import("./rescue.ts")).addRescue],
  ["export", async () => (await import("./carry.ts")).addExport],
  ["import", async () => (await import("./carry.ts")).addImport],
  ["schema", async () => (await import("./schema.ts")).addSchema],
]);

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
  const wanted = COMMANDS.get(argv[2] ?? "");
  for (const load of wanted === undefined ? COMMANDS.values() : [wanted]) {
    (await load())(program, exit);
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
