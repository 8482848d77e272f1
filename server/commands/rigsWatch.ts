// `bobweight rigs watch`: what a board's inputs tell, as it comes, for whoever wires one. Moves nothing.
import type { Command } from "commander";
import type { Hello, StateLine, VacuumLine } from "../../core/codec/rigLines.ts";
import type { BobweightError } from "../../core/errors.ts";
import { keptTurn, type Turn } from "../../core/turns.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { seatedPort } from "../calibration/seatedPort.ts";
import { RigLink } from "../link/rigLink.ts";
import { RealScheduler } from "../schedulers.ts";
import { decimal } from "./numbers.ts";
import { BAUD_OPTION, RIG_CHOICE, rigNamed } from "./rigNamed.ts";

interface WatchOptions {
  readonly baud?: number;
  readonly seconds?: number;
  readonly json?: true;
}

const EVERY_MS = 500;

const HELP = `
Sends "ask", which stops whatever turns, and then only listens: guard, stop input, vacuum, and with the spindle
turned by hand its turns with their openings and closings. Ends with Ctrl-C.
Exit status: 0 ended by you or after --seconds, 64 wrong usage, 65 bad input, 69 rig not available, 75 link lost.
`;

/** Any unit will do: what it measures is not looked at. */
const NO_UNIT = { description: "no unit", lobes: 4, rotation: "cw" };

export function addWatch(rigs: Command, exit: (status: number) => void): void {
  rigs
    .command("watch")
    .description("show what a rig's inputs tell, as it comes; moves nothing")
    .argument("<rig>", RIG_CHOICE)
    .option(...BAUD_OPTION)
    .option("--seconds <n>", "end after so many", decimal(0.1, 86_400))
    .option("--json", "print one JSON object a line")
    .addHelpText("after", HELP)
    .action(async (path: string, _: unknown, command: Command) => {
      // `rigs` knows --json too and takes it before `watch` sees it.
      exit(await watch(path, command.optsWithGlobals<WatchOptions>()));
    });
}

/** What came since the last look. */
export interface Seen {
  readonly state: StateLine | null;
  readonly vacuum: VacuumLine | null;
  /** The last whole turn, and how many there were. */
  readonly turn: Turn | null;
  readonly turns: number;
}

const NOTHING: Seen = { state: null, vacuum: null, turn: null, turns: 0 };

/** One line on what was seen. */
export function seenText({ state, vacuum, turn, turns }: Seen, tickHz: number): string {
  const parts: string[] = [];
  if (state !== null) {
    const guard = state.guardShut ? "guard shut" : "guard OPEN";
    const stop = state.stopPressed ? "stop input PRESSED" : "stop input released";
    parts.push(guard, stop, `fault ${state.fault}`, `${state.nowRpm} rpm`);
  }
  if (vacuum !== null) {
    parts.push(
      `vacuum ${(vacuum.vacuumPa / 1000).toFixed(2)} kPa below ambient`,
      `valve ${vacuum.valve}`,
    );
  } else parts.push("no vacuum reading");
  if (turn !== null) {
    const openings = turn.eventEdges.filter((edge) => edge === "a").length;
    const closings = turn.eventEdges.length - openings;
    const rpm = (60 * tickHz) / turn.duringTicks;
    const lost = turn.lost ? ", edges lost" : "";
    parts.push(
      `${turns} turns, the last at ${rpm.toFixed(1)} rpm with ${openings} openings and ${closings} closings${lost}`,
    );
  } else parts.push("no whole turn");
  return parts.join(" · ");
}

async function watch(path: string, { baud, seconds, json }: WatchOptions): Promise<number> {
  const scheduler = new RealScheduler();
  const rig = rigNamed(path, baud);
  const port = seatedPort(rig, null, unitFromFile(NO_UNIT, "unit"), "first", scheduler);
  let seen = NOTHING;
  let lost: (error: BobweightError) => void = () => {};
  const lostLink = new Promise<never>((_, reject) => {
    lost = reject;
  });
  // Whoever waits for it comes later; until then nobody would have caught it.
  lostLink.catch(() => {});
  const link = new RigLink(port, scheduler, {
    onState: (state) => {
      seen = { ...seen, state };
    },
    onVacuum: (vacuum) => {
      seen = { ...seen, vacuum };
    },
    onTurn: (turn) => {
      seen = { ...seen, turn: keptTurn(turn), turns: seen.turns + 1 };
    },
    onRaw: () => {},
    onLost: (error) => lost(error),
  });
  const hello = await link.connect();
  process.stderr.write(`${helloText(hello)}\nWatching; Ctrl-C ends it.\n`);
  const tell = () => {
    const text = json ? JSON.stringify(seen) : seenText(seen, hello.tickHz);
    process.stdout.write(`${text}\n`);
    // What came is told once: a sensor that fell silent must not look alive.
    seen = NOTHING;
  };
  const timer = setInterval(tell, EVERY_MS);
  const ended = new Promise<void>((resolve) => {
    process.once("SIGINT", () => resolve());
    process.once("SIGTERM", () => resolve());
    if (seconds !== undefined) scheduler.after(1000 * seconds, () => resolve());
  });
  try {
    await Promise.race([ended, lostLink]);
    return 0;
  } finally {
    clearInterval(timer);
    await link.close();
  }
}

function helloText({ board, tickHz, edgesPerTurn, speedMinRpm, speedMaxRpm }: Hello): string {
  const edges = edgesPerTurn === 1 ? "one pickup edge" : `${edgesPerTurn} pickup edges`;
  return `${board}: ${tickHz / 1e6} MHz, ${edges} a turn, ${speedMinRpm} to ${speedMaxRpm} rpm.`;
}
