// Ways to change one thing in what the board of a stand-in rig does.
import type { RefusalReason, RigFault } from "../../core/codec/rigLines.ts";
import type { Board } from "../../sim/board.ts";
import type { NumberedLine } from "../../sim/commandRecord.ts";
import type { Plant } from "../../sim/plant.ts";
import type { Broken } from "./changedLines.ts";
import type { Flaw } from "./standIn.ts";

export type Spoil = NonNullable<Flaw["board"]>;

/** What is the board's own and is spoiled here. */
export interface Insides {
  token: string | null;
  fault: RigFault;
  setRpm: number;
  aliveUntilS: number;
  driveSinceS: number;
  direction: "cw" | "ccw" | "none";
  commands: {
    number: number;
    remember(number: number, text: string, answer: string): void;
    settled(line: NumberedLine, text: string): string | null;
  };
  speedControl: {
    goTo(goalRpm: number, rampRpmPerS: number, nowRpm: number): void;
    off(): void;
    turning: boolean;
  };
  vacuumControl: { pump: number };
  reports: {
    nextStateS: number;
    state(nowS: number, condition: object): void;
    vacuum(nowS: number, readingPa: number | null, ...rest: unknown[]): void;
  };
  refusal(line: NumberedLine): RefusalReason | null;
  carryOut(line: NumberedLine): void;
  answer(line: NumberedLine): string;
  switchOff(): void;
  clearFault(): void;
  latch(fault: RigFault): void;
  watch(nowS: number): void;
  newToken(): string;
  goToSpeed(direction: "cw" | "ccw", goalRpm: number, rampRpmPerS: number): void;
}

export const insides = (board: Board) => board as unknown as Insides;

/** Has something done instead of what the board does by itself. */
export function instead<K extends keyof Insides>(
  name: K,
  make: (own: Insides[K], board: Insides, plant: Plant) => Insides[K],
): Spoil {
  return (board, plant) => {
    const inner = insides(board);
    const own = inner[name];
    const bound = (typeof own === "function" ? own.bind(inner) : own) as Insides[K];
    inner[name] = make(bound, inner, plant);
  };
}

/** Lets pass what would be refused for these reasons. */
export const lets = (...reasons: RefusalReason[]): Spoil =>
  instead("refusal", (own) => (line) => {
    const reason = own(line);
    return reason !== null && reasons.includes(reason) ? null : reason;
  });

/** Has one command done in another way. */
export const does = (
  type: NumberedLine["type"],
  how: (board: Insides, own: () => void, plant: Plant) => void,
): Spoil =>
  instead("carryOut", (own, board, plant) => (line) => {
    if (line.type === type) how(board, () => own(line), plant);
    else own(line);
  });

/** The time that an alive or arm starts is longer by this, seconds. */
export const expires =
  (laterS: number): Spoil =>
  (board) => {
    let untilS = 0;
    Object.defineProperty(board, "aliveUntilS", {
      get: () => untilS + laterS,
      set: (value: number) => {
        untilS = value;
      },
    });
  };

export const ignores = (fault: RigFault): Spoil =>
  instead("latch", (own) => (one) => {
    if (one !== fault) own(one);
  });

export const KEEPS_DRIVE: (board: Insides, own: () => void, plant: Plant) => void = (
  board,
  own,
  plant,
) => {
  const { off } = board.speedControl;
  const { drive } = plant.inputs;
  board.speedControl.off = () => {};
  own();
  board.speedControl.off = off;
  plant.inputs.drive = drive;
};

export const broken = (
  what: string,
  clauses: readonly string[],
  board: Spoil,
  more: Partial<Broken & Flaw> = {},
): Broken => {
  const { speedMaxRpm, rig } = more;
  const flaw = rig === undefined ? { board } : { board, rig };
  return { what, clauses, flaw, ...(speedMaxRpm === undefined ? {} : { speedMaxRpm }) };
};

export const settles = (
  change: (
    line: NumberedLine,
    own: () => string | null,
    number: number,
    text: string,
    record: Insides["commands"],
  ) => string | null,
): Spoil =>
  instead("commands", (own) => {
    const settled = own.settled.bind(own);
    own.settled = (line, text) => change(line, () => settled(line, text), own.number, text, own);
    return own;
  });
