// The curve that a specification describes, as the load that its springs must carry at each advance.
import type { Band, BandRow } from "../unit.ts";

/**
 * A place of the curve: advance, and the load that holds it there on the way up. Of weights the load
 * is the square of the speed in rpm², of a capsule the vacuum in pascals.
 */
interface Knot {
  readonly advanceDeg: number;
  readonly load: number;
}

export interface Nominal {
  /** The load is x to this power. */
  readonly power: 1 | 2;
  /** From no advance on, both figures ascending. */
  readonly knots: readonly Knot[];
  /** Null where the specification does not tell the end of the advance. */
  readonly stopDeg: number | null;
  /** By where the specification wants the stop met; null where it does not say. */
  readonly endX: number | null;
  /** Half the width of the band in the middle. */
  readonly halfWidthDeg: number;
  /** Standard uncertainty of the x where a sound unit begins. */
  readonly startDoubt: number;
  /** The same of the x where its stop is met, as a share of it. */
  readonly endDoubtShare: number;
}

/** Assumed where rows are printed without tolerance. Common practice, no source. */
const HALF_WIDTH_DEG = 1;
/** Of x where the start is extrapolated, and of a printed range's width where it is not. Assumptions, no source. */
const START_DOUBT_SHARE = 0.08;
const RANGE_SHARE = 0.25;
const LEAST_DOUBT_SHARE = 0.03;
const SPARE_SHARE = 0.09;
const BEYOND_SHARE = 0.25;
const LEAST_LOAD_SHARE = 0.05;
/** The largest advance is printed at about the place where the stop is met. Common practice, no source. */
const STOP_MET_SHARE = 0.97;
/** Of the x where the stop is met: printed, and led to by the slope. Assumptions, no source. */
const END_DOUBT_SHARE = 0.06;
const END_DOUBT_SHARE_IF_LED = 0.3;
/** Closer to either end an advance tells nothing of the slope. */
const FROM_END_DEG = 0.25;

type AtRow = Extract<BandRow, { kind: "at" }>;

/** Null where fewer than two places of the slope can be told from the rows. */
export function nominalOf(band: Band, power: 1 | 2): Nominal | null {
  const end = band.rows.find((row) => row.kind === "end");
  const stopDeg = end === undefined ? null : sizeOf(middle(end.limitsDeg));
  const at = band.rows
    .filter((row): row is AtRow => row.kind === "at")
    .map(({ x, limitsDeg }) => ({ x, advanceDeg: sizeOf(middle(limitsDeg)) }))
    .filter((row): row is { x: number; advanceDeg: number } => row.advanceDeg !== null);
  const onSlope = at
    .filter(
      ({ advanceDeg }) => advanceDeg > FROM_END_DEG && advanceDeg < (stopDeg ?? 90) - FROM_END_DEG,
    )
    .map(({ x, advanceDeg }) => ({ advanceDeg, load: x ** power }));
  const start = startOf(band, onSlope, { x: end?.x ?? null, stopDeg }, power);
  if (start === null) return null;
  const rising = ascending([{ advanceDeg: 0, load: start.x ** power }, ...onSlope]);
  const knots =
    stopDeg === null
      ? rising
      : withStop(rising, stopDeg, end?.x == null ? null : (STOP_MET_SHARE * end.x) ** power);
  if (knots.length < 2) return null;
  const widths = band.rows.flatMap((row) =>
    row.kind === "at" || row.kind === "end" ? halfWidth(row) : [],
  );
  return {
    power,
    knots,
    stopDeg,
    halfWidthDeg: widths.length === 0 ? HALF_WIDTH_DEG : Math.min(...widths),
    startDoubt: start.doubt,
    endX: stopDeg === null ? null : (end?.x ?? null),
    endDoubtShare: end?.x == null ? END_DOUBT_SHARE_IF_LED : END_DOUBT_SHARE,
  };
}

function middle({ min, max }: { readonly min: number | null; readonly max: number | null }) {
  return min === null || max === null ? null : (min + max) / 2;
}

/** Of a capsule that retards. */
function sizeOf(deg: number | null): number | null {
  return deg === null ? null : Math.abs(deg);
}

function halfWidth({ limitsDeg: { min, max } }: Exclude<BandRow, { kind: "start" }>): number[] {
  return min === null || max === null || max <= min ? [] : [(max - min) / 2];
}

/** From its own row, else by the line through the first two places of the slope. */
function startOf(
  band: Band,
  onSlope: readonly Knot[],
  end: { readonly x: number | null; readonly stopDeg: number | null },
  power: 1 | 2,
): { readonly x: number; readonly doubt: number } | null {
  const row = band.rows.find((one) => one.kind === "start");
  if (row !== undefined) {
    const x = (row.fromX + row.toX) / 2;
    return { x, doubt: Math.max(LEAST_DOUBT_SHARE * x, RANGE_SHARE * (row.toX - row.fromX)) };
  }
  const resting = band.rows.flatMap((one) => (isAtRest(one) ? [one.x] : []));
  const atEnd =
    end.x === null || end.stopDeg === null
      ? undefined
      : { advanceDeg: end.stopDeg, load: end.x ** power };
  const [first, second = atEnd] = onSlope.length > 0 ? onSlope : [atEnd];
  if (first === undefined) return null;
  const line =
    second === undefined || second.advanceDeg <= first.advanceDeg
      ? first.load / 2
      : first.load -
        (first.advanceDeg * (second.load - first.load)) / (second.advanceDeg - first.advanceDeg);
  const led = Math.max(line, LEAST_LOAD_SHARE * first.load) ** (1 / power);
  if (resting.length === 0) return { x: led, doubt: START_DOUBT_SHARE * led };
  // "No advance below" is printed a little before the start, wherever the slope seems to lead.
  const least = Math.max(...resting);
  const beyond = Math.max(0, Math.min(led, first.load ** (1 / power)) - least);
  return {
    x: least * (1 + SPARE_SHARE) + BEYOND_SHARE * beyond,
    doubt: SPARE_SHARE * least + BEYOND_SHARE * beyond,
  };
}

/** "No advance below", or an advance of nothing printed at its place. */
function isAtRest(row: BandRow): row is Extract<BandRow, { kind: "noneBelow" | "at" }> {
  if (row.kind === "noneBelow") return true;
  return row.kind === "at" && Math.abs(middle(row.limitsDeg) ?? FROM_END_DEG) < FROM_END_DEG;
}

function ascending(knots: readonly Knot[]): Knot[] {
  const kept: Knot[] = [];
  for (const knot of knots) {
    const last = kept.at(-1);
    if (last === undefined || (knot.advanceDeg > last.advanceDeg && knot.load > last.load)) {
      kept.push(knot);
    }
  }
  return kept;
}

/** Where no place is printed the stop is met where the last stretch leads. */
function withStop(knots: readonly Knot[], stopDeg: number, endLoad: number | null): Knot[] {
  const [before, last] = [knots.at(-2), knots.at(-1)];
  if (last === undefined || last.advanceDeg >= stopDeg) return [...knots];
  const load =
    endLoad ??
    (before === undefined
      ? Number.POSITIVE_INFINITY
      : last.load +
        ((stopDeg - last.advanceDeg) * (last.load - before.load)) /
          (last.advanceDeg - before.advanceDeg));
  if (!Number.isFinite(load) || load <= last.load) return [...knots];
  return [...knots, { advanceDeg: stopDeg, load }];
}
