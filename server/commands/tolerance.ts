// `bobweight tolerance`: how far units of one make differ, as measured on the stand-in rig.
import { availableParallelism } from "node:os";
import type { Command } from "commander";
import { BobweightError } from "../../core/errors.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import type { Fact } from "../../core/sheet/model.ts";
import { SIMULATED, studySheet } from "../../core/tolerance/sheet.ts";
import { Study, shareOf, type UnitCurve } from "../../core/tolerance/study.ts";
import type { Unit } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import type { CaseText } from "../batch/caseFile.ts";
import { measuredLines } from "../batch/measured.ts";
import { Progress } from "../batch/progress.ts";
import type { CaseResult } from "../batch/result.ts";
import { type NamedFile, readJsonFile } from "../files.ts";
import type { reportFrom } from "../report.ts";
import { type Spreads, variedScenario } from "../standInScenario.ts";
import { EXIT_OF_KIND } from "./exit.ts";
import { decimal, wholeNumber } from "./numbers.ts";
import { put } from "./output.ts";

interface ToleranceOptions {
  readonly springRates: number;
  readonly friction: number;
  readonly loopWear: number;
  readonly stopWear: number;
  readonly count: number;
  readonly seed: number;
  readonly plan?: string;
  readonly capsule: number;
  readonly workers: number;
  readonly out?: string;
}

const HELP = `
Draws units about the scenario's, whose mechanism has to be weights and springs, and measures each. At
least one spread has to be stated; what is left out is not varied. Rates and friction are multiplied by
exp(spread times a normal deviate), each spring and each plate by its own; wear adds the size of a normal
deviate times the spread. Loads go with rates, and so do the capsules' springs. The same seed draws the
same units, and of another count the same first ones.

On standard output stands one JSON object: each printed row with the numbers of units within, outside and
unproven, the share within with its 95 % interval, and below what 5, 50 and 95 of 100 figures lie; each
curve with the same at every reading. Angles and speeds are the distributor's. --out has it as a page with
pictures. All of it is simulated, and says so.

Exit status: 0 measured, 64 wrong usage, 65 a mistake in a file, or a drawn unit that cannot be (the stop
beyond what the weights can turn), 70 a mistake of ours, 74 the page cannot be written, 75 runs that a
simulated rig fault or lost link ended; these units are left out, and counted.`;

export function addTolerance(program: Command, exit: (status: number) => void): void {
  program
    .command("tolerance")
    .description("draw many units about a scenario, and show how their curves spread in the band")
    .argument("<unit>", "unit file")
    .argument("<scenario>", "scenario file: the unit that the others are drawn about")
    .option("--spring-rates <percent>", "spread of springs' rates and loads", decimal(0, 50), 0)
    .option("--friction <percent>", "spread of friction", decimal(0, 200), 0)
    .option("--loop-wear <mm>", "play that wear gives springs' loops", decimal(0, 5), 0)
    .option("--stop-wear <deg>", "travel that wear adds at the stop", decimal(0, 10), 0)
    .option("--count <n>", "how many units", wholeNumber(2, 100_000), 100)
    .option("--seed <n>", "of the random numbers", wholeNumber(0, 2 ** 32 - 1), 1)
    .option("--plan <file>", "plan file (default: a plan made from the specification)")
    .option("--capsule <n>", "which of the unit's capsules the hose is on", wholeNumber(1, 9), 1)
    .option(
      "--workers <n>",
      "threads that measure (default: as many as there are cores)",
      wholeNumber(1, 256),
      availableParallelism(),
    )
    .option("--out <file>", "write a page with pictures (HTML)")
    .addHelpText("after", HELP)
    .action(async (unit: string, scenario: string, options: ToleranceOptions) =>
      exit(await tolerance(unit, scenario, options)),
    );
}

