// What is to be cured before springs are judged or changed, in words. Pure.
import type { Finding } from "../findings/finding.ts";
import { goesBeforeSprings } from "../findings/hiding.ts";
import { findingText } from "../sheet/findingWords.ts";

export interface ToSeeTo {
  readonly title: string;
  readonly check: string;
}

export function seeToFirst(findings: readonly Finding[]): readonly ToSeeTo[] {
  return findings
    .filter(({ kind }) => goesBeforeSprings(kind))
    .map(findingText)
    .map(({ title, check }) => ({ title, check }));
}

export function seeToText({ title, check }: ToSeeTo): string {
  return `See to this first: ${title}. ${check}`;
}
