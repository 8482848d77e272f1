// Exit statuses, the same for every command. 64 to 75 follow sysexits.h of BSD.
import type { EndDocument } from "../../core/documents.ts";
import { BobweightError, type ErrorKind } from "../../core/errors.ts";

/** Environment variable: `json` where another process of ours reads errors, to hand them on as they are. */
export const ERRORS_AS = "BOBWEIGHT_ERRORS";

export const EXIT_OF_KIND: Readonly<Record<ErrorKind, number>> = {
  usage: 64,
  input: 65,
  unavailable: 69,
  bug: 70,
  storage: 74,
  rig: 75,
};

/** 0 within, 1 outside, 2 unproven or without anything to judge by, else how the run ended. */
export function exitOfEnd(end: EndDocument): number {
  if (end.ending !== "completed") {
    if (end.reason?.code === "STORE_FAILED") return EXIT_OF_KIND.storage;
    if (end.reason?.code === "BUG") return EXIT_OF_KIND.bug;
    return EXIT_OF_KIND.rig;
  }
  switch (end.result.verdict) {
    case "within":
      return 0;
    case "outside":
      return 1;
    default:
      return 2;
  }
}

export const EXIT_HELP = `
Exit status: 0 within specification, 1 outside, 2 unproven (or nothing to judge by),
64 wrong usage, 65 bad input, 69 rig not available, 70 a mistake of ours,
74 storage, 75 stopped, rig fault or link lost.`;

/** For commands that check the rig rather than a unit. */
export const CHECK_EXIT_HELP = `
Exit status: 0 checked and kept, 64 wrong usage, 65 bad input or too little to go by,
69 rig not available, 70 a mistake of ours, 74 the rig file cannot be written,
75 not agreed to, stopped, rig fault, link lost, or readings that cannot be right.`;

/** For the test of a rig against the protocol. */
export const RIG_TEST_EXIT_HELP = `
Exit status: 0 all clauses that could be tested hold, 1 some are broken,
2 none is broken, but motion was not agreed to, or a part of it could not be gone through,
64 wrong usage, 65 bad input, 69 rig not available, 70 a mistake of ours,
75 stopped, or link lost.`;

/** Prints an error for people and gives the exit status. */
export function exitOfError(error: unknown): number {
  if (error instanceof BobweightError) {
    const asJson = process.env[ERRORS_AS] === "json";
    process.stderr.write(`${asJson ? JSON.stringify(error.told) : error.message}\n`);
    if (error.kind === "bug") process.stderr.write(`${error.stack ?? ""}\n`);
    return EXIT_OF_KIND[error.kind];
  }
  const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
  process.stderr.write(`${new BobweightError("BUG", text).message}\n`);
  return EXIT_OF_KIND.bug;
}