async function tolerance(
  unitPath: string,
  scenarioPath: string,
  options: ToleranceOptions,
): Promise<number> {
  const { count, seed, capsule, workers, out } = options;
  const spreads = spreadsOf(options);
  const files = {
    unit: { name: unitPath, content: readJsonFile(unitPath) },
    scenario: { name: scenarioPath, content: readJsonFile(scenarioPath) },
    plan: options.plan === undefined ? undefined : readJsonFile(options.plan),
  };
  const unit = unitFromFile(files.unit.content, unitPath);
  const say = (text: string) => process.stderr.write(`${text}\n`);
  const progress = new Progress(count, say);
  const drawn = drawnCases(files, unit, spreads, options);
  const studied = await study(measuredLines(drawn, workers, () => progress.step()));
  const { units, within, notCompleted, rows, curves } = studied;
  if (out !== undefined) {
    const subject = { unit, capsule: capsule - 1, scenario: scenarioPath, ...studied };
    put(sheetHtml(studySheet({ ...subject, spreads: factsOf(options) })), out);
  }
  const report = {
    simulated: true,
    warning: SIMULATED,
    unit: unit.description,
    invented: unit.invented,
    ...{ scenario: scenarioPath, seed, spreads, units, notCompleted },
    shareWithin: units === 0 ? null : shareOf(within, units),
    ...{ rows, curves },
  };
  process.stdout.write(`${JSON.stringify(report, null, 2)}\n`);
  if (notCompleted === 0) return 0;
  say(`${notCompleted} of ${count} runs did not come to their end.`);
  return EXIT_OF_KIND.rig;
}

/** @throws FILE_INVALID */
function* drawnCases(
  files: { readonly unit: NamedFile; readonly scenario: NamedFile; readonly plan: unknown },
  unit: Unit,
  spreads: Spreads,
  { count, seed, capsule }: ToleranceOptions,
): Generator<CaseText, void, void> {
  for (let number = 0; number < count; number++) {
    const scenario = variedScenario(files.scenario, unit, spreads, { seed, number });
    if (scenario === null) {
      throw new BobweightError(
        "FILE_INVALID",
        `${files.scenario.name}, mechanism: tables have no parts to vary; give weights and springs.`,
      );
    }
    const text = JSON.stringify({ unit: files.unit.content, scenario, plan: files.plan, capsule });
    yield { at: `unit ${number + 1}`, folder: ".", text };
  }
}

/** @throws FILE_INVALID, BUG where one could not be measured */
async function study(lines: AsyncIterable<string>) {
  const kept = new Study();
  let [units, within, notCompleted] = [0, 0, 0];
  for await (const line of lines) {
    const result: MeasuredUnit = JSON.parse(line);
    if (result.error !== undefined) throw refused(result.at, result.error);
    if (result.ending !== "completed") {
      notCompleted++;
      continue;
    }
    units++;
    if (result.verdict === "within") within++;
    kept.add({ rows: result.rows, curves: curvesOf(result) });
  }
  return { units, within, notCompleted, rows: kept.rows, curves: kept.curves };
}

function factsOf({ springRates, friction, loopWear, stopWear, seed }: ToleranceOptions): Fact[] {
  return [
    { label: "Spring rates", value: `± ${springRates} %` },
    { label: "Friction", value: `± ${friction} %` },
    { label: "Wear of loops", value: `${loopWear} mm` },
    { label: "Wear of the stop", value: `${stopWear}°` },
    { label: "Seed", value: String(seed) },
  ];
}

type MeasuredUnit = CaseResult & ReturnType<typeof reportFrom>;

/** @throws USAGE where nothing is to be varied */
function spreadsOf({ springRates, friction, loopWear, stopWear }: ToleranceOptions): Spreads {
  if (springRates + friction + loopWear + stopWear === 0) {
    throw new BobweightError(
      "USAGE",
      "State what differs, and how far: --spring-rates, --friction, --loop-wear or --stop-wear.",
    );
  }
  return {
    springRateShare: springRates / 100,
    frictionShare: friction / 100,
    loopWearMm: loopWear,
    stopWearDeg: stopWear,
  };
}

/** As the thread told it, its remedy included. */
function refused(at: string, { code, text }: NonNullable<CaseResult["error"]>): BobweightError {
  return new BobweightError(code === "BUG" ? "BUG" : "FILE_INVALID", `${at}: ${text}`);
}

function curvesOf({ speed, vacuum }: MeasuredUnit): UnitCurve[] {
  const branches = ["rising", "falling"] as const;
  return [
    ...branches.map((branch) => ({
      about: "speed" as const,
      branch,
      points: speed[branch].map(({ rpm, advanceDeg }) => [rpm, advanceDeg] as const),
    })),
    ...branches.map((branch) => ({
      about: "vacuum" as const,
      branch,
      points: vacuum[branch].map(({ kPa, advanceDeg }) => [kPa * 1000, advanceDeg] as const),
    })),
  ];
}
