// A rig with the firmware image on it, armed and under a test's hands, in virtual time.
import type { StateLine, VacuumLine } from "../../core/codec/rigLines.ts";
import type { BobweightError } from "../../core/errors.ts";
import { keptTurn, type Turn } from "../../core/turns.ts";
import { RigLink } from "../../server/link/rigLink.ts";
import { StandInBytePort } from "../../server/link/standInPort.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import type { Plant } from "../../sim/plant.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { CPU_HZ, type Image, type ImageBoard } from "./imageBoard.ts";
import { type ImageEdges, imageBoards, rigFor } from "./images.ts";

export interface Bench {
  readonly plant: Plant;
  readonly board: ImageBoard;
  readonly image: Image;
  readonly link: RigLink;
  readonly turns: Turn[];
  readonly states: StateLine[];
  readonly vacuums: VacuumLine[];
  /** Why the link ended, if it did. */
  readonly lost: BobweightError[];
  /** Time of the last stay-alive sent, as a cycle of the image. */
  readonly aliveCycle: () => number;
  /** False: no stay-alive goes out from now on. */
  fresh: boolean;
  pause(seconds: number): Promise<void>;
  /** Arms and goes to a speed, then waits until it is held. */
  turn(speedRpm: number): Promise<void>;
  /** Straight to the port. */
  write(bytes: Uint8Array): void;
}

export async function onBench<T>(
  edges: ImageEdges,
  scenario: Record<string, unknown>,
  body: (bench: Bench) => Promise<T>,
  tracePath?: string,
): Promise<T> {
  const scheduler = new VirtualScheduler();
  const parts: { plant?: Plant; board?: ImageBoard; image?: Image } = {};
  const made = (board: ImageBoard, image: Image) => {
    parts.board = board;
    parts.image = image;
  };
  const boards = imageBoards(edges, made, tracePath);
  const rig = { ...rigFor(edges), ...(scenario.rig as object | undefined) };
  const port = new StandInBytePort(
    parseScenario({ ...scenario, rig }, "scenario"),
    scheduler,
    0,
    (plant, ...rest) => {
      parts.plant = plant;
      return boards(plant, ...rest);
    },
  );
  let aliveMs = 0;
  const write = port.write.bind(port);
  port.write = (bytes) => {
    if (Buffer.from(bytes).includes("alive,")) aliveMs = scheduler.nowMs();
    write(bytes);
  };
  const turns: Turn[] = [];
  const states: StateLine[] = [];
  const vacuums: VacuumLine[] = [];
  const lost: BobweightError[] = [];
  const link = new RigLink(port, scheduler, {
    onTurn: (turn) => turns.push(keptTurn(turn)),
    onVacuum: (vacuum) => vacuums.push(vacuum),
    onState: (state) => states.push(state),
    onRaw: () => {},
    onLost: (error) => lost.push(error),
  });
  const pause = (seconds: number) =>
    new Promise<void>((resolve) => scheduler.after(seconds * 1000, resolve));
  const run = async () => {
    await link.connect();
    const bench: Bench = {
      plant: parts.plant as Plant,
      board: parts.board as ImageBoard,
      image: parts.image as Image,
      link,
      turns,
      states,
      vacuums,
      lost,
      fresh: true,
      aliveCycle: () => (aliveMs / 1000) * CPU_HZ,
      pause,
      turn: async (speedRpm) => {
        const token = (await link.command({ type: "arm" })) ?? "";
        link.keepAlive(token, () => bench.fresh);
        await link.command({
          type: "speed",
          token,
          direction: "cw",
          speedRpm,
          rampRpmPerS: 2000,
        });
        await pause(speedRpm / 2000 + 4);
      },
      write,
    };
    try {
      return await body(bench);
    } finally {
      await link.close();
    }
  };
  return scheduler.run(run());
}
