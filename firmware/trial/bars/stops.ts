// Bar: the drive is off in time, whatever goes wrong, and never on for what is no command.
import { atMost, type Bar } from "../../../accuracy/bar.ts";
import { Draw } from "../../../accuracy/draw.ts";
import { LOCKED } from "../../../accuracy/lockedCam.ts";
import { encodeLine } from "../../../core/codec/framing.ts";
import { type Bench, onBench } from "../bench.ts";
import { CPU_HZ } from "../imageBoard.ts";

const SCENARIO = { mechanism: LOCKED };
const MAX_RPM = 4500;

interface Stop {
  readonly what: string;
  readonly limitMs: number;
  /** Milliseconds from what should stop the drive until it was off. */
  measure(bench: Bench): Promise<number>;
}

const ms = (cycles: number) => (1000 * cycles) / CPU_HZ;

/** @throws where the drive is still on: a time of nothing would look good */
function offCycle({ board }: Bench): number {
  if (board.last === null || board.last.driveOn) throw new Error("the drive is still on");
  return board.last.offCycle;
}

function stallAt(speedRpm: number, limitMs: number): Stop {
  return {
    what: `spindle jammed at ${speedRpm} rpm: after the last index`,
    limitMs,
    measure: async (bench) => {
      await bench.turn(speedRpm);
      bench.plant.motor.jammed = true;
      await bench.pause(limitMs / 1000 + 1);
      return ms(offCycle(bench) - (bench.board.indexCycles.at(-1) as number));
    },
  };
}

const STOPS: readonly Stop[] = [
  {
    what: "no stay-alive any more: after the last one sent",
    limitMs: 500,
    measure: async (bench) => {
      await bench.turn(1000);
      bench.fresh = false;
      await bench.pause(1);
      return ms(offCycle(bench) - bench.aliveCycle());
    },
  },
  {
    what: "guard opened",
    limitMs: 10,
    measure: async (bench) => {
      await bench.turn(1000);
      bench.plant.guardShut = false;
      await bench.pause(0.5);
      return ms(offCycle(bench) - bench.board.inputsCycle);
    },
  },
  {
    what: "stop input pressed",
    limitMs: 10,
    measure: async (bench) => {
      await bench.turn(1000);
      bench.plant.stopPressed = true;
      await bench.pause(0.5);
      return ms(offCycle(bench) - bench.board.inputsCycle);
    },
  },
  {
    what: "motor runs away: after the index that shows 110 % of the highest speed",
    limitMs: 10,
    measure: async (bench) => {
      await bench.turn(4000);
      bench.plant.motor.runsAway = true;
      await bench.pause(3);
      const { indexCycles } = bench.board;
      const shortest = (60 * CPU_HZ) / (1.1 * MAX_RPM);
      const at = indexCycles.findIndex(
        (cycle, i) => i > 0 && cycle - (indexCycles[i - 1] as number) < shortest,
      );
      if (at < 0) throw new Error("the motor did not get so fast");
      return ms(offCycle(bench) - (indexCycles[at] as number));
    },
  },
  stallAt(1000, 500),
  stallAt(60, 1500),
  {
    what: "program hangs: after it did, by the watchdog, and no motion after it",
    limitMs: 200,
    measure: async (bench) => {
      await bench.turn(1000);
      bench.image.next = "hangs";
      const hung = bench.board.last?.cycle ?? 0;
      await bench.pause(1);
      if ((bench.board.last?.resets ?? 0) < 1) throw new Error("the watchdog did nothing");
      return ms(offCycle(bench) - hung);
    },
  },
];

const GARBAGE_STEPS = 400;
const REBOOT_STEPS = 200;

export interface StopsResult {
  readonly stop: number | "garbage" | "boot";
  readonly tookMs: number;
  /** Steps of 1 ms in which the drive was on although nothing allowed it. */
  readonly driven: number;
}

/** The power fails and returns: the same chip boots, says so by another BOOT, and moves nothing. */
function reboot(): Promise<StopsResult> {
  const scenario = { ...SCENARIO, incidents: [{ what: "boardReboots", atRpm: 950 }] };
  return onBench(1, scenario, async ({ turn, pause, plant, lost }) => {
    await turn(1000);
    if (lost[0]?.code !== "RIG_REBOOTED") throw new Error("no host would have seen the boot");
    let driven = 0;
    for (let i = 0; i < REBOOT_STEPS; i++) {
      await pause(0.01);
      if (plant.inputs.drive !== null || plant.inputs.pump > 0) driven++;
    }
    return { stop: "boot", tookMs: 0, driven };
  });
}

/** Bytes at random, whole lines with wrong tokens or in the wrong order, and cut ones. */
async function garbage(index: number): Promise<StopsResult> {
  const draw = new Draw("firmware-garbage", index);
  return onBench(1, SCENARIO, async ({ write, pause, plant }) => {
    const drivenBefore = plant.timeS;
    let driven = 0;
    for (let i = 0; i < GARBAGE_STEPS; i++) {
      const token = draw
        .whole(0, 2 ** 32 - 1)
        .toString(16)
        .toUpperCase()
        .padStart(8, "0");
      const line = draw.oneOf([
        `speed,${draw.whole(1, 1e6)},${token},cw,1000,500`,
        `speed,${draw.whole(1, 1e6)},,cw,1000,500`,
        `alive,${token}`,
        `vacuum,${draw.whole(1, 1e6)},${token},20000`,
        `ask,${draw.whole(1, 1e6)}`,
      ]);
      const whole = Buffer.from(encodeLine(line));
      if (draw.chance(0.3)) whole[draw.whole(0, whole.length - 1)] = draw.whole(0, 255);
      write(draw.chance(0.3) ? whole.subarray(0, draw.whole(1, whole.length)) : whole);
      write(Uint8Array.from({ length: draw.whole(0, 60) }, () => draw.whole(0, 255)));
      await pause(0.02);
      if (plant.inputs.drive !== null || plant.inputs.pump > 0) driven++;
    }
    if (plant.timeS - drivenBefore < 5) throw new Error("no time went by");
    return { stop: "garbage", tookMs: 0, driven };
  });
}

async function job(index: number): Promise<StopsResult> {
  const round = index % KINDS;
  if (round === STOPS.length) return garbage(index);
  if (round > STOPS.length) return reboot();
  const stop = STOPS[round] as Stop;
  return onBench(1, { ...SCENARIO, seed: index + 1 }, async (bench) => {
    const tookMs = await stop.measure(bench);
    return { stop: round, tookMs, driven: 0 };
  });
}

function neverOn(results: readonly StopsResult[], kind: string, steps: number, what: string) {
  const own = results.filter(({ stop }) => stop === kind);
  const driven = own.reduce((sum, one) => sum + one.driven, 0);
  return atMost(`drive or pump on for ${what}`, driven, 0, steps * own.length, "", 0);
}

/** Every stop, garbage and boot. */
const KINDS = STOPS.length + 2;

export const stops: Bar<StopsResult> = {
  name: "stops",
  counts: { short: KINDS, long: 10 * KINDS },
  job,
  figures: (results) => [
    ...STOPS.map(({ what, limitMs }, i) => {
      const own = results.filter(({ stop }) => stop === i);
      const longest = Math.max(...own.map(({ tookMs }) => tookMs));
      return atMost(`drive off, ${what}`, longest, limitMs, own.length, " ms", 2);
    }),
    neverOn(results, "garbage", GARBAGE_STEPS, "garbage, broken lines and wrong tokens"),
    neverOn(results, "boot", REBOOT_STEPS, "what came before the power failed"),
  ],
};
