// Errors as the page gets them: a code, and a text that says what happened and what to do.

import { BobweightError, CATALOGUE, type ErrorCode } from "../../core/errors.ts";
import type { Refusal } from "../../core/messages.ts";
import { type Said, said, textOf } from "../../core/said.ts";

export function refusalOf(code: ErrorCode, what: Said): Refusal {
  return { code, text: `${textOf(what)} ${CATALOGUE[code].remedy}`, said: what };
}

/** What is no BobweightError is our bug: its details go to `report`, not to the page. */
export function refusalFrom(error: unknown, report: (error: unknown) => void): Refusal {
  if (error instanceof BobweightError) return error.told;
  report(error);
  return refusalOf("BUG", said("Something went wrong inside the program."));
}

const NOT_THERE: ReadonlySet<ErrorCode> = new Set([
  "RECORD_UNKNOWN",
  "JOB_UNKNOWN",
  "LOGO_UNKNOWN",
  "UNIT_UNKNOWN",
]);

/** HTTP status of a BobweightError. */
export function statusOf(error: BobweightError): number {
  if (NOT_THERE.has(error.code)) return 404;
  switch (error.kind) {
    case "usage":
    case "input":
      return 400;
    case "unavailable":
      return 409;
    case "rig":
    case "storage":
    case "bug":
      return 500;
  }
}
