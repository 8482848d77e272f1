// `bobweight simulate`: the stand-in rig as a process of its own, on a pseudo-terminal, in real time.
import { type Command, Option } from "commander";
import { BobweightError } from "../../core/errors.ts";
import { CONNECTED_CONTACTS, type ConnectedContacts } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { openSimulatedPort } from "../../sim/process.ts";
import { parseScenario, type Scenario } from "../../sim/scenario.ts";
import { readJsonFile } from "../files.ts";
import { STAND_IN } from "../rigFile.ts";
import { RealScheduler } from "../schedulers.ts";
import { scenarioFor } from "../standInScenario.ts";

interface SimulateOptions {
  readonly scenario: string;
  readonly unit?: string;
  readonly contacts?: ConnectedContacts;
  readonly pty?: true;
}

export function addSimulate(program: Command, exit: (status: number) => void): void {
  program
    .command("simulate")
    .description("play a scenario as a rig on a pseudo-terminal, until interrupted")
    .requiredOption("--scenario <file>", "scenario file")
    .option(
      "--unit <file>",
      "unit file, for lobes, contacts and rotation that the scenario leaves open",
    )
    .addOption(
      new Option(
        "--contacts <sets>",
        "of the unit file's two sets of contacts those connected to the rig (default: both)",
      ).choices(CONNECTED_CONTACTS),
    )
    .option("--pty", "open a pseudo-terminal and print its path (the only way there is)")
    .action(async (options: SimulateOptions) => exit(await simulate(options)));
}

async function simulate(options: SimulateOptions): Promise<number> {
  if (!options.pty)
    throw new BobweightError("USAGE", "simulate needs --pty: a pseudo-terminal to play on.");
  const scenario = playedScenario(options);
  const port = await openSimulatedPort(scenario, new RealScheduler());
  process.stdout.write(`${port.path}\n`);
  process.stderr.write(`Simulation of "${scenario.name}" on ${port.path}; interrupt to end.\n`);
  await new Promise<void>((resolve) => {
    process.once("SIGINT", () => resolve());
    process.once("SIGTERM", () => resolve());
  });
  port.close();
  return 0;
}

/** The scenario file's, completed by the unit file where there is one. @throws FILE_INVALID, USAGE */
export function playedScenario({
  scenario: path,
  unit,
  contacts,
}: Omit<SimulateOptions, "pty">): Scenario {
  const content = readJsonFile(path);
  if (unit !== undefined) {
    const known = unitFromFile(readJsonFile(unit), unit, contacts ?? null);
    return scenarioFor({ rig: STAND_IN, scenario: { name: path, content } }, known);
  }
  if (contacts !== undefined) {
    throw new BobweightError("USAGE", "--contacts needs --unit: the file that has two sets.");
  }
  return parseScenario(content, path);
}
