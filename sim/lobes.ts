// Where the unit's trigger truly changes, by angle: nominal lobes with errors of cam and bush, one or two sets.
import { Random } from "./random.ts";
import type { Scenario } from "./scenario.ts";
import { bendLateDeg } from "./triggerFaults.ts";

/** A place on the cam's turn, in distributor degrees after the first nominal lobe, + later. */
export interface Flank {
  readonly deg: number;
  readonly edge: "a" | "b";
  /** True where this edge is the one that fires. */
  readonly fires: boolean;
  readonly lobe: number;
}

type Trigger = Pick<Scenario, "unit" | "pulses" | "seed">;

const BUSH_STREAM = 5;
/** Contact pressure pushes the shaft away by the play, so each flank meets the block this much sooner. */
const DWELL_PER_PLAY = 2;

/** Flanks of what is connected to the rig, the unit turned the way it is made for, plate at rest. */
export function trueFlanks(trigger: Trigger): Flank[] {
  const { unit, pulses } = trigger;
  if (unit.triggerKind !== "contacts") return pulseFlanks(trigger);
  const { secondSet, contactsConnected } = pulses;
  const count = unit.lobeAnglesDeg.length;
  const lobes = Array.from({ length: count }, (_, lobe) => lobe);
  if (secondSet === undefined) return setFlanks(trigger, lobes, unit.dwellDeg, 0);
  const staggered = secondSet.arrangement === "staggered";
  const [firstLobes, secondLobes] = staggered
    ? [lobes.filter((lobe) => lobe % 2 === 0), lobes.filter((lobe) => lobe % 2 === 1)]
    : [lobes, lobes];
  const first = setFlanks(trigger, firstLobes, unit.dwellDeg, 0);
  const { dwellDeg = unit.dwellDeg, offsetDeg } = secondSet;
  const second = setFlanks(trigger, secondLobes, dwellDeg, offsetDeg);
  if (contactsConnected === "both") return closedWhileEither([first, second]);
  return contactsConnected === "first" ? first : second;
}

function pulseFlanks(trigger: Trigger): Flank[] {
  const { unit } = trigger;
  const shifts = lobeShiftsDeg(trigger);
  const other = unit.firingEdge === "a" ? "b" : "a";
  return unit.lobeAnglesDeg.flatMap((nominal, lobe): Flank[] => {
    const deg = nominal + (shifts[lobe] as number) + (trigger.pulses.wearDeg[lobe] ?? 0);
    return [
      { deg, edge: unit.firingEdge, fires: true, lobe },
      { deg: deg + unit.widthDeg, edge: other, fires: false, lobe },
    ];
  });
}

/** One set of contacts at some of the lobes. */
function setFlanks(
  trigger: Trigger,
  lobes: readonly number[],
  dwellDeg: number,
  offsetDeg: number,
): Flank[] {
  const { unit, pulses } = trigger;
  const shifts = lobeShiftsDeg(trigger);
  // All lobes of a cam are of one form, so the contacts stay open for the same angle at each.
  const openDeg = 360 / lobes.length - dwellDeg;
  return lobes.flatMap((lobe, i): Flank[] => {
    const deg = (unit.lobeAnglesDeg[lobe] as number) + (shifts[lobe] as number) + offsetDeg;
    // Wear of the lobe brings the block down on it as play does: opened later, closed sooner.
    const lessDeg = (DWELL_PER_PLAY / 2) * pulses.bushPlayDeg + (pulses.wearDeg[lobe] ?? 0);
    const neighbour = (step: number) =>
      pulses.dwellErrorsDeg[lobes[(i + step + lobes.length) % lobes.length] as number] ?? 0;
    if (unit.firingEdge === "a") {
      const closing = deg + (openDeg - neighbour(1));
      return [
        { deg: deg + lessDeg, edge: "a", fires: true, lobe },
        { deg: closing - lessDeg, edge: "b", fires: false, lobe },
      ];
    }
    const opening = deg - (openDeg - neighbour(-1));
    return [
      { deg: deg - lessDeg, edge: "b", fires: true, lobe },
      { deg: opening + lessDeg, edge: "a", fires: false, lobe },
    ];
  });
}

/** Cam errors, and what the bush adds at each lobe. */
function lobeShiftsDeg({ unit, pulses, seed }: Trigger): number[] {
  const random = new Random(seed, BUSH_STREAM);
  return unit.lobeAnglesDeg.map((_, lobe) => {
    const bush = pulses.bushPlayDeg * (2 * random.uniform() - 1);
    return (pulses.lobeErrorsDeg[lobe] ?? 0) + bush;
  });
}

/** The flanks at which two sets side by side change the circuit: it is closed while either is closed. */
function closedWhileEither(sets: readonly (readonly Flank[])[]): Flank[] {
  const sorted = sets.map(byAngle);
  // A set whose first change is an opening was closed before.
  let closed = sorted.filter((set) => set[0]?.edge === "a").length;
  return byAngle(sorted.flat()).filter(({ edge }) => {
    closed += edge === "b" ? 1 : -1;
    return edge === "b" ? closed === 1 : closed === 0;
  });
}

/** Flanks as the shaft meets them with the cam at rest, a bent shaft's shifts added. */
export function flanksAtRest(trigger: Trigger): Flank[] {
  return trueFlanks(trigger).map((flank) => ({
    ...flank,
    deg: flank.deg + bendLateDeg(trigger.pulses, flank.deg, bendSense(trigger.unit, flank.edge)),
  }));
}

/** With the cam away from the block, contacts open late and close soon; another trigger's edges move together. */
export function bendSense(unit: Trigger["unit"], edge: "a" | "b"): 1 | -1 {
  return unit.triggerKind === "contacts" && edge === "b" ? -1 : 1;
}

/** In [0°, 360°) and ascending. */
export function byAngle(flanks: readonly Flank[]): Flank[] {
  return flanks
    .map((flank) => ({ ...flank, deg: flank.deg - 360 * Math.floor(flank.deg / 360) }))
    .sort((one, other) => one.deg - other.deg);
}
