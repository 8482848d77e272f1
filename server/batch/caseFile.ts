// Cases of a batch: each a unit, a scenario and a plan to be measured on the stand-in rig, as JSON text.
import { createHash } from "node:crypto";
import { isAbsolute, join } from "node:path";
import * as z from "zod";
import { BobweightError } from "../../core/errors.ts";
import { CONNECTED_CONTACTS } from "../../core/unit.ts";
import { parseJsonFile } from "../../core/unitFile/jsonText.ts";
import { parseShape } from "../../core/unitFile/place.ts";
import { type NamedFile, readTextFile } from "../files.ts";
import { checkSimulation, engineVersion, type MeasurementChoice } from "../measurement.ts";
import { STAND_IN } from "../rigFile.ts";

/** A case as it was written, not looked into yet. */
export interface CaseText {
  /** Its file, and its line where it has many; what results and complaints name it by. */
  readonly at: string;
  /** What paths in it start from. */
  readonly folder: string;
  /** Null: that of the file `at` in `folder`, to be read yet. */
  readonly text: string | null;
}

export interface Case {
  readonly name: string;
  readonly choice: MeasurementChoice;
  /** SHA-256 of all that its result comes from: its texts and the program's version. */
  readonly digest: string;
}

const fileOrContent = z
  .union([z.string().min(1), z.record(z.string(), z.unknown())], {
    error: ({ input }) =>
      input === undefined ? "is missing" : "give the path of a file, or an object in its place",
  })
  .describe("A path, from the folder of this file; or what would stand in that file.");

type FileOrContent = z.output<typeof fileOrContent>;

const caseSchema = z.strictObject({
  name: z.string().min(1).max(200).optional(),
  unit: fileOrContent,
  scenario: fileOrContent.optional().describe("Left out: a sound unit."),
  plan: fileOrContent.optional().describe("Left out: a plan made from the specification."),
  capsule: z.int().min(1).max(9).default(1).describe("Which of the unit's the hose is on, from 1."),
  contacts: z.enum(CONNECTED_CONTACTS).optional(),
});

export function caseJsonSchema(): object {
  return z.toJSONSchema(caseSchema, { io: "input" });
}

/** Texts of files that many cases share, so that each is read once; never more than a few. */
export class FileTexts {
  private readonly texts = new Map<string, string>();

  /** @throws FILE_UNREADABLE */
  read(path: string): string {
    const known = this.texts.get(path);
    if (known !== undefined) return known;
    const text = readTextFile(path);
    if (this.texts.size >= 32) this.texts.clear();
    this.texts.set(path, text);
    return text;
  }
}

/**
 * Reads a case with the files that it names, and checks their form.
 * @throws FILE_NOT_JSON, FILE_INVALID, FILE_UNREADABLE naming the place
 */
export function readCase(given: CaseText, files: FileTexts): Case {
  const { at, folder } = given;
  const text = given.text ?? readTextFile(join(folder, at));
  const file = parseShape(caseSchema, parseJsonFile(text, at), at);
  const sources = [text];
  const named = (what: string, one: FileOrContent): NamedFile => {
    if (typeof one !== "string") return { name: `${at}, ${what}`, content: one };
    const path = isAbsolute(one) ? one : join(folder, one);
    const content = files.read(path);
    sources.push(content);
    return { name: path, content: parseJsonFile(content, path) };
  };
  const { unit, scenario, plan, capsule, contacts } = file;
  const choice = {
    rig: STAND_IN,
    unitFile: named("unit", unit),
    scenario: scenario === undefined ? null : named("scenario", scenario),
    plan: plan === undefined ? null : named("plan", plan),
    capsule: capsule - 1,
    contacts: contacts ?? null,
    afterRecordId: null,
  };
  return { name: file.name ?? at, choice, digest: digestOf(at, sources) };
}

/** What stands for the digest of a case that cannot be read. */
export function digestOfText({ at, text }: CaseText): string {
  return digestOf(at, text === null ? [] : [text]);
}

export interface Inspected {
  readonly name: string;
  readonly digest: string;
  /** Null where nothing is wrong that can be told without a run. */
  readonly error: BobweightError | null;
}

/** Checks all that can be checked of a case without a run. */
export function inspectCase(text: CaseText, files: FileTexts): Inspected {
  let told = { name: text.at, digest: digestOfText(text) };
  try {
    const { name, digest, choice } = readCase(text, files);
    told = { name, digest };
    checkSimulation(choice);
    return { ...told, error: null };
  } catch (error) {
    if (!(error instanceof BobweightError)) throw error;
    return { ...told, error };
  }
}

function digestOf(at: string, sources: readonly string[]): string {
  return createHash("sha256")
    .update(JSON.stringify([engineVersion(), at, ...sources]))
    .digest("hex");
}
