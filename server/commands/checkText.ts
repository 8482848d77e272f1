// What is known of a rig's own errors, in lines for people.
import {
  CHECK_KINDS,
  type CheckKind,
  type RigCalibration,
} from "../../core/calibration/calibration.ts";
import { timeText } from "../../core/sheet/figures.ts";

/** A check together with its kind. */
export type KindOfCheck = {
  readonly [K in CheckKind]: { readonly kind: K } & NonNullable<RigCalibration[K]>;
}[CheckKind];

/** One line for each kind, also for those never checked. */
export function checkTexts(calibration: RigCalibration | null): string[] {
  return CHECK_KINDS.map((kind) => {
    const check = calibration?.[kind] ?? null;
    return check === null ? `${kind}: never checked` : checkText({ kind, ...check } as KindOfCheck);
  });
}

export function checkText(check: KindOfCheck): string {
  const { kind, checkedUtc, degreesOfFreedom } = check;
  const freedom =
    degreesOfFreedom === null ? "" : `, ${degreesOfFreedom.toFixed(0)} degrees of freedom`;
  return `${kind}: ${valueText(check)}${freedom}; checked ${timeText(checkedUtc)}`;
}

function valueText(check: KindOfCheck): string {
  switch (check.kind) {
    case "delay":
      return `${check.delayUs.toFixed(2)} µs, standard uncertainty ${check.standardUncertaintyUs.toFixed(2)} µs`;
    case "pickup": {
      const { knownDeg, measuredDeg, standardUncertaintyDeg } = check;
      const offDeg = measuredDeg - knownDeg;
      return `${measuredDeg.toFixed(3)}° measured of ${knownDeg.toFixed(3)}° known, ${offDeg.toFixed(3)}° off, standard uncertainty ${standardUncertaintyDeg.toFixed(3)}°`;
    }
    case "coupling":
      return `${check.runOutDeg.toFixed(3)}° once a turn, latest ${Math.round(check.phaseDeg) % 360}° after the index turning clockwise, standard uncertainty ${check.standardUncertaintyDeg.toFixed(3)}°`;
    case "vacuum": {
      const { offsetPa, gain, standardUncertaintyPa, lowestPa, highestPa } = check;
      const range = `${(lowestPa / 1000).toFixed(1)} to ${(highestPa / 1000).toFixed(1)} kPa`;
      return `true = ${offsetPa.toFixed(0)} Pa + ${gain.toFixed(4)} × sensed from ${range}, standard uncertainty ${standardUncertaintyPa.toFixed(0)} Pa`;
    }
  }
}
