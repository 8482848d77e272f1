// `bobweight rigs calibrate`: checks of the rig itself, step by step with the operator, kept in the rig file.
import type { Command } from "commander";
import type { CheckKind, RigCalibration } from "../../core/calibration/calibration.ts";
import { BobweightError } from "../../core/errors.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import type { Unit } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { pascalsFrom, VACUUM_UNITS, type VacuumUnit } from "../../core/units.ts";
import {
  type CheckBench,
  checkCoupling,
  checkDelay,
  checkPickup,
  type Outcome,
} from "../calibration/checks.ts";
import { Operator } from "../calibration/operator.ts";
import { type Seat, seatedPort } from "../calibration/seatedPort.ts";
import { Session } from "../calibration/session.ts";
import { checkVacuum } from "../calibration/vacuumCheck.ts";
import { readJsonFile } from "../files.ts";
import type { BytePort } from "../link/bytePort.ts";
import { keepCheck, type RigFile, rigFromFile } from "../rigFile.ts";
import { RealScheduler, VirtualScheduler } from "../schedulers.ts";
import { checkText, type KindOfCheck } from "./checkText.ts";
import { CHECK_EXIT_HELP } from "./exit.ts";
import { decimal, decimals, wholeNumber } from "./numbers.ts";

interface CheckOptions {
  readonly rig: string;
  readonly unit?: string;
  readonly scenario?: string;
  readonly fast?: true;
  readonly yes?: true;
  readonly json?: true;
}

type Check<K extends CheckKind> = (bench: CheckBench, unit: Unit) => Promise<Outcome<K>>;

const FULL_TURN = decimal(0.001, 359.999);

export function addCalibrate(rigs: Command, exit: (status: number) => void): void {
  const calibrate = rigs
    .command("calibrate")
    .description("find the rig's own errors, guided step by step, and keep them in the rig file");
  const add = (kind: CheckKind, description: string) =>
    calibrate
      .command(kind)
      .description(description)
      .requiredOption("--rig <file>", "rig file (*.rig.json), in which the result is kept")
      .option("--scenario <file>", "what the stand-in rig plays (default: a sound unit)")
      .option("--fast", "stand-in rig only: on a virtual clock, as fast as the computer allows")
      .option("--yes", "stand-in rig only: agree to everything beforehand")
      .option("--json", "print one JSON object on standard output")
      .addHelpText("after", CHECK_EXIT_HELP);

  add("delay", "find the delay from firing to tick, with a unit whose cam is locked")
    .requiredOption("--unit <file>", "unit file: lobes, rotation, trigger, highest speed")
    .option(
      "--speeds <rpm,…>",
      "distributor rpm (default: eight up to the highest)",
      decimals(1, 10_000),
    )
    .action(async (own: { speeds?: number[] }, command: Command) => {
      const check: Check<"delay"> = (bench, unit) => checkDelay(bench, unit, own.speeds ?? null);
      exit(await carryOut("delay", optionsOf(command), check));
    });

  add("pickup", "hold the angle pickup against a known angle between two firing events")
    .requiredOption("--unit <file>", "unit file that describes the disc or cam")
    .requiredOption("--known <deg>", "the known angle, distributor degrees", FULL_TURN)
    .requiredOption("--known-uncertainty <deg>", "its standard uncertainty", decimal(0, 10))
    .option("--from <n>", "from which lobe of the unit file", wholeNumber(1, 12), 1)
    .option("--to <n>", "to which", wholeNumber(1, 12), 2)
    .action(
      async (
        own: { known: number; knownUncertainty: number; from: number; to: number },
        command: Command,
      ) => {
        const known = { knownDeg: own.known, standardUncertaintyDeg: own.knownUncertainty };
        const check: Check<"pickup"> = (bench, unit) => checkPickup(bench, unit, own, known);
        exit(await carryOut("pickup", optionsOf(command), check));
      },
    );

  add("coupling", "tell the coupling's run-out from the unit's, by re-seating it half a turn round")
    .requiredOption("--unit <file>", "unit file: any sound unit with three lobes or more")
    .action(async (_: unknown, command: Command) => {
      exit(await carryOut("coupling", optionsOf(command), checkCoupling));
    });

  add("vacuum", "hold the vacuum sensor against a gauge; no spindle turns")
    .requiredOption("--gauge-unit <unit>", `unit of the gauge: ${VACUUM_UNITS.join(", ")}`)
    .requiredOption(
      "--gauge-uncertainty <value>",
      "its standard uncertainty, in its unit",
      decimal(0, 1e5),
    )
    .requiredOption("--gauge-resolution <value>", "smallest step read off it", decimal(0, 1e5))
    .option("--vacuums <value,…>", "in the gauge's unit (default: five)", decimals(0, 1e6))
    .action(async (own: VacuumOptions, command: Command) => {
      const unit = vacuumUnit(own.gaugeUnit);
      const pascals = (value: number) => pascalsFrom(value, unit);
      const gauge = {
        unit,
        standardUncertaintyPa: pascals(own.gaugeUncertainty),
        resolutionPa: pascals(own.gaugeResolution),
      };
      const check: Check<"vacuum"> = (bench) =>
        checkVacuum(bench, gauge, own.vacuums?.map(pascals) ?? null);
      exit(await carryOut("vacuum", optionsOf(command), check));
    });
}

