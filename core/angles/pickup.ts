// What a run tells of its own pickup: spacing errors, which stay with the edge at any speed, and ripple, which falls with speed.
import type { TurnTimes } from "../turns.ts";
import { Cubic } from "./cubic.ts";
import { evenPlaces, type Places, throughIndexes } from "./phase.ts";

/** Where the edges of a steady reading seem to stand, in revolutions beside their nominal places. */
export interface EdgePattern {
  readonly speedRpm: number;
  /** One entry an edge, the index (always 0) among them. */
  readonly offsets: readonly number[];
  /** Variance of one entry's mean. */
  readonly variance: number;
}

/** Null without pickup lines. */
export function edgePattern(
  turns: readonly TurnTimes[],
  edgesPerTurn: number,
  speedRpm: number,
): EdgePattern | null {
  if (edgesPerTurn < 2) return null;
  const sums = new OffsetSums(edgesPerTurn);
  for (const turn of turns) sums.add(turn);
  const { count } = sums;
  if (count === 0) return null;
  const offsets = Array.from(sums.offsets, (sum) => sum / count);
  const single = sums.squares.reduce(
    (sum, square, k) => sum + square / count - (offsets[k] as number) ** 2,
    0,
  );
  const variance = Math.max(0, single) / (edgesPerTurn - 1) / Math.max(1, count - 1);
  return { speedRpm, offsets, variance };
}

/** Of where the edges of turns seem to stand beside their nominal places, an entry an edge. */
class OffsetSums {
  readonly offsets: Float64Array;
  readonly squares: Float64Array;
  /** So many turns had edges. */
  count = 0;
  private readonly places: Float64Array;
  private readonly seen: Float64Array;
  private readonly cubic = new Cubic();

  constructor(edgesPerTurn: number) {
    this.offsets = new Float64Array(edgesPerTurn);
    this.squares = new Float64Array(edgesPerTurn);
    this.places = Float64Array.from(evenPlaces(edgesPerTurn));
    this.seen = new Float64Array(edgesPerTurn);
  }

  add(turn: TurnTimes): void {
    const { offsets, squares, places, seen, cubic } = this;
    const { edgeTicks } = turn;
    if (edgeTicks === null) return;
    this.count++;
    throughIndexes(cubic, turn);
    cubic.atEach(edgeTicks, seen);
    for (let k = 1; k < seen.length; k++) {
      const offset = (seen[k] as number) - (places[k] as number);
      offsets[k] = (offsets[k] as number) + offset;
      squares[k] = (squares[k] as number) + offset * offset;
    }
  }
}

export interface Pickup {
  readonly places: Places;
  /** Whether spacing errors could be told from ripple. */
  readonly learnt: boolean;
  /** Of one edge's place, in revolutions. */
  readonly standardUncertainty: number;
}

/** How well a ripple keeps to the law of a fixed torque, as a share of its angle. An assumption, no source. */
const RIPPLE_LAW_SHARE = 0.05;
const SCALE_RPM = 1000;

/**
 * Spacing errors by least squares over readings at different speeds: offset = spacing error −
 * ripple · (1000 rpm / speed)². A ripple of the same torque moves the shaft the less the faster it
 * turns, a misplaced edge stays where it is.
 */
