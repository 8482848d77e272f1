// The mechanism as fitted, as blocks of the sheet: numbers of weights and capsules. Pure.
import type { EndDocument } from "../documents.ts";
import type { Unit } from "../unit.ts";
import type { VacuumUnit } from "../units.ts";
import { mechanismTexts } from "./mechanismWords.ts";
import type { Block } from "./model.ts";

/** Nothing where no version fitted any. */
export function mechanismBlocks(
  end: EndDocument | null,
  unit: Unit,
  vacuumUnit: VacuumUnit,
): readonly Block[] {
  const mechanism = end?.mechanism ?? null;
  if (mechanism === null) return [];
  const names = unit.capsules.map(({ name }) => name);
  return [
    { kind: "heading", text: "The mechanism as fitted (distributor degrees and rpm)" },
    {
      kind: "facts",
      facts: mechanismTexts(mechanism, names, vacuumUnit).map(({ part, facts }) => ({
        label: part,
        value: facts.map(({ label, value }) => `${label.toLowerCase()}: ${value}`).join("; "),
      })),
    },
  ];
}
