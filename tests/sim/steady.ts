// Turns of a stand-in rig at a steady speed, as angles worked out from its lines, for tests of its faults.
import { expect } from "vitest";
import { Bench } from "./bench.ts";

export interface SteadyTurn {
  readonly events: readonly {
    readonly edge: "a" | "b";
    readonly deg: number;
    readonly us: number;
  }[];
  /** Pickup edges after the index; empty without pick lines. */
  readonly pickupDeg: readonly number[];
  readonly lost: boolean;
  readonly duringTicks: number;
}

/** Ticks of 0.1 µs, which are 0.0018° at 3000 rpm. */
const TICK_HZ = 10_000_000;

/** Runs up, settles, and gives the turns of the next `seconds`. Angles hold where there is no ripple. */
export function steady(
  scenario: {
    readonly mechanism: object;
    readonly rig?: object;
    readonly [field: string]: unknown;
  },
  rpm: number,
  seconds = 2,
  options: { readonly direction?: "cw" | "ccw"; readonly vacuumPa?: number } = {},
): { turns: SteadyTurn[]; bench: Bench } {
  const bench = new Bench({ ...scenario, rig: { tickHz: TICK_HZ, ...scenario.rig } });
  bench.arm();
  if (bench.speed(rpm, 1000, options.direction ?? "cw") !== "ok") throw new Error("no speed");
  if (options.vacuumPa !== undefined) bench.vacuum(options.vacuumPa);
  bench.keepAlive(rpm / 1000 + 4);
  bench.clear();
  bench.keepAlive(seconds);
  if (bench.malformed > 0) throw new Error("a line is malformed");
  return { turns: turnsOf(bench), bench };
}

function turnsOf(bench: Bench): SteadyTurn[] {
  const picks = new Map<number, number[]>();
  for (const { sequence, differenceTicks } of bench.all("pick")) {
    picks.set(sequence, [...(picks.get(sequence) ?? []), ...differenceTicks]);
  }
  return bench.all("rev").map((rev) => {
    const degPerTick = 360 / rev.duringTicks;
    let sum = 0;
    return {
      events: rev.eventTicks.map((tick, i) => ({
        edge: rev.eventEdges[i] ?? "a",
        deg: tick * degPerTick,
        us: (tick / TICK_HZ) * 1e6,
      })),
      pickupDeg: (picks.get(rev.sequence) ?? []).map((ticks) => {
        sum += ticks;
        return sum * degPerTick;
      }),
      lost: rev.lost,
      duringTicks: rev.duringTicks,
    };
  });
}

/** Angles of one edge, each averaged over the turns, which must have the same number of them. */
export function meanDeg(turns: readonly SteadyTurn[], edge: "a" | "b"): number[] {
  const lists = turns.map(({ events }) => events.filter((e) => e.edge === edge));
  const count = lists[0]?.length ?? 0;
  if (lists.some((list) => list.length !== count)) throw new Error("turns differ in their events");
  return Array.from({ length: count }, (_, i) => {
    const sum = lists.reduce((total, list) => total + (list[i]?.deg ?? 0), 0);
    return sum / lists.length;
  });
}

/** Two ticks of 0.1 µs at 3000 rpm, and the speed control's unrest within a turn. */
const NEAR_DEG = 0.005;

/** Expects the angles one by one. */
export function near(
  found: readonly number[],
  expected: readonly number[],
  toleranceDeg = NEAR_DEG,
): void {
  expect(found).toHaveLength(expected.length);
  found.forEach((deg, i) => {
    const off = Math.abs(deg - (expected[i] ?? Number.NaN));
    expect(off, `${deg}° at place ${i}`).toBeLessThan(toleranceDeg);
  });
}
