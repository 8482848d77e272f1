// Composes the test sheet from a run's documents: verdict and pictures first, figures after. Pure.

import type { RigDescription, RunDocument, StartDocument } from "../documents.ts";
import { hasOwnTarget } from "../ownTarget.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import type { VacuumUnit } from "../units.ts";
import { endDocumentOf, resultOf, rigFindingsOf, startDocumentOf } from "./curves.ts";
import type { EarlierRun } from "./earlier.ts";
import { earlierTable } from "./earlierTable.ts";
import {
  conditionFacts,
  earlierFacts,
  findingFacts,
  type RawFingerprint,
  specificationFacts,
  unitFacts,
} from "./facts.ts";
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
  options: SheetOptions,
  earlier: readonly EarlierRun[] = [],
): Sheet {
  const start = startDocumentOf(documents);
  return {
    title: `Test sheet: ${start.unit.description}`,
    language: "en",
    paper: options.paper,
    print: "usual",
    blocks: [
      ...letterheadBlocks(options),
      ...verdictAndPictures(documents, start, options.vacuumUnit, earlier),
      ...figures(documents, start, options, earlier),
    ],
    foot: recordFoot(start),
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
): Block[] {
  const result = resultOf(documents);
  const end = endDocumentOf(documents);
  const mechanism = end?.mechanism ?? null;
  const crowded = (end?.findings?.found ?? []).length > 0 || mechanism !== null;
  const { unit } = start;
  const pictures = picturesOf(
    { unit, result, findings: end?.findings ?? null, mechanism, earlier },
    vacuumUnit,
    crowded,
  );
  const findings = findingFacts(start, result, vacuumUnit);
  return [
    { kind: "title", text: "Distributor test sheet", aside: timeText(start.startedUtc) },
    ...honestBanners(start),
    { kind: "facts", facts: unitFacts(start) },
    verdictBlock(end, result, unit),
    ...pictureBlocks(pictures.speed),
    ...pictureBlocks(pictures.vacuum),
    ...(pictures.speed.length + pictures.vacuum.length > 0 ? [keyOf(pictures)] : []),
    ...findingBlocks(end),
    ...factsBlocks([...findings, ...specificationFacts(start.unit)]),
    ...mechanismBlocks(end, start.unit, vacuumUnit),
    ...triggerBlocks(triggerFacts(result, vacuumUnit)),
    { kind: "heading", text: "After fitting" },
    { kind: "list", items: cautionsFor(start) },
  ];
}

function factsBlocks(facts: readonly Fact[]): Block[] {
  return facts.length === 0 ? [] : [{ kind: "facts", facts }];
}

function triggerBlocks(facts: readonly Fact[]): Block[] {
  return facts.length === 0
    ? []
    : [
        { kind: "heading", text: "Trigger" },
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
  { vacuumUnit, fingerprint }: SheetOptions,
  earlier: readonly EarlierRun[],
): Block[] {
  const { unit } = start;
  const result = resultOf(documents);
  const { rows, speed, capsules } = result;
  return [
    ...tableBlocks(
      earlier.length === 0
        ? judgementTable(unit, rows, vacuumUnit)
        : earlierTable(unit, earlier, result, vacuumUnit),
    ),
    ...tableBlocks(speedReadings(speed, unit.driveRatio)),
    ...tableBlocks(
      capsules.flatMap((capsule) => capsuleReadings(capsule, unit.driveRatio, vacuumUnit)),
    ),
    { kind: "heading", text: "Conditions" },
    {
      kind: "facts",
      facts: [
        ...conditionFacts(start, rigFindingsOf(documents), vacuumUnit, fingerprint ?? null),
        ...earlierFacts(earlier),
      ],
    },
    { kind: "heading", text: "How far to trust the figures" },
    { kind: "paragraph", text: UNCERTAINTY_TEXT },
  ];
}

/** JCGM 100 for the uncertainties; ILAC-G8:09/2019 § 4.2.3 for the decision with guard band w = U. */
const UNCERTAINTY_TEXT = `Every ± is an expanded uncertainty of 95 % coverage (JCGM 100; by the shape of its parts, JCGM 101). A row is within if the value lies inside its limits by at least that much, outside if it lies beyond one by at least that much, and too close to call in between (ILAC-G8:09/2019). The figures hold for this unit on this rig on the day of the test.`;

function cautionsFor({ unit }: StartDocument): string[] {
  const gap = unit.trigger.kind === "contacts" ? "contact gap and dwell" : "trigger's air gap";
  return [
    `Re-time the engine and check the ${gap} again: this sheet says nothing of the initial timing.`,
    ENGLISH.papers.timing.notTested,
    "Local rules and licensed practice come first.",
  ];
}
