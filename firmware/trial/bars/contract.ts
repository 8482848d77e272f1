// Bar: the whole protocol, clause by clause, as `bobweight rigs test` goes through it.
import { atMost, type Bar, beside } from "../../../accuracy/bar.ts";
import { LOCKED } from "../../../accuracy/lockedCam.ts";
import type { HandTask, Person } from "../../../server/conformance/person.ts";
import { RigTest } from "../../../server/conformance/rigTest.ts";
import { StandInBytePort } from "../../../server/link/standInPort.ts";
import { VirtualScheduler } from "../../../server/schedulers.ts";
import type { Plant } from "../../../sim/plant.ts";
import { parseScenario } from "../../../sim/scenario.ts";
import type { Image, ImageBoard } from "../imageBoard.ts";
import { type ImageEdges, imageBoards, rigFor } from "../images.ts";

const EDGES: readonly ImageEdges[] = [1, 36];
const SPEED_MAX_RPM = 4500;
const BAUD = 500_000;
const HAND_MS = 200;

export interface ContractResult {
  readonly edges: ImageEdges;
  /** Bytes from the host that were not fetched in time. */
  readonly overruns: number;
  readonly held: number;
  /** Clause and what was seen. */
  readonly broken: readonly string[];
  /** Clauses that lines from outside cannot prove. */
  readonly notTested: readonly string[];
}

async function job(index: number): Promise<ContractResult> {
  const edges = EDGES[index] as ImageEdges;
  const scheduler = new VirtualScheduler();
  let image: Image | null = null;
  let board: ImageBoard | null = null;
  let plant: Plant | null = null;
  const boards = imageBoards(edges, (on, made) => {
    board = on;
    image = made;
  });
  const scenario = parseScenario({ mechanism: LOCKED, rig: rigFor(edges) }, "scenario");
  const port = new StandInBytePort(scenario, scheduler, 0, (made, ...rest) => {
    plant = made;
    return boards(made, ...rest);
  });
  const hands: Readonly<Record<HandTask, (plant: Plant) => void>> = {
    "open guard": (at) => {
      at.guardShut = false;
    },
    "shut guard": (at) => {
      at.guardShut = true;
    },
    "press stop": (at) => {
      at.stopPressed = true;
    },
    "release stop": (at) => {
      at.stopPressed = false;
    },
    // No index any more: for the board it is the same.
    "pull index": (at) => {
      at.motor.jammed = true;
    },
    "put index back": (at) => {
      at.motor.jammed = false;
    },
    "pull sensor": (at) => {
      at.sensorFailed = true;
    },
    "put sensor back": (at) => {
      at.sensorFailed = false;
    },
    "reset board": () => {
      if (image !== null) image.next = "hangs";
    },
  };
  const person: Person = {
    agrees: () => Promise.resolve(true),
    please: (task) =>
      void scheduler.after(HAND_MS, () => {
        if (plant !== null) hands[task](plant);
      }),
    did: () => new Promise((resolve) => scheduler.after(2 * HAND_MS, () => resolve(true))),
  };
  const test = new RigTest(port, scheduler, {
    speedMaxRpm: SPEED_MAX_RPM,
    baud: BAUD,
    person,
    agree: () => Promise.resolve(true),
    say: () => {},
  });
  const { findings, ended } = await scheduler.run(test.run());
  if (ended !== null) throw ended;
  // Set from within a callback, which the compiler does not follow.
  const { last } = board as unknown as ImageBoard;
  const of = (wanted: string) => findings.filter(({ verdict }) => verdict === wanted);
  return {
    edges,
    overruns: last?.overruns ?? Number.NaN,
    held: of("holds").length,
    broken: of("broken").map(({ clause, what, text }) => `${clause} ${what}: ${text}`),
    notTested: of("not tested").map(({ clause }) => clause),
  };
}

export const contract: Bar<ContractResult> = {
  name: "contract",
  counts: { short: 1, long: EDGES.length },
  job,
  figures: (results) =>
    results.flatMap(({ edges, overruns, held, broken, notTested }) => [
      atMost(
        `clauses of the protocol broken, ${edges} pickup edges${broken.map((one) => `; ${one}`).join("")}`,
        broken.length,
        0,
        held + broken.length,
        "",
        0,
      ),
      atMost("… bytes from the host not fetched in time", overruns, 0, 1, "", 0),
      beside(
        `not to be told from the lines: ${notTested.join(", ")}`,
        String(notTested.length),
        notTested.length,
      ),
    ]),
};
