// A rig whose spindle turns evenly as told, with edges and events where a law puts them, and readings of it.
import { expect } from "vitest";
import type { RigKnowledge } from "../../core/angles/knowledge.ts";
import { Measurements, type Place } from "../../core/angles/measurements.ts";
import { RunLog, type Span } from "../../core/angles/runLog.ts";
import type { TrackedTurn } from "../../core/angles/trackedTurn.ts";
import type { Unit } from "../../core/unit.ts";
import { inventedUnit } from "../sheet/fixture.ts";
import { EVEN_TICK_HZ, evenTurn, rigWith } from "./literals.ts";

export const UNIT: Unit = { ...inventedUnit, trigger: { kind: "contacts", firingEdge: "a" } };
export const NOMINAL_DEG = [0, 90, 180, 270];
export const DWELL_DEG = 50;
export const TURNS = 10;

const REFERENCE: Place = { sweep: "reference", branch: null };
export const RISING: Place = { sweep: "speed", branch: "rising" };
export const FALLING: Place = { sweep: "speed", branch: "falling" };
export const VACUUM: Place = { sweep: "vacuum", branch: "rising" };

interface Spin {
  readonly turns?: number;
  /** Of all lobes, or of each. */
  readonly earlyDeg?: number | readonly number[];
  /** How late pickup edge k comes, in revolutions. */
  readonly lateEdge?: (k: number) => number;
  readonly silent?: boolean;
  readonly lost?: boolean;
  /** Of the turn before, against this one. */
  readonly beforeShare?: number;
}

/** A rig whose spindle turns as told; lobes fire 10° after their nominal places, less what they are early. */
export class Bench {
  readonly log: RunLog;
  readonly rig: RigKnowledge;
  private indexTick = 0;
  private sequence = 0;

  constructor(more: Partial<RigKnowledge> = {}) {
    this.rig = rigWith({ tickHz: EVEN_TICK_HZ, tickPpm: 0, ...more });
    this.log = new RunLog(this.rig, "a");
  }

  spin(speedRpm: number, { turns = TURNS, ...how }: Spin = {}): Span {
    const from = this.log.turns.length;
    for (let i = 0; i < turns; i++) this.turn(speedRpm, how);
    return { from, to: from + turns };
  }

  turn(speedRpm: number, how: Omit<Spin, "turns"> = {}): TrackedTurn {
    const { earlyDeg = 0, lateEdge = () => 0, silent = false, lost = false } = how;
    const ticks = (60 * EVEN_TICK_HZ) / speedRpm;
    const early = (lobe: number) =>
      typeof earlyDeg === "number" ? earlyDeg : (earlyDeg[lobe] as number);
    const opens = NOMINAL_DEG.map((deg, lobe) => [deg + 10 - early(lobe), "a"] as const);
    const closes = opens.map(([deg]) => [deg - DWELL_DEG, "b"] as const);
    const edges = [...opens, ...closes]
      .map(([deg, edge]) => [(deg + 360) % 360, edge] as const)
      .sort(([one], [other]) => one - other);
    const fired = silent ? [] : edges;
    const { edgesPerTurn } = this.rig;
    const places = Array.from({ length: edgesPerTurn + 1 }, (_, k) => k);
    const tracked = this.log.pushTurn({
      ...evenTurn(this.sequence++, {
        indexTick: this.indexTick,
        beforeTicks: ticks * (how.beforeShare ?? 1),
        duringTicks: ticks,
        afterTicks: ticks,
        lost,
      }),
      edgeTicks:
        edgesPerTurn === 1
          ? null
          : places.map((k) => ticks * (k / edgesPerTurn + lateEdge(k % edgesPerTurn))),
      eventEdges: fired.map(([, edge]) => edge),
      eventTicks: fired.map(([deg]) => (ticks * deg) / 360),
    });
    this.indexTick += ticks;
    return tracked;
  }

  measurements(referenceDeg: readonly number[], unit = UNIT): Measurements {
    return new Measurements(unit, this.rig, this.log, referenceDeg);
  }

  /** Measures against these turns, which are the first reading. */
  measure(span: Span, unit = UNIT): Measurements {
    const match = this.log.takeReference(span, NOMINAL_DEG);
    if (!match.found) throw new Error("no lobes in the reference");
    const measurements = this.measurements(match.anglesDeg, unit);
    expect(measurements.add(span, REFERENCE)?.advanceDeg).toBeCloseTo(0, 9);
    return measurements;
  }
}
