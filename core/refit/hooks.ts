// What may hang where a unit's springs hang: other springs and bent posts, with the load that each would carry.
import { type DrawerSpring, rateOf } from "../drawer/drawer.ts";
import { springLoadN } from "../drawer/spring.ts";
import type { Hung } from "./change.ts";
import type { Load } from "./geometry.ts";
import type { Fitted } from "./installed.ts";
import type { MeasuredUnit } from "./measuredUnit.ts";
import type { Step } from "./step.ts";

/** One spring on its posts. */
export interface Choice {
  /** Null: the one that is in. */
  readonly spring: DrawerSpring | null;
  readonly hung: Hung;
}

export interface Bent {
  readonly step: Step | null;
  readonly hung: Hung;
}

export interface Hook {
  /** The spring that is in first, then those of the drawer that can be told of. */
  readonly choices: readonly Choice[];
  /** A choice with its post as it stands, and bent either way. */
  readonly bent: (choice: Choice) => readonly Bent[];
}

/** Bending a post farther, or by more than this share of the load, cracks it or spoils the lever. Assumptions, no source. */
const MOST_BENT_M = 1e-3;
const BEND_STEP_M = 0.05e-3;
const MOST_BENT = 0.2;
const BEND_STEP = 0.02;
const MOST_KNEE_DEG = 2;
const KNEE_STEP_DEG = 0.25;

export function firstHook(
  unit: MeasuredUnit,
  fitted: Fitted | null,
  drawer: readonly DrawerSpring[],
): Hook {
  const { geometry, first } = unit;
  const own: Choice = { spring: null, hung: (one) => one.first };
  if (geometry === null || fitted === null) {
    const springs = fitted === null ? [] : firstByLikeness(unit, fitted, drawer);
    return { choices: [own, ...springs], bent: (choice) => bentByRatio(unit, choice, first(0)) };
  }
  const place = geometry.first;
  const restN = (spring: DrawerSpring, bendM: number) =>
    springLoadN(spring, rateOf(spring).rateNPerM, place.lengthM(0) + bendM - spring.freeLengthM);
  return {
    choices: [own, ...others(fitted, drawer).map((spring) => hanging("first", spring))],
    bent: (choice) => {
      const spring = choice.spring ?? fitted.spring;
      const was = restN(spring, 0);
      return range(-MOST_BENT_M, MOST_BENT_M, BEND_STEP_M).map((bendM) => {
        if (bendM === 0) return { step: null, hung: choice.hung };
        const loadRatio = was > 0 ? restN(spring, bendM) / was : null;
        return {
          step: { kind: "first post", loadRatio, bendM },
          hung: on("first", spring, bendM),
        };
      });
    },
  };
}

/** Null where no second spring is known to be in: levers that bend the curve look like one. */
export function secondHook(
  unit: MeasuredUnit,
  fitted: Fitted | null,
  drawer: readonly DrawerSpring[],
): Hook | null {
  const { geometry, kneeDeg } = unit;
  if (fitted === null) return null;
  const own: Choice = { spring: null, hung: (one) => one.second };
  const place = geometry?.second ?? null;
  const bent = (choice: Choice, hungAt: (shiftDeg: number) => Hung): readonly Bent[] =>
    range(-MOST_KNEE_DEG, MOST_KNEE_DEG, KNEE_STEP_DEG).map((shiftDeg) =>
      shiftDeg === 0
        ? { step: null, hung: choice.hung }
        : { step: { kind: "second post", kneeDeg: shiftDeg }, hung: hungAt(shiftDeg) },
    );
  if (place === null) {
    if (kneeDeg === null) return null;
    const springs = secondByLikeness(unit, fitted, drawer);
    return {
      choices: [own, ...springs],
      bent: (choice) =>
        bent(choice, (shiftDeg) => {
          const load = choice.hung(unit);
          return () => (deg) => load(Math.max(0, deg - shiftDeg));
        }),
    };
  }
  return {
    choices: [own, ...others(fitted, drawer).map((spring) => hanging("second", spring))],
    bent: (choice) =>
      kneeDeg === null
        ? [{ step: null, hung: choice.hung }]
        : bent(choice, (shiftDeg) =>
            on("second", choice.spring ?? fitted.spring, -shiftDeg * place.armM(kneeDeg)),
          ),
  };
}

