// The mechanism as fitted, as blocks of the sheet: numbers of weights and capsules. Pure.
import type { EndDocument } from "../documents.ts";
import type { PaperSpeech } from "../speech/speech.ts";
import type { Unit } from "../unit.ts";
import type { VacuumUnit } from "../units.ts";
import { mechanismTexts } from "./mechanismWords.ts";
import type { Block } from "./model.ts";

/** Nothing where no version fitted any. */
export function mechanismBlocks(
  end: EndDocument | null,
  unit: Unit,
  vacuumUnit: VacuumUnit,
  say: PaperSpeech,
): readonly Block[] {
  const mechanism = end?.mechanism ?? null;
  if (mechanism === null) return [];
  const { sheet: words } = say;
  const names = unit.capsules.map(({ name }) => name);
  return [
    { kind: "heading", text: words.heading.mechanism },
    {
      kind: "facts",
      facts: mechanismTexts(mechanism, names, vacuumUnit, say).map(({ part, facts }) => ({
        label: part,
        value: facts.map(({ label, value }) => words.mechanismFact(label, value)).join("; "),
      })),
    },
  ];
}
