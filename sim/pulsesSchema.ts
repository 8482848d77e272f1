// How a unit's trigger departs from its nominal pulses, in scenario files: cam, bush, contacts, pickup coil.
import { z } from "zod";
import { trueFlanks } from "./lobes.ts";
import type { Scenario } from "./scenario.ts";

const positive = z.number().positive();
const notNegative = z.number().min(0);
const lobeList = z.array(z.number().min(-30).max(30)).max(12).default([]);

const bounceSchema = z
  .strictObject({
    fromRpm: notNegative.default(2000).describe("Speed above which closings bounce."),
    sharePer1000Rpm: positive
      .default(0.3)
      .describe("Share of closings that bounce, for each 1000 rpm above fromRpm; at most 1."),
    afterUs: positive.max(1000).default(150).describe("From the closing to its re-opening."),
    lengthUs: positive.max(1000).default(100).describe("Length of the re-opening."),
  })
  .describe("A weak contact spring lets contacts re-open for a short while after they closed.");

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
    "A weak contact spring lets the arm leave the cam: closings come late, and one that would come after the next opening is lost with it.",
  );

const leadSchema = z
  .strictObject({
    plateFromDeg: z.number().min(-60).max(60),
    plateToDeg: z.number().min(-60).max(60),
    share: positive.max(1).default(1).describe("Share of closings and openings lost there."),
  })
  .describe(
    "The breaker plate's lead or earth parts while the plate stands between these angles (by capsules, + advance): the circuit stays open.",
  );

const magneticSchema = z
  .strictObject({
    thresholdShiftDegAt1000Rpm: z
      .number()
      .min(-20)
      .max(20)
      .default(0)
      .describe(
        "By how much the signal crosses the threshold late at 1000 rpm. Its slope grows with speed, so the shift is this · 1000 / rpm.",
      ),
    shiftMaxDeg: notNegative.max(30).default(10).describe("Bound of that shift at low speed."),
    reversed: z
      .boolean()
      .default(false)
      .describe("The pickup coil's leads are exchanged: each edge is sensed as the other one."),
  })
  .describe("A magnetic trigger's threshold and leads.");

const secondSetSchema = z
  .strictObject({
    arrangement: z
      .enum(["overlapped", "staggered"])
      .describe(
        "overlapped: both sets work every lobe, closed while either is closed. staggered: the first set fires lobes 1, 3, 5…, the second 2, 4, 6….",
      ),
    offsetDeg: z
      .number()
      .min(-60)
      .max(60)
      .default(0)
      .describe("By how much the second set opens later than at the nominal lobe."),
    dwellDeg: positive
      .lt(360)
      .optional()
      .describe("Dwell of the second set by itself; default: that of the first."),
  })
  .describe("A second set of contacts; it doubles rubbingBlockNmm.");

export const pulsesSchema = z
  .strictObject({
    lobeErrorsDeg: lobeList.describe(
      "One for each lobe: by how much it fires late, both its flanks moved; of a worn or badly ground cam.",
    ),
    dwellErrorsDeg: lobeList.describe(
      "One for each lobe, contacts only: dwell longer by this at the lobe's firing; the edge that does not fire moves.",
    ),
    bushPlayDeg: notNegative
      .max(5)
      .default(0)
      .describe(
        "Worn bush: standard deviation of each edge's angle. The seed also draws a fixed shift of each lobe, evenly within ± this, and contacts have dwell longer by twice this, since contact pressure holds the shaft to one side.",
      ),
    dwellChangeDegPerDeg: z
      .number()
      .min(-2)
      .max(2)
      .default(0)
      .describe(
        "Contacts on a plate pivoted off the shaft's axis: dwell longer by this for each degree of plate advance. The firing edge stays, since a capsule's degrees are stated at it.",
      ),
    condenserUf: notNegative
      .max(5)
      .default(0)
      .describe(
        "Condenser left across the contacts: the sensed opening comes late by sensePullUpOhm · C · ln 2.",
      ),
    bounce: bounceSchema.optional(),
    float: floatSchema.optional(),
    breakingLead: leadSchema.optional(),
    magnetic: magneticSchema.optional(),
    secondSet: secondSetSchema.optional(),
    contactsConnected: z
      .enum(["first", "second", "both"])
      .default("both")
      .describe("Which set of contacts is connected to the rig."),
  })
  .describe("How the trigger departs from its nominal pulses. All of it is off by default.");

export type Pulses = z.output<typeof pulsesSchema>;

/** What does not fit this unit, beginning with the field's name, or null. */
export function whatPulsesLack(
  scenario: Pick<Scenario, "unit" | "pulses" | "seed">,
): string | null {
  const { unit, pulses } = scenario;
  const lobes = unit.lobeAnglesDeg.length;
  const contacts = unit.triggerKind === "contacts";
  for (const field of ["lobeErrorsDeg", "dwellErrorsDeg"] as const) {
    const count = pulses[field].length;
    if (count > 0 && count !== lobes) return `${field}: give one for each of the ${lobes} lobes`;
  }
  const given = CONTACTS_ONLY.find((field) => !isOff(pulses[field]));
  if (!contacts && given !== undefined) return `${given}: a ${unit.triggerKind} trigger has none`;
  if (pulses.magnetic !== undefined && unit.triggerKind !== "magnetic") {
    return `magnetic: the unit's trigger is ${unit.triggerKind}`;
  }
  return whatSetsLack(scenario);
}

const CONTACTS_ONLY = [
  "dwellErrorsDeg",
  "dwellChangeDegPerDeg",
  "condenserUf",
  "bounce",
  "float",
  "breakingLead",
  "secondSet",
] as const;

function isOff(value: Pulses[(typeof CONTACTS_ONLY)[number]]): boolean {
  return value === undefined || value === 0 || (Array.isArray(value) && value.length === 0);
}

function whatSetsLack(scenario: Pick<Scenario, "unit" | "pulses" | "seed">): string | null {
  const { unit, pulses } = scenario;
  const lobes = unit.lobeAnglesDeg.length;
  const { secondSet, contactsConnected } = pulses;
  if (secondSet === undefined) {
    return contactsConnected === "both" ? null : "contactsConnected: there is no secondSet";
  }
  const staggered = secondSet.arrangement === "staggered";
  if (staggered && lobes % 2 === 1) return "secondSet: staggered sets need an even count of lobes";
  const firings = trueFlanks(scenario).filter(({ fires }) => fires).length;
  const expected = staggered && contactsConnected !== "both" ? lobes / 2 : lobes;
  if (firings === expected) return null;
  return `secondSet: contacts closed while either set is closed fire ${firings} times a turn, not ${expected}: shorten dwell, or connect one set`;
}
