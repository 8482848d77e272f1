// Cam, rubbing block and contacts at a turn of the shaft: what is open when, and where it is drawn. Pure.
const RAD = Math.PI / 180;
const LOBES = 4;
export const SPACING_DEG = 360 / LOBES;
/** So that a gap of 0.40 mm gives a dwell of 51°, as the invented unit has it. */
export const LIFT_MM = 1.01;

export interface Contacts {
  /** How far they are apart. */
  readonly apartMm: number;
  readonly isOpen: boolean;
  readonly dwellDeg: number;
  /** Turn from the middle of the flat at which they part, which is the spark. */
  readonly opensDeg: number;
  readonly shutsDeg: number;
  /** The block's height over the flat: on the cam, or held up by the shut contacts. */
  readonly blockMm: number;
}

/** `turnedDeg` from the middle of a flat of the cam; `gapMm` with the block on top of a lobe. */
export function contactsAt(turnedDeg: number, gapMm: number): Contacts {
  const shutMm = LIFT_MM - gapMm;
  const apartMm = Math.max(0, liftMm(turnedDeg) - shutMm);
  const openSpanDeg = (2 * Math.acos(1 - (2 * gapMm) / LIFT_MM)) / LOBES / RAD;
  return {
    apartMm,
    isOpen: apartMm > 0,
    dwellDeg: SPACING_DEG - openSpanDeg,
    opensDeg: (SPACING_DEG - openSpanDeg) / 2,
    shutsDeg: (SPACING_DEG + openSpanDeg) / 2,
    blockMm: shutMm + apartMm,
  };
}

/** What the cam lifts at its place under the block: even flanks. */
function liftMm(turnedDeg: number): number {
  return (LIFT_MM * (1 - Math.cos(LOBES * turnedDeg * RAD))) / 2;
}
