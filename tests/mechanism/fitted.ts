// A mechanism as fitted, invented: with two springs, and a capsule whose end was not reached.
import type { MechanismFit, ToldFigure } from "../../core/mechanism/fitted.ts";

function told(value: number, expanded: number): ToldFigure {
  return { value, standardUncertainty: expanded / 2, coverageFactor: 2 };
}

export const MECHANISM: MechanismFit = {
  weights: {
    form: {
      startLoad: 0.19,
      firstRate: 0.05,
      firstBend: 0,
      leverGrowthPerDeg: 0,
      kneeDeg: 4.3,
      secondRate: 0.4,
      secondBend: 0,
      stepLoad: 0,
      stopDeg: 14.02,
      frictionLoad: 0.01,
      frictionShare: 0,
      homeDeg: 0,
    },
    readings: 28,
    modelErrorDeg: 0.031,
    startRpm: told(438.2, 6),
    firstSlopeDegPer100Rpm: told(5.1, 0.2),
    kneeDeg: told(4.3, 0.3),
    kneeRpm: told(720, 15),
    secondSlopeDegPer100Rpm: told(0.5, 0.04),
    stepRpm: { why: "none shows" },
    stopDeg: told(14.02, 0.03),
    stopRpm: told(2310, 12),
    gapRpm: told(35, 5),
    gapDeg: told(1.1, 0.2),
  },
  capsules: [
    {
      form: { startKPa: 12, restDeg: 0, degPerKPa: 0.5, endDeg: null, frictionKPa: 0.1 },
      readings: 22,
      modelErrorDeg: 0,
      startPa: told(12_120, 50),
      slopeDegPerKPa: told(0.5, 0.01),
      endDeg: { why: "not reached" },
      endPa: { why: "not reached" },
      gapPa: told(20, 60),
      gapDeg: told(0.01, 0.02),
    },
  ],
};
