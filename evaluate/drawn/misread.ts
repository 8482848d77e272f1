// Specifications misread: the right unit file with one thing in it taken for another.
import type { Draw } from "../../accuracy/draw.ts";
import type { Band } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { pascalsFrom } from "../../core/units.ts";
import type { File } from "./ground.ts";
import type { Wording } from "./specification.ts";

export interface Misread {
  /**
   * `degrees`, `rpm`: those of the crankshaft for those of the distributor, or the other way round.
   * `vacuum`: another unit. `initial`: initial timing that is included not said to be.
   */
  readonly what: "degrees" | "rpm" | "vacuum" | "initial";
  /** What the file says over what is right; for `initial` the degrees that are too many. */
  readonly factor: number;
  readonly unitFile: File;
}

/** Units of vacuum taken for one another. */
const OTHER_VACUUM = { kPa: "inHg", inHg: "kPa", mbar: "mmHg", mmHg: "mbar" } as const;

/** Null where this file has nothing that could be misread so that it still makes sense. */
export function misread(draw: Draw, right: File, wording: Wording): Misread | null {
  const speed = right.speed as File;
  const [capsule] = (right.capsules ?? []) as readonly File[];
  const possible: Misread["what"][] = [];
  if (wording.driveRatio !== 1) possible.push("degrees", "rpm");
  if (capsule !== undefined) possible.push("vacuum");
  if (wording.initial !== 0) possible.push("initial");
  if (possible.length === 0) return null;
  const what = draw.oneOf(possible);
  const found = readAs(what, right, speed, capsule, wording);
  return makesSense(found.unitFile) ? { what, ...found } : null;
}

function readAs(
  what: Misread["what"],
  right: File,
  speed: File,
  capsule: File | undefined,
  { degrees, rpm, vacuum, driveRatio, initial }: Wording,
): Omit<Misread, "what"> {
  const other = (shaft: Wording["degrees"]) =>
    shaft === "crankshaft" ? "distributor" : "crankshaft";
  const scale = (shaft: Wording["degrees"]) =>
    shaft === "crankshaft" ? driveRatio : 1 / driveRatio;
  switch (what) {
    case "degrees": {
      const capsules =
        capsule === undefined ? {} : { capsules: [{ ...capsule, degrees: other(degrees) }] };
      const unitFile = { ...right, speed: { ...speed, degrees: other(degrees) }, ...capsules };
      return { factor: scale(degrees), unitFile };
    }
    case "rpm":
      return {
        factor: scale(rpm),
        unitFile: { ...right, speed: { ...speed, rpm: other(rpm) } },
      };
    case "vacuum": {
      const wrong = OTHER_VACUUM[vacuum];
      return {
        factor: pascalsFrom(1, wrong) / pascalsFrom(1, vacuum),
        unitFile: { ...right, capsules: [{ ...capsule, vacuum: wrong }] },
      };
    }
    case "initial": {
      const { includesInitialDeg: _, ...without } = speed;
      return { factor: initial, unitFile: { ...right, speed: without } };
    }
  }
}

function makesSense(file: File): boolean {
  try {
    unitFromFile(file, "misread");
    return true;
  } catch {
    return false;
  }
}

/** Largest distance from what a row of the band asks for in its middle, in distributor degrees. */
export function farthestDeg(band: Band | null, advanceDeg: (x: number) => number): number {
  const distances = (band?.rows ?? []).flatMap((row) => {
    if (row.kind === "start" || row.x === null) return [];
    const { min, max } = row.limitsDeg;
    return min === null || max === null ? [] : [Math.abs(advanceDeg(row.x) - (min + max) / 2)];
  });
  return Math.max(0, ...distances);
}
