// From the form for readings taken by hand to the notes that the program reads. Pure.
import type { ByHandMeans } from "../../core/byHand/byHand.ts";

type Shaft = "distributor" | "crankshaft";
type Answer = "yes" | "no";

/** As chosen and typed; "" is not known, and stays so. */
export interface HandChoices {
  means: ByHandMeans | "";
  degrees: Shaft | "";
  rpm: Shaft | "";
  uncertainty: string;
  initial: string;
  vacuumRpm: string;
  camTurns: Answer | "";
  camSpringsBack: Answer | "";
  readings: string;
}

/** An eye at a mark is good for about a degree either way (common practice, no source). */
export const firstHandChoices: HandChoices = {
  means: "",
  degrees: "",
  rpm: "",
  uncertainty: "1",
  initial: "",
  vacuumRpm: "",
  camTurns: "",
  camSpringsBack: "",
  readings: "",
};

const KEYS = [
  ["means", "means"],
  ["degrees", "degrees"],
  ["rpm", "rpm"],
  ["uncertainty", "uncertainty"],
  ["initial", "initial"],
  ["vacuumRpm", "vacuum rpm"],
  ["camTurns", "cam turns by hand"],
  ["camSpringsBack", "cam springs back"],
] as const satisfies readonly (readonly [keyof HandChoices, string])[];

/** What must be said before readings can be judged, the first of it that is not; null: nothing. */
export type HandHindrance = "unit" | "readings" | "means" | "degrees" | "rpm";

export function handHindrance(chosen: HandChoices, unitId: string): HandHindrance | null {
  if (unitId === "") return "unit";
  if (chosen.readings.trim() === "") return "readings";
  const asked = ["means", "degrees", "rpm"] as const;
  return asked.find((key) => chosen[key] === "" && !says(chosen.readings, key)) ?? null;
}

/** The readings first, so that a complaint's line is the one that was typed; what they say goes before the form. */
export function handNotes(chosen: HandChoices): string {
  const settings = KEYS.flatMap(([field, key]) => {
    const value = chosen[field].trim();
    return value === "" || says(chosen.readings, key) ? [] : [`${key}: ${value}`];
  });
  return [chosen.readings, ...settings].join("\n");
}

function says(text: string, key: string): boolean {
  return new RegExp(`^\\s*${key}\\s*:`, "m").test(text);
}