export function learnPickup(patterns: readonly EdgePattern[], edgesPerTurn: number): Pickup {
  const nominal = evenPlaces(edgesPerTurn);
  const size = rms(patterns.map(({ offsets }) => offsets));
  const spacing = new Float64Array(edgesPerTurn);
  const ripple = new Float64Array(edgesPerTurn);
  let rippleSize = 0;
  let uncertainty = Number.POSITIVE_INFINITY;
  // Twice: how far the law of the ripple may be off is known once its size is.
  for (let pass = 0; pass < 2; pass++) {
    const plain = new Float64Array(edgesPerTurn);
    const scaled = new Float64Array(edgesPerTurn);
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    for (const { speedRpm, variance, offsets } of patterns) {
      const x = (SCALE_RPM / speedRpm) ** 2;
      const weight = 1 / (variance + (RIPPLE_LAW_SHARE * rippleSize * x) ** 2 + 1e-14);
      const weightX = weight * x;
      s0 += weight;
      s1 += weightX;
      s2 += weightX * x;
      for (let k = 0; k < edgesPerTurn; k++) {
        plain[k] = (plain[k] as number) + weight * (offsets[k] as number);
        scaled[k] = (scaled[k] as number) + weightX * (offsets[k] as number);
      }
    }
    const determinant = s0 * s2 - s1 * s1;
    if (!(determinant > 1e-9 * s0 * s2)) break;
    uncertainty = Math.sqrt(s2 / determinant);
    for (let k = 0; k < edgesPerTurn; k++) {
      const y0 = plain[k] as number;
      const y1 = scaled[k] as number;
      ripple[k] = (s1 * y0 - s0 * y1) / determinant;
      spacing[k] = (s2 * y0 - s1 * y1) / determinant;
    }
    rippleSize = rms([ripple]);
  }
  if (!(uncertainty < size)) {
    return {
      places: nominal,
      learnt: false,
      standardUncertainty: patterns.length === 0 ? 0 : size,
    };
  }
  const places = nominal.map((place, k) => place + (spacing[k] ?? 0));
  return { places, learnt: true, standardUncertainty: uncertainty };
}

/** Ripple of one reading as a sum of harmonics of the turn, in revolutions. */
export interface Ripple {
  readonly constant: number;
  readonly harmonics: readonly {
    readonly order: number;
    readonly cosine: number;
    readonly sine: number;
  }[];
  /** Root mean square of what the pickup can hardly tell from higher orders, in revolutions. */
  readonly doubtful: number;
}

/** Amplitudes below this many times what chance makes are taken for chance. */
const CHANCE = 4;

/** Fewer edges than this tell no harmonic well enough to put it between the edges. */
const EDGES_FOR_HARMONICS = 6;

/** The ripple that an edge pattern leaves once the spacing errors are taken off. */
export function rippleIn(
  pattern: EdgePattern,
  { places, learnt, standardUncertainty }: Pickup,
): Ripple {
  const { offsets, variance } = pattern;
  const edges = offsets.length;
  const none = { constant: 0, harmonics: [], doubtful: 0 };
  if (!learnt || edges < EDGES_FOR_HARMONICS) return none;
  const ripple = offsets.map((offset, k) => (places[k] as number) - k / edges - offset);
  const chance = CHANCE ** 2 * (2 / edges) * (variance + standardUncertainty ** 2);
  const harmonics: { order: number; cosine: number; sine: number }[] = [];
  let doubtful = 0;
  const angles = ripple.map((_, k) => (2 * Math.PI * k) / edges);
  const cosines = angles.map(Math.cos);
  const sines = angles.map(Math.sin);
  for (let order = 1; order < edges / 2; order++) {
    let cosine = 0;
    let sine = 0;
    for (let k = 0; k < edges; k++) {
      const round = (order * k) % edges;
      cosine += (2 / edges) * (ripple[k] as number) * (cosines[round] as number);
      sine += (2 / edges) * (ripple[k] as number) * (sines[round] as number);
    }
    const square = cosine ** 2 + sine ** 2;
    if (square <= chance) continue;
    harmonics.push({ order, cosine, sine });
    // It may as well be the order edges − order seen too seldom, the less likely the higher that is.
    const share = Math.min(1, 2 * (order / (edges - order)) ** 2);
    doubtful += share ** 2 * square;
  }
  const constant = ripple.reduce((sum, one) => sum + one, 0) / edges;
  return { constant, harmonics, doubtful: Math.sqrt(doubtful / 2) };
}

/** In revolutions, at a phase in revolutions. */
export function rippleAt({ constant, harmonics }: Ripple, phase: number): number {
  let sum = constant;
  for (const { order, cosine, sine } of harmonics) {
    const angle = 2 * Math.PI * order * phase;
    sum += cosine * Math.cos(angle) + sine * Math.sin(angle);
  }
  return sum;
}

/** Root mean square of all values of the lists together. */
function rms(lists: readonly ArrayLike<number>[]): number {
  let squares = 0;
  let count = 0;
  for (const values of lists) {
    for (let i = 0; i < values.length; i++) squares += (values[i] as number) ** 2;
    count += values.length;
  }
  return count === 0 ? 0 : Math.sqrt(squares / count);
}
