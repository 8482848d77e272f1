// Faults of weights, springs and capsules by name, as scenario files have them.
import { z } from "zod";

const positive = z.number().positive();
const spring = z.enum(["first", "second"]);
const capsule = z.int().min(0).max(3).default(0).describe("Which of the capsules, from 0.");
const leakForm = z
  .enum(["passage", "pinhole"])
  .describe("passage: flow in proportion to the vacuum. pinhole: choked above about 48 kPa.");
const flowMlPerS = positive.describe("Free air let in at 50 kPa below ambient.");
const stickRatio = z
  .number()
  .min(1)
  .max(5)
  .default(1.5)
  .describe("Friction at rest over friction in motion: above 1 it moves in steps.");

export const MECHANISM_FAULTS = [
  z
    .strictObject({
      fault: z.literal("weights-stuck"),
      advanceDeg: z.number().min(0).max(60).default(0).describe("Where they stick."),
    })
    .describe("Weights or cam rusted fast: no change of angle at any speed."),
  z
    .strictObject({
      fault: z.literal("weights-dry"),
      frictionFactor: z
        .number()
        .min(1)
        .default(6)
        .describe("Friction is this times that of the sound unit."),
      stickRatio,
    })
    .describe("Dry or rusty: begins late, returns late, moves in steps."),
  z
    .strictObject({
      fault: z.literal("weights-not-returning"),
      heldDeg: positive
        .max(60)
        .describe("Home at first; once beyond this they come back to here only."),
    })
    .describe("The weights catch on their way home: left advanced at low speed."),
  z
    .strictObject({
      fault: z.literal("spring-stretched"),
      spring,
      lengthenedMm: positive.describe("How much longer the spring is than it was."),
    })
    .describe("Keeps its rate; at every length its load is less by rate times what it grew."),
  z
    .strictObject({
      fault: z.literal("spring-light"),
      spring,
      rateRatio: positive.lt(1).default(0.6).describe("Rate and load over those of the right one."),
    })
    .describe("A light or wrong spring on the same posts: early and steeper."),
  z
    .strictObject({
      fault: z.literal("spring-heavy"),
      spring,
      rateRatio: z
        .number()
        .gt(1)
        .default(1.6)
        .describe("Rate and load over those of the right one; one fault for each of a wrong pair."),
    })
    .describe("A heavy spring on the same posts: late and shallow."),
  z
    .strictObject({ fault: z.literal("first-spring-missing") })
    .describe("At once to the knee, or to the stop of a unit with one spring."),
  z
    .strictObject({ fault: z.literal("second-spring-missing") })
    .describe("Missing or unhooked: no knee."),
  z
    .strictObject({
      fault: z.literal("stop-worn"),
      beyondDeg: positive.max(20).describe("Travel beyond stopDeg."),
    })
    .describe("A worn stop, or its bush gone."),
  z
    .strictObject({
      fault: z.literal("second-spring-loop-worn"),
      wornMm: positive.max(10).describe("More play before the second spring pulls."),
    })
    .describe("Worn loop or post: the second spring takes up too late."),
  z
    .strictObject({
      fault: z.literal("diaphragm-torn"),
      capsule,
      form: leakForm.default("passage"),
      flowMlPerS: flowMlPerS.default(1500),
    })
    .describe("The vacuum does not build; a small tear against a strong pump may let it."),
  z
    .strictObject({
      fault: z.literal("capsule-leak"),
      capsule,
      form: leakForm.default("pinhole"),
      flowMlPerS: flowMlPerS.default(3),
    })
    .describe("The vacuum builds and then falls."),
  z
    .strictObject({
      fault: z.literal("plate-stuck"),
      capsule,
      travelMm: z.number().min(0).default(0).describe("Travel of the rod at which it is fast."),
    })
    .describe("The breaker plate is rusted fast."),
  z
    .strictObject({ fault: z.literal("link-off"), capsule })
    .describe("The rod is off the plate's pin: it moves and the plate does not."),
  z
    .strictObject({
      fault: z.literal("plate-sticking"),
      capsule,
      frictionN: positive.describe(
        "Added to frictionN; above the spring's load at rest the plate does not come home.",
      ),
      stickRatio,
    })
    .describe("The plate moves late and returns late, or not fully."),
  z
    .strictObject({
      fault: z.literal("capsule-spring-wrong"),
      capsule,
      loadRatio: positive.default(1).describe("Load at rest over that of the right spring."),
      rateRatio: positive.default(1).describe("Rate over that of the right spring."),
    })
    .describe("A wrong or tired spring: other vacuum at the start, other end."),
] as const;

const mechanismFault = z.discriminatedUnion("fault", MECHANISM_FAULTS);
export type MechanismFault = z.output<typeof mechanismFault>;

export function isMechanismFault(fault: { readonly fault: string }): fault is MechanismFault {
  return MECHANISM_FAULTS.some(({ shape }) => shape.fault.value === fault.fault);
}

/** What the mechanism lacks for this fault to be in it, or null. */
export function whatFaultLacks(
  fault: MechanismFault,
  springCount: number,
  capsuleCount: number,
): string | null {
  const named = springOf(fault);
  if (named !== null && springCount < (named === "first" ? 1 : 2)) {
    return `the mechanism has no ${named} spring: add it or name another`;
  }
  if ("capsule" in fault && fault.capsule >= capsuleCount) {
    return `there is no capsule ${fault.capsule}: add it to capsules, which count from 0`;
  }
  if (fault.fault === "capsule-spring-wrong" && fault.loadRatio === 1 && fault.rateRatio === 1) {
    return "give loadRatio, rateRatio or both";
  }
  return null;
}

function springOf(fault: MechanismFault): "first" | "second" | null {
  switch (fault.fault) {
    case "first-spring-missing":
      return "first";
    case "second-spring-missing":
    case "second-spring-loop-worn":
      return "second";
    default:
      return "spring" in fault ? fault.spring : null;
  }
}
