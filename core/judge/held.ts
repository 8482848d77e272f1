// Friction holds the weights where the farthest speed left them: which speed a reading truly belongs to.
import { type RawPoint, slopesAt } from "./slope.ts";

/** Friction of weights that move at all, as a share of the speed. An assumption, no source. */
const WIDEST_SHARE = 0.3;
/** How well the width of the friction is known from the other branch, as a share of the distance moved. */
const SHARE_DOUBTED = 0.2;
/**
 * Standard deviation of where weights come to rest that were left to settle, as a share of the width
 * of their friction. Read off the simulated mechanism; no source.
 */
const REST_SHARE = 0.015;

/**
 * A drive that overshoots leaves the weights at the angle of the farthest speed, unless the speed came
 * back by more than friction is wide. That width is the distance between the two branches at one
 * angle; without the other branch the truth lies anywhere between the mean speed and the farthest.
 * Both branches in rising order of x.
 */
export function heldAtFarthest(
  points: readonly RawPoint[],
  other: readonly RawPoint[],
): readonly RawPoint[] {
  return points.map((point, i) => {
    const { x, farthestX, xStandardUncertainty } = point;
    if (farthestX === null) return point;
    const away = farthestX - x;
    const width = frictionWidth(points, i, other);
    const moved = width === null ? away / 2 : Math.sign(away) * Math.min(Math.abs(away), width);
    const doubt =
      width === null || width < 2 * Math.abs(away)
        ? Math.abs(away) / Math.sqrt(12)
        : SHARE_DOUBTED * Math.abs(away);
    return {
      ...point,
      x: x + moved,
      xStandardUncertainty: Math.hypot(xStandardUncertainty, doubt, REST_SHARE * (width ?? 0)),
    };
  });
}

/** Distance in x between the branches at this point's angle; null where the other does not reach round it. */
function frictionWidth(
  points: readonly RawPoint[],
  index: number,
  other: readonly RawPoint[],
): number | null {
  const point = points[index] as RawPoint;
  const above = other.findIndex(({ x }) => x > point.x);
  const [low, high] = [other[above - 1], other[above]];
  if (low === undefined || high === undefined) return null;
  const share = (point.x - low.x) / (high.x - low.x);
  const there = low.advanceDeg + share * (high.advanceDeg - low.advanceDeg);
  const { left, right } = slopesAt(points, index);
  const slope = Math.max(Math.abs(left ?? 0), Math.abs(right ?? 0));
  // On a flat stretch, as of weights that do not come home, the branches lie apart by no width at all.
  const width = slope > 0 ? Math.abs(there - point.advanceDeg) / slope : 0;
  return Math.min(width, WIDEST_SHARE * point.x);
}
