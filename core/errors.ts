// Every error a user can meet: one code, what happened, what to do. The kind decides the exit status.
import { type Said, textOf } from "./said.ts";

/** `operator`: a mistake in what was asked. `rig`: the rig's fault. `storage`, `bug`: ours. */
export type ErrorKind = "usage" | "input" | "unavailable" | "rig" | "storage" | "bug";

export const CATALOGUE = {
  USAGE: { kind: "usage", remedy: "See --help." },
  FILE_UNREADABLE: { kind: "input", remedy: "Check the path and that you may read the file." },
  FILE_NOT_JSON: { kind: "input", remedy: "Mend the JSON at the place named." },
  FILE_NOT_KEPT: { kind: "storage", remedy: "Check free space and your rights in its folder." },
  FILE_INVALID: {
    kind: "input",
    remedy: "Change the field named; `bobweight schema` prints what is allowed.",
  },
  CURVE_UNTOLD: {
    kind: "input",
    remedy:
      "See to what the findings name, or measure more speeds between start and stop, then ask again.",
  },
  NO_UNITS: {
    kind: "input",
    remedy: "Name unit files or a folder of them (*.unit.json), or put them into the data folder.",
  },
  TABLE_INVALID: { kind: "input", remedy: "Change the place named; see the command's --help." },
  NOTES_INVALID: {
    kind: "input",
    remedy: "Mend the line; `bobweight by-hand --help` shows the form.",
  },
  TARGET_INVALID: {
    kind: "input",
    remedy: "Mend the row, or say in it or by --degrees, --rpm and --initial what its figures are.",
  },
  PLAN_BEYOND_LIMITS: {
    kind: "input",
    remedy: "Lower the speed or vacuum in the plan, or allow more in the unit file.",
  },
  RIG_NOT_AVAILABLE: {
    kind: "unavailable",
    remedy:
      "Check the cable, the port's name (`bobweight rigs`) and that no other program has it open.",
  },
  RIG_NO_HELLO: {
    kind: "unavailable",
    remedy: "Check the rig's power, its baud setting, and that the port is the rig's.",
  },
  RIG_VERSION: {
    kind: "unavailable",
    remedy: "Bring the rig's firmware and this program to the same protocol version.",
  },
  RIG_REPLY_TIMEOUT: { kind: "rig", remedy: "Check the rig's power and cable." },
  RIG_REFUSED: { kind: "rig", remedy: "See the reason; put it right at the rig and start again." },
  RIG_GUARD_OPEN: { kind: "rig", remedy: "Shut the guard and start again." },
  RIG_STOP_INPUT: { kind: "rig", remedy: "Release the stop at the rig and start again." },
  RIG_OVERSPEED: { kind: "rig", remedy: "Check the drive's speed control before the next run." },
  RIG_STALL: {
    kind: "rig",
    remedy:
      "Check that the spindle turns freely by hand, with the rig's power off, and that the index pickup works.",
  },
  RIG_SENSOR: { kind: "rig", remedy: "Check the vacuum sensor and its lead." },
  RIG_ALIVE_LOST: {
    kind: "rig",
    remedy:
      "The rig stopped because our sign of life did not reach it. Check the cable and the computer's load.",
  },
  RIG_DISARMED: {
    kind: "rig",
    remedy: "Check the rig's power supply, and that no other program uses its port.",
  },
  RIG_REBOOTED: { kind: "rig", remedy: "Check the rig's power supply." },
  RIG_SPEED_NOT_REACHED: { kind: "rig", remedy: "Check the drive; lower the speed in the plan." },
  RIG_NO_TURNS: { kind: "rig", remedy: "Check the index pickup and its lead." },
  LINK_LOST: { kind: "rig", remedy: "Check the cable. The rig stops by itself; nothing resumes." },
  NO_SPARKS: {
    kind: "rig",
    remedy: "Check the trigger lead, the contacts' gap, and the unit's firing edge.",
  },
  LOBES_UNKNOWN: {
    kind: "rig",
    remedy: "Check the number and angles of the lobes in the unit file, and the trigger's edge.",
  },
  ROTATION_DOUBTFUL: {
    kind: "rig",
    remedy:
      "Is the direction of rotation in the unit file right? Look at the drive end or the vacuum arm; change it and measure again.",
  },
  CAM_NOT_LOCKED: {
    kind: "rig",
    remedy:
      "Lock cam and plate so that neither can move, take the hose off the capsule, and check again.",
  },
  CHECK_TOO_LITTLE: { kind: "input", remedy: "Give the check what it needs and start it again." },
  CHECK_DOUBTFUL: { kind: "rig", remedy: "Find the cause and check again; nothing was kept." },
  STOPPED_BY_USER: { kind: "rig", remedy: "Start again when ready." },
  STOPPED_PAGE_GONE: { kind: "rig", remedy: "Keep the page open while the spindle turns." },
  RIG_BUSY: { kind: "unavailable", remedy: "Wait for the run to end, or stop it." },
  PORT_TAKEN: {
    kind: "unavailable",
    remedy: "Close the other Bobweight, or choose another port with --port.",
  },
  REQUEST_REFUSED: {
    kind: "usage",
    remedy: "Use the page at the address that Bobweight printed when it started.",
  },
  FOLDER_SERVED: {
    kind: "unavailable",
    remedy: "Use the page of the other Bobweight, end it, or name another folder by --data.",
  },
  NOT_ADMITTED: {
    kind: "usage",
    remedy: "Open the address that Bobweight printed when it started, all of it.",
  },
  PASSWORD_WRONG: { kind: "usage", remedy: "Type it once more." },
  STORE_DAMAGED: {
    kind: "storage",
    remedy:
      "End Bobweight, then bring a backup back, or run `bobweight rescue`: it carries what can be read into a new file and keeps the damaged one.",
  },
  DATABASE_AWAY: {
    kind: "unavailable",
    remedy:
      "See to it that the database runs and can be reached. Measuring goes on meanwhile: records wait on this computer and are handed over by themselves.",
  },
  STORE_FAILED: { kind: "storage", remedy: "Check free space and rights of the data folder." },
  PSEUDO_TERMINAL_UNAVAILABLE: {
    kind: "unavailable",
    remedy:
      "On Linux or macOS install the optional package node-pty; elsewhere use the stand-in rig inside the program.",
  },
  RECORD_UNKNOWN: { kind: "input", remedy: "List the records with `bobweight sheet --list`." },
  UNIT_UNKNOWN: { kind: "input", remedy: "Choose the unit from the list of units." },
  UNIT_REPLACED: {
    kind: "input",
    remedy: "Load the page anew, look at what it has become, and edit that.",
  },
  RECORD_NOTE_REFUSED: {
    kind: "input",
    remedy: "Load the record anew; take back what no longer counts, or write on the job's card.",
  },
  BACKUP_BUSY: { kind: "unavailable", remedy: "Wait until it is done, then ask again." },
  BACKUP_BROKEN: { kind: "input", remedy: "Take another backup; this one is not brought back." },
  JOB_UNKNOWN: { kind: "input", remedy: "Choose the job from the list of jobs." },
  JOB_INVALID: { kind: "input", remedy: "Change the field named on the job card." },
  PHOTO_INVALID: { kind: "input", remedy: "Take JPEG, PNG or WebP pictures of at most 15 MB." },
  SETTINGS_INVALID: {
    kind: "input",
    remedy: "Change the setting named; `bobweight settings --help` shows what each may be.",
  },
  LOGO_INVALID: { kind: "input", remedy: "Take a PNG or JPEG picture of at most 200 kB." },
  LOGO_UNKNOWN: { kind: "input", remedy: "Add one on the page under Settings." },
  RECORD_FILE_BROKEN: {
    kind: "input",
    remedy: "Nothing was brought in. Export the record again where it was made.",
  },
  RECORD_OTHER_CONTENT: {
    kind: "input",
    remedy:
      "Nothing was overwritten. One of the two was changed after it was made: compare them with where the record comes from.",
  },
  RECORD_EARLIER_MISSING: {
    kind: "input",
    remedy: "Bring that record in first, or both files at once.",
  },
  RECORD_OTHER_UNIT: {
    kind: "input",
    remedy: "A run can only follow a record of the same unit, both real or both simulated.",
  },
  RECORD_INCOMPLETE: {
    kind: "input",
    remedy: "The record's figures stand as they were; only the raw lines are not whole.",
  },
  BUG: { kind: "bug", remedy: "This is our mistake. Keep the message and report it." },
} as const satisfies Record<string, { kind: ErrorKind; remedy: string }>;

