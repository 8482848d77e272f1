// Bar: the angle of a spark through the real image, with one index, over speed.
import { atMost, type Bar, beside } from "../../../accuracy/bar.ts";
import { tickSpreadDeg } from "../../../accuracy/bars/quantisation.ts";
import { Draw } from "../../../accuracy/draw.ts";
import {
  deviation,
  lockedScenario,
  mean,
  type SparkError,
  sparkErrors,
} from "../../../accuracy/lockedCam.ts";
import { driveThrough } from "../../../accuracy/standIn.ts";
import type { Turn } from "../../../core/turns.ts";
import type { Edges } from "../../../sim/shaft.ts";
import { TICK_HZ } from "../imageBoard.ts";
import { imageBoards, rigFor } from "../images.ts";

const TURNS = 150;
/** With one index a spark's angle is made of three stamps. */
const ONE_INDEX = 1.29;
/**
 * The limit is made for ticks that fall anywhere: for a period that varies by a tick or more, as any
 * motor's does. A speed held to some parts in a million has the same fractions of ticks in every turn, and
 * stamps without fault then spread by more, or less, than the limit. A belt makes it vary by this amplitude.
 */
const PERIOD_TICKS = 2;

export interface AngleResult {
  readonly biasDeg: number;
  /** Spread of one spark, root mean square of the lobes, against the quantisation limit. */
  readonly ratio: number;
  /** The same of stamps without any fault, whole ticks of the true times. */
  readonly perfectRatio: number;
}

/** Times of the edges that come to the pins, in whole ticks since boot. */
class TrueTicks {
  readonly indexes: number[] = [];
  readonly events: number[] = [];
  private readonly tickHz: number;

  constructor(tickHz: number) {
    this.tickHz = tickHz;
  }

  take(edges: Edges, into: number[]): void {
    for (let i = 0; i < edges.count; i++)
      into.push(Math.floor((edges.timesS[i] as number) * this.tickHz));
  }

  /** The turn as it would be without any fault of its stamps; null where it is not known whole. */
  perfect(turn: Turn): Turn | null {
    const { indexes, events } = this;
    const at = indexes.findIndex((tick) => Math.abs(tick - turn.indexTick) < turn.duringTicks / 2);
    const [before, index, next, after] = [-1, 0, 1, 2].map((step) => indexes[at + step]);
    if (before === undefined || index === undefined) return null;
    if (next === undefined || after === undefined) return null;
    const eventTicks = events.filter((tick) => tick >= index && tick < next);
    if (eventTicks.length !== turn.eventTicks.length) return null;
    return {
      ...turn,
      indexTick: index,
      beforeTicks: index - before,
      duringTicks: next - index,
      afterTicks: after - next,
      eventTicks: eventTicks.map((tick) => tick - index),
    };
  }
}

async function job(index: number): Promise<AngleResult> {
  const draw = new Draw("firmware-angle", index);
  const lobes = index % 2 === 0 ? 4 : 8;
  const speedRpm = Math.round(10 * draw.logUniform(100, 4000)) / 10;
  const couplingDeg = draw.uniform(1, 44);
  const belt = {
    perTurn: draw.uniform(0.08, 0.16),
    percentAt1000Rpm: (100 * PERIOD_TICKS * speedRpm) / (60 * TICK_HZ),
    phaseDeg: draw.uniform(0, 360),
    constantPercent: true,
  };
  const boards = imageBoards(1);
  const ticks = new TrueTicks(TICK_HZ);
  const { hello, turns } = await driveThrough(
    lockedScenario(draw.seed(), lobes, { ...rigFor(1), couplingDeg, ripple: [belt] }),
    [{ speedRpm, rampRpmPerS: 1000, waitS: speedRpm / 1000 + 8, seconds: (60 * TURNS) / speedRpm }],
    (plant, ...rest) => {
      const board = boards(plant, ...rest);
      const afterStep = board.afterStep.bind(board);
      board.afterStep = () => {
        ticks.take(plant.pickup, ticks.indexes);
        ticks.take(plant.trigger, ticks.events);
        afterStep();
      };
      return board;
    },
  );
  const read = turns[0] ?? [];
  const errors = sparkErrors(read, hello, couplingDeg, lobes);
  const perfect = read.flatMap((turn) => ticks.perfect(turn) ?? []);
  if (perfect.length < read.length - 2) throw new Error("turns that no true edges belong to");
  const limitDeg = ONE_INDEX * tickSpreadDeg(speedRpm, hello.tickHz);
  return {
    biasDeg: mean(errors.map(({ errorDeg }) => errorDeg)),
    ratio: spreadOf(errors, lobes) / limitDeg,
    perfectRatio: spreadOf(sparkErrors(perfect, hello, couplingDeg, lobes), lobes) / limitDeg,
  };
}

/** Of one spark, root mean square of the lobes. */
function spreadOf(errors: readonly SparkError[], lobes: number): number {
  const squares = Array.from({ length: lobes }, (_, lobe) => {
    const own = errors.filter((spark) => spark.lobe === lobe);
    return deviation(own.map(({ errorDeg }) => errorDeg)) ** 2;
  });
  return Math.sqrt(mean(squares));
}

export const angle: Bar<AngleResult> = {
  name: "angle",
  counts: { short: 2, long: 100 },
  job,
  figures: (results) => [
    atMost(
      "largest bias of the angle, 100–4,000 rpm, 4 and 8 lobes",
      Math.max(...results.map(({ biasDeg }) => Math.abs(biasDeg))),
      0.02,
      results.length,
      "°",
    ),
    atMost(
      "largest spread of a spark against the quantisation limit",
      most(results, "ratio"),
      1.3,
      results.length,
      " ×",
      3,
    ),
    beside(
      "… that of stamps without any fault, of the same edges",
      `${most(results, "perfectRatio").toFixed(3)} ×`,
      results.length,
    ),
    beside(
      "… over all speeds, root mean square",
      `${Math.sqrt(mean(results.map(({ ratio }) => ratio ** 2))).toFixed(3)} ×`,
      results.length,
    ),
  ],
};

function most(results: readonly AngleResult[], of: "ratio" | "perfectRatio"): number {
  return Math.max(...results.map((result) => result[of]));
}
