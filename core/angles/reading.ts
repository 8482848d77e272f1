// One reading from its turns: advance, dwell, scatter, speed and vacuum, each with its uncertainty.
import type { VacuumLine } from "../codec/rigLines.ts";
import type { LobeFigures, Reading, UncertaintyPart } from "../documents.ts";
import { type Turn, ticksBetween } from "../turns.ts";
import { combined, coverageOf, part } from "./budget.ts";
import { dwellOf } from "./dwell.ts";
import type { RigKnowledge } from "./knowledge.ts";
import type { ReadingContext, ReadingInput } from "./readingContext.ts";
import { rippleScale } from "./ripple.ts";
import { scatterOf } from "./scatter.ts";
import { meanAndSpread, meanUncertainty } from "./statistics.ts";
import type { LobeEvents, Window, WindowFigures } from "./window.ts";
import { type Moved, zeroDeg, zeroParts } from "./zero.ts";

/** √(1 + 0.79): an event's tick, and those of the four pulses around it by their weights. */
const TICK_FACTOR = 1.34;

/** Null where no event was usable. */
export function readingFrom(input: ReadingInput, context: ReadingContext): Reading | null {
  const { window, figures, vacuums } = input;
  const first = window.turns[0]?.turn;
  const last = window.turns.at(-1)?.turn;
  if (first === undefined || last === undefined || figures.kept === 0) return null;
  const { rig } = context;
  const apparentDeg = apparentAdvance(figures, context.reference.figures);
  if (Number.isNaN(apparentDeg)) return null;
  const { reference, lobeAnglesDeg } = context;
  const follows =
    window === reference.window
      ? NOT_AT_ALL
      : followsOf(apparentDeg, window.speedRpm, reference.window.speedRpm, lobeAnglesDeg.length);
  const budget = budgetOf(input, context, follows, apparentDeg);
  const deviations = lobeDeviations(figures.lobes, context);
  const dwell = context.hasDwell ? dwellOf(input, context, follows) : null;
  const vacuum = vacuumOf(vacuums, rig);
  const missing = missingEvents(window, figures);
  return {
    speedRpm: window.speedRpm,
    ...speedUncertainty(window, rig),
    farthestRpm: input.way?.farthestRpm ?? null,
    wayFromTick: input.way?.wayFromTick ?? null,
    ...vacuum,
    advanceDeg: apparentDeg - zeroDeg(context.zero, follows),
    standardUncertaintyDeg: combined(budget),
    budget,
    coverageFactor: coverageOf(budget),
    spreadDeg: meanAndSpread(figures.turnMeansDeg).spread,
    turns: window.turns.length,
    setAside: {
      lostTurns: window.turns.length - window.whole.length,
      missingEvents: missing.reduce((sum, one) => sum + one, 0),
      extraEvents: figures.extra,
      noiseEvents: figures.noise,
      bounces: figures.bounces,
    },
    dwellDeg: dwell?.dwellDeg ?? null,
    dwellStandardUncertaintyDeg: dwell?.standardUncertaintyDeg ?? 0,
    lobeDeviationsDeg: deviations,
    lobes: figures.lobes.map((lobe, j) => lobeFigures(lobe, j, missing[j] ?? 0, window, context)),
    scatter: scatterOf(deviations, figures.lobes, lobePlaces(figures.lobes, context)),
    fromTick: first.indexTick,
    toTick: (last.indexTick + last.duringTicks) % 2 ** 32,
  };
}

/** Mean over the lobes seen in both of how much earlier each fires than at the reference. */
export function apparentAdvance(figures: WindowFigures, reference: WindowFigures): number {
  const advances: number[] = [];
  figures.lobes.forEach(({ count, advanceDeg }, j) => {
    const zero = reference.lobes[j];
    if (count > 0 && zero !== undefined && zero.count > 0)
      advances.push(advanceDeg - zero.advanceDeg);
  });
  return meanAndSpread(advances).mean;
}

