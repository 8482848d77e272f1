// Bar: edges in the same tick, and edges at the counter's overflow, swept cycle by cycle.
import { atMost, type Bar } from "../../../accuracy/bar.ts";
import { LineCutter } from "../../../core/codec/framing.ts";
import { parseRigLine } from "../../../core/codec/rigLineReader.ts";
import type { RevPart } from "../../../core/codec/rigLines.ts";
import { CYCLES_PER_TICK, type Image } from "../imageBoard.ts";
import { openImage } from "../images.ts";

const OVERFLOW_CYCLES = 65_536 * CYCLES_PER_TICK;
const SWEEP_CYCLES = 24;
/** A turn in four overflows, 458 rpm, so that the index stays with them. */
const TURN_CYCLES = 4 * OVERFLOW_CYCLES;
/** A turn that ends nowhere near an overflow. */
const CALM_CYCLES = 1_500_000;
const HIGH_CYCLES = 100_000;
const STEP_CYCLES = 16_000;
const SENSOR_MV = 500;
const WRAP = 2 ** 32;
/** Of the stamp, and of what an instruction under way lets the simulator be late. */
const TICKS_OFF_MAX = 1.5;

export interface StampsResult {
  readonly stamps: number;
  readonly wrong: number;
}

interface Pulse {
  readonly cycle: number;
  readonly pin: number;
}

/** Gives the image pulses and collects its revolution lines. */
function play(image: Image, pulses: readonly Pulse[]): readonly RevPart[] {
  const lines: RevPart[] = [];
  const cutter = new LineCutter((bytes, from, to) => {
    const line = parseRigLine(bytes.subarray(from, to));
    if (line.type === "rev") lines.push(line);
  });
  const levels = pulses
    .flatMap(({ cycle, pin }) => [
      { cycle, pin, level: 1 },
      { cycle: cycle + HIGH_CYCLES, pin, level: 0 },
    ])
    .sort((one, other) => one.cycle - other.cycle);
  const end = (levels.at(-1)?.cycle ?? 0) + 100 * STEP_CYCLES;
  let next = 0;
  for (let until = STEP_CYCLES; until < end; until += STEP_CYCLES) {
    const from = next;
    while (next < levels.length && (levels[next]?.cycle ?? 0) < until) next++;
    const step = image.step(until, levels.slice(from, next), new Uint8Array(), SENSOR_MV, 0);
    cutter.push(step.bytes);
  }
  return lines;
}

/** The cycle at which the counters stood at nought, by pulses far from any overflow. */
function originCycle(): number {
  const image = openImage(1);
  try {
    const pulses = [1, 2, 3, 4].map((turn) => ({ cycle: turn * CALM_CYCLES, pin: 0 }));
    const [first] = play(image, pulses);
    if (first === undefined) throw new Error("the image sent no turn");
    return CALM_CYCLES - first.indexTick * CYCLES_PER_TICK;
  } finally {
    image.close();
  }
}

/**
 * Index pulses whose place against an overflow moves on by one cycle each turn, an opening within eight
 * cycles of each, and one as near to the overflow in the middle of the turn.
 */
async function job(index: number): Promise<StampsResult> {
  const origin = originCycle();
  const turns = 2 * SWEEP_CYCLES;
  const indexes: number[] = [];
  const openings: number[] = [];
  for (let turn = 0; turn < turns; turn++) {
    const overflow = origin + (turn + 2) * TURN_CYCLES;
    const off = ((turn + index) % 17) - 8;
    indexes.push(overflow + turn - SWEEP_CYCLES);
    openings.push(overflow + turn - SWEEP_CYCLES + off);
    openings.push(overflow + 2 * OVERFLOW_CYCLES + SWEEP_CYCLES - turn);
  }
  const image = openImage(1);
  try {
    const lines = play(image, [
      ...indexes.map((cycle) => ({ cycle, pin: 0 })),
      ...openings.map((cycle) => ({ cycle, pin: 1 })),
    ]);
    return compare(lines, indexes, openings, origin);
  } finally {
    image.close();
  }
}

function compare(
  lines: readonly RevPart[],
  indexes: readonly number[],
  openings: readonly number[],
  origin: number,
): StampsResult {
  const isNear = (tick: number, cycle: number | undefined) => {
    if (cycle === undefined) return false;
    const off = (((tick - (cycle - origin) / CYCLES_PER_TICK) % WRAP) + WRAP) % WRAP;
    return Math.min(off, WRAP - off) <= TICKS_OFF_MAX;
  };
  // The last two turns are never told: what comes after them is not known.
  const told = indexes.length - 2;
  const seenIndexes = lines.map(({ indexTick }) => indexTick);
  const seen = lines.flatMap(({ indexTick, duringTicks, eventEdges, eventTicks }) =>
    eventTicks.flatMap((tick, i) =>
      eventEdges[i] === "a" && tick < duringTicks ? [indexTick + tick] : [],
    ),
  );
  // An opening just before the first index belongs to no turn, one before the last told to that turn.
  const first = (seen[0] ?? 0) - (seenIndexes[0] ?? 0) < 10 ? 0 : 1;
  const wanted = openings.slice(first).slice(0, seen.length);
  const wrong =
    Math.abs(told - lines.length) +
    Math.max(0, 2 * told - 1 - seen.length) +
    seenIndexes.filter((tick, i) => !isNear(tick, indexes[i])).length +
    seen.filter((tick, i) => !isNear(tick, wanted[i])).length +
    lines.filter(({ lost }) => lost).length;
  return { stamps: seenIndexes.length + seen.length, wrong };
}

export const stamps: Bar<StampsResult> = {
  name: "stamps",
  counts: { short: 3, long: 17 },
  job,
  figures: (results) => [
    atMost(
      "wrong stamps: edges in one tick and at the overflow, swept cycle by cycle",
      results.reduce((sum, { wrong }) => sum + wrong, 0),
      0,
      results.reduce((sum, { stamps: count }) => sum + count, 0),
      "",
      0,
    ),
  ],
};
