// All readings of a run together: what the run tells of its own pickup and ripple is learnt and taken out of each.
import type { LiveDocument, PointDocument, Reading, RigFindings } from "../documents.ts";
import type { Unit } from "../unit.ts";
import { combined } from "./budget.ts";
import type { RigKnowledge } from "./knowledge.ts";
import { cornerDeg } from "./phase.ts";
import { type EdgePattern, learnPickup, type Pickup, rippleAt } from "./pickup.ts";
import { apparentAdvance, followsOf, lobeDeviations, ownParts, readingFrom } from "./reading.ts";
import type { ReadingContext, ReadingInput, Way } from "./readingContext.ts";
import {
  assumedRippleDeg,
  EDGES_THAT_SHOW,
  rippleBetweenLobes,
  rippleScale,
  rippleShownByLobes,
} from "./ripple.ts";
import type { RunLog, Span } from "./runLog.ts";
import type { TrackedTurn } from "./trackedTurn.ts";
import { figuresOf, type Window, type WindowFigures, windowOf } from "./window.ts";
import { type Assumed, assumedZero, type SlowReading, toldZero, type Zero } from "./zero.ts";

/** What a reading is for; in a vacuum sweep not speed alone moves the advance. */
export type Place = Pick<PointDocument, "sweep" | "branch">;

const LIVE_LIMIT_DEG = 0.5;

/** While the run lasts, the pickup is taken as it was known until the variance of an edge has halved. */
const CLEARLY_BETTER = Math.SQRT1_2;

interface Entry {
  readonly span: Span;
  readonly place: Place;
  readonly window: Window;
  readonly way: Way | null;
  /** Figures with a pickup of which nothing was learnt, once they have been asked for: they never change. */
  plain?: WindowFigures;
}

export class Measurements {
  private readonly unit: Unit;
  private readonly rig: RigKnowledge;
  private readonly log: RunLog;
  private readonly referenceDeg: readonly number[];
  private readonly entries: Entry[] = [];
  private latest: ReadingContext | null = null;
  /** Turns before this one are on no reading's way. */
  private wayFrom = 0;

  /** `referenceDeg`: the angles against which the log's turns are tracked (`takeReference`). */
  constructor(unit: Unit, rig: RigKnowledge, log: RunLog, referenceDeg: readonly number[]) {
    this.unit = unit;
    this.rig = rig;
    this.log = log;
    this.referenceDeg = referenceDeg;
  }

