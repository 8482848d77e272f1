// Composes the test sheet from a run's documents: verdict and pictures first, figures after. Pure.

import type { RigDescription, RunDocument, StartDocument } from "../documents.ts";
import { hasOwnTarget } from "../ownTarget.ts";
import { ENGLISH } from "../speech/english.ts";
import { ENGLISH_ON_PAPER } from "../speech/onPaper.ts";
import type { PaperSpeech, Speech } from "../speech/speech.ts";
import type { VacuumUnit } from "../units.ts";
import { conditionFacts, earlierFacts, type RawFingerprint } from "./conditions.ts";
import { endDocumentOf, resultOf, rigFindingsOf, startDocumentOf } from "./curves.ts";
import type { EarlierRun } from "./earlier.ts";
import { earlierTable } from "./earlierTable.ts";
import { findingFacts, specificationFacts, unitFacts } from "./facts.ts";
import { timeText } from "./figures.ts";
import { findingBlocks } from "./findings.ts";
import { judgementTable, verdictBlock } from "./judgement.ts";
import { mechanismBlocks } from "./mechanism.ts";
import type { Block, Fact, Letterhead, Paper, Picture, Sheet, Table } from "./model.ts";
import { keyOf, picturesOf } from "./pictures.ts";
import { capsuleReadings, speedReadings } from "./readings.ts";
import { triggerFacts } from "./trigger.ts";

export interface SheetOptions {
  readonly paper: Paper;
  /** Unit in which vacuum is printed. */
  readonly vacuumUnit: VacuumUnit;
  /** Left out: English. */
  readonly say?: Speech;
  /** Left out or null: none. */
  readonly letterhead?: Letterhead | null;
}

export interface FileSheetOptions extends SheetOptions {
  readonly say?: PaperSpeech;
  /** Of the raw lines; left out or null: not taken. */
  readonly fingerprint?: RawFingerprint | null;
}

/**
 * A run that was stopped, or whose program died, gives a sheet too.
 * @param earlier the runs that this one follows, the oldest first
 * @throws BUG without a start document
 */
export function buildSheet(
  documents: readonly RunDocument[],
  options: FileSheetOptions,
  earlier: readonly EarlierRun[] = [],
): Sheet {
  const start = startDocumentOf(documents);
  const { say = ENGLISH_ON_PAPER } = options;
  return {
    title: say.sheet.documentTitle(start.unit.description),
    language: say.language,
    paper: options.paper,
    print: "usual",
    blocks: [
      ...letterheadBlocks(options),
      ...verdictAndPictures(documents, start, options.vacuumUnit, earlier, say),
      ...figures(documents, start, options, earlier, say),
    ],
    foot: recordFoot(start, say),
  };
}

export function letterheadBlocks({ letterhead }: Pick<SheetOptions, "letterhead">): Block[] {
  return letterhead ? [{ kind: "letterhead", ...letterhead }] : [];
}

/** What a page alone must not be taken for. */
export function recordFoot(
  { rig, recordId, unit }: Pick<StartDocument, "rig" | "recordId" | "unit">,
  { verdicts: { foot } }: Speech = ENGLISH,
): string {
  const how = rig.byHand === undefined ? "" : `${foot.byHand} `;
  const own = hasOwnTarget(unit) ? `${foot.ownTarget} ` : "";
  return `${rig.simulated ? `${foot.simulated} ` : how}${own}${foot.record(recordId)}`;
}

