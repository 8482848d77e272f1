// Leaves out mutants that do not compile: nobody could have made that mistake. And those that were not drawn.
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join, relative, resolve } from "node:path";
import { type Checker, type CheckResult, CheckStatus } from "@stryker-mutator/api/check";
import type { Mutant, StrykerOptions } from "@stryker-mutator/api/core";
import { commonTokens, declareClassPlugin, PluginKind, tokens } from "@stryker-mutator/api/plugin";
import ts from "typescript";

/** The reason by which the table tells those that were not drawn from those that do not compile. */
export const NOT_DRAWN = "not drawn";
export const CHECKER_NAME = "compile";

/** So many of a file are compiled at once: libraries are read once for all of them. */
const GROUP_MAX = 100;

interface DrawOptions extends StrykerOptions {
  readonly drawnPercent: number;
  readonly seed: number;
}

class CompileChecker implements Checker {
  static readonly inject = tokens(commonTokens.options);
  private readonly options: DrawOptions;
  /** Everything but the mutants, read and parsed once. */
  private readonly sources = new Map<string, ts.SourceFile | undefined>();

  constructor(options: StrykerOptions) {
    this.options = options as DrawOptions;
  }

  async init(): Promise<void> {}

  async group(mutants: Mutant[]): Promise<string[][]> {
    const groups: string[][] = [];
    for (const fileName of new Set(mutants.map((mutant) => mutant.fileName))) {
      const ofFile = mutants.filter((mutant) => mutant.fileName === fileName);
      for (let from = 0; from < ofFile.length; from += GROUP_MAX) {
        groups.push(ofFile.slice(from, from + GROUP_MAX).map(({ id }) => id));
      }
    }
    return groups;
  }

  async check(mutants: Mutant[]): Promise<Record<string, CheckResult>> {
    const results: Record<string, CheckResult> = {};
    const drawn: Mutant[] = [];
    for (const mutant of mutants) {
      if (isDrawn(mutant, this.options)) drawn.push(mutant);
      else results[mutant.id] = { status: CheckStatus.CompileError, reason: NOT_DRAWN };
    }
    const [first] = drawn;
    if (first !== undefined) Object.assign(results, this.compile(first.fileName, drawn));
    return results;
  }

  /** Each mutant as a file of its own beside the original, all in one program. */
  private compile(fileName: string, mutants: readonly Mutant[]): Record<string, CheckResult> {
    const text = readFileSync(fileName, "utf8");
    const texts = new Map([[besides(fileName, "original"), text]]);
    for (const mutant of mutants) texts.set(besides(fileName, mutant.id), mutated(text, mutant));
    const program = ts.createProgram([...texts.keys()], optionsFor(fileName), this.host(texts));
    const errorOf = (name: string) => {
      const source = program.getSourceFile(name);
      const [error] = [
        ...program.getSyntacticDiagnostics(source),
        ...program.getSemanticDiagnostics(source),
      ];
      return error === undefined ? null : ts.flattenDiagnosticMessageText(error.messageText, "\n");
    };
    const own = errorOf(besides(fileName, "original"));
    if (own !== null) throw new Error(`${fileName} does not compile unchanged: ${own}`);
    return Object.fromEntries(
      mutants.map(({ id }) => {
        const reason = errorOf(besides(fileName, id));
        return [
          id,
          reason === null
            ? { status: CheckStatus.Passed }
            : { status: CheckStatus.CompileError, reason },
        ];
      }),
    );
  }

  private host(texts: ReadonlyMap<string, string>): ts.CompilerHost {
    const host = ts.createCompilerHost({});
    return {
      ...host,
      fileExists: (name) => texts.has(name) || host.fileExists(name),
      readFile: (name) => texts.get(name) ?? host.readFile(name),
      getSourceFile: (name, languageVersion, ...more) => {
        const text = texts.get(name);
        if (text !== undefined) return ts.createSourceFile(name, text, languageVersion);
        if (!this.sources.has(name)) {
          this.sources.set(name, host.getSourceFile(name, languageVersion, ...more));
        }
        return this.sources.get(name);
      },
    };
  }
}

function besides(fileName: string, id: string): string {
  return fileName.replace(/\.ts$/, `.mutant${id}.ts`);
}

function mutated(text: string, { location, replacement }: Mutant): string {
  const source = ts.createSourceFile("", text, ts.ScriptTarget.Latest);
  const at = ({ line, column }: { line: number; column: number }) =>
    source.getPositionOfLineAndCharacter(line, column);
  return text.slice(0, at(location.start)) + replacement + text.slice(at(location.end));
}

/** Those of the project that the file belongs to. */
function optionsFor(fileName: string): ts.CompilerOptions {
  const [folder = "."] = relative(process.cwd(), fileName).split("/");
  const path = resolve(folder, "tsconfig.json");
  const { config } = ts.readConfigFile(path, ts.sys.readFile);
  const { options } = ts.parseJsonConfigFileContent(config, ts.sys, join(path, ".."));
  return { ...options, composite: false, incremental: false, noEmit: true };
}

/** By what is changed into what, so that a mutant stays drawn though lines elsewhere change. */
function isDrawn(mutant: Mutant, { drawnPercent, seed }: DrawOptions): boolean {
  const { fileName, mutatorName, replacement, location } = mutant;
  const lines = readFileSync(fileName, "utf8").split("\n");
  const line = lines[location.start.line]?.trim();
  const key = [seed, relative(process.cwd(), fileName), mutatorName, line, replacement];
  const digest = createHash("sha256").update(JSON.stringify(key)).digest();
  return digest.readUInt32BE(0) < (drawnPercent / 100) * 2 ** 32;
}

export const strykerPlugins = [
  declareClassPlugin(PluginKind.Checker, CHECKER_NAME, CompileChecker),
];
