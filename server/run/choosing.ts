// A sweep that chooses its own readings, one branch after the other, and says where it ends without knowing.

import type { Reading } from "../../core/documents.ts";
import type { SweepChoice } from "../../core/plan.ts";
import { likelyPlaces } from "../../core/planFile.ts";
import { type Said, said } from "../../core/said.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import {
  FINEST,
  nextReading,
  type PlacedReading,
  type SweepGoal,
} from "../../core/sweep/choice.ts";
import type { SweepAxis } from "../../core/sweep/curve.ts";
import type { Gap } from "../../core/sweep/gaps.ts";
import type { TraceTurn } from "../../core/sweep/trace.ts";
import type { Branch } from "../../core/unit.ts";
import type { Narrator } from "./narrator.ts";

export type Traces = Readonly<Record<Branch, readonly TraceTurn[]>>;

/** What a sweep that chooses does on its axis. */
export interface ChosenAxis {
  readonly axis: SweepAxis;
  /** What the turns show on the way up and down; nothing where they are too few. */
  readonly traces: () => Promise<Traces>;
  readonly read: (branch: Branch, x: number) => Promise<ChosenReading>;
  /** Goes to where the branch comes from, far enough for a reading at x. */
  readonly goBack: (branch: Branch, x: number, readings: readonly PlacedReading[]) => Promise<void>;
  /** A reading as a place of the curve. */
  readonly placed: (reading: Reading, targetX: number) => PlacedReading;
  /** For people: `812 rpm`, `12.3 kPa`. */
  readonly told: (x: number) => Said;
}

export interface ChosenReading {
  /** Null where there was nothing to read. */
  readonly reading: Reading | null;
  /** False where the rig could not get there: nothing beyond is asked for. */
  readonly reached: boolean;
}

/** One sweep. `places`: its ends and the rows between them. */
export class Choosing {
  private readonly on: ChosenAxis;
  private readonly choice: SweepChoice;
  private readonly narrator: Narrator;
  private readonly scheduler: Scheduler;
  private readonly likely: number;
  private readonly endMs: number;
  private goal: SweepGoal;
  private taken = 0;

  constructor(
    on: ChosenAxis,
    places: readonly number[],
    choice: SweepChoice,
    narrator: Narrator,
    scheduler: Scheduler,
  ) {
    this.on = on;
    this.choice = choice;
    this.narrator = narrator;
    this.scheduler = scheduler;
    this.likely = likelyPlaces(on.axis, places, choice).length;
    this.endMs = scheduler.nowMs() + choice.secondsMax * 1000;
    this.goal = {
      axis: on.axis,
      lowX: places[0] as number,
      highX: places[places.length - 1] as number,
      rowsX: places,
      knownWithinDeg: choice.knownWithinDeg,
    };
  }

  /** Reads both branches until they are known as wanted, or a limit is met. @throws what reading throws */
  async sweep(): Promise<void> {
    this.narrator.beginChoice(2 * this.likely);
    const traces = await this.on.traces();
    // Half of what may be used is left for the way down.
    const halfMs = (this.scheduler.nowMs() + this.endMs) / 2;
    await this.branch("rising", traces, Math.floor(this.choice.readingsMax / 2), halfMs);
    await this.branch("falling", traces, this.choice.readingsMax, this.endMs);
    this.narrator.endChoice();
  }

  /** `readingsMax`: of the whole sweep up to the end of this branch. */
  private async branch(
    branch: Branch,
    traces: Traces,
    readingsMax: number,
    endMs: number,
  ): Promise<void> {
    const { on, narrator, scheduler } = this;
    const trace = traces[branch];
    const readings: PlacedReading[] = [];
    const barren: number[] = [];
    let atX = branch === "rising" ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
    for (;;) {
      const readingsLeft = scheduler.nowMs() < endMs ? readingsMax - this.taken : 0;
      const soFar = { branch, trace, readings, barren, atX, readingsLeft };
      const next = nextReading(this.goal, soFar);
      if (next.next === "done") {
        this.tell(branch, next.unknown);
        return;
      }
      narrator.chosenLeft(next.left + (branch === "rising" ? this.likely : 0));
      if (next.again) await on.goBack(branch, next.x, readings);
      const { reading, reached } = await on.read(branch, next.x);
      this.taken++;
      atX = next.x;
      if (reading === null || !reached) barren.push(next.x);
      else readings.push(on.placed(reading, next.x));
      if (!reached) this.endBelow(next.x, readings);
    }
  }

  /** What lies at or above a place out of reach is left out, on the way down too. */
  private endBelow(x: number, readings: readonly PlacedReading[]): void {
    const below = readings.map(({ targetX }) => targetX).filter((targetX) => targetX < x);
    const highX = Math.max(this.goal.lowX, ...below);
    this.goal = { ...this.goal, highX };
  }

  private tell(branch: Branch, unknown: readonly Gap[]): void {
    const { on, choice, narrator } = this;
    const span = ({ fromX, toX }: Span) => said("{} to {}", on.told(fromX), on.told(toX));
    const isLeap = ({ fromX, toX, bendDeg }: Gap) =>
      toX - fromX < FINEST[on.axis] && bendDeg > choice.knownWithinDeg / 2;
    const leaps = unknown.filter(isLeap);
    const rest = joinedSpans(unknown.filter((gap) => !isLeap(gap)));
    const which = [said(branch), said(on.axis)] as const;
    if (leaps.length > 0) {
      narrator.notice(
        "CURVE_LEAPS",
        said(
          "On the {} branch of the {} sweep the advance leaps from {}: no reading tells where in between.",
          ...which,
          leaps.map(span),
        ),
      );
    }
    if (rest.length > 0) {
      narrator.notice(
        "CURVE_NOT_KNOWN",
        said(
          "The {} branch of the {} sweep is not known within {}° from {}.",
          ...which,
          choice.knownWithinDeg,
          rest.map(span),
        ),
      );
    }
  }
}

interface Span {
  readonly fromX: number;
  readonly toX: number;
}

/** Spans that touch are one. */
function joinedSpans(gaps: readonly Span[]): Span[] {
  const spans: Span[] = [];
  for (const { fromX, toX } of gaps) {
    const last = spans[spans.length - 1];
    if (last !== undefined && last.toX === fromX) spans[spans.length - 1] = { ...last, toX };
    else spans.push({ fromX, toX });
  }
  return spans;
}