function verdictAndPictures(
  documents: readonly RunDocument[],
  start: StartDocument,
  vacuumUnit: VacuumUnit,
  earlier: readonly EarlierRun[],
  say: PaperSpeech,
): Block[] {
  const { sheet: words } = say;
  const result = resultOf(documents);
  const end = endDocumentOf(documents);
  const mechanism = end?.mechanism ?? null;
  const crowded = (end?.findings?.found ?? []).length > 0 || mechanism !== null;
  const { unit } = start;
  const pictures = picturesOf(
    { unit, result, findings: end?.findings ?? null, mechanism, earlier },
    vacuumUnit,
    crowded,
    say,
  );
  const findings = findingFacts(start, result, vacuumUnit, say);
  return [
    { kind: "title", text: words.title, aside: timeText(start.startedUtc, say) },
    ...honestBanners(start, say),
    { kind: "facts", facts: unitFacts(start, say) },
    verdictBlock(end, result, unit, say),
    ...pictureBlocks(pictures.speed),
    ...pictureBlocks(pictures.vacuum),
    ...(pictures.speed.length + pictures.vacuum.length > 0 ? [keyOf(pictures)] : []),
    ...findingBlocks(end, { say, vacuumUnit }),
    ...factsBlocks([...findings, ...specificationFacts(start.unit, say)]),
    ...mechanismBlocks(end, start.unit, vacuumUnit, say),
    ...triggerBlocks(triggerFacts(result, vacuumUnit, say), words.heading.trigger),
    { kind: "heading", text: say.papers.owner.fitting },
    { kind: "list", items: cautionsFor(start, say) },
  ];
}

function factsBlocks(facts: readonly Fact[]): Block[] {
  return facts.length === 0 ? [] : [{ kind: "facts", facts }];
}

function triggerBlocks(facts: readonly Fact[], heading: string): Block[] {
  return facts.length === 0
    ? []
    : [
        { kind: "heading", text: heading },
        { kind: "facts", facts },
      ];
}

function tableBlocks(tables: readonly Table[]): Block[] {
  return tables.length === 0 ? [] : [{ kind: "tables", tables }];
}

function pictureBlocks(pictures: readonly Picture[]): Block[] {
  return pictures.length === 0 ? [] : [{ kind: "pictures", pictures }];
}

/** `rig`: null where nothing was measured. */
export function honestBanners(
  { rig, unit }: Pick<StartDocument, "unit"> & { readonly rig: RigDescription | null },
  { verdicts: { banner } }: Speech = ENGLISH,
): Block[] {
  const banners: Block[] = [];
  if (rig?.simulated) {
    banners.push({
      kind: "banner",
      text: banner.simulated,
      detail: banner.simulatedDetail,
    });
  }
  if (rig?.byHand !== undefined) {
    banners.push({
      kind: "banner",
      text: banner.byHand,
      detail: banner.byHandDetail(rig.byHand.means),
    });
  }
  if (hasOwnTarget(unit)) {
    banners.push({
      kind: "banner",
      text: banner.ownTarget,
      detail: banner.ownTargetDetail,
    });
  }
  if (unit.invented) {
    banners.push({
      kind: "banner",
      text: banner.invented,
      detail: banner.inventedDetail,
    });
  }
  return banners;
}

function figures(
  documents: readonly RunDocument[],
  start: StartDocument,
  { vacuumUnit, fingerprint }: FileSheetOptions,
  earlier: readonly EarlierRun[],
  say: PaperSpeech,
): Block[] {
  const { heading, uncertainty } = say.sheet;
  const { unit } = start;
  const result = resultOf(documents);
  const { rows, speed, capsules } = result;
  return [
    ...tableBlocks(
      earlier.length === 0
        ? judgementTable(unit, rows, vacuumUnit, say)
        : earlierTable(unit, earlier, result, vacuumUnit, say),
    ),
    ...tableBlocks(speedReadings(speed, unit.driveRatio, say)),
    ...tableBlocks(
      capsules.flatMap((capsule) => capsuleReadings(capsule, unit.driveRatio, vacuumUnit, say)),
    ),
    { kind: "heading", text: heading.conditions },
    {
      kind: "facts",
      facts: [
        ...conditionFacts(start, rigFindingsOf(documents), vacuumUnit, fingerprint ?? null, say),
        ...earlierFacts(earlier, say),
      ],
    },
    { kind: "heading", text: heading.trust },
    { kind: "paragraph", text: uncertainty },
  ];
}

function cautionsFor({ unit }: StartDocument, { sheet: words, papers }: PaperSpeech): string[] {
  const retime = unit.trigger.kind === "contacts" ? words.retime : words.retimeAir;
  return [retime, papers.timing.notTested, papers.timing.rules];
}
