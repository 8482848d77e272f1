// Faults of the unit by name: each is a change to the sound mechanism or its capsules.
import { z } from "zod";
import type { Capsule } from "./capsule.ts";
import type { CentrifugalUnit, Spring } from "./mechanism.ts";

/** The unit that faults are worked into. */
export interface Mechanism {
  readonly centrifugal: CentrifugalUnit;
  readonly capsules: readonly Capsule[];
}

const spring = z.enum(["first", "second"]);
const capsule = z.int().min(0).max(3).default(0);
const leakForm = z.enum(["passage", "pinhole"]);

const FAULTS = [
  z.strictObject({
    fault: z.literal("stuckWeights"),
    /** Where they stick. */
    advanceDeg: z.number().min(0).max(60).default(0),
  }),
  z.strictObject({ fault: z.literal("dryWeights"), frictionFactor: z.number().min(1).default(6) }),
  z.strictObject({
    fault: z.literal("stretchedSpring"),
    spring,
    /** How much longer the spring is than it was. */
    lengthenedMm: z.number().positive(),
  }),
  z.strictObject({
    fault: z.literal("lightSpring"),
    spring,
    rateRatio: z.number().positive().lt(1).default(0.6),
  }),
  z.strictObject({ fault: z.literal("missingSpring"), spring }),
  z.strictObject({
    fault: z.literal("tornDiaphragm"),
    capsule,
    form: leakForm.default("passage"),
    flowMlPerS: z.number().positive().default(1500),
  }),
  z.strictObject({
    fault: z.literal("smallLeak"),
    capsule,
    form: leakForm.default("pinhole"),
    flowMlPerS: z.number().positive().default(3),
  }),
  z.strictObject({
    fault: z.literal("stuckPlate"),
    capsule,
    travelMm: z.number().min(0).default(0),
  }),
] as const;

export const faultSchema = z.discriminatedUnion("fault", FAULTS);
export type Fault = z.output<typeof faultSchema>;

/** What the mechanism lacks for this fault to be in it, or null. */
export function whatFaultLacks(
  fault: Fault,
  springCount: number,
  capsuleCount: number,
): string | null {
  if ("spring" in fault && springIndex(fault.spring) >= springCount) {
    return `the mechanism has no ${fault.spring} spring: add it or name another`;
  }
  if ("capsule" in fault && fault.capsule >= capsuleCount) {
    return `there is no capsule ${fault.capsule}: add it to capsules, which count from 0`;
  }
  return null;
}

/** The mechanism with all faults in it. */
export function withFaults(sound: Mechanism, faults: readonly Fault[]): Mechanism {
  return faults.reduce(withFault, sound);
}

function withFault(mechanism: Mechanism, fault: Fault): Mechanism {
  switch (fault.fault) {
    case "stuckWeights":
      return withCentrifugal(mechanism, { seizedDeg: fault.advanceDeg });
    case "dryWeights": {
      const { torqueNmm, addedAt1000RpmNmm } = mechanism.centrifugal.friction;
      const friction = {
        torqueNmm: torqueNmm * fault.frictionFactor,
        addedAt1000RpmNmm: addedAt1000RpmNmm * fault.frictionFactor,
      };
      return withCentrifugal(mechanism, { friction });
    }
    // The rate stays; at every length the load is less by rate times what it grew.
    case "stretchedSpring":
      return withSpring(mechanism, fault.spring, (was) => ({
        ...was,
        lengthMm: was.lengthMm + fault.lengthenedMm,
      }));
    case "lightSpring":
      return withSpring(mechanism, fault.spring, (was) => ({
        ...was,
        rateNPerMm: was.rateNPerMm * fault.rateRatio,
      }));
    // Kept in its place without force, so that the other keeps its name.
    case "missingSpring":
      return withSpring(mechanism, fault.spring, (was) => ({ ...was, rateNPerMm: 0, tensionN: 0 }));
    case "tornDiaphragm":
    case "smallLeak": {
      const { form, flowMlPerS } = fault;
      return withCapsule(mechanism, fault.capsule, { leak: { form, flowMlPerS } });
    }
    case "stuckPlate":
      return withCapsule(mechanism, fault.capsule, { seizedMm: fault.travelMm });
  }
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

function withCapsule(mechanism: Mechanism, index: number, change: Partial<Capsule>): Mechanism {
  const capsules = mechanism.capsules.map((was, i) => (i === index ? { ...was, ...change } : was));
  return { ...mechanism, capsules };
}
