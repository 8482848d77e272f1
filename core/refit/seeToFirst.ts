// What is to be cured before springs are judged or changed, in words. Pure.
import type { Finding } from "../findings/finding.ts";
import { goesBeforeSprings } from "../findings/hiding.ts";
import { type FindingForm, findingText } from "../sheet/findingWords.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";

export interface ToSeeTo {
  readonly title: string;
  readonly check: string;
}

export function seeToFirst(findings: readonly Finding[], form?: FindingForm): readonly ToSeeTo[] {
  return findings
    .filter(({ kind }) => goesBeforeSprings(kind))
    .map((one) => findingText(one, form))
    .map(({ title, check }) => ({ title, check }));
}

export function seeToText({ title, check }: ToSeeTo, say: Speech = ENGLISH): string {
  return say.findings.seeToFirst(title, check);
}
