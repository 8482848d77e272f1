// Composes the tag that is tied to the unit itself. Pure.
import type { RunDocument, Verdict } from "../documents.ts";
import type { JobCard } from "../jobs/card.ts";
import { hasOwnTarget } from "../ownTarget.ts";
import { resultOf, startDocumentOf, travelOf } from "../sheet/curves.ts";
import { dateText, fixed, rotationText } from "../sheet/figures.ts";
import type { Fact, Letterhead, Sheet } from "../sheet/model.ts";
import { recordFoot, type SheetOptions } from "../sheet/sheet.ts";
import { crankshaftFromDistributor } from "../units.ts";
import { clipped, gapText, NOT_KNOWN, stampedNumberOf } from "./card.ts";

const WORDS: Readonly<Record<Verdict, string>> = {
  within: "Within",
  outside: "OUTSIDE",
  unproven: "Unproven",
};

const NUMBER_LENGTH_MOST = 24;
const STAMPED_LENGTH_MOST = 40;
const WORKSHOP_LENGTH_MOST = 56;

export function tagSheet(
  documents: readonly RunDocument[],
  card: JobCard | null,
  { paper, letterhead }: Pick<SheetOptions, "paper" | "letterhead">,
): Sheet {
  const start = startDocumentOf(documents);
  const { unit, rig, startedUtc } = start;
  const { verdict } = resultOf(documents);
  const number = card?.number || null;
  const gap = unit.trigger.kind === "contacts" ? "the gap" : "the air gap";
  const warnings = [
    rig.simulated ? "SIMULATED." : null,
    rig.byHand === undefined ? null : "BY HAND.",
    hasOwnTarget(unit) ? "OWN TARGET." : null,
    unit.invented ? "INVENTED UNIT." : null,
  ];
  return {
    title: `Tag: ${unit.description}`,
    paper,
    print: "usual",
    blocks: [
      {
        kind: "tag",
        workshop: letterhead ? workshopText(letterhead) : "",
        title: number === null ? `Job ${NOT_KNOWN}` : `Job ${clipped(number, NUMBER_LENGTH_MOST)}`,
        aside: dateText(startedUtc),
        warning: warnings.filter((one) => one !== null).join(" "),
        verdict,
        text: verdict === null ? "Unjudged" : WORDS[verdict],
        facts: tagFacts(documents, card),
        note: `Re-time after fitting, and recheck ${gap}.`,
      },
    ],
    foot: recordFoot(start),
  };
}

/** One line: there is no more room. */
function workshopText({ name, lines }: Letterhead): string {
  return clipped([name, ...lines].filter((one) => one !== "").join(" · "), WORKSHOP_LENGTH_MOST);
}

function tagFacts(documents: readonly RunDocument[], card: JobCard | null): Fact[] {
  const { unit } = startDocumentOf(documents);
  const { speed, dwellDeg } = resultOf(documents);
  const endDeg = travelOf(speed.rising, "speed")?.endDeg ?? null;
  const crankshaftDeg = endDeg && crankshaftFromDistributor(endDeg, unit.driveRatio);
  const gap = gapText(card, unit);
  const hasDwell = dwellDeg !== null || unit.trigger.kind === "contacts";
  return [
    {
      label: "Stamped number",
      value: clipped(stampedNumberOf(card, unit), STAMPED_LENGTH_MOST),
    },
    {
      label: "Total advance",
      value:
        endDeg === null || crankshaftDeg === null
          ? NOT_KNOWN
          : `${fixed(endDeg, 1)}° distributor, ${fixed(crankshaftDeg, 1)}° crankshaft`,
    },
    ...(hasDwell
      ? [{ label: "Dwell", value: dwellDeg === null ? NOT_KNOWN : `${fixed(dwellDeg, 1)}°` }]
      : []),
    ...(gap === null ? [] : [{ label: "Gap", value: gap }]),
    { label: "Rotation", value: rotationText(unit.rotation) },
  ];
}
