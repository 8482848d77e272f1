// All readings of a run together: what the run tells of its own pickup and ripple is learnt and taken out of each.
import type { LiveDocument, Reading, RigFindings } from "../documents.ts";
import type { Unit } from "../unit.ts";
import { combined } from "./budget.ts";
import type { RigKnowledge } from "./knowledge.ts";
import type { TrackedTurn } from "./lobes.ts";
import { interpolationLimitDeg } from "./phase.ts";
import { type EdgePattern, learnPickup, type Pickup, rippleAt } from "./pickup.ts";
import {
  apparentAdvance,
  lobeDeviations,
  type ReadingContext,
  type ReadingInput,
  readingFrom,
  rippleScale,
  type UnseenRipple,
} from "./reading.ts";
import type { RunLog, Span } from "./runLog.ts";
import { fitUnseenRipple, sizeOfUnseenRipple } from "./unseenRipple.ts";
import { figuresOf, type Window, type WindowFigures, windowOf } from "./window.ts";

const LIVE_LIMIT_DEG = 0.5;

interface Entry {
  readonly span: Span;
  readonly bySpeedAlone: boolean;
  readonly window: Window;
}

export class Measurements {
  private readonly unit: Unit;
  private readonly rig: RigKnowledge;
  private readonly log: RunLog;
  private readonly referenceDeg: readonly number[];
  private readonly entries: Entry[] = [];
  private latest: ReadingContext | null = null;

  /** `referenceDeg`: the angles against which the log's turns are tracked (`takeReference`). */
  constructor(unit: Unit, rig: RigKnowledge, log: RunLog, referenceDeg: readonly number[]) {
    this.unit = unit;
    this.rig = rig;
    this.log = log;
    this.referenceDeg = referenceDeg;
  }

  /**
   * Takes a reading in, in the order of time, the reference first, and gives it as far as it can be
   * known by now. Null where no event was usable; then it is forgotten. `bySpeedAlone`: nothing but
   * speed moves the advance here, since the line to the capsule is vented.
   */
  add(span: Span, bySpeedAlone: boolean): Reading | null {
    const turns = this.log.turns.slice(span.from, span.to);
    const window = windowOf(turns, this.rig.edgesPerTurn, this.rig.tickHz);
    const entry = { span, bySpeedAlone, window };
    const pickup = this.learn([...this.entries, entry]);
    const reference = this.entries[0] ?? entry;
    const context = this.context(reference, pickup, this.figures(reference, pickup), null);
    this.latest = context;
    const reading = readingFrom(this.input(entry, this.figures(entry, pickup)), context);
    if (reading !== null) this.entries.push(entry);
    return reading;
  }

  /**
   * A single turn as far as it is known by now. No advance where a corner of the speed or a pickup not
   * yet learnt may put it off by more than LIVE_LIMIT_DEG.
   */
  now(turn: TrackedTurn): Pick<LiveDocument, "advanceDeg" | "lobeDeviationsDeg"> {
    const { latest, unit } = this;
    const unknown = { advanceDeg: null, lobeDeviationsDeg: [] };
    if (latest === null || turn.turn.lost) return unknown;
    const { pickup, reference } = latest;
    const misplacedDeg = (720 * pickup.standardUncertainty) / Math.sqrt(unit.lobeAnglesDeg.length);
    if (interpolationLimitDeg(turn.turn) + misplacedDeg > LIVE_LIMIT_DEG) return unknown;
    const window = windowOf([turn], this.rig.edgesPerTurn, this.rig.tickHz);
    const figures = this.figures({ window }, pickup);
    const advanceDeg = apparentAdvance(figures, reference.figures);
    if (Number.isNaN(advanceDeg)) return unknown;
    return { advanceDeg, lobeDeviationsDeg: lobeDeviations(figures.lobes, latest) };
  }

