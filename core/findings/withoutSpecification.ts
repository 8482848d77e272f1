// What shape, friction and return alone tell, where no specification says what the curve should be.
import type { CurvePoint } from "../documents.ts";
import { type CurveFault, capsuleFaults, friction, notReturning, stuck } from "./curveFaults.ts";
import type { Nominal } from "./nominal.ts";

/** Less movement than this over a whole sweep is none. */
const MOVED_DEG = 0.4;
const APART_DEG = 0.5;
/** Width that stands for a specification's: a sound unit may follow any rising curve. */
const HALF_WIDTH_DEG = 1;
/** The place where the curve ends lies between two readings. An assumption, no source. */
const END_DOUBT_SHARE = 0.1;

/** The rising curve itself, as if it were printed; null where there are too few readings. */
export function nominalByShape(rising: readonly CurvePoint[], power: 1 | 2): Nominal | null {
  const ordered = [...rising].sort((a, b) => a.x - b.x);
  const [lowest, highest] = [ordered[0], ordered.at(-1)];
  if (lowest === undefined || highest === undefined || ordered.length < 3) return null;
  const mostDeg = Math.max(...ordered.map(({ advanceDeg }) => advanceDeg));
  // A unit that never moves is compared with one that would.
  if (mostDeg < MOVED_DEG) {
    const stopDeg = 5;
    return {
      power,
      knots: [
        { advanceDeg: 0, load: lowest.x ** power },
        { advanceDeg: stopDeg, load: ((lowest.x + highest.x) / 2) ** power },
      ],
      stopDeg,
      halfWidthDeg: HALF_WIDTH_DEG,
      startDoubt: lowest.x,
      endX: null,
      endDoubtShare: END_DOUBT_SHARE,
    };
  }
  const lastAtRest = ordered.findLast(({ advanceDeg }) => advanceDeg < MOVED_DEG / 4);
  const climbing: { advanceDeg: number; load: number }[] = [];
  for (const { x, advanceDeg } of ordered) {
    const before = climbing.at(-1);
    const isOn = before === undefined || advanceDeg > before.advanceDeg + APART_DEG;
    const isBeyond = before === undefined || x ** power > before.load;
    if (advanceDeg > MOVED_DEG / 4 && isOn && isBeyond)
      climbing.push({ advanceDeg, load: x ** power });
  }
  const knots = [
    { advanceDeg: 0, load: startLoad(climbing, (lastAtRest?.x ?? 0) ** power) },
    ...climbing,
  ];
  return {
    power,
    knots,
    stopDeg: mostDeg,
    halfWidthDeg: HALF_WIDTH_DEG,
    endX: null,
    startDoubt: (highest.x - lowest.x) / (2 * ordered.length),
    endDoubtShare: END_DOUBT_SHARE,
  };
}

export function shapeFaults(sweep: "speed" | "vacuum"): readonly CurveFault[] {
  if (sweep === "speed") return [stuck, ...friction.map(inRising), notReturning];
  return capsuleFaults()
    .filter(({ kind }) => kind === "plate-not-following" || kind === "plate-sticking")
    .map((fault) => (fault.kind === "plate-sticking" ? inRising(fault) : fault));
}

/** The rising curve stands for the specification, and has the friction in it already. */
function inRising(fault: CurveFault): CurveFault {
  return {
    ...fault,
    change: (shape, size) => ({ ...fault.change(shape, size), soundFriction: size }),
  };
}

/** Where the line through the first two places of the slope leads down to, above the last reading at rest. */
function startLoad(
  [first, second]: readonly { readonly advanceDeg: number; readonly load: number }[],
  restLoad: number,
): number {
  if (first === undefined) return restLoad;
  const slope =
    second === undefined ? 0 : (second.load - first.load) / (second.advanceDeg - first.advanceDeg);
  const led = first.load - slope * first.advanceDeg;
  return Math.min(Math.max(led, restLoad, LEAST_LOAD_SHARE * first.load), 0.999 * first.load);
}

/** A cam that had left its rest before the first reading needed some load at least. An assumption, no source. */
const LEAST_LOAD_SHARE = 0.05;
