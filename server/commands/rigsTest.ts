// `bobweight rigs test`: any board or stand-in held against the rig protocol, clause by clause.
import type { Command } from "commander";
import { BobweightError } from "../../core/errors.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { Operator } from "../calibration/operator.ts";
import { seatedPort } from "../calibration/seatedPort.ts";
import { AtTerminal, motionNotice } from "../conformance/atTerminal.ts";
import { rigTestReport, rigTestText } from "../conformance/report.ts";
import { RigTest, type RigTestOutcome, type RigTestSettings } from "../conformance/rigTest.ts";
import { readJsonFile } from "../files.ts";
import type { RigFile } from "../rigFile.ts";
import { RealScheduler, VirtualScheduler } from "../schedulers.ts";
import { EXIT_OF_KIND, RIG_TEST_EXIT_HELP } from "./exit.ts";
import { wholeNumber } from "./numbers.ts";
import { BAUD_OPTION, RIG_CHOICE, rigNamed } from "./rigNamed.ts";

interface TestOptions {
  readonly baud?: number;
  readonly speedMax: number;
  readonly motorMayTurn?: true;
  readonly scenario?: string;
  readonly fast?: true;
  readonly json?: true;
}

const SPEED_MAX_RPM = 1000;

const HELP = `
It begins with lines that move nothing. Then it prints the cautions and asks, at a terminal, for leave to let the
motor turn; after that it asks for what takes a hand: guard, stop input, leads, reset. What was not agreed to or not
done is told as not tested. It ends with stop, after Ctrl-C too. That is a software stop and no emergency stop: the
hard-wired one must be in reach.
`;

export function addTest(rigs: Command, exit: (status: number) => void): void {
  rigs
    .command("test")
    .description("test a board, or a stand-in, against every clause of firmware-protocol.md")
    .argument("<rig>", RIG_CHOICE)
    .option(...BAUD_OPTION)
    .option(
      "--speed-max <rpm>",
      "highest speed the test asks for; MAXRPM is proved only where it is not below it",
      wholeNumber(1, 10_000),
      SPEED_MAX_RPM,
    )
    .option(
      "--motor-may-turn",
      "for scripts, instead of being asked: the motor may turn, and nobody can reach the spindle; leaves out what takes a hand",
    )
    .option("--scenario <file>", "what the stand-in rig plays (default: a sound rig)")
    .option("--fast", "stand-in rig only: on a virtual clock, as fast as the computer allows")
    .option("--json", "print one JSON object on standard output")
    .addHelpText("after", HELP)
    .addHelpText("after", RIG_TEST_EXIT_HELP)
    .action(async (path: string, _: unknown, command: Command) => {
      // `rigs` knows --json too and takes it before `test` sees it.
      exit(await testRig(path, command.optsWithGlobals<TestOptions>()));
    });
}

/** Any unit will do: what it measures is not looked at. */
const NO_UNIT = { description: "no unit", lobes: 4, rotation: "cw" };

async function testRig(path: string, options: TestOptions): Promise<number> {
  const rig = rigNamed(path, options.baud);
  if (rig.kind === "serial" && (options.fast || options.scenario !== undefined)) {
    throw new BobweightError("USAGE", "--fast and --scenario need the stand-in rig.");
  }
  const { scenario: played } = options;
  const scenario = played === undefined ? null : { name: played, content: readJsonFile(played) };
  const virtual = options.fast ? new VirtualScheduler() : null;
  const scheduler = virtual ?? new RealScheduler();
  const unit = unitFromFile(NO_UNIT, "unit");
  const operator = options.motorMayTurn ? null : operatorAtTerminal();
  const port = seatedPort(rig, scenario, unit, "first", scheduler);
  const test = new RigTest(port, scheduler, settingsFor(rig, options, operator));
  const stop = () => {
    test.interrupt();
    operator?.leave("The test was stopped.");
  };
  process.on("SIGINT", stop);
  process.on("SIGTERM", stop);
  // A terminal that is closed takes nobody's stop with it.
  process.on("SIGHUP", stop);
  try {
    const work = test.run();
    const outcome = await (virtual?.run(work) ?? work);
    tell(rig, outcome, options.json === true);
    return statusOf(outcome);
  } finally {
    process.off("SIGINT", stop);
    process.off("SIGTERM", stop);
    process.off("SIGHUP", stop);
    operator?.close();
  }
}

const say = (text: string) => process.stderr.write(`${text}\n`);

/** Null where there is no terminal to ask at: an answer from a file or a pipe is nobody's. */
function operatorAtTerminal(): Operator | null {
  if (!process.stdin.isTTY) return null;
  return new Operator(process.stdin, (text) => process.stderr.write(text), false);
}

function settingsFor(
  rig: RigFile,
  { speedMax, motorMayTurn }: TestOptions,
  operator: Operator | null,
): RigTestSettings {
  const baud = rig.kind === "serial" ? rig.baud : null;
  const common = { speedMaxRpm: speedMax, baud, say };
  if (operator !== null) {
    const person = new AtTerminal(operator);
    // Nobody can lay hands on a simulated rig.
    const reachable = rig.kind === "serial" ? person : null;
    return { ...common, person: reachable, agree: (rpm) => person.agree(rpm) };
  }
  const agree = (rpm: number) => {
    if (motorMayTurn) say(`${motionNotice(rpm)}\nAgreed to beforehand (--motor-may-turn).`);
    else say("There is no terminal to ask at whether the motor may turn: it stays at rest.");
    return Promise.resolve(motorMayTurn === true);
  };
  return { ...common, person: null, agree };
}

function tell(rig: RigFile, outcome: RigTestOutcome, json: boolean): void {
  const report = json
    ? JSON.stringify(rigTestReport(rig.name, rig.kind === "stand-in", outcome), null, 2)
    : rigTestText(rig.name, outcome);
  process.stdout.write(`${report}\n`);
  if (outcome.ended !== null) say(outcome.ended.message);
}

function statusOf({ findings, moved, ended }: RigTestOutcome): number {
  if (ended !== null) return EXIT_OF_KIND[ended.kind];
  if (findings.some(({ verdict }) => verdict === "broken")) return 1;
  return moved ? 0 : 2;
}
