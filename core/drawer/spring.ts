// One extension spring: its rate from wire and coils, and what it pulls with at a length.

/** Lengths in metres, forces in newtons. */
export interface Spring {
  readonly wireDiameterM: number;
  readonly meanCoilDiameterM: number;
  readonly activeCoils: number;
  /** Inside the loops, without load. */
  readonly freeLengthM: number;
  /** What pulls its coils together; it lengthens only above this load. */
  readonly initialTensionN: number;
  /** How far its posts part before a long loop is taken up; 0 for a loop that fits its post. */
  readonly loopLengthM: number;
  readonly shearModulusPa: number;
}

/** Music wire, 11.5 × 10⁶ psi in a public modulus table; thin wire may be up to 82.7 GPa. */
export const MUSIC_WIRE_SHEAR_MODULUS_PA = 79.3e9;

/** k = G d⁴ / (8 D³ n): Bhandari, Design of Machine Elements (title from memory). N/m. */
export function springRateNPerM({
  wireDiameterM,
  meanCoilDiameterM,
  activeCoils,
  shearModulusPa,
}: Pick<Spring, "wireDiameterM" | "meanCoilDiameterM" | "activeCoils" | "shearModulusPa">): number {
  return (shearModulusPa * wireDiameterM ** 4) / (8 * meanCoilDiameterM ** 3 * activeCoils);
}

/** With its posts `stretchM` farther apart than its free length; nothing while a long loop is slack. */
export function springLoadN(
  { initialTensionN, loopLengthM }: Pick<Spring, "initialTensionN" | "loopLengthM">,
  rateNPerM: number,
  stretchM: number,
): number {
  const taken = stretchM - loopLengthM;
  return taken <= 0 ? 0 : initialTensionN + rateNPerM * taken;
}
