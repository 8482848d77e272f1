// Readings set a trace right: on a ramp the mechanism lags, so the trace lies beside the settled curve.
import type { Branch } from "../unit.ts";
import { type CurveReading, reduced, type SweepAxis } from "./curve.ts";
import {
  joined,
  type Piece,
  type Place,
  pieceAt,
  pieceSlope,
  piecesOf,
  reducedPerS,
  type TraceTurn,
} from "./trace.ts";

/** Share of a piece at its ends: a reading there may lie beyond the true corner, on the next piece. */
const END_SHARE = 0.04;
/** No part that is worth measuring lags longer. */
export const LAG_MAX_S = 0.15;
/** What the noise of two readings may come to at the end of a piece that they tell of. */
const END_NOISE_DEG = 0.03;

/** The trace as the readings ask for. */
export interface SettledTrace {
  /** The pieces, their corners anew. */
  readonly pieces: readonly Piece[];
  /** The same, parted at the readings on them, each part through its two readings. */
  readonly parts: readonly Piece[];
}

/**
 * A damped part lags by a time in proportion to the curve's slope, so in degrees with its square; how
 * much, the readings of all pieces show. What is then left of the shape is hung onto the readings, and
 * the corners are where the neighbouring pieces now cross.
 */
export function settledTrace(
  axis: SweepAxis,
  branch: Branch,
  trace: readonly TraceTurn[],
  readings: readonly CurveReading[],
): SettledTrace {
  const knots = readings.map(({ x, advanceDeg, repeatabilityDeg }) => ({
    u: reduced(axis, x),
    deg: advanceDeg,
    sigma: repeatabilityDeg,
  }));
  const raw = piecesOf(axis, trace);
  const lag = lagOf(
    branch,
    raw,
    raw.map((piece) => placesOn(piece, knots)),
  );
  const pieces = lag === 0 ? raw : piecesOf(axis, quicker(axis, trace, raw, lag));
  const hung = pieces.map((piece) => hang(piece, placesOn(piece, knots)));
  const ends = joined(
    hung.flatMap((parts) => [parts[0] as Piece, parts[parts.length - 1] as Piece]),
    (before, after) => LAG_MAX_S * Math.max(before.uPerS, after.uPerS),
  );
  const spans = pieces.map((_, i) => ({
    fromU: (ends[2 * i] as Piece).fromU,
    toU: (ends[2 * i + 1] as Piece).toU,
  }));
  return {
    pieces: pieces.map((piece, i) => ({ ...piece, ...spans[i] })),
    parts: hung.flatMap((parts, i) =>
      parts.map((part, p) => ({
        ...part,
        ...(p === 0 ? { fromU: spans[i]?.fromU ?? part.fromU } : {}),
        ...(p === parts.length - 1 ? { toU: spans[i]?.toU ?? part.toU } : {}),
      })),
    ),
  };
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

/** The turns as they would be without the lag, each by the ramp of its own. */
function quicker(
  axis: SweepAxis,
  trace: readonly TraceTurn[],
  pieces: readonly Piece[],
  lag: number,
): TraceTurn[] {
  return trace.map((turn) => {
    const u = reduced(axis, turn.x);
    const piece = pieces.find(({ toU }) => toU >= u) ?? pieces[pieces.length - 1];
    const slope = piece === undefined ? 0 : pieceSlope(piece, u);
    const late = lag * slope ** 2 * reducedPerS(axis, turn.x, turn.xPerS);
    return { ...turn, advanceDeg: turn.advanceDeg + late };
  });
}

interface Knot extends Place {
  /** Standard uncertainty in degrees. */
  readonly sigma: number;
}

/** Readings on a piece and clear of its ends, in rising order. */
function placesOn(piece: Piece, knots: readonly Knot[]): readonly Knot[] {
  const margin = END_SHARE * (piece.toU - piece.fromU);
  return knots.filter(({ u }) => u >= piece.fromU + margin && u <= piece.toU - margin);
}

/** The piece moved to its readings: as a whole by one, in parts through each two that follow. */
function hang(piece: Piece, own: readonly Knot[]): Piece[] {
  const middle = own[Math.floor(own.length / 2)];
  if (middle === undefined) return [piece];
  if (own.length === 1 || piece.slope === 0) {
    return [{ ...piece, deg: piece.deg + middle.deg - pieceAt(piece, middle.u) }];
  }
  const start = endPart(piece, own, piece.fromU);
  const end = endPart(piece, [...own].reverse(), piece.toU);
  const within = own.slice(1).map((b, i) => {
    const a = own[i] as Knot;
    return { ...through(piece, a, b), fromU: a.u, toU: b.u, slopeDoubt: 0 };
  });
  return [
    { ...start, fromU: piece.fromU, toU: (own[0] as Knot).u },
    ...within,
    { ...end, fromU: (own[own.length - 1] as Knot).u, toU: piece.toU },
  ];
}

/** `own`: the nearest to the end at `endU` first. Two of them tell how it goes on, a third how surely. */
function endPart(piece: Piece, own: readonly Knot[], endU: number): Piece {
  const first = own[0] as Knot;
  const baseOf = (from: Knot) =>
    (Math.abs(endU - first.u) * Math.SQRT2 * from.sigma) / END_NOISE_DEG;
  const beyond = (from: Knot) =>
    own.slice(own.indexOf(from) + 1).find(({ u }) => Math.abs(u - from.u) >= baseOf(from));
  const second = beyond(first) ?? (own[own.length - 1] as Knot);
  const part = through(piece, second, first);
  const third = beyond(second);
  if (third === undefined) return part;
  const before = through(piece, third, second);
  const drift = Math.abs(pieceSlope(part, first.u) - pieceSlope(before, first.u));
  return { ...part, slopeDoubt: drift };
}

/** With the same bow, through two places; only moved where these do not rise as the piece does. */
function through(piece: Piece, a: Place, b: Place): Piece {
  const risen = b.deg - a.deg;
  const perDeg = (b.u - a.u) / risen - piece.bow * risen;
  if (!Number.isFinite(perDeg) || perDeg * piece.slope <= 0) {
    return { ...piece, deg: piece.deg + b.deg - pieceAt(piece, b.u) };
  }
  return { ...piece, atU: a.u, deg: a.deg, slope: 1 / perDeg };
}
