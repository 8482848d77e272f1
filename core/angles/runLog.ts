// Everything measured in a run in the order it came: turns with their lobes, vacuum lines between them.
import type { TriggerEdge, VacuumLine } from "../codec/rigLines.ts";
import { type Turn, ticksBetween } from "../turns.ts";
import { type RigKnowledge, trueVacuum } from "./knowledge.ts";
import { findLobes, firingAngles, type LobeMatch, LobeTracker, type TrackedRig } from "./lobes.ts";
import { evenPlaces } from "./phase.ts";
import { learnPickup } from "./pickup.ts";
import { type TrackedTurn, untracked } from "./trackedTurn.ts";
import { TurnLog } from "./turnLog.ts";
import { figuresOf, windowOf } from "./window.ts";

/** Vacuum lines this many turns before or after a span cannot lie in it: they come at once, a turn comes two later. */
const TURNS_AROUND = 20;

/** Where turns of the log stand, half open. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

export class RunLog {
  readonly turns: TrackedTurn[] = [];
  private readonly plain = new TurnLog();
  private readonly vacuums: VacuumLine[] = [];
  /** How many turns had come before each. */
  private readonly vacuumsAfter: number[] = [];
  private readonly rig: TrackedRig & RigKnowledge;
  private tracker: LobeTracker | null = null;

  constructor(rig: RigKnowledge, firingEdge: TriggerEdge) {
    this.rig = { ...rig, firingEdge };
  }

  pushTurn(turn: Turn): TrackedTurn {
    this.plain.push(turn);
    const tracked = this.tracker?.track(this.turns.length) ?? untracked(turn);
    this.turns.push(tracked);
    return tracked;
  }

  /** Gives the line as a right sensor would have. */
  pushVacuum(sensed: VacuumLine): VacuumLine {
    const line = trueVacuum(sensed, this.rig);
    this.vacuums.push(line);
    this.vacuumsAfter.push(this.turns.length);
    return line;
  }

  /**
   * Finds the lobes in the turns of the reference and follows them from there on. `anglesDeg` are those
   * of the lobes at the reference, against which all advance of the log counts.
   */
  takeReference(span: Span, lobeAnglesDeg: readonly number[]): LobeMatch {
    const { rig } = this;
    const angles = firingAngles(this.plain, span, lobeAnglesDeg.length, rig);
    const rough = findLobes(angles, lobeAnglesDeg);
    if (!rough.found) return rough;
    const tracked = this.track(span, rough.anglesDeg);
    const window = windowOf(tracked, rig.edgesPerTurn, rig.tickHz);
    const pickup = { ...learnPickup([], rig.edgesPerTurn), places: evenPlaces(rig.edgesPerTurn) };
    const { lobes } = figuresOf(window, rough.anglesDeg, pickup, 0);
    const anglesDeg = rough.anglesDeg.map((angle, j) => {
      const advance = lobes[j]?.advanceDeg ?? Number.NaN;
      return Number.isNaN(advance) ? angle : angle - advance;
    });
    this.turns.splice(span.from, span.to - span.from, ...this.track(span, anglesDeg));
    this.tracker = new LobeTracker(this.plain, anglesDeg, rig);
    return { found: true, anglesDeg };
  }

  private track({ from, to }: Span, anglesDeg: readonly number[]): TrackedTurn[] {
    const tracker = new LobeTracker(this.plain, anglesDeg, this.rig);
    return Array.from({ length: to - from }, (_, i) => tracker.track(from + i));
  }

  /** Vacuum lines whose tick lies within a span of turns. */
  vacuumsIn({ from, to }: Span): VacuumLine[] {
    const first = this.turns[from]?.turn;
    const last = this.turns[to - 1]?.turn;
    if (first === undefined || last === undefined) return [];
    const length = ticksBetween(first.indexTick, last.indexTick) + last.duringTicks;
    const lines: VacuumLine[] = [];
    for (let i = this.vacuumsBefore(from - TURNS_AROUND); i < this.vacuums.length; i++) {
      const line = this.vacuums[i] as VacuumLine;
      if ((this.vacuumsAfter[i] as number) > to + TURNS_AROUND) break;
      if (ticksBetween(first.indexTick, line.tick) <= length) lines.push(line);
    }
    return lines;
  }

  /** How many vacuum lines came before so many turns had. */
  private vacuumsBefore(turns: number): number {
    let low = 0;
    let high = this.vacuums.length;
    while (low < high) {
      const half = (low + high) >> 1;
      if ((this.vacuumsAfter[half] as number) < turns) low = half + 1;
      else high = half;
    }
    return low;
  }

  /** Vacuum lines from the one with this tick on, which is the last such one that came. */
  vacuumsFrom(tick: number): VacuumLine[] {
    const at = this.vacuums.findLastIndex((line) => line.tick === tick);
    return at < 0 ? [] : this.vacuums.slice(at);
  }
}
