// A rig whose turns, vacuums and states a test says itself: the moves of a run over a real watch, in virtual time.
import { uncorrectedRig } from "../../core/angles/knowledge.ts";
import type { TrackedTurn } from "../../core/angles/trackedTurn.ts";
import { formatHostLine } from "../../core/codec/hostLines.ts";
import type { StateLine, VacuumLine } from "../../core/codec/rigLines.ts";
import type { BobweightError } from "../../core/errors.ts";
import type { RigLink } from "../../server/link/rigLink.ts";
import { LiveFeed } from "../../server/run/live.ts";
import type { Rig } from "../../server/run/rig.ts";
import { Watch } from "../../server/run/watch.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import { HELLO } from "../angles/turns.ts";

export const TOKEN = "0A1B2C3D";
export const STATE: StateLine = {
  ...{ type: "state", sequence: 0, tick: 0, setRpm: 0, nowRpm: 0, direction: "none" },
  ...{ armed: true, guardShut: true, stopPressed: false, fault: "none" },
};
const VACUUM: VacuumLine = {
  ...{ type: "vac", sequence: 0, tick: 0, vacuumPa: 0, pumpPermille: 500, valve: "control" },
};

/** What became of a promise, and when. */
interface Outcome {
  is: string;
  value: unknown;
  atMs: number;
}

export function rigInHand(changes: Partial<Rig> = {}) {
  const scheduler = new VirtualScheduler();
  const watch = new Watch(scheduler, "a", () => {});
  const knowledge = changes.knowledge ?? uncorrectedRig(HELLO);
  watch.begin(knowledge);
  const sent: string[] = [];
  const link = {
    command: async (command: Parameters<RigLink["command"]>[0]) => {
      sent.push(formatHostLine({ ...command, number: sent.length + 1 }));
      return null;
    },
  } as unknown as RigLink;
  const rig: Rig = {
    ...{ link, watch, token: TOKEN, tickHz: HELLO.tickHz, direction: "cw", rampRpmPerS: 500 },
    ...{ live: new LiveFeed(watch, HELLO.tickHz), knowledge },
    ...changes,
  };
  const pass = (ms: number) =>
    scheduler.run(new Promise<void>((resolve) => scheduler.after(ms, resolve)));
  return {
    ...{ rig, watch, scheduler, sent, pass },
    /** Lets all that is due be done. */
    due: () => pass(0),
    state: (state: Partial<StateLine> = {}) => watch.onState({ ...STATE, ...state }),
    /** `count` turns at a speed; the rig's every `every`-th, with a mean advance. */
    turns: (count: number, rpm: number, advanceDeg: number | null = null, every = 1) => {
      for (let i = 0; i < count; i++) {
        const turn = { duringTicks: (60 * HELLO.tickHz) / rpm, every };
        const tracked = { turn, advanceDeg } as unknown as TrackedTurn;
        watch.log.turns.push(tracked);
        watch.turns.push(tracked);
        watch.onState(watch.state ?? STATE);
      }
    },
    vacuums: (count: number, vacuumPa: number, pumpPermille = 500) => {
      for (let i = 0; i < count; i++) watch.onVacuum({ ...VACUUM, vacuumPa, pumpPermille });
    },
    outcome: (promise: Promise<unknown>): Outcome => {
      const seen: Outcome = { is: "open", value: undefined, atMs: Number.NaN };
      promise.then(
        (value) => Object.assign(seen, { is: "done", value, atMs: scheduler.nowMs() }),
        (error: BobweightError) =>
          Object.assign(seen, { is: `${error.code} ${error.what}`, atMs: scheduler.nowMs() }),
      );
      return seen;
    },
  };
}