/**
 * How the advance follows what stands in all readings alike. Ripple that no pickup sees goes as many
 * times round a turn as there are lobes; once the advance has moved the lobes along it, its phase
 * there is another, and beyond a quarter wave nothing is known: `other` is the share that is new.
 */
export function followsOf(
  advanceDeg: number,
  speedRpm: number,
  referenceRpm: number,
  lobes: number,
): Moved {
  const here = rippleScale(speedRpm);
  const turned = (advanceDeg * lobes * Math.PI) / 180;
  const alike = Math.abs(turned) < Math.PI / 2 ? Math.cos(turned) : 0;
  return {
    ripple: alike * here - rippleScale(referenceRpm),
    delay: -6e-6 * (speedRpm - referenceRpm),
    reference: 1,
    alike,
    other: Math.sqrt(1 - alike ** 2) * here,
  };
}

const NOT_AT_ALL = { ripple: 0, delay: 0, reference: 0, alike: 1, other: 0 } as const;

function budgetOf(
  input: ReadingInput,
  { rig, pickup, zero, lobeAnglesDeg }: ReadingContext,
  follows: Moved,
  advanceDeg: number,
): UncertaintyPart[] {
  // Readings that told the zero lie beside it by their own errors, of which the zero took its share.
  const toldIt = zero.told && input.bySpeedAlone && input.window.speedRpm <= zero.toldUpToRpm;
  // An edge misplaced is so at the reference as well, as far as a lobe fires by the same edge.
  const moved = Math.min(1, (Math.abs(advanceDeg) * rig.edgesPerTurn) / 360);
  const misplaced =
    (360 * moved * Math.SQRT2 * pickup.standardUncertainty) / Math.sqrt(lobeAnglesDeg.length);
  return [
    ...ownParts(input, rig),
    ...(toldIt ? [] : zeroParts(zero, follows)),
    part("pickup", misplaced, { shared: true }),
    part("ripple elsewhere", follows.other * zero.rippleSizeDegAt1000Rpm),
  ].filter(({ standardUncertainty }) => standardUncertainty > 0);
}

/** What belongs to these turns alone. Repeatability first. */
export function ownParts(
  { window, figures }: Pick<ReadingInput, "window" | "figures">,
  rig: RigKnowledge,
): UncertaintyPart[] {
  const { standardUncertainty, degreesOfFreedom } = meanUncertainty(figures.turnMeansDeg);
  return [
    part("repeatability", standardUncertainty, { degreesOfFreedom }),
    part("tick", tickUncertainty(window, rig)),
    part("interpolation", window.interpolationDeg / Math.sqrt(3), { shape: "rectangular" }),
    part("drift", figures.driftDeg / Math.sqrt(12), { shape: "rectangular" }),
  ];
}

/**
 * A clock rounds every turn alike where the period is a whole number of ticks and never varies; else
 * the rounding differs from turn to turn and shows in the repeatability.
 */
function tickUncertainty(window: Window, { tickHz }: RigKnowledge): number {
  const tickDeg = (6 * window.speedRpm) / tickHz;
  return TICK_FACTOR * (tickDeg / Math.sqrt(12)) * Math.sqrt(roundedAlike(window));
}

/** Share of the rounding's variance that stands in every turn. */
function roundedAlike({ whole }: Window): number {
  const { spread } = meanAndSpread(whole.map(({ turn }) => turn.duringTicks));
  return Math.max(0, 1 - whole.length * spread ** 2);
}

