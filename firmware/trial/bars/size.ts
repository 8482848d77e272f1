// Bar: what the firmware takes of the chip, and how long an interrupt keeps others waiting.
import { execFileSync } from "node:child_process";
import { atMost, type Bar, beside } from "../../../accuracy/bar.ts";
import { LOCKED } from "../../../accuracy/lockedCam.ts";
import { onBench } from "../bench.ts";
import { CPU_HZ } from "../imageBoard.ts";
import { type ImageEdges, imagePath } from "../images.ts";

const FLASH_BYTES = 262_144;
const RAM_BYTES = 8192;
const EDGES: readonly ImageEdges[] = [1, 36];

export interface SizeResult {
  readonly edges: ImageEdges;
  readonly flashBytes: number;
  /** With the deepest stack of a busy run. */
  readonly ramBytes: number;
  readonly longestInterruptUs: number;
}

async function job(index: number): Promise<SizeResult> {
  const edges = EDGES[index] as ImageEdges;
  // The text and data columns of the usual table: what lies in flash.
  const [, figures] = execFileSync("avr-size", [imagePath(edges)], { encoding: "utf8" }).split(
    "\n",
  );
  const [text, data] = (figures as string).trim().split(/\s+/).map(Number) as [number, number];
  const scenario = { unit: { lobes: 8 }, mechanism: LOCKED };
  return onBench(edges, scenario, async ({ turn, pause, board }) => {
    await turn(4000);
    await pause(3);
    const { ramUsedBytes = 0, longestInterruptCycles = 0 } = board.last ?? {};
    return {
      edges,
      flashBytes: text + data,
      ramBytes: ramUsedBytes,
      longestInterruptUs: (1e6 * longestInterruptCycles) / CPU_HZ,
    };
  });
}

export const size: Bar<SizeResult> = {
  name: "size",
  counts: { short: EDGES.length, long: EDGES.length },
  job,
  figures: (results) =>
    results.flatMap(({ edges, flashBytes, ramBytes, longestInterruptUs }) => [
      atMost(
        `flash, ${edges} pickup edges: ${flashBytes} bytes`,
        (100 * flashBytes) / FLASH_BYTES,
        25,
        1,
        " %",
        1,
      ),
      atMost(
        `RAM with the deepest stack, ${edges} pickup edges: ${ramBytes} bytes`,
        (100 * ramBytes) / RAM_BYTES,
        50,
        1,
        " %",
        1,
      ),
      beside(`longest interrupt, ${edges} pickup edges`, `${longestInterruptUs.toFixed(1)} µs`, 1),
    ]),
};
