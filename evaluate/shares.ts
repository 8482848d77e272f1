// Shares of cases as lines of the table.
import { beside, type Figure } from "../accuracy/bar.ts";

export function shareAtLeast(what: string, part: number, of: number, least: number): Figure {
  return {
    what,
    measured: percent(part / of),
    limit: `≥ ${percent(least)}`,
    count: of,
    met: of > 0 && part >= least * of,
  };
}

export function shareAtMost(what: string, part: number, of: number, most: number): Figure {
  return {
    what,
    measured: percent(part / of),
    limit: `≤ ${percent(most)}`,
    count: of,
    met: of > 0 && part <= most * of,
  };
}

export function shareBeside(what: string, part: number, of: number): Figure {
  return beside(what, percent(part / of), of);
}

export function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}
