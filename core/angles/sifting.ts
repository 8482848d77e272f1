// Which of a reading's events count: what stands far from its lobe's middle is set aside as bounce or extra.
import type { MeasuredEvents } from "./measuredEvents.ts";
import { belonging, median } from "./statistics.ts";

export interface Sifted {
  readonly kept: MeasuredEvents;
  /** The advances of what is kept, parted by lobe. */
  readonly advancesDeg: readonly Float64Array[];
  readonly extra: number;
  readonly bounces: number;
}

/** Events of a lobe closer than this to its middle always count: so far scatters a sound unit on a coarse clock. */
const LEAST_WIDTH_DEG = 0.3;
/** A firing edge that belongs to no lobe and comes so soon after a closing, as a share of the usual dwell, is bounce. */
const BOUNCE_SHARE = 0.5;

interface Limits {
  readonly middle: number;
  readonly width: number;
}

/** Sets aside what stands far from its lobe's median. `events` is used up: its columns become those of `kept`. */
export function sift(events: MeasuredEvents, lobes: number): Sifted {
  const advances = byLobe(events, events.advancesDeg, lobes);
  const limits = advances.map((own) => belonging(own, LEAST_WIDTH_DEG));
  for (let at = 0; at < events.lobes.length; at++) {
    if (!belongs(events, at, limits)) return withoutOthers(events, limits);
  }
  return { kept: events, advancesDeg: advances, extra: 0, bounces: 0 };
}

function belongs(events: MeasuredEvents, at: number, limits: readonly Limits[]): boolean {
  const { middle, width } = limits[events.lobes[at] as number] as Limits;
  return Math.abs((events.advancesDeg[at] as number) - middle) <= width;
}

function withoutOthers(events: MeasuredEvents, limits: readonly Limits[]): Sifted {
  const { lobes, advancesDeg, dwellsDeg, turnEnds } = events;
  const bounceDeg = BOUNCE_SHARE * median(finite(dwellsDeg));
  let kept = 0;
  let extra = 0;
  let bounces = 0;
  let openedEarlyDeg = 0;
  let at = 0;
  for (let turn = 0; turn < turnEnds.length; turn++) {
    const end = turnEnds[turn] as number;
    for (; at < end; at++) {
      const dwellDeg = dwellsDeg[at] as number;
      if (belongs(events, at, limits)) {
        lobes[kept] = lobes[at] as number;
        advancesDeg[kept] = advancesDeg[at] as number;
        dwellsDeg[kept] = dwellDeg + openedEarlyDeg;
        kept++;
        openedEarlyDeg = 0;
      } else if (dwellDeg < bounceDeg) {
        bounces++;
        // The contacts had closed when they first did; the opening after this one counts from there.
        openedEarlyDeg = Number.NaN;
      } else extra++;
    }
    turnEnds[turn] = kept;
  }
  const left = firstOf(events, kept);
  return { kept: left, advancesDeg: byLobe(left, left.advancesDeg, limits.length), extra, bounces };
}

function firstOf({ lobes, advancesDeg, dwellsDeg, turnEnds }: MeasuredEvents, count: number) {
  return {
    lobes: lobes.subarray(0, count),
    advancesDeg: advancesDeg.subarray(0, count),
    dwellsDeg: dwellsDeg.subarray(0, count),
    turnEnds,
  };
}

/** One column parted by lobe, each in the order of time. */
export function byLobe(
  events: MeasuredEvents,
  column: Float64Array,
  lobes: number,
): readonly Float64Array[] {
  const counts = new Uint32Array(lobes);
  for (let i = 0; i < column.length; i++) {
    const lobe = events.lobes[i] as number;
    counts[lobe] = (counts[lobe] as number) + 1;
  }
  const parted = new Float64Array(column.length);
  let from = 0;
  const parts = Array.from(counts, (count) => {
    const part = parted.subarray(from, from + count);
    from += count;
    return part;
  });
  counts.fill(0);
  for (let i = 0; i < column.length; i++) {
    const lobe = events.lobes[i] as number;
    const place = counts[lobe] as number;
    (parts[lobe] as Float64Array)[place] = column[i] as number;
    counts[lobe] = place + 1;
  }
  return parts;
}

/** Without those not known; the column itself where all are. */
export function finite(values: Float64Array): Float64Array {
  let first = 0;
  while (first < values.length && Number.isFinite(values[first])) first++;
  // Nearly always all are known, and need no copy.
  if (first === values.length) return values;
  const known = new Float64Array(values.length);
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number;
    if (Number.isFinite(value)) known[count++] = value;
  }
  return known.subarray(0, count);
}
