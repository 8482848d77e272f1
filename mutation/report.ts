// What became of the mutants, as text.
import { readFileSync } from "node:fs";
import { relative } from "node:path";
import type { MutantResult } from "@stryker-mutator/api/core";
import { NOT_DRAWN } from "./compileChecker.ts";
import { ANGLES } from "./equivalent/angles.ts";
import { CODEC } from "./equivalent/codec.ts";
import { SAFETY } from "./equivalent/safety.ts";

/** The bar of each area: so many of 100 mutants are to be noticed. */
export const SCORE_MIN = 90;

const HEAD = ["file", "killed", "timed out", "survived", "not compiled", "score %"];

interface Counts {
  readonly killed: number;
  readonly timedOut: number;
  readonly survived: number;
  readonly notCompiled: number;
}

function countsOf(results: readonly MutantResult[]): Counts {
  const count = (...wanted: MutantResult["status"][]) =>
    results.filter(({ status }) => wanted.includes(status)).length;
  return {
    killed: count("Killed", "RuntimeError"),
    timedOut: count("Timeout"),
    survived: count("Survived", "NoCoverage"),
    notCompiled: count("CompileError"),
  };
}

/** Noticed of those that compile, in per cent; one that makes the tests run without end is noticed. */
export function scoreOf(results: readonly MutantResult[]): number {
  const { killed, timedOut, survived } = countsOf(results);
  return (100 * (killed + timedOut)) / (killed + timedOut + survived);
}

export function drawnOf(results: readonly MutantResult[]): MutantResult[] {
  return results.filter(({ statusReason }) => statusReason !== NOT_DRAWN);
}

/** A row for each file, and one for the area. */
export function tableOf(name: string, results: readonly MutantResult[]): string {
  const files = [...new Set(results.map(({ fileName }) => fileName))].sort();
  const row = (what: string, some: readonly MutantResult[]) => {
    const { killed, timedOut, survived, notCompiled } = countsOf(some);
    const score = scoreOf(some);
    const shown = Number.isNaN(score) ? "–" : score.toFixed(1);
    return [what, ...[killed, timedOut, survived, notCompiled].map(String), shown];
  };
  const rows = [
    HEAD,
    ...files.map((file) =>
      row(
        shownPath(file),
        results.filter(({ fileName }) => fileName === file),
      ),
    ),
    row(`all of ${name}`, results),
  ];
  const widths = HEAD.map((_, column) =>
    Math.max(...rows.map((cells) => cells[column]?.length ?? 0)),
  );
  return rows
    .map((cells) =>
      cells
        .map((cell, i) => (i === 0 ? cell.padEnd(widths[i] ?? 0) : cell.padStart(widths[i] ?? 0)))
        .join("  "),
    )
    .join("\n");
}

/** Every mutant that no test noticed, with its place and what it changes. */
export function survivorsOf(results: readonly MutantResult[]): string {
  const survivors = results.filter(
    ({ status }) => status === "Survived" || status === "NoCoverage",
  );
  const lines = survivors.map((mutant) => {
    const { start } = mutant.location;
    const why = reasonOf(mutant);
    const said = why === null ? "" : `  (said to be equivalent: ${why})`;
    const place = `${shownPath(mutant.fileName)}:${start.line}:${start.column}`;
    return `${place}  ${originalOf(mutant)}  →  ${oneLine(mutant.replacement ?? "")}${said}`;
  });
  return lines.sort().join("\n");
}

/** How many of the survivors are said to change nothing that could be noticed. They count as survivors all the same. */
export function equivalentsIn(results: readonly MutantResult[]): number {
  return results.filter(
    (mutant) =>
      (mutant.status === "Survived" || mutant.status === "NoCoverage") && reasonOf(mutant) !== null,
  ).length;
}

function reasonOf(mutant: MutantResult): string | null {
  const file = shownPath(mutant.fileName);
  const line = linesOf(mutant)[mutant.location.start.line - 1];
  const replacement = oneLine(mutant.replacement ?? "");
  const entry = [...CODEC, ...ANGLES, ...SAFETY].find(
    (one) => one.file === file && one.line === line?.trim() && one.becomes === replacement,
  );
  return entry?.reason ?? null;
}

function originalOf(mutant: MutantResult): string {
  const { start, end } = mutant.location;
  const lines = linesOf(mutant).slice(start.line - 1, end.line);
  lines[lines.length - 1] = lines.at(-1)?.slice(0, end.column - 1) ?? "";
  lines[0] = lines[0]?.slice(start.column - 1) ?? "";
  return oneLine(lines.join(" "));
}

function linesOf({ fileName }: MutantResult): string[] {
  return readFileSync(fileName, "utf8").split("\n");
}

function oneLine(text: string): string {
  const joined = text.replace(/\s+/g, " ").trim();
  return joined.length > 100 ? `${joined.slice(0, 97)}…` : joined;
}

function shownPath(fileName: string): string {
  return relative(process.cwd(), fileName);
}
