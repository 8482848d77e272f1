// A target of the user's own in place of a specification: for another fuel, another engine, or by his own reckoning.
import type { Unit } from "./unit.ts";

/** Shown wherever such a target is used. */
export const OWN_TARGET_WARNING =
  "Wrong advance can destroy an engine. This target is the user's own, no maker's figures: the engine's specification or an engine builder has the last word.";

/** Rows as they are typed. What they do not name of their scales is asked for, never assumed. */
export interface TypedTarget {
  /** "0 at 550", "14 at 2300": see unitFile/lines.ts. */
  readonly rows: readonly string[];
  readonly degrees: "distributor" | "crankshaft" | null;
  readonly rpm: "distributor" | "crankshaft" | null;
  /** Either way, in the degrees of the rows; null: the workshop's own. */
  readonly toleranceDeg: number | null;
  /** Initial timing that is part of the rows' degrees; null: none said. */
  readonly initialDeg: number | null;
}

/** Whether any of a unit's bands is a target of the user's own. */
export function hasOwnTarget({
  speedBand,
  capsules,
}: Pick<Unit, "speedBand" | "capsules">): boolean {
  return [speedBand, ...capsules.map(({ band }) => band)].some(
    (band) => band?.isOwnTarget === true,
  );
}

/** Content of a unit file that asks for the target over speed in place of what it had; all else as it was. */
export function withOwnTarget(unitFile: unknown, target: TypedTarget): unknown {
  const { rows, degrees, rpm, toleranceDeg, initialDeg } = target;
  return {
    ...(unitFile as object),
    speed: {
      ownTarget: true,
      source: "The user's own target, typed as rows",
      lines: rows,
      ...(degrees === null ? {} : { degrees }),
      ...(rpm === null ? {} : { rpm }),
      ...(toleranceDeg === null ? {} : { toleranceDeg }),
      ...(initialDeg === null ? {} : { includesInitialDeg: initialDeg }),
    },
  };
}
