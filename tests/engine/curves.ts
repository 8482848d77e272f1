// Curves and units for the engine figures to be tried on: literal readings, known well.
import type { CurvePoint } from "../../core/documents.ts";
import type { EngineConditions, EngineCurves } from "../../core/engine/marks.ts";
import type { EngineSettings, Unit } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { ownBudget } from "../reading.ts";

/** Coverage factor 2 and a standard uncertainty of 0.05°, where nothing else is said. */
export function curve(
  readings: readonly (readonly [x: number, advanceDeg: number])[],
  standardUncertaintyDeg = 0.05,
): CurvePoint[] {
  return readings.map(([x, advanceDeg]) => ({
    x,
    targetX: x,
    advanceDeg,
    standardUncertaintyDeg,
    coverageFactor: 2,
    budget: ownBudget(standardUncertaintyDeg),
  }));
}

export const FOUR: Unit = unitFromFile(
  {
    description: "invented four",
    invented: true,
    lobes: 4,
    rotation: "cw",
    capsules: [{ name: "capsule", vacuum: "kPa" }],
  },
  "four",
);

/** Invented: begins at 400 rpm, ends with 12° at 2000; capsule 10 to 40 kPa, 8°. */
export const CURVES: NonNullable<EngineCurves> = {
  speed: {
    rising: curve([
      [200, 0],
      [400, 0],
      [800, 4],
      [1200, 8],
      [2000, 12],
      [2200, 12],
    ]),
    falling: [],
  },
  capsules: [
    {
      name: "capsule",
      rising: curve([
        [10_000, 0],
        [25_000, 4],
        [40_000, 8],
        [44_000, 8],
      ]),
      falling: [],
      hold: null,
    },
  ],
};

export function conditions(settings: Partial<EngineSettings> = {}): EngineConditions {
  return {
    settings: {
      initialTimingCrankshaftDeg: 10,
      atEngineRpm: 0,
      vacuumPort: "manifold",
      idleEngineRpm: 800,
      engineSpeedsRpm: null,
      source: null,
      ...settings,
    },
    capsule: 0,
    unloadedVacuumPa: 60_000,
    cruiseVacuumPa: 25_000,
  };
}
