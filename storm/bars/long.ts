// Bar: a day of rig time, as a link at full speed and as runs one after the other: nothing grows, no turn is unaccounted for.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { atMost, type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { type Turn, ticksBetween } from "../../core/turns.ts";
import { RigLink } from "../../server/link/rigLink.ts";
import { StandInBytePort } from "../../server/link/standInPort.ts";
import { makeRun } from "../../server/measurement.ts";
import { STAND_IN } from "../../server/rigFile.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import { openStore } from "../../server/store/store.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { Cable } from "../link/cable.ts";
import { drawRun } from "../link/drawnRun.ts";
import { growth, type Held, held } from "../memory.ts";

const NAME = "long";
const HOURS = 24;
const SAMPLES = 24;
const HOUR_S = 3600;
/** A byte in a million is flipped, so that there are gaps to be accounted for. */
const FLIPPED_SHARE = 1e-6;
const RIG = { pickupEdges: 1, speedMaxRpm: 4500 };
const GROWTH_MAX = { heapMb: 2, rssMb: 50, handles: 0 } as const;

export interface LongResult {
  readonly what: "link" | "runs";
  readonly hours: number;
  readonly samples: readonly Held[];
  readonly turns: number;
  /** Turns that were missing or set aside, and are counted so. */
  readonly gaps: number;
  /** Turns by the sequence less those that are good, set aside or missing, at the worst moment. */
  readonly unaccounted: number;
}

/** The link on a rig at its highest speed. */
export async function longLink(hours: number, flippedShare = FLIPPED_SHARE): Promise<LongResult> {
  const scheduler = new VirtualScheduler();
  const scenario = parseScenario(
    {
      mechanism: {
        speedTable: [
          [0, 0],
          [4000, 12],
        ],
      },
      rig: RIG,
    },
    "scenario",
  );
  const port = new StandInBytePort(scenario, scheduler, 0);
  const forEver = { fromMs: 0, toMs: Number.POSITIVE_INFINITY };
  const cable = new Cable(port, scheduler, 1, [
    { kind: "flipped", share: flippedShare, ways: ["fromRig", "toRig"], ...forEver },
  ]);
  let firstSequence: number | null = null;
  let turns = 0;
  let unaccounted = 0;
  const link = new RigLink(cable.port(cable.portName), scheduler, {
    onTurn: ({ sequence }: Turn) => {
      firstSequence ??= sequence;
      turns++;
      if (turns % 1000 > 0) return;
      const { turnsGood, turnsSetAside, turnsMissing } = link.counts;
      const accounted = turnsGood + turnsSetAside + turnsMissing;
      const off = Math.abs(ticksBetween(firstSequence, sequence) + 1 - accounted);
      unaccounted = Math.max(unaccounted, off);
    },
    onVacuum: () => {},
    onState: () => {},
    onRaw: () => {},
    onLost: () => {},
  });
  const pass = (seconds: number) =>
    scheduler.run(new Promise<void>((resolve) => scheduler.after(1000 * seconds, resolve)));
  await scheduler.run(link.connect());
  const token = (await scheduler.run(link.command({ type: "arm" }))) ?? "";
  link.keepAlive(token, () => true);
  const full = { direction: "cw", speedRpm: RIG.speedMaxRpm, rampRpmPerS: 1000 } as const;
  await scheduler.run(link.command({ type: "speed", token, ...full }));
  const samples: Held[] = [];
  for (let i = 0; i < SAMPLES; i++) {
    await pass((hours * HOUR_S) / SAMPLES);
    samples.push(held());
  }
  const { turnsSetAside, turnsMissing } = link.counts;
  await scheduler.run(link.stop());
  await link.close();
  await cable.close();
  return { what: "link", hours, samples, turns, gaps: turnsSetAside + turnsMissing, unaccounted };
}

/** Runs that are kept in a store on disk, one after the other. @throws where one is not completed */
export async function longRuns(hours: number): Promise<LongResult> {
  const folder = mkdtempSync(join(tmpdir(), "bobweight-long-"));
  const store = await openStore(folder);
  const samples: Held[] = [];
  let turns = 0;
  let gaps = 0;
  let ranS = 0;
  try {
    for (let number = 0; ranS < hours * HOUR_S; number++) {
      const drawn = drawRun(new Draw(NAME, number));
      const scheduler = new VirtualScheduler();
      const run = await makeRun(
        {
          rig: STAND_IN,
          unitFile: { name: "unit", content: drawn.unit },
          scenario: { name: "scenario", content: drawn.scenario },
          plan: { name: "plan", content: drawn.plan },
          capsule: 0,
          contacts: null,
          afterRecordId: null,
        },
        {
          scheduler,
          store,
          emit: () => {},
          liveEveryMs: 100,
          isFresh: () => true,
          explains: false,
        },
      );
      const { ending, link } = await scheduler.run(run.prepare().then(() => run.carryOut()));
      if (ending !== "completed") throw new Error(`run ${number} ended ${ending}`);
      turns += link.turnsGood;
      gaps += link.turnsMissing + link.turnsSetAside;
      ranS += scheduler.nowMs() / 1000;
      const due = (samples.length + 1) * ((hours * HOUR_S) / SAMPLES);
      if (ranS >= due) samples.push(held());
    }
  } finally {
    await store.close();
    rmSync(folder, { recursive: true });
  }
  // Nothing is amiss on this line, so a gap would be one that nobody can account for.
  return { what: "runs", hours, samples, turns, gaps, unaccounted: gaps };
}

function figures(results: readonly LongResult[]): readonly Figure[] {
  return results.flatMap(({ what, hours, samples, turns, gaps, unaccounted }) => {
    const grown = (of: (held: Held) => number) => growth(samples, of);
    const count = samples.length;
    const handles = samples.some((one) => one.handles === null)
      ? beside(`${what}: open files`, "not told by this system", count)
      : atMost(
          `${what}: growth of open files`,
          grown((one) => one.handles ?? 0),
          GROWTH_MAX.handles,
          count,
          "",
          1,
        );
    return [
      atMost(
        `${what}: growth of the heap`,
        grown((one) => one.heapMb),
        GROWTH_MAX.heapMb,
        count,
        " MB",
        2,
      ),
      atMost(
        `${what}: growth of the process`,
        grown((one) => one.rssMb),
        GROWTH_MAX.rssMb,
        count,
        " MB",
        1,
      ),
      handles,
      atMost(`${what}: turns unaccounted for`, unaccounted, 0, turns, "", 0),
      beside(`${what}: turns missing or set aside, and counted`, String(gaps), turns),
      beside(`${what}: rig time`, `${hours} h`, 1),
    ];
  });
}

export const long: Bar<LongResult> = {
  name: NAME,
  // One for the link, one for the runs; a day of each takes long.
  counts: { short: 0, long: 2 },
  alone: true,
  job: (index) => (index === 0 ? longLink(HOURS) : longRuns(HOURS)),
  figures,
};