  /**
   * Takes a reading in, in the order of time, the reference first, and gives it as far as it can be
   * known by now. Null where no event was usable; then it is forgotten.
   */
  add(span: Span, place: Place): Reading | null {
    const turns = this.log.turns.slice(span.from, span.to);
    const window = windowOf(turns, this.rig.edgesPerTurn, this.rig.tickHz);
    const entry: Entry = { span, place, window, way: this.wayTo(span, place) };
    const pickup = this.learnSoFar([...this.entries, entry]);
    const reference = this.entries[0] ?? entry;
    const { latest } = this;
    const referenceFigures =
      latest?.pickup === pickup ? latest.reference.figures : this.figures(reference, pickup);
    const context = this.context(reference, pickup, referenceFigures, null);
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
    if (Math.abs(cornerDeg(turn.turn)) + misplacedDeg > LIVE_LIMIT_DEG) return unknown;
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
    const zero = this.zero(figures);
    const context = this.context(reference, pickup, figures[0] as WindowFigures, zero);
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
        rippleUnseenDegAt1000Rpm: zero.rippleDegAt1000Rpm,
        rippleUnseenStandardUncertaintyDegAt1000Rpm: Math.hypot(
          Math.sqrt(zero.covariance[0]?.[0] ?? 0),
          zero.lawDoubtDeg,
        ),
      },
    };
  }

  /** The way to the next reading begins here: what the speed did before, friction no longer holds. */
  beginWay(at = this.log.turns.length): void {
    this.wayFrom = at;
  }

  /** Known before is as true as what is known now, only less sharp; and the reference's figures hold as long as it does. */
  private learnSoFar(entries: readonly Entry[]): Pickup {
    const now = this.learn(entries);
    const before = this.latest?.pickup;
    if (!now.learnt || !before?.learnt) return now;
    const share = now.standardUncertainty / before.standardUncertainty;
    return share >= CLEARLY_BETTER && share <= 1 ? before : now;
  }

  private learn(entries: readonly Entry[]): Pickup {
    const patterns = entries
      .map(({ window }) => window.pattern)
      .filter((pattern): pattern is EdgePattern => pattern !== null);
    return learnPickup(patterns, this.rig.edgesPerTurn);
  }

  private figures(entry: Pick<Entry, "window" | "plain">, pickup: Pickup): WindowFigures {
    if (!pickup.learnt && entry.plain !== undefined) return entry.plain;
    const delayTicks = (this.rig.delayUs * this.rig.tickHz) / 1e6;
    const figures = figuresOf(entry.window, this.referenceDeg, pickup, delayTicks);
    if (!pickup.learnt) entry.plain = figures;
    return figures;
  }

  private input({ window, span, way, place }: Entry, figures: WindowFigures): ReadingInput {
    const vacuums = this.log.vacuumsIn(span);
    return { window, figures, vacuums, way, bySpeedAlone: place.sweep !== "vacuum" };
  }

  /** Of the turns since the reading before, those after the speed turned round towards this one. */
  private wayTo({ to }: Span, { sweep, branch }: Place): Way | null {
    if (sweep !== "speed" || branch === null) return null;
    const since = Math.max(this.entries.at(-1)?.span.to ?? 0, this.wayFrom);
    const turns = this.log.turns.slice(since, to).map(({ turn }) => turn);
    const speeds = turns.map(({ duringTicks }) => (60 * this.rig.tickHz) / duringTicks);
    const sign = branch === "rising" ? 1 : -1;
    let farthest = Number.NEGATIVE_INFINITY;
    let nearest = Number.POSITIVE_INFINITY;
    for (const speed of speeds) {
      if (sign * speed < nearest) {
        nearest = sign * speed;
        farthest = nearest;
      } else farthest = Math.max(farthest, sign * speed);
    }
    const [first] = turns;
    return first === undefined
      ? null
      : { farthestRpm: sign * farthest, wayFromTick: first.indexTick };
  }

  private context(
    reference: Entry,
    pickup: Pickup,
    figures: WindowFigures,
    zero: Zero | null,
  ): ReadingContext {
    return {
      reference: { window: reference.window, figures },
      referenceDeg: this.referenceDeg,
      lobeAnglesDeg: this.unit.lobeAnglesDeg,
      rig: this.rig,
      pickup,
      zero: zero ?? this.zeroSoFar({ ...reference, figures }),
      hasDwell: this.unit.trigger.kind === "contacts",
    };
  }

  /** Nothing told yet; the same as before while the reference's figures are. */
  private zeroSoFar(reference: Seen): Zero {
    const { latest } = this;
    return latest?.reference.figures === reference.figures
      ? latest.zero
      : assumedZero(this.assumed(reference, null));
  }

  private assumed(reference: Seen, fastest: Seen | null): Assumed {
    const { rig, unit } = this;
    const speedRpm = reference.window.speedRpm;
    const own = ownParts(reference, rig);
    const shown =
      fastest === null
        ? null
        : rippleBetweenLobes(
            { speedRpm, figures: reference.figures },
            { speedRpm: fastest.window.speedRpm, figures: fastest.figures },
          );
    const doubtful = (360 * reference.figures.ripple.doubtful) / rippleScale(speedRpm);
    const ripple = assumedRippleDeg(
      rig.edgesPerTurn,
      unit.lobeAnglesDeg.length,
      reference.figures.ripple,
      speedRpm,
    );
    // What the pickup shows is taken off, so that the lobes' places tell of the rest only without one.
    const known = rippleShownByLobes(ripple, rig.edgesPerTurn === 1 ? shown : null);
    return {
      rippleSizeDegAt1000Rpm: Math.hypot(known.rippleSizeDegAt1000Rpm, doubtful),
      usualRippleDegAt1000Rpm: Math.hypot(known.usualRippleDegAt1000Rpm, doubtful),
      // A pickup of many edges sees what shifts one lobe against another; with few the lobes tell it.
      rippleBetweenLobesDegAt1000Rpm:
        rig.edgesPerTurn < EDGES_THAT_SHOW ? Math.max(ripple, shown?.byOpenings ?? 0) : 0,
      delayUs: rig.delayStandardUncertaintyUs,
      delayDegreesOfFreedom: rig.delayDegreesOfFreedom,
      referenceDeg: combined(own),
      referenceDegreesOfFreedom: own[0]?.degreesOfFreedom ?? null,
    };
  }

  /** Told by readings at speeds where the weights do not yet move. */
  private zero(figures: readonly WindowFigures[]): Zero {
    const { entries } = this;
    const seen = entries.map(({ window }, i) => ({ window, figures: figures[i] as WindowFigures }));
    const reference = seen[0] as Seen;
    const fastest = seen.reduce((best, one) =>
      one.window.speedRpm > best.window.speedRpm ? one : best,
    );
    const slow = entries.flatMap((entry, i): SlowReading[] => {
      const { speedRpm } = entry.window;
      const advanceDeg = apparentAdvance(figures[i] as WindowFigures, reference.figures);
      if (i === 0 || entry.place.sweep === "vacuum" || Number.isNaN(advanceDeg)) return [];
      const own = ownParts(this.input(entry, figures[i] as WindowFigures), this.rig);
      const lobes = this.unit.lobeAnglesDeg.length;
      const follows = followsOf(0, speedRpm, reference.window.speedRpm, lobes);
      const referenceRpm = reference.window.speedRpm;
      return [
        { speedRpm, referenceRpm, advanceDeg, standardUncertaintyDeg: combined(own), follows },
      ];
    });
    return toldZero(slow, this.assumed(reference, fastest));
  }
}

type Seen = Pick<ReadingInput, "window" | "figures">;

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
