// Composes the tag that is tied to the unit itself. Pure.
import type { RunDocument } from "../documents.ts";
import type { JobCard } from "../jobs/card.ts";
import { hasOwnTarget } from "../ownTarget.ts";
import { resultOf, startDocumentOf, travelOf } from "../sheet/curves.ts";
import { dateText, fixed } from "../sheet/figures.ts";
import type { Fact, Letterhead, Sheet } from "../sheet/model.ts";
import { recordFoot, type SheetOptions } from "../sheet/sheet.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import { crankshaftFromDistributor } from "../units.ts";
import { clipped, gapText, stampedNumberOf } from "./card.ts";

const NUMBER_LENGTH_MOST = 24;
const STAMPED_LENGTH_MOST = 40;
const WORKSHOP_LENGTH_MOST = 56;

export function tagSheet(
  documents: readonly RunDocument[],
  card: JobCard | null,
  { paper, letterhead, say = ENGLISH }: Pick<SheetOptions, "paper" | "letterhead" | "say">,
): Sheet {
  const start = startDocumentOf(documents);
  const { unit, rig, startedUtc } = start;
  const { verdict } = resultOf(documents);
  const number = card?.number || null;
  const { tag: words, notKnown } = say.papers;
  const warnings = [
    rig.simulated ? words.simulated : null,
    rig.byHand === undefined ? null : words.byHand,
    hasOwnTarget(unit) ? words.ownTarget : null,
    unit.invented ? words.invented : null,
  ];
  return {
    title: words.documentTitle(unit.description),
    language: say.language,
    paper,
    print: "usual",
    blocks: [
      {
        kind: "tag",
        workshop: letterhead ? workshopText(letterhead) : "",
        title: words.job(number === null ? notKnown : clipped(number, NUMBER_LENGTH_MOST)),
        aside: dateText(startedUtc, say),
        warning: warnings.filter((one) => one !== null).join(" "),
        verdict,
        text: verdict === null ? words.unjudged : words.verdict(verdict),
        facts: tagFacts(documents, card, say),
        note: unit.trigger.kind === "contacts" ? words.retime : words.retimeAir,
      },
    ],
    foot: recordFoot(start, say),
  };
}

/** One line: there is no more room. */
function workshopText({ name, lines }: Letterhead): string {
  return clipped([name, ...lines].filter((one) => one !== "").join(" · "), WORKSHOP_LENGTH_MOST);
}

function tagFacts(documents: readonly RunDocument[], card: JobCard | null, say: Speech): Fact[] {
  const { label, notKnown, tag, rotation } = say.papers;
  const { unit } = startDocumentOf(documents);
  const { speed, dwellDeg } = resultOf(documents);
  const endDeg = travelOf(speed.rising, "speed")?.endDeg ?? null;
  const crankshaftDeg = endDeg && crankshaftFromDistributor(endDeg, unit.driveRatio);
  const gap = gapText(card, unit, say);
  const hasDwell = dwellDeg !== null || unit.trigger.kind === "contacts";
  return [
    {
      label: label.stampedNumber,
      value: clipped(stampedNumberOf(card, unit, say), STAMPED_LENGTH_MOST),
    },
    {
      label: label.totalAdvance,
      value:
        endDeg === null || crankshaftDeg === null
          ? notKnown
          : tag.total(`${fixed(endDeg, 1, say)}°`, `${fixed(crankshaftDeg, 1, say)}°`),
    },
    ...(hasDwell
      ? [
          {
            label: label.dwell,
            value: dwellDeg === null ? notKnown : `${fixed(dwellDeg, 1, say)}°`,
          },
        ]
      : []),
    ...(gap === null ? [] : [{ label: label.gap, value: gap }]),
    { label: label.rotation, value: rotation(unit.rotation) },
  ];
}
