// The mechanism with faults worked in: each is a change to the sound one. Pure, and without the files' schemas.
import type { Capsule } from "./capsule.ts";
import type { CentrifugalUnit, Spring } from "./mechanism.ts";
import type { MechanismFault } from "./mechanismFaults.ts";

export type { MechanismFault };

/** The unit that faults are worked into. */
export interface Mechanism {
  readonly centrifugal: CentrifugalUnit;
  readonly capsules: readonly Capsule[];
}

/** The mechanism with all faults in it. */
export function withFaults(sound: Mechanism, faults: readonly MechanismFault[]): Mechanism {
  return faults.reduce(withFault, sound);
}

function withFault(mechanism: Mechanism, fault: MechanismFault): Mechanism {
  const { centrifugal } = mechanism;
  switch (fault.fault) {
    case "weights-stuck":
      return withCentrifugal(mechanism, { seizedDeg: fault.advanceDeg });
    case "weights-dry":
      return withCentrifugal(mechanism, {
        friction: {
          torqueNmm: centrifugal.friction.torqueNmm * fault.frictionFactor,
          addedAt1000RpmNmm: centrifugal.friction.addedAt1000RpmNmm * fault.frictionFactor,
        },
        stickRatio: centrifugal.stickRatio * fault.stickRatio,
      });
    case "weights-not-returning":
      return withCentrifugal(mechanism, {
        homeDeg: Math.max(centrifugal.homeDeg, fault.heldDeg),
      });
    case "spring-stretched":
      return withSpring(mechanism, fault.spring, (was) => ({
        ...was,
        lengthMm: was.lengthMm + fault.lengthenedMm,
      }));
    case "spring-light":
    case "spring-heavy":
      return withSpring(mechanism, fault.spring, (was) => ({
        ...was,
        rateNPerMm: was.rateNPerMm * fault.rateRatio,
        tensionN: was.tensionN * fault.rateRatio,
      }));
    case "first-spring-missing":
      return withSpring(mechanism, "first", withoutForce);
    case "second-spring-missing":
      return withSpring(mechanism, "second", withoutForce);
    case "stop-worn":
      return withCentrifugal(mechanism, { stopDeg: centrifugal.stopDeg + fault.beyondDeg });
    case "second-spring-loop-worn":
      return withSpring(mechanism, "second", (was) => ({
        ...was,
        slackMm: was.slackMm + fault.wornMm,
      }));
    default:
      return withCapsule(mechanism, fault.capsule, (was) => faultyCapsule(was, fault));
  }
}

type CapsuleFault = Extract<MechanismFault, { readonly capsule: number }>;

function faultyCapsule(was: Capsule, fault: CapsuleFault): Capsule {
  switch (fault.fault) {
    case "diaphragm-torn":
    case "capsule-leak": {
      const { form, flowMlPerS } = fault;
      return { ...was, leaks: [...was.leaks, { form, flowMlPerS }] };
    }
    case "plate-stuck":
      return { ...was, seizedMm: fault.travelMm };
    // A plate that nothing pulls stays where it is.
    case "link-off":
      return { ...was, seizedMm: was.seizedMm ?? 0 };
    case "plate-sticking":
      return {
        ...was,
        frictionN: was.frictionN + fault.frictionN,
        stickRatio: was.stickRatio * fault.stickRatio,
      };
    case "capsule-spring-wrong":
      return {
        ...was,
        loadN: was.loadN * fault.loadRatio,
        rateNPerMm: was.rateNPerMm * fault.rateRatio,
      };
  }
}

/** Kept in its place, so that the other keeps its name. */
function withoutForce(was: Spring): Spring {
  return { ...was, rateNPerMm: 0, tensionN: 0 };
}

function withCentrifugal(mechanism: Mechanism, change: Partial<CentrifugalUnit>): Mechanism {
  return { ...mechanism, centrifugal: { ...mechanism.centrifugal, ...change } };
}

function springIndex(name: "first" | "second"): number {
  return name === "first" ? 0 : 1;
}

function withSpring(
  mechanism: Mechanism,
  name: "first" | "second",
  change: (was: Spring) => Spring,
): Mechanism {
  const springs = mechanism.centrifugal.springs.map((was, i) =>
    i === springIndex(name) ? change(was) : was,
  );
  return withCentrifugal(mechanism, { springs });
}

function withCapsule(
  mechanism: Mechanism,
  index: number,
  change: (was: Capsule) => Capsule,
): Mechanism {
  const capsules = mechanism.capsules.map((was, i) => (i === index ? change(was) : was));
  return { ...mechanism, capsules };
}