/** Of units whose springs are known by their dimensions. */
function on(which: "first" | "second", spring: DrawerSpring, bendM: number): Hung {
  return ({ geometry }) => geometry?.[which]?.loadOf(spring, bendM) ?? (() => 0);
}

function hanging(which: "first" | "second", spring: DrawerSpring): Choice {
  return { spring, hung: on(which, spring, 0) };
}

function bentByRatio(unit: MeasuredUnit, { hung }: Choice, restLoad: number): readonly Bent[] {
  const load = hung(unit);
  return range(1 - MOST_BENT, 1 + MOST_BENT, BEND_STEP).map((ratio) =>
    ratio === 1
      ? { step: null, hung }
      : {
          step: { kind: "first post", loadRatio: ratio, bendM: null },
          hung: () => (deg) => load(deg) + (ratio - 1) * restLoad,
        },
  );
}

/** By how much a spring is stretched for each degree, where it was not measured. An assumption, no source. */
const STRETCH_M_PER_DEG = 0.25e-3;
/** Springs of another length hang otherwise; without the lengths between the posts only like ones can be told. */
const LIKE_LENGTH_M = 0.3e-3;

/** By rate, and by load where the length between the posts at rest is known. */
function firstByLikeness(
  unit: MeasuredUnit,
  { spring: old, restLengthM }: Fitted,
  drawer: readonly DrawerSpring[],
): readonly Choice[] {
  const oldRate = rateOf(old).rateNPerM;
  const atRest = unit.first(0);
  const loadN = (one: DrawerSpring) =>
    restLengthM === null
      ? null
      : springLoadN(one, rateOf(one).rateNPerM, restLengthM - one.freeLengthM);
  const was = loadN(old);
  // rpm² for one newton: by the load that starts the weights, or where the spring is slack by its rate.
  const scale =
    was !== null && was > 0 && unit.isRestSeen
      ? atRest / was
      : (unit.first(1) - atRest) / (oldRate * STRETCH_M_PER_DEG);
  return others({ spring: old }, drawer).flatMap((spring): readonly Choice[] => {
    const ratio = rateOf(spring).rateNPerM / oldRate;
    const is = loadN(spring);
    const more = is === null || was === null ? null : scale * (is - was);
    if (more === null && !isAsLong(spring, old)) return [];
    const restLoad = more === null ? ratio * atRest : atRest + more;
    const load: Load = (deg) => restLoad + ratio * (unit.first(deg) - atRest);
    return [{ spring, hung: () => load }];
  });
}

/** Of one that takes up as far on. */
function secondByLikeness(
  unit: MeasuredUnit,
  { spring: old }: Fitted,
  drawer: readonly DrawerSpring[],
): readonly Choice[] {
  return others({ spring: old }, drawer)
    .filter((spring) => isAsLong(spring, old))
    .map((spring) => {
      const ratio = rateOf(spring).rateNPerM / rateOf(old).rateNPerM;
      return { spring, hung: () => (deg) => ratio * unit.second(deg) };
    });
}

function others(
  { spring: old }: Pick<Fitted, "spring">,
  drawer: readonly DrawerSpring[],
): readonly DrawerSpring[] {
  return drawer.filter(({ quantity, name }) => quantity > 0 && name !== old.name);
}

function isAsLong(one: DrawerSpring, other: DrawerSpring): boolean {
  const length = ({ freeLengthM, loopLengthM }: DrawerSpring) => freeLengthM + loopLengthM;
  return Math.abs(length(one) - length(other)) <= LIKE_LENGTH_M;
}

export function range(from: number, to: number, step: number): number[] {
  return Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => {
    const value = from + i * step;
    return Math.abs(value) < step / 10 ? 0 : Math.round(value * 1e9) / 1e9;
  });
}
