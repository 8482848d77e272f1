// A reading with nothing remarkable in it, for tests that care about one or two of its fields.
import type { Reading, UncertaintyPart } from "../core/documents.ts";

/** All of it by chance, known well. */
export function ownBudget(standardUncertainty: number): readonly UncertaintyPart[] {
  const known = { degreesOfFreedom: null, shape: "normal", shared: false } as const;
  return [{ name: "repeatability", standardUncertainty, ...known }];
}

export function plainReading(changes: Partial<Reading> = {}): Reading {
  const lobeDeviationsDeg = changes.lobeDeviationsDeg ?? [];
  const standardUncertaintyDeg = changes.standardUncertaintyDeg ?? 0.05;
  return {
    speedRpm: 500,
    speedStandardUncertaintyRpm: 0,
    speedExpandedUncertaintyRpm: 0,
    farthestRpm: null,
    wayFromTick: null,
    vacuumPa: null,
    vacuumStandardUncertaintyPa: 0,
    advanceDeg: 3,
    standardUncertaintyDeg,
    budget: ownBudget(standardUncertaintyDeg),
    coverageFactor: 1.96,
    spreadDeg: 0.1,
    turns: 100,
    setAside: { lostTurns: 0, missingEvents: 0, extraEvents: 0, noiseEvents: 0, bounces: 0 },
    dwellDeg: null,
    dwellStandardUncertaintyDeg: 0.05,
    lobeDeviationsDeg,
    lobes: lobeDeviationsDeg.map(() => ({
      angleDeg: null,
      standardUncertaintyDeg: 0.05,
      spreadDeg: 0.1,
      dwellDeg: null,
      events: 100,
      missing: 0,
    })),
    scatter: { oncePerTurnDeg: null, oncePerTurnAtDeg: null, fixedDeg: 0, randomDeg: 0.1 },
    fromTick: 0,
    toTick: 1,
    ...changes,
  };
}
