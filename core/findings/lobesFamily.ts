// What is wrong by the places at which the lobes fire.
import type { Gathered } from "../judge/gathered.ts";
import { type Evidence, type Family, type FindingKind, UNTOLD } from "./finding.ts";
import { type LobeCauses, lobeCauses, lobeErrorsOf } from "./lobeErrors.ts";

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
  const candidates = Object.entries(onceAroundTogether(causes.probability)).map(
    ([kind, strength]) => ({ kind: kind as FindingKind, part: null, strength, evidence }),
  );
  return { ...UNTOLD, candidates, any: causes.any, unseen: causes.unseen };
}

/**
 * A bent shaft and a run-out of the coupling look alike until the coupling is turned: the likelier is
 * told for both, as the unit's or the rig's, and so is as likely as both.
 */
function onceAroundTogether(one: LobeCauses["probability"]): LobeCauses["probability"] {
  const { "shaft-bent": bent, "coupling-runout": runOut } = one;
  const likelier = bent > runOut ? "shaft-bent" : "coupling-runout";
  return { ...one, [likelier]: Math.min(1, bent + runOut) };
}