interface VacuumOptions {
  readonly gaugeUnit: string;
  readonly gaugeUncertainty: number;
  readonly gaugeResolution: number;
  readonly vacuums?: number[];
}

/** `rigs` knows --json too and takes it before the commands below it see it. */
function optionsOf(command: Command): CheckOptions {
  return command.optsWithGlobals<CheckOptions & Record<string, unknown>>();
}

function vacuumUnit(text: string): VacuumUnit {
  const unit = VACUUM_UNITS.find((one) => one === text);
  if (unit !== undefined) return unit;
  throw new BobweightError(
    "USAGE",
    `There is no unit "${text}"; there are ${VACUUM_UNITS.join(", ")}.`,
  );
}

/** With nothing but a gauge on the line, any unit will do. */
const NO_UNIT = { description: "no unit", lobes: 4, rotation: "cw" };

async function carryOut<K extends CheckKind>(
  kind: K,
  options: CheckOptions,
  check: Check<K>,
): Promise<number> {
  const rig = rigFromFile(readJsonFile(options.rig), options.rig);
  if (rig.kind === "serial" && (options.fast || options.yes || options.scenario !== undefined)) {
    throw new BobweightError(
      "USAGE",
      "--fast, --yes and --scenario need a stand-in rig; a real one takes its time, and moves only when you have agreed.",
    );
  }
  const { unit: path, scenario: played } = options;
  const scenario = played === undefined ? null : { name: played, content: readJsonFile(played) };
  const unit =
    path === undefined ? unitFromFile(NO_UNIT, "unit") : unitFromFile(readJsonFile(path), path);
  const virtual = options.fast ? new VirtualScheduler() : null;
  const say = (text: string) => process.stderr.write(text);
  const operator = new Operator(process.stdin, say, options.yes === true);
  const scheduler = virtual ?? new RealScheduler();
  const { connect, stop } = connector(
    (seat) => seatedPort(rig, scenario, unit, seat, scheduler),
    scheduler,
    unit,
  );
  const stopAll = () => {
    stop();
    operator.leave("The check was stopped.");
  };
  process.on("SIGINT", stopAll);
  process.on("SIGTERM", stopAll);
  try {
    const work = check({ operator, connect }, unit);
    const outcome = await (virtual?.run(work) ?? work);
    keep(kind, options, rig, outcome);
    return 0;
  } finally {
    process.off("SIGINT", stopAll);
    process.off("SIGTERM", stopAll);
    operator.close();
  }
}

/** Opens sessions, and stops the one that is open, or the one just being opened. */
function connector(portTo: (seat: Seat) => BytePort, scheduler: Scheduler, unit: Unit) {
  let session: Session | null = null;
  let stopped = false;
  return {
    connect: async (seat: Seat) => {
      session = await Session.connect(portTo(seat), scheduler, unit.trigger.firingEdge);
      if (stopped) session.interrupt();
      return session;
    },
    stop: () => {
      stopped = true;
      session?.interrupt();
    },
  };
}

/** @throws FILE_NOT_KEPT after the result was told, so that it is not lost */
function keep<K extends CheckKind>(
  kind: K,
  { rig: path, json }: CheckOptions,
  rig: RigFile,
  { found, evidence }: Outcome<K>,
): void {
  const dated = { checkedUtc: new Date().toISOString(), ...found } as NonNullable<
    RigCalibration[K]
  >;
  const simulated = rig.kind === "stand-in";
  const text = json
    ? JSON.stringify({ kind, rig: rig.name, simulated, check: dated, evidence }, null, 2)
    : checkText({ kind, ...dated } as KindOfCheck);
  process.stdout.write(`${text}\n`);
  keepCheck(path, kind, dated);
  process.stderr.write(`Kept in ${path}.\n`);
}
