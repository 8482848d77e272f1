// Bar: time of the chain from bytes to readings, as a multiple of plain line reading of the same bytes.
import { ReadlineParser } from "serialport";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { readingsOf } from "../readings.ts";
import { type Recording, record } from "../recording.ts";
import { secondsOfEach } from "../timing.ts";

const LIMIT = 2.5;
const PICKUP_EDGES = [36, 1] as const;

export interface ChainResult {
  readonly pickupEdges: number;
  readonly turns: number;
  readonly bytes: number;
  /** Processor seconds of one pass. */
  readonly chainS: number;
  readonly readlineS: number;
  readonly splittingS: number;
}

async function job(index: number): Promise<ChainResult> {
  const pickupEdges = PICKUP_EDGES[index % PICKUP_EDGES.length] as number;
  const recording = await record(pickupEdges);
  const {
    chain: chainS,
    readline: readlineS,
    splitting: splittingS,
  } = await secondsOfEach({
    chain: () => readingsOf(recording),
    readline: () => readline(recording),
    splitting: () => splitting(recording),
  });
  const turns = readingsOf(recording);
  return { pickupEdges, turns, bytes: recording.bytes, chainS, readlineS, splittingS };
}

/** The plain parser that comes with the serial port package. */
function readline({ chunks }: Recording): Promise<number> {
  const parser = new ReadlineParser({ delimiter: "\n" });
  let lines = 0;
  parser.on("data", () => lines++);
  for (const chunk of chunks) parser.write(chunk);
  parser.end();
  return new Promise((resolve) => parser.on("end", () => resolve(lines)));
}

/** The least that a program in JavaScript could do: text, cut at each line feed. */
function splitting({ chunks }: Recording): number {
  let rest = "";
  let lines = 0;
  for (const chunk of chunks) {
    const parts = (rest + Buffer.from(chunk).toString("latin1")).split("\n");
    rest = parts.pop() ?? "";
    lines += parts.length;
  }
  return lines;
}

function figures(results: readonly ChainResult[]): readonly Figure[] {
  return results.flatMap(({ pickupEdges, turns, chainS, readlineS, splittingS }) => {
    const ratio = chainS / readlineS;
    const name = pickupEdges === 1 ? "one index" : `${pickupEdges} edges`;
    return [
      {
        what: `bytes to readings beside plain line reading, ${name}`,
        measured: `${ratio.toFixed(2)} ×`,
        limit: `≤ ${LIMIT} ×`,
        count: turns,
        met: ratio <= LIMIT,
      },
      beside("… beside string splitting", `${(chainS / splittingS).toFixed(1)} ×`, turns),
      beside(
        "… turns per second of processor time",
        Math.round(turns / chainS).toLocaleString("en"),
        turns,
      ),
    ];
  });
}

export const chain: Bar<ChainResult> = {
  name: "chain",
  counts: { short: PICKUP_EDGES.length, long: 3 * PICKUP_EDGES.length },
  alone: true,
  job,
  figures,
};
