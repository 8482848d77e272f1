// How large a fault must be to show as far as is wanted: by bisection on the truth of what a run would read.
import type { Draw } from "../../accuracy/draw.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { centrifugalAdvanceDeg, vacuumAdvanceDeg } from "../../sim/truth.ts";
import { type Change, type Faulting, faultingOf, withChanges } from "./change.ts";
import { type Figure, figuresOf } from "./figures.ts";
import type { File, Ground } from "./ground.ts";
import { type FaultKind, hasMagnitude, showsIn } from "./kinds.ts";
import { farthestDeg, misread } from "./misread.ts";

/** By the multiple of its expanded uncertainty by which a fault moves the figure that shows it most. */
export type Clarity = "clear" | "doubtful";
const MULTIPLES = { clear: [4, 12], doubtful: [1, 3] } as const;
const HALVINGS = 14;

export interface DrawnFault {
  readonly kind: FaultKind;
  /** Field of the scenario file that has the magnitude, or what was misread; "" for a fault without magnitude. */
  readonly field: string;
  readonly magnitude: number;
  /** The figure of a run that the fault moves most for its uncertainty, by itself on the good unit. */
  readonly effect: Effect;
  /** Likewise with all faults of the case, against the case without this one: small where they hide it. */
  readonly inCompany: Effect;
}

export interface Effect {
  readonly measure: string;
  readonly at: number | null;
  readonly unit: Figure["unit"];
  /** Faulty less good. */
  readonly moved: number;
  /** Expanded uncertainty of a decision on the figure: reading, and what good units differ by. */
  readonly expanded: number;
  /** |moved| / expanded. */
  readonly multiple: number;
}

type UnitOrRigFaultKind = Exclude<FaultKind, "specification-misread">;

export interface Solved {
  readonly fault: Omit<DrawnFault, "inCompany">;
  readonly change: Change;
  /** Where the fault is in the unit file. */
  readonly unitFile: File | null;
}

/** Null where the unit cannot show the kind so. */
export function solved(
  kind: FaultKind,
  draw: Draw,
  ground: Ground,
  clarity: Clarity,
): Solved | null {
  const [least, most] = MULTIPLES[hasMagnitude(kind) ? clarity : "clear"];
  const wanted = draw.logUniform(least, most);
  if (kind === "specification-misread") return misreadFile(draw, ground, least);
  const faulting = faultingOf(kind, draw, ground.unit, ground.bench.plan);
  const effectAt = effectOf(kind, faulting, ground);
  const share = hasMagnitude(kind) ? shareFor(wanted, (at) => effectAt(at).multiple) : 1;
  if (share === null) return null;
  const effect = effectAt(share);
  if (effect.multiple < least) return null;
  const magnitude = magnitudeAt(faulting, share);
  return {
    fault: { kind, field: faulting.field, magnitude, effect },
    change: faulting.change(magnitude),
    unitFile: null,
  };
}

/** Small faults are told apart more finely than large ones. */
export function magnitudeAt({ from, to }: Faulting, share: number): number {
  return from + (to - from) * share ** 3;
}

/** Effect on the good unit at a share of the largest magnitude. */
function effectOf(
  kind: UnitOrRigFaultKind,
  faulting: Faulting,
  ground: Ground,
): (share: number) => Effect {
  const good = figuresWith(kind, ground, []);
  return (share) => {
    const change = faulting.change(magnitudeAt(faulting, share));
    return farthest(good, figuresWith(kind, ground, [change]));
  };
}

/** The faults of a case with what each of them adds to the others. */
export function inCompany(ground: Ground, all: readonly Solved[]): readonly DrawnFault[] {
  return all.map(({ fault }, own) => {
    const { kind } = fault;
    // Of what is in the unit file only, all of a run's figures are as they were.
    if (all.length === 1 || kind === "specification-misread") {
      return { ...fault, inCompany: fault.effect };
    }
    const changes = all.map(({ change }) => change);
    const others = figuresWith(kind, ground, changes.toSpliced(own, 1));
    return { ...fault, inCompany: farthest(others, figuresWith(kind, ground, changes)) };
  });
}

function figuresWith(
  kind: UnitOrRigFaultKind,
  { content, scenario, bench }: Ground,
  changes: readonly Change[],
): readonly Figure[] {
  const faulty =
    changes.length === 0 ? scenario : parseScenario(withChanges(content, changes), "faulty unit");
  return showsIn(kind).flatMap((section) => figuresOf(section, faulty, bench));
}

function farthest(good: readonly Figure[], faulty: readonly Figure[]): Effect {
  const effects = faulty.map(({ value, expanded, measure, at, unit }, i): Effect => {
    const moved = value - (good[i] as Figure).value;
    return { measure, at, unit, moved, expanded, multiple: Math.abs(moved) / expanded };
  });
  return effects.reduce((most, one) => (one.multiple > most.multiple ? one : most));
}

/** The share of the largest magnitude that gives this multiple; null where even the largest does not. */
export function shareFor(wanted: number, multipleAt: (share: number) => number): number | null {
  if (multipleAt(1) < wanted) return null;
  let [less, more] = [0, 1];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (less + more) / 2;
    if (multipleAt(middle) < wanted) less = middle;
    else more = middle;
  }
  return more;
}

function misreadFile(draw: Draw, ground: Ground, least: number): Solved | null {
  const { unitFile, wording, scenario, bench } = ground;
  const found = misread(draw, unitFile, wording);
  if (found === null) return null;
  const unit = unitFromFile(found.unitFile, "misread");
  const bySpeed = farthestDeg(unit.speedBand, (rpm) =>
    centrifugalAdvanceDeg(scenario, rpm, "rising"),
  );
  const byVacuum = farthestDeg(unit.capsules[0]?.band ?? null, (pa) =>
    vacuumAdvanceDeg(scenario, pa, "rising"),
  );
  const moved = Math.max(bySpeed, byVacuum);
  const expanded = bench.rowsExpandedDeg;
  const effect = {
    measure: "distance from a row's middle",
    at: null,
    unit: "deg",
    moved,
    expanded,
    multiple: moved / expanded,
  } as const;
  if (effect.multiple < least) return null;
  return {
    fault: {
      kind: "specification-misread",
      field: found.what,
      magnitude: found.factor,
      effect,
    },
    change: {},
    unitFile: found.unitFile,
  };
}
