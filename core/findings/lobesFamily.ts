// What is wrong by the places at which the lobes fire.
import type { Gathered } from "../judge/gathered.ts";
import { type Evidence, type Family, type FindingKind, UNTOLD } from "./finding.ts";
import { lobeCauses, lobeErrorsOf } from "./lobeErrors.ts";

/** Above it contacts may float. */
const SLOW_RPM = 1500;

export function lobesFamily({ speedReadings, reference, start }: Gathered): Family {
  const readings = [...speedReadings, ...(reference === null ? [] : [reference])]
    .map(({ reading }) => reading)
    .filter(({ speedRpm }) => speedRpm <= SLOW_RPM);
  const errors = lobeErrorsOf(
    readings,
    start?.unit.lobeAnglesDeg ?? [],
    (start?.rig.calibration?.coupling ?? null) !== null,
  );
  const causes = errors === null ? null : lobeCauses(errors);
  if (errors === null || causes === null) return UNTOLD;
  const worst = Math.max(...errors.deviationsDeg.map(Math.abs));
  const evidence: Evidence[] = [
    {
      figure: "lobe error",
      measured: worst,
      expandedUncertainty: 2 * errors.standardUncertaintyDeg,
      expected: null,
      unit: "deg",
      places: [],
    },
    {
      figure: "random spread",
      measured: errors.randomDeg,
      expandedUncertainty: 2 * errors.randomStandardUncertaintyDeg,
      expected: null,
      unit: "deg",
      places: [],
    },
  ];
  const candidates = Object.entries(causes).map(([kind, strength]) => ({
    kind: kind as FindingKind,
    part: null,
    strength,
    evidence,
  }));
  const any = candidates.reduce((sum, { strength }) => sum + strength, 0);
  return { ...UNTOLD, candidates, any };
}