  /** All readings with what the whole run told, in the order they were added; nothing without any. */
  final(): { readonly readings: readonly Reading[]; readonly rig: RigFindings } | null {
    const { entries } = this;
    const [reference] = entries;
    if (reference === undefined) return null;
    const pickup = this.learn(entries);
    const figures = entries.map((entry) => this.figures(entry, pickup));
    const ripple = this.unseen(
      figures,
      this.context(reference, pickup, figures[0] as WindowFigures, null),
    );
    const context = this.context(reference, pickup, figures[0] as WindowFigures, ripple);
    const readings = entries.map((entry, i) =>
      readingFrom(this.input(entry, figures[i] as WindowFigures), context),
    );
    return {
      readings: readings.filter((reading) => reading !== null),
      rig: {
        spacingErrorsDeg: pickup.learnt
          ? pickup.places.slice(0, -1).map((place, k) => 360 * (place - k / this.rig.edgesPerTurn))
          : null,
        rippleSeenDeg: rippleSeen(entries, figures),
        rippleUnseenDegAt1000Rpm: ripple.degAt1000Rpm,
        rippleUnseenStandardUncertaintyDegAt1000Rpm: ripple.standardUncertaintyDegAt1000Rpm,
      },
    };
  }

  private learn(entries: readonly Entry[]): Pickup {
    const patterns = entries
      .map(({ window }) => window.pattern)
      .filter((pattern): pattern is EdgePattern => pattern !== null);
    return learnPickup(patterns, this.rig.edgesPerTurn);
  }

  private figures({ window }: Pick<Entry, "window">, pickup: Pickup): WindowFigures {
    const delayTicks = (this.rig.delayUs * this.rig.tickHz) / 1e6;
    return figuresOf(window, this.referenceDeg, pickup, delayTicks);
  }

  private input({ window, span }: Entry, figures: WindowFigures): ReadingInput {
    return { window, figures, vacuums: this.log.vacuumsIn(span) };
  }

  private context(
    reference: Entry,
    pickup: Pickup,
    figures: WindowFigures,
    ripple: UnseenRipple | null,
  ): ReadingContext {
    const sizeDegAt1000Rpm = sizeOfUnseenRipple(this.rig.edgesPerTurn);
    return {
      reference: this.input(reference, figures),
      referenceDeg: this.referenceDeg,
      lobeAnglesDeg: this.unit.lobeAnglesDeg,
      rig: this.rig,
      pickup,
      ripple: ripple ?? {
        degAt1000Rpm: 0,
        standardUncertaintyDegAt1000Rpm: sizeDegAt1000Rpm,
        sizeDegAt1000Rpm,
      },
      hasDwell: this.unit.trigger.kind === "contacts",
    };
  }

  /** Told by readings at speeds where the weights do not yet move: any change of angle there is ripple. */
  private unseen(figures: readonly WindowFigures[], context: ReadingContext): UnseenRipple {
    const { reference, rig } = context;
    const there = rippleScale(reference.window.speedRpm);
    const slow = this.entries.flatMap((entry, i) => {
      const { window, bySpeedAlone } = entry;
      const own = figures[i] as WindowFigures;
      const reading =
        i === 0 || !bySpeedAlone ? null : readingFrom(this.input(entry, own), context);
      if (reading === null) return [];
      // What is asked for is the ripple itself, so its own part of the budget is not held against it.
      const other = reading.budget.filter(({ name }) => name !== "ripple not seen");
      return [
        {
          speedRpm: window.speedRpm,
          advanceDeg: apparentAdvance(own, reference.figures),
          scale: rippleScale(window.speedRpm) - there,
          standardUncertaintyDeg: combined(other),
        },
      ];
    });
    const fastest = this.entries.reduce(
      (best, { window }, i) =>
        window.speedRpm > (this.entries[best] as Entry).window.speedRpm ? i : best,
      0,
    );
    const size = sizeOfUnseenRipple(rig.edgesPerTurn, {
      slow: reference,
      fast: {
        window: (this.entries[fastest] as Entry).window,
        figures: figures[fastest] as WindowFigures,
      },
    });
    return fitUnseenRipple(slow, size);
  }
}

/** Largest angle of the ripple at the slowest reading. */
function rippleSeen(entries: readonly Entry[], figures: readonly WindowFigures[]): number | null {
  let slowest = 0;
  entries.forEach(({ window }, i) => {
    if (window.speedRpm < (entries[slowest] as Entry).window.speedRpm) slowest = i;
  });
  if (entries[slowest]?.window.pattern === null) return null;
  const { ripple } = figures[slowest] as WindowFigures;
  const angles = Array.from({ length: 360 }, (_, i) => rippleAt(ripple, i / 360));
  return 180 * (Math.max(...angles) - Math.min(...angles));
}
