// Faults of shaft, cam, contacts and leads by name: each is a change to the unit's trigger.
import { z } from "zod";
import type { GivenPulses } from "./pulsesSchema.ts";

const positive = z.number().positive();
const notNegative = z.number().min(0);

const bounceSchema = z
  .strictObject({
    fromRpm: notNegative.default(2000).describe("Speed above which closings bounce."),
    sharePer1000Rpm: positive
      .default(0.3)
      .describe("Share of closings that bounce, for each 1000 rpm above fromRpm; at most 1."),
    afterUs: positive.max(1000).default(150).describe("From the closing to its re-opening."),
    lengthUs: positive.max(1000).default(100).describe("Length of the re-opening."),
  })
  .describe("Contacts re-open for a short while after they closed; null: they do not.");

const floatSchema = z
  .strictObject({
    fromRpm: notNegative.default(2500).describe("Speed above which the contact arm floats."),
    lateUsPer1000Rpm: notNegative
      .max(2000)
      .default(200)
      .describe("By how much closings come late for each 1000 rpm above fromRpm: dwell falls."),
    lostSharePer1000Rpm: notNegative
      .default(0)
      .describe("Share of closings lost for each 1000 rpm above fromRpm, with the next opening."),
  })
  .describe(
    "The arm leaves the cam: closings come late, and one that would come after the next opening is lost with it; null: it does not.",
  );

export const TRIGGER_FAULTS = [
  z
    .strictObject({
      fault: z.literal("shaft-bush-worn"),
      playDeg: positive.max(5).describe("Added to pulses.bushPlayDeg, which says what it does."),
    })
    .describe("A worn bush lets the shaft move sideways."),
  z
    .strictObject({
      fault: z.literal("shaft-bent"),
      peakDeg: positive.max(5).describe("Peak by which firing comes late and early in a turn."),
      phaseDeg: z
        .number()
        .min(-360)
        .max(360)
        .default(0)
        .describe("Shaft angle after the first lobe's, along the rotation, where it is latest."),
    })
    .describe(
      "The cam runs out of true once a turn. Contacts open later where it runs away from the rubbing block and close as much sooner; the edges of another trigger move together.",
    ),
  z
    .strictObject({
      fault: z.literal("cam-worn"),
      wearDeg: z
        .array(notNegative.max(30))
        .min(1)
        .max(12)
        .describe("One for each lobe: by how much it fires late."),
    })
    .describe(
      "Worn lobes open contacts late and close them as much too soon, at every speed; a bent tooth, magnet or vane moves both its edges.",
    ),
  z
    .strictObject({
      fault: z.literal("contact-spring-weak"),
      bounce: bounceSchema.nullable().prefault({}),
      float: floatSchema.nullable().prefault({}),
    })
    .describe("A weak contact spring, which shows at high speed only."),
  z
    .strictObject({
      fault: z.literal("plate-lead-breaking"),
      plateFromDeg: z.number().min(-60).max(60),
      plateToDeg: z.number().min(-60).max(60),
      share: positive.max(1).default(1).describe("Share of closings and openings lost there."),
    })
    .describe(
      "The breaker plate's lead or earth parts while the plate stands between these angles (by capsules, + advance): the circuit stays open.",
    ),
] as const;

const triggerFault = z.discriminatedUnion("fault", TRIGGER_FAULTS);
export type TriggerFault = z.output<typeof triggerFault>;
type Of<Name extends TriggerFault["fault"]> = Extract<TriggerFault, { readonly fault: Name }>;

/** The trigger as it stands on the rig: departures of the scenario's `pulses`, faults worked in. */
export interface Pulses extends GivenPulses {
  readonly bends: readonly Pick<Of<"shaft-bent">, "peakDeg" | "phaseDeg">[];
  /** One for each lobe, or empty. */
  readonly wearDeg: readonly number[];
  readonly bounce: Of<"contact-spring-weak">["bounce"];
  readonly float: Of<"contact-spring-weak">["float"];
  readonly breakingLeads: readonly Of<"plate-lead-breaking">[];
}

export function isTriggerFault(fault: { readonly fault: string }): fault is TriggerFault {
  return TRIGGER_FAULTS.some(({ shape }) => shape.fault.value === fault.fault);
}

/** What of this fault does not go with the unit's trigger, or null. */
export function whatTriggerFaultLacks(
  fault: TriggerFault,
  unit: { readonly lobeAnglesDeg: readonly number[]; readonly triggerKind: string },
): string | null {
  const lobes = unit.lobeAnglesDeg.length;
  if (fault.fault === "cam-worn" && fault.wearDeg.length !== lobes) {
    return `wearDeg: give one for each of the ${lobes} lobes`;
  }
  const contactsOnly =
    fault.fault === "contact-spring-weak" || fault.fault === "plate-lead-breaking";
  if (contactsOnly && unit.triggerKind !== "contacts") {
    return `${fault.fault}: a ${unit.triggerKind} trigger has none`;
  }
  return null;
}

/** The trigger with all faults in it; of two weak contact springs the last one counts. */
export function withTriggerFaults(given: GivenPulses, faults: readonly TriggerFault[]): Pulses {
  const sound = { bends: [], wearDeg: [], bounce: null, float: null, breakingLeads: [] };
  return faults.reduce(withFault, { ...given, ...sound });
}

function withFault(pulses: Pulses, fault: TriggerFault): Pulses {
  switch (fault.fault) {
    case "shaft-bush-worn":
      return { ...pulses, bushPlayDeg: pulses.bushPlayDeg + fault.playDeg };
    case "shaft-bent":
      return { ...pulses, bends: [...pulses.bends, fault] };
    case "cam-worn":
      return {
        ...pulses,
        wearDeg: fault.wearDeg.map((deg, lobe) => deg + (pulses.wearDeg[lobe] ?? 0)),
      };
    case "contact-spring-weak":
      return { ...pulses, bounce: fault.bounce, float: fault.float };
    case "plate-lead-breaking":
      return { ...pulses, breakingLeads: [...pulses.breakingLeads, fault] };
  }
}

/**
 * By how many distributor degrees a bent shaft brings an edge late, `shaftDeg` the shaft's angle after
 * the first lobe's place as the rubbing block or pickup sees it; `towards` −1 where it comes as much
 * sooner.
 */
export function bendLateDeg(
  { bends }: Pick<Pulses, "bends">,
  shaftDeg: number,
  towards: 1 | -1,
): number {
  let late = 0;
  for (const { peakDeg, phaseDeg } of bends) {
    late += peakDeg * Math.cos(((shaftDeg - phaseDeg) * Math.PI) / 180);
  }
  return towards * late;
}
