// Where the parts of a centrifugal unit are to be drawn at an advance: millimetres, y downward. Pure.
import {
  type CentrifugalUnit,
  type Place,
  placesAt,
  type Spring,
  springLoadN,
  swingAt,
} from "../../../sim/mechanism.ts";

const RAD = Math.PI / 180;
/** Wires of a spring to either side of its middle line, and how close they lie unloaded. */
const COIL_MM = 2;
const TURN_MM = 1.6;
const HOOK_MM = 2;
/** Half the width of a loop, which goes round a post. */
export const LOOP_MM = 1.6;

export interface DrawnSpring {
  readonly base: Place;
  readonly moving: Place;
  /** The wire from the base post to the loop. */
  readonly wire: readonly Place[];
  /** Ends of the loop's middle line: the post has play between them. */
  readonly loop: readonly [Place, Place];
  readonly loadN: number;
  /** Play that is left before it pulls. */
  readonly slackMm: number;
  readonly isMissing: boolean;
}

export interface DrawnWeights {
  readonly swingDeg: number;
  readonly weights: readonly {
    readonly pivot: Place;
    readonly centre: Place;
    readonly pin: Place;
  }[];
  readonly springs: readonly DrawnSpring[];
}

export function drawnWeights(unit: CentrifugalUnit, advanceDeg: number): DrawnWeights {
  const { pivots, centres, pins, springs } = placesAt(unit, advanceDeg);
  return {
    swingDeg: swingAt(unit.weights, advanceDeg * RAD) / RAD,
    weights: pivots.map((pivot, i) => ({
      pivot: down(pivot),
      centre: down(centres[i] ?? pivot),
      pin: down(pins[i] ?? pivot),
    })),
    springs: unit.springs.map((spring, i) => {
      const { base, moving } = springs[i] as { base: Place; moving: Place };
      return drawnSpring(spring, down(base), down(moving));
    }),
  };
}

function drawnSpring(spring: Spring, base: Place, moving: Place): DrawnSpring {
  const lengthMm = Math.hypot(moving.x - base.x, moving.y - base.y);
  const along = { x: (moving.x - base.x) / lengthMm, y: (moving.y - base.y) / lengthMm };
  const at = (mm: number, asideMm = 0): Place => ({
    x: base.x + mm * along.x - asideMm * along.y,
    y: base.y + mm * along.y + asideMm * along.x,
  });
  // Hooks are where the posts would pull: the stretched wire, or the unloaded one with play before the post.
  const hookMm = Math.max(spring.lengthMm, lengthMm - spring.slackMm);
  const endMm = hookMm - LOOP_MM;
  const coilMm = endMm - 2 * HOOK_MM;
  const wires = 2 * Math.round((spring.lengthMm - LOOP_MM - 2 * HOOK_MM) / TURN_MM);
  const turns = Array.from({ length: wires }, (_, i) =>
    at(HOOK_MM + ((i + 0.5) / wires) * coilMm, i % 2 === 0 ? COIL_MM : -COIL_MM),
  );
  return {
    base,
    moving,
    wire: [at(0), at(HOOK_MM), ...turns, at(endMm - HOOK_MM), at(endMm)],
    loop: [at(hookMm), at(hookMm + spring.slackMm)],
    loadN: springLoadN(spring, lengthMm),
    slackMm: Math.max(0, spring.lengthMm + spring.slackMm - lengthMm),
    isMissing: spring.rateNPerMm === 0,
  };
}

/** A cam of four lobes about the axis, as a closed line; one lobe points along x at no advance. */
export function camOutline(advanceDeg: number, baseMm: number, liftMm: number): readonly Place[] {
  return Array.from({ length: 72 }, (_, i) => {
    const angle = (i * 5 + advanceDeg) * RAD;
    const radius = baseMm + (liftMm * (1 + Math.cos(4 * i * 5 * RAD))) / 2;
    return down({ x: radius * Math.cos(angle), y: radius * Math.sin(angle) });
  });
}

/** An arc about the axis with a head at its end; degrees clockwise on paper, from the right. */
export function turnArrow(radiusMm: number, fromDeg: number, toDeg: number): string {
  const at = (deg: number, radius: number) =>
    `${(radius * Math.cos(deg * RAD)).toFixed(2)} ${(radius * Math.sin(deg * RAD)).toFixed(2)}`;
  const back = toDeg - Math.sign(toDeg - fromDeg) * (150 / radiusMm);
  const sweep = toDeg > fromDeg ? 1 : 0;
  const head = `M${at(back, radiusMm - 1.8)}L${at(toDeg, radiusMm)}L${at(back, radiusMm + 1.8)}`;
  return `M${at(fromDeg, radiusMm)}A${radiusMm} ${radiusMm} 0 0 ${sweep} ${at(toDeg, radiusMm)}${head}`;
}

/** As `points` of an SVG shape wants them. */
export function pointsText(places: readonly Place[]): string {
  return places.map(({ x, y }) => `${x.toFixed(2)},${y.toFixed(2)}`).join(" ");
}

/** On paper y grows downward. */
function down({ x, y }: Place): Place {
  return { x, y: -y };
}
