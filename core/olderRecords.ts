// Records of older versions brought up to what this one expects: fields that they lack get the plainest
// value that claims nothing. The record on file is never changed.
import type {
  CurvePoint,
  EndDocument,
  HoldDocument,
  Reading,
  RunDocument,
  RunResult,
  StartDocument,
  UncertaintyPart,
} from "./documents.ts";
import type { TriggerResult } from "./triggerResult.ts";
import type { Band } from "./unit.ts";

/**
 * Documents of any version as documents of this one. What is there stays as it is.
 * @param documents as parsed from a record: of today's type, but fields may be missing
 */
export function broughtUp(documents: readonly RunDocument[]): RunDocument[] {
  return documents.map((document) => {
    switch (document.type) {
      case "start":
        return start(document);
      case "point":
        return { ...document, reading: reading(document.reading) };
      case "hold":
        return hold(document);
      case "final":
        return { ...document, readings: document.readings.map(reading) };
      case "end":
        return end(document);
      default:
        return document;
    }
  });
}

/** Version 0.1.0 read so many turns, however long they took. */
const NEVER_SO_LONG_S = 600;
/** Version 0.1.0 had this coverage factor for all that it stated. */
const COVERAGE_FACTOR = 2;

function start(document: StartDocument): StartDocument {
  const { unit, plan, rig } = document;
  // Version 0.1.0 kept no more of a check than its date.
  const isChecked = rig.calibration !== null && "delay" in rig.calibration;
  return {
    ...filled(document, { afterRecordId: null }),
    unit: {
      ...filled(unit, { contactSets: null, engine: null, springs: null }),
      speedBand: unit.speedBand && band(unit.speedBand),
      capsules: unit.capsules.map((one) => ({ ...one, band: one.band && band(one.band) })),
    },
    plan: filled(plan, { secondsPerReading: NEVER_SO_LONG_S }),
    rig: {
      ...filled(rig, { triggerDelayStandardUncertaintyUs: 0 }),
      calibration: isChecked ? rig.calibration : null,
    },
  };
}

function band(kept: Band): Band {
  return filled(kept, { scales: null });
}

function reading(kept: Reading): Reading {
  const { standardUncertaintyDeg, speedStandardUncertaintyRpm, lobeDeviationsDeg, setAside } = kept;
  return {
    ...filled(kept, {
      speedExpandedUncertaintyRpm: COVERAGE_FACTOR * speedStandardUncertaintyRpm,
      farthestRpm: null,
      budget: together(standardUncertaintyDeg),
      coverageFactor: COVERAGE_FACTOR,
      // The difference of two edges, each as uncertain as the advance.
      dwellStandardUncertaintyDeg: Math.SQRT2 * standardUncertaintyDeg,
      lobes: lobeDeviationsDeg.map(() => ({
        angleDeg: null,
        // The advance is the mean of so many lobes.
        standardUncertaintyDeg: standardUncertaintyDeg * Math.sqrt(lobeDeviationsDeg.length),
        spreadDeg: kept.spreadDeg,
        dwellDeg: null,
        events: 0,
        missing: 0,
      })),
      scatter: {
        oncePerTurnDeg: null,
        oncePerTurnAtDeg: null,
        fixedDeg: Math.max(0, ...lobeDeviationsDeg.map(Math.abs)),
        randomDeg: 0,
      },
    }),
    setAside: filled(setAside, { noiseEvents: 0, bounces: 0 }),
  };
}

function hold(document: HoldDocument): HoldDocument {
  return filled(document, { fromTick: 0 });
}

/** Version 0.1.0 told nothing of the trigger but its dwell and scatter, which have fields of their own. */
function nothingOf(capsules: RunResult["capsules"]): TriggerResult {
  return {
    dwell: null,
    bounce: null,
    missing: { overSpeed: null, overVacuum: capsules.map(() => null) },
    scatter: null,
  };
}

function end(document: EndDocument): EndDocument {
  const { result } = document;
  const { speed, capsules } = result;
  return {
    ...filled(document, { restConfirmed: false, findings: null, mechanism: null }),
    result: {
      ...filled(result, { rowsNotMeasured: 0, trigger: nothingOf(capsules) }),
      speed: { rising: speed.rising.map(point), falling: speed.falling.map(point) },
      capsules: capsules.map((capsule) => ({
        ...capsule,
        rising: capsule.rising.map(point),
        falling: capsule.falling.map(point),
        hold: capsule.hold && hold(capsule.hold),
      })),
    },
  };
}

function point(kept: CurvePoint): CurvePoint {
  return filled(kept, {
    coverageFactor: COVERAGE_FACTOR,
    budget: together(kept.standardUncertaintyDeg),
  });
}

function together(standardUncertainty: number): readonly UncertaintyPart[] {
  const known = { degreesOfFreedom: null, shape: "normal", shared: false } as const;
  return [{ name: "together", standardUncertainty, ...known }];
}

/** Fields that are missing, after those that are there: a record of this version stays the same to the letter. */
function filled<T extends object>(kept: T, fields: Partial<T>): T {
  const missing = Object.entries(fields).filter(([name]) => !(name in kept));
  return { ...kept, ...(Object.fromEntries(missing) as Partial<T>) };
}
