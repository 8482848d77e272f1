// What was found wrong, as blocks of the sheet. Pure.
import type { EndDocument } from "../documents.ts";
import { type FindingForm, findingText, hiddenTexts } from "./findingWords.ts";
import type { Block } from "./model.ts";

/** Nothing where no version looked for any. */
export function findingBlocks(end: EndDocument | null, form: FindingForm): readonly Block[] {
  const findings = end?.findings ?? null;
  if (findings === null) return [];
  const { found } = findings;
  const { findings: words } = form.say;
  if (found.length === 0) {
    return [
      { kind: "heading", text: words.heading },
      { kind: "paragraph", text: words.nothing },
    ];
  }
  const texts = found.map((one) => findingText(one, form));
  const serious = texts.filter((_, i) => found[i]?.isSerious);
  return [
    { kind: "heading", text: words.heading },
    ...serious.map(({ title, check }): Block => ({ kind: "banner", text: title, detail: check })),
    {
      kind: "numbered list",
      items: texts.map(
        ({ title, details, check }) => `${title}. ${details.join(" ")} ${words.next(check)}`,
      ),
    },
    ...hiddenTexts(findings, form.say).map((text): Block => ({ kind: "paragraph", text })),
  ];
}
