// A target of the user's own on the command line: rows as a manual prints them, and the scales they do not name.
import { type Command, Option } from "commander";
import { BobweightError } from "../../core/errors.ts";
import { type TypedTarget, withOwnTarget } from "../../core/ownTarget.ts";
import type { ConnectedContacts } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { type NamedFile, readTextFile } from "../files.ts";
import { decimal } from "./numbers.ts";

export interface TargetOptions {
  readonly target?: readonly string[];
  readonly targetFile?: string;
  readonly degrees?: "distributor" | "crankshaft";
  readonly rpm?: "distributor" | "crankshaft";
  readonly tolerance?: number;
  readonly initial?: number;
}

export const TARGET_HELP = `
--target takes rows of your own over speed, as a manual prints them ("0 at 550" "14 at 2300"), in rising
order, in place of the unit's specification. Rows that do not name their scales ("14 crank at 2000 engine
rpm") need --degrees and --rpm. Wrong advance can destroy an engine: the engine's specification or an
engine builder has the last word. Sheet, page and JSON say that the target is your own.`;

const SHAFTS = ["distributor", "crankshaft"] as const;

export function addTargetOptions(command: Command): Command {
  return command
    .option("--target <row...>", 'rows of a target of your own: "0 at 550" "14 at 2300"')
    .option("--target-file <file>", "the same rows in a text file, a line each")
    .addOption(new Option("--degrees <shaft>", "whose degrees the target's are").choices(SHAFTS))
    .addOption(new Option("--rpm <shaft>", "whose speeds the target's are").choices(SHAFTS))
    .option(
      "--tolerance <deg>",
      "either way, in the degrees of the rows (default: the workshop's own)",
      decimal(0.01, 20),
    )
    .option(
      "--initial <deg>",
      "initial timing that is part of the target's degrees",
      decimal(0, 60),
    );
}

/**
 * Null where none is given.
 * @throws USAGE where options of a target stand without one, or it is given twice; FILE_UNREADABLE
 */
export function typedTarget(options: TargetOptions): TypedTarget | null {
  const { target, targetFile, degrees, rpm, tolerance, initial } = options;
  if (target !== undefined && targetFile !== undefined) {
    throw new BobweightError("USAGE", "Give the target by --target or --target-file, not both.");
  }
  const rows = target ?? (targetFile === undefined ? null : rowsIn(readTextFile(targetFile)));
  if (rows === null) {
    if ([degrees, rpm, tolerance, initial].every((one) => one === undefined)) return null;
    throw new BobweightError(
      "USAGE",
      "--degrees, --rpm, --tolerance and --initial are of a target; give it by --target.",
    );
  }
  return {
    rows,
    degrees: degrees ?? null,
    rpm: rpm ?? null,
    toleranceDeg: tolerance ?? null,
    initialDeg: initial ?? null,
  };
}

/** What follows a # is passed over, as in notes. */
function rowsIn(text: string): string[] {
  return text
    .split(/\r?\n/)
    .map((line) => line.replace(/#.*/, "").trim())
    .filter((line) => line !== "");
}

/**
 * The file with the target in place of its specification over speed; as it is without one.
 * @throws TARGET_INVALID where the rows are none or leave a scale in doubt, FILE_INVALID for the file's own faults
 */
export function withTarget(
  { name, content }: NamedFile,
  target: TypedTarget | null,
  connected: ConnectedContacts | null = null,
): NamedFile {
  if (target === null) return { name, content };
  unitFromFile(content, name, connected);
  const changed = withOwnTarget(content, target);
  checkTarget(changed, connected);
  return { name, content: changed };
}

/** @throws TARGET_INVALID */
function checkTarget(content: unknown, connected: ConnectedContacts | null): void {
  try {
    unitFromFile(content, "the target", connected);
  } catch (cause) {
    if (cause instanceof BobweightError && cause.code === "FILE_INVALID") {
      throw new BobweightError("TARGET_INVALID", cause.what, { cause });
    }
    throw cause;
  }
}
