// Bar: nothing is lost or changes places at the highest rate, unpaced.
import { atMost, type Bar, beside } from "../../../accuracy/bar.ts";
import { LOCKED } from "../../../accuracy/lockedCam.ts";
import { onBench } from "../bench.ts";
import { CPU_HZ } from "../imageBoard.ts";

const LOBES = 8;
const SPEED_RPM = 4000;
const SECONDS = [20, 600] as const;

export interface EventsResult {
  readonly rigS: number;
  readonly turns: number;
  readonly wrong: number;
  /** Of rig time to processor time, physics and host included. */
  readonly pace: number;
}

function job(index: number): Promise<EventsResult> {
  const rigS = SECONDS[index] ?? 0;
  const scenario = { unit: { lobes: LOBES }, mechanism: LOCKED };
  return onBench(1, scenario, async ({ turns, turn, pause, link, board }) => {
    await turn(SPEED_RPM);
    turns.length = 0;
    const fromMs = performance.now();
    await pause(rigS);
    const tookS = (performance.now() - fromMs) / 1000;
    const wrong = turns.filter((one, i) => {
      const before = turns[i - 1];
      const follows = before === undefined || one.sequence === (before.sequence + 1) % 2 ** 32;
      const alternate = one.eventEdges.every(
        (edge, at) => at === 0 || edge !== one.eventEdges[at - 1],
      );
      return (
        !follows || one.lost || one.every !== 1 || one.eventEdges.length !== 2 * LOBES || !alternate
      );
    }).length;
    const expected = Math.floor((rigS * SPEED_RPM) / 60);
    await link.stop();
    const late = board.last?.lateEdges ?? 0;
    return {
      rigS,
      turns: turns.length,
      wrong: wrong + Math.max(0, expected - 2 - turns.length) + late,
      pace: rigS / tookS,
    };
  });
}

export const events: Bar<EventsResult> = {
  name: "events",
  counts: { short: 1, long: 2 },
  job,
  figures: (results) => [
    ...results.map(({ rigS, turns, wrong }) =>
      atMost(
        `turns with an event lost or out of place, 8 lobes, 4,000 rpm, ${rigS} s of rig time`,
        wrong,
        0,
        turns,
        "",
        0,
      ),
    ),
    beside(
      `rig time against time by the clock (one core of ${CPU_HZ / 1e6} MHz simulated)`,
      `${Math.min(...results.map(({ pace }) => pace)).toFixed(1)} ×`,
      results.length,
    ),
  ],
};
