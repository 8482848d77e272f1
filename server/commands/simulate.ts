// `bobweight simulate`: the stand-in rig as a process of its own, on a pseudo-terminal, in real time.
import type { Command } from "commander";
import { BobweightError } from "../../core/errors.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { openSimulatedPort } from "../../sim/process.ts";
import { parseScenario, type UnitDefaults } from "../../sim/scenario.ts";
import { readJsonFile } from "../files.ts";
import { RealScheduler } from "../schedulers.ts";

interface SimulateOptions {
  readonly scenario: string;
  readonly unit?: string;
  readonly pty?: true;
}

export function addSimulate(program: Command, exit: (status: number) => void): void {
  program
    .command("simulate")
    .description("play a scenario as a rig on a pseudo-terminal, until interrupted")
    .requiredOption("--scenario <file>", "scenario file")
    .option("--unit <file>", "unit file, for lobes and rotation that the scenario leaves open")
    .option("--pty", "open a pseudo-terminal and print its path (the only way there is)")
    .action(async (options: SimulateOptions) => exit(await simulate(options)));
}

async function simulate({ scenario: path, unit, pty }: SimulateOptions): Promise<number> {
  if (!pty)
    throw new BobweightError("USAGE", "simulate needs --pty: a pseudo-terminal to play on.");
  const known = unit === undefined ? {} : knownOf(unit);
  const scenario = parseScenario(readJsonFile(path), path, known);
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

function knownOf(path: string): UnitDefaults {
  const unit = unitFromFile(readJsonFile(path), path);
  return {
    lobeAnglesDeg: unit.lobeAnglesDeg,
    rotation: unit.rotation,
    triggerKind: unit.trigger.kind,
    firingEdge: unit.trigger.firingEdge,
  };
}
