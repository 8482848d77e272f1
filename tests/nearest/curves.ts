// Curves and units whose every figure can be worked out by hand.
import type { CurvePoint, RunResult } from "../../core/documents.ts";
import type { Measured, MeasuredCapsule } from "../../core/nearest/measured.ts";
import type { UnitOnFile } from "../../core/nearest/nearest.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { ownBudget } from "../reading.ts";

const SPEEDS = [200, 300, 350, 400, 450, 500, 550, 600, 650, 700, 750, 800, 850, 900, 1000, 1100];

/** One spring: begins at 400 rpm, a degree for every 60000 rpm², 5° at 678 rpm, a stop at 10° met at 872 rpm. */
export function curve(stopDeg = 10, speeds: readonly number[] = SPEEDS): CurvePoint[] {
  return speeds.map((x) => point(x, Math.min(stopDeg, Math.max(0, (x ** 2 - 160_000) / 60_000))));
}

/** From 10 kPa half a degree for each, to 8° at 26 kPa. */
export function capsuleCurve(sign: 1 | -1): CurvePoint[] {
  return [0, 5, 10, 14, 18, 22, 26, 30, 34].map((kPa) =>
    point(1000 * kPa, sign * Math.min(8, Math.max(0, (kPa - 10) / 2))),
  );
}

function point(x: number, advanceDeg: number): CurvePoint {
  const standardUncertaintyDeg = 0.02;
  return {
    x,
    targetX: x,
    advanceDeg,
    standardUncertaintyDeg,
    coverageFactor: 1.96,
    budget: ownBudget(standardUncertaintyDeg),
  };
}

const FORM = { lobes: 4, rotation: "cw", trigger: { kind: "contacts" } } as const;

export function measured(
  rising: readonly CurvePoint[],
  capsules: readonly MeasuredCapsule[] = [],
  form: object = {},
): Measured {
  const bare = { ...FORM, ...form, description: "unmarked" };
  const named = capsules.map(({ name, acts }) => ({ name, acts }));
  const unit = unitFromFile({ ...bare, capsules: named }, "unmarked");
  const speed = { rising, falling: rising };
  const result = { speed, capsules, dwellDeg: 50 } as unknown as RunResult;
  return { unit, referenceRpm: 150, isByHand: false, speed, capsules, result };
}

export function onFile(name: string, lines: string | null, more: object = {}): UnitOnFile {
  const speed = { degrees: "distributor", rpm: "distributor", source: "invented", lines };
  const file = { ...FORM, description: name, invented: true, ...(lines === null ? {} : { speed }) };
  return { place: `${name}.unit.json`, unit: unitFromFile({ ...file, ...more }, name) };
}
