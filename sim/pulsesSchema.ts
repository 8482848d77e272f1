// How a unit's trigger departs from its nominal pulses without being faulty, in scenario files; and how it is connected.
import { z } from "zod";
import { trueFlanks } from "./lobes.ts";
import type { Scenario } from "./scenario.ts";

const positive = z.number().positive();
const notNegative = z.number().min(0);
const lobeList = z.array(z.number().min(-30).max(30)).max(12).default([]);

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
      "One for each lobe: by how much it fires late, both its flanks moved; of a cam not ground evenly.",
    ),
    dwellErrorsDeg: lobeList.describe(
      "One for each lobe, contacts only: dwell longer by this at the lobe's firing; the edge that does not fire moves.",
    ),
    bushPlayDeg: notNegative
      .max(5)
      .default(0)
      .describe(
        "Play of the bush: standard deviation of each edge's angle. The seed also draws a fixed shift of each lobe, evenly within ± this, and contacts have dwell longer by twice this, since contact pressure holds the shaft to one side.",
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
    magnetic: magneticSchema.optional(),
    secondSet: secondSetSchema.optional(),
    contactsConnected: z
      .enum(["first", "second", "both"])
      .default("both")
      .describe("Which set of contacts is connected to the rig."),
  })
  .describe("How the trigger departs from its nominal pulses. All of it is off by default.");

/** Without faults. */
export type GivenPulses = z.output<typeof pulsesSchema>;

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
  "secondSet",
] as const;

function isOff(value: GivenPulses[(typeof CONTACTS_ONLY)[number]]): boolean {
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