function speedUncertainty(
  { turns, speedRpm }: Window,
  { tickHz, tickPpm }: RigKnowledge,
): Pick<Reading, "speedStandardUncertaintyRpm" | "speedExpandedUncertaintyRpm"> {
  const [first, last] = [turns[0]?.turn as Turn, turns.at(-1)?.turn as Turn];
  const ticks = turns.reduce((sum, { turn }) => sum + turn.duringTicks, 0);
  const gapless = ticksBetween(first.indexTick, last.indexTick) + last.duringTicks === ticks;
  // Turn on turn the sum of the periods is the span itself; with turns left out they are a sample.
  const speeds = () => turns.map(({ turn }) => (60 * tickHz) / turn.duringTicks);
  const repeatability = gapless
    ? (speedRpm * Math.SQRT2) / Math.sqrt(12) / ticks
    : meanAndSpread(speeds()).spread / Math.sqrt(turns.length);
  // The clock's tolerance is a limit, so rectangular: a/√3 (JCGM 100 § 4.3.7, from memory).
  const clock = (speedRpm * tickPpm * 1e-6) / Math.sqrt(3);
  const budget = [
    part("repeatability", repeatability),
    part("tick", clock, { shape: "rectangular", shared: true }),
  ];
  const speedStandardUncertaintyRpm = combined(budget);
  return {
    speedStandardUncertaintyRpm,
    speedExpandedUncertaintyRpm: coverageOf(budget) * speedStandardUncertaintyRpm,
  };
}

function vacuumOf(lines: readonly VacuumLine[], rig: RigKnowledge) {
  if (lines.length === 0) return { vacuumPa: null, vacuumStandardUncertaintyPa: 0 };
  const { mean, spread } = meanAndSpread(lines.map(({ vacuumPa }) => vacuumPa));
  return {
    vacuumPa: mean,
    vacuumStandardUncertaintyPa: Math.hypot(
      rig.vacuumStandardUncertaintyPa,
      spread / Math.sqrt(lines.length),
    ),
  };
}

/** An event that moved over the index within the span makes one turn seem to lack or to have one more. */
function missingEvents({ whole }: Window, { lobes, kept }: WindowFigures): readonly number[] {
  const all = whole.length * lobes.length - kept;
  return lobes.map(({ count }) => (all <= 1 ? 0 : Math.max(0, whole.length - count)));
}

/** Where each lobe fires, in degrees after the index; NaN without events. */
function lobePlaces(lobes: readonly LobeEvents[], { referenceDeg }: ReadingContext): number[] {
  return lobes.map(({ advanceDeg }, j) => (referenceDeg[j] as number) - advanceDeg);
}

/** Later than its nominal place is positive; what the rig's coupling adds is taken off. */
export function lobeDeviations(lobes: readonly LobeEvents[], context: ReadingContext): number[] {
  const { lobeAnglesDeg, rig } = context;
  const places = lobePlaces(lobes, context);
  const first = places.find((place) => !Number.isNaN(place)) ?? 0;
  const offset = (place: number, lobe: number) => {
    const coupling =
      rig.couplingRunOutDeg * Math.cos(((place - rig.couplingPhaseDeg) * Math.PI) / 180);
    const off = place - coupling - (lobeAnglesDeg[lobe] as number);
    // Brought next to the first lobe's place, so that the mean of all does not straddle the index.
    return off - first - 360 * Math.round((off - first) / 360);
  };
  const offsets = places.map(offset);
  const { mean } = meanAndSpread(offsets.filter((one) => !Number.isNaN(one)));
  return offsets.map((one) => (Number.isNaN(one) ? 0 : one - mean));
}

function lobeFigures(
  { advanceDeg, spreadDeg, count, dwellDeg }: LobeEvents,
  lobe: number,
  missing: number,
  { speedRpm }: Window,
  { referenceDeg, rig, pickup, hasDwell, zero }: ReadingContext,
): LobeFigures {
  const place = (referenceDeg[lobe] as number) - advanceDeg;
  return {
    angleDeg: count === 0 ? null : ((place % 360) + 360) % 360,
    standardUncertaintyDeg: Math.hypot(
      spreadDeg / Math.sqrt(Math.max(1, count)),
      360 * pickup.standardUncertainty,
      (6 * speedRpm) / rig.tickHz / Math.sqrt(12),
      rippleScale(speedRpm) * zero.rippleBetweenLobesDegAt1000Rpm,
    ),
    spreadDeg,
    dwellDeg: hasDwell ? dwellDeg : null,
    events: count,
    missing,
  };
}
