// Readings set a trace right: on a ramp the mechanism lags, so every piece lies beside the settled curve.
import type { Branch } from "../unit.ts";
import { type CurveReading, reduced, type SweepAxis } from "./curve.ts";
import { joined, type Piece, pieceAt, pieceSlope, pieceThrough } from "./trace.ts";

/** Share of a piece at the end the ramp came to last: a reading there may lie beyond the true corner. */
const LATE_SHARE = 0.04;

/** No part that is worth measuring lags longer. */
const LAG_MAX_S = 0.15;
/** What is left of a piece's lag counts up to here; more would be another curve. */
const LEFT_MAX_DEG = 0.15;

/**
 * The pieces as the readings on them ask for, their corners anew where these cross. A damped part lags
 * by a time in proportion to the curve's slope, so in degrees with its square; how much, the readings
 * of all pieces show. What is left of it on a piece moves that piece as a whole.
 */
export function withoutLag(
  axis: SweepAxis,
  branch: Branch,
  pieces: readonly Piece[],
  readings: readonly CurveReading[],
): Piece[] {
  const knots = readings.map(({ x, advanceDeg }) => ({ u: reduced(axis, x), deg: advanceDeg }));
  const own = pieces.map((piece) => knotsOn(piece, branch, knots));
  const lag = lagOf(branch, pieces, own);
  const moved = pieces.map((piece, i) => {
    const quick = quicker(piece, lag * piece.uPerS);
    const left = (own[i] ?? []).map(({ u, deg }) => deg - pieceAt(quick, u));
    if (left.length === 0) return quick;
    const by = Math.min(LEFT_MAX_DEG, Math.max(-LEFT_MAX_DEG, median(left)));
    return { ...quick, deg: quick.deg + by };
  });
  return joined(moved, (before, after) => LAG_MAX_S * Math.max(before.uPerS, after.uPerS));
}

/** Seconds for a slope of 1, with the sign of the branch: rising, the settled curve lies above the trace. */
function lagOf(
  branch: Branch,
  pieces: readonly Piece[],
  own: readonly (readonly Knot[])[],
): number {
  let [squares, product, steepest] = [0, 0, 0];
  pieces.forEach((piece, i) => {
    steepest = Math.max(steepest, Math.abs(middleSlope(piece)));
    for (const { u, deg } of own[i] ?? []) {
      const perS = pieceSlope(piece, u) ** 2 * piece.uPerS;
      squares += perS ** 2;
      product += perS * (deg - pieceAt(piece, u));
    }
  });
  if (squares === 0 || steepest === 0) return 0;
  const most = LAG_MAX_S / steepest;
  const sign = branch === "rising" ? 1 : -1;
  return sign * Math.min(most, Math.max(0, (sign * product) / squares));
}

function middleSlope(piece: Piece): number {
  return pieceSlope(piece, (piece.fromU + piece.toU) / 2);
}

/** The piece as it would be without the lag, through its ends and its middle. */
function quicker(piece: Piece, lag: number): Piece {
  const { fromU, toU } = piece;
  const place = (u: number) => ({ u: u - lag * pieceSlope(piece, u), deg: pieceAt(piece, u) });
  return pieceThrough(piece, [place(fromU), place((fromU + toU) / 2), place(toU)]);
}

interface Knot {
  readonly u: number;
  readonly deg: number;
}

function knotsOn(piece: Piece, branch: Branch, knots: readonly Knot[]): readonly Knot[] {
  const late = LATE_SHARE * (piece.toU - piece.fromU);
  const from = branch === "rising" ? piece.fromU : piece.fromU + late;
  const to = branch === "rising" ? piece.toU - late : piece.toU;
  return knots.filter(({ u }) => u >= from && u <= to);
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  const upper = sorted[middle] as number;
  return sorted.length % 2 === 1 ? upper : (upper + (sorted[middle - 1] as number)) / 2;
}