export type ErrorCode = keyof typeof CATALOGUE;

/** What ended something or was refused, as plain JSON. */
export interface Told {
  readonly code: string;
  /** In English: what happened and, of an error, what to do. */
  readonly text: string;
  /** What happened; left out where there is English only, as in records of older versions. */
  readonly said?: Said;
}

/** An error meant for people: `CODE: what happened. What to do.` */
export class BobweightError extends Error {
  readonly code: ErrorCode;
  /** In English. */
  readonly what: string;
  /** What happened, for every language; null where it is told in English only. */
  readonly said: Said | null;

  /** @param what a text where only a command says it, or where it is our bug */
  constructor(code: ErrorCode, what: Said | string, options?: { cause?: unknown }) {
    const text = typeof what === "string" ? what : textOf(what);
    super(`${code}: ${text} ${CATALOGUE[code].remedy}`, options);
    this.name = "BobweightError";
    this.code = code;
    this.what = text;
    this.said = typeof what === "string" ? null : what;
  }

  /** As page and records have it: `text` for whoever speaks English, what was said for the others. */
  get told(): Told {
    const text = `${this.what} ${this.remedy}`;
    return this.said === null
      ? { code: this.code, text }
      : { code: this.code, text, said: this.said };
  }

  get kind(): ErrorKind {
    return CATALOGUE[this.code].kind;
  }

  get remedy(): string {
    return CATALOGUE[this.code].remedy;
  }
}
