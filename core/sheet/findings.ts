// What was found wrong, as blocks of the sheet. Pure.
import type { EndDocument } from "../documents.ts";
import { findingText, hiddenTexts } from "./findingWords.ts";
import type { Block } from "./model.ts";

/** Nothing where no version looked for any. */
export function findingBlocks(end: EndDocument | null): readonly Block[] {
  const findings = end?.findings ?? null;
  if (findings === null) return [];
  const { found } = findings;
  if (found.length === 0) {
    return [
      { kind: "heading", text: "Findings" },
      { kind: "paragraph", text: "Nothing was found wrong by the readings of this run." },
    ];
  }
  const serious = found.filter(({ isSerious }) => isSerious).map((one) => findingText(one));
  return [
    { kind: "heading", text: "Findings" },
    ...serious.map(({ title, check }): Block => ({ kind: "banner", text: title, detail: check })),
    {
      kind: "numbered list",
      items: found
        .map((one) => findingText(one))
        .map(({ title, details, check }) => `${title}. ${details.join(" ")} Next: ${check}`),
    },
    ...hiddenTexts(findings).map((text): Block => ({ kind: "paragraph", text })),
  ];
}
