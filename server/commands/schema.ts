// `bobweight schema` prints the JSON Schema of a kind of file; `bobweight check` holds files against it.
import { basename, dirname } from "node:path";
import type { Command } from "commander";
import { BobweightError } from "../../core/errors.ts";
import { planFileJsonSchema, planFor } from "../../core/planFile.ts";
import { unitFileJsonSchema, unitFromFile } from "../../core/unitFile.ts";
import { parseScenario, scenarioJsonSchema } from "../../sim/scenario.ts";
import { caseJsonSchema, FileTexts, inspectCase } from "../batch/caseFile.ts";
import { readJsonFile } from "../files.ts";
import { rigFileJsonSchema, rigFromFile } from "../rigFile.ts";
import { exitOfError } from "./exit.ts";

interface FileKind {
  readonly schema: () => unknown;
  /** Throws where the content does not hold. */
  readonly check: (content: unknown, name: string) => unknown;
}

/** A plan can only be tried on a unit, and any will do to check its form. */
const ANY_UNIT = { description: "any unit", lobes: 4, rotation: "cw" };
const ANY_RIG = { speedMinRpm: 10, speedMaxRpm: 10_000, vacuumMaxPa: 0, ambientPa: null };

const KINDS: Readonly<Record<string, FileKind>> = {
  unit: { schema: unitFileJsonSchema, check: unitFromFile },
  scenario: { schema: scenarioJsonSchema, check: (content, name) => parseScenario(content, name) },
  plan: {
    schema: planFileJsonSchema,
    check: (content, name) => planFor(unitFromFile(ANY_UNIT, "unit"), ANY_RIG, content, name),
  },
  rig: { schema: rigFileJsonSchema, check: rigFromFile },
  case: { schema: caseJsonSchema, check: checkCaseFile },
};
const NAMES = Object.keys(KINDS).join(", ");

export function addSchema(program: Command, exit: (status: number) => void): void {
  program
    .command("schema")
    .description(`print the JSON Schema of a kind of file: ${NAMES}`)
    .argument("<kind>", NAMES)
    .action((kind: string) => {
      process.stdout.write(`${JSON.stringify(kindNamed(kind).schema(), null, 2)}\n`);
      exit(0);
    });
  program
    .command("check")
    .description("check files; the kind is told by the name's ending, such as `.unit.json`")
    .argument("<file...>", "files to check")
    .option("--as <kind>", `take all of them for this kind: ${NAMES}`)
    .action((files: string[], { as }: { as?: string }) => exit(checkFiles(files, as)));
}

function checkFiles(files: readonly string[], as: string | undefined): number {
  let status = 0;
  for (const path of files) {
    try {
      const kind = as ?? kindOfFile(path);
      kindNamed(kind).check(readJsonFile(path), path);
      process.stdout.write(`${path}: good ${kind} file\n`);
    } catch (error) {
      if (!(error instanceof BobweightError) || error.kind !== "input") throw error;
      status = exitOfError(error);
    }
  }
  return status;
}

/** With the files that it names, whose paths start from its own folder. */
function checkCaseFile(content: unknown, name: string): void {
  const text = JSON.stringify(content);
  const { error } = inspectCase({ at: name, folder: dirname(name), text }, new FileTexts());
  if (error !== null) throw error;
}

function kindOfFile(path: string): string {
  const kind = /\.([a-z]+)\.json$/.exec(basename(path))?.[1];
  if (kind !== undefined && kind in KINDS) return kind;
  throw new BobweightError(
    "USAGE",
    `${path}: its name does not end in one of ${NAMES} and .json. Name the kind with --as.`,
  );
}

function kindNamed(kind: string): FileKind {
  const found = Object.hasOwn(KINDS, kind) ? KINDS[kind] : undefined;
  if (found === undefined) {
    throw new BobweightError("USAGE", `There is no kind of file "${kind}"; there are ${NAMES}.`);
  }
  return found;
}
