// Composes the sheet for the owner of the car: one page, in plain words, nothing that is not known. Pure.
import { ENGINE_CAUTIONS, SHORT_ENGINE_CAUTIONS } from "../cautions.ts";
import type { RunDocument, StartDocument } from "../documents.ts";
import { CRUISE_VACUUM_PA, engineMarks, UNLOADED_VACUUM_PA } from "../engine/marks.ts";
import { marksTable } from "../engine/marksTable.ts";
import { afterFitting, settingFacts } from "../engine/sheet.ts";
import type { JobCard } from "../jobs/card.ts";
import { endDocumentOf, resultOf, startDocumentOf } from "../sheet/curves.ts";
import type { EarlierRun } from "../sheet/earlier.ts";
import { checkedFact, dwellText, specificationFacts } from "../sheet/facts.ts";
import { dateText, fixed, rotationText, timeText } from "../sheet/figures.ts";
import { findingText } from "../sheet/findingWords.ts";
import { verdictBlock } from "../sheet/judgement.ts";
import type { Block, Fact, Picture, Sheet, Table } from "../sheet/model.ts";
import { risingPictures } from "../sheet/pictures.ts";
import {
  honestBanners,
  letterheadBlocks,
  NOT_TESTED,
  recordFoot,
  type SheetOptions,
} from "../sheet/sheet.ts";
import type { Band, EngineSettings, Unit } from "../unit.ts";
import type { VacuumUnit } from "../units.ts";
import { clipped, gapText, jobFacts, NOT_KNOWN, partsText, stampedNumberOf } from "./card.ts";
import { hasRoom } from "./room.ts";
import { NAME_LENGTH_MOST, type NamedRun, travelTable } from "./travelTable.ts";

export type OwnerOptions = Omit<SheetOptions, "fingerprint">;

/** A record, the runs that it follows, and the job it belongs to: null where there is no card. */
export interface OwnerSubject {
  readonly documents: readonly RunDocument[];
  readonly earlier: readonly EarlierRun[];
  readonly card: JobCard | null;
}

/** How much of everything the page has. */
interface Fullness {
  readonly cautions: "full" | "short";
  readonly lowPictures: boolean;
  readonly print: Sheet["print"];
  /** Characters of a text from card or unit file. */
  readonly textMost: number;
  /** Rows of the marks; the sheet of engine figures has them all. */
  readonly marksMost: number;
}

/** The first that fits on one page is taken. Cautions are never left out. */
const FULL: Fullness = {
  cautions: "full",
  lowPictures: false,
  print: "usual",
  textMost: 200,
  marksMost: 6,
};
const SMALL: Fullness = { ...FULL, lowPictures: true, cautions: "short", print: "small" };
const LEAST: Fullness = { ...SMALL, textMost: 50, marksMost: 3 };
const FULLNESSES: readonly Fullness[] = [
  FULL,
  { ...FULL, lowPictures: true },
  { ...FULL, lowPictures: true, cautions: "short" },
  SMALL,
  LEAST,
];

export function ownerSheet(subject: OwnerSubject, options: OwnerOptions): Sheet {
  const start = startDocumentOf(subject.documents);
  const blocksOf = (fullness: Fullness) => ownerBlocks(subject, options, fullness);
  const fits = (fullness: Fullness) => hasRoom(blocksOf(fullness), options.paper, fullness.print);
  const fullness = FULLNESSES.find(fits) ?? { ...LEAST, print: "smallest" };
  return {
    title: `For the owner: ${start.unit.description}`,
    paper: options.paper,
    print: fullness.print,
    blocks: blocksOf(fullness),
    foot: recordFoot(start),
  };
}

function ownerBlocks(
  { documents, earlier, card }: OwnerSubject,
  options: OwnerOptions,
  { cautions, lowPictures, textMost, marksMost }: Fullness,
): Block[] {
  const { vacuumUnit } = options;
  const start = startDocumentOf(documents);
  const { unit, rig } = start;
  const result = resultOf(documents);
  const received = earlier.filter(({ name }) => name === "as received");
  const pictures = risingPictures({ unit, result, earlier: received }, vacuumUnit, lowPictures);
  const travel = travelTable(runsOf(start, documents, received), unit.driveRatio, vacuumUnit);
  const marks =
    unit.engine === null ? null : ownerMarks(unit, unit.engine, documents, vacuumUnit, marksMost);
  // As received and as returned take the whole line.
  const beside = marks !== null && received.length === 0;
  return [
    ...letterheadBlocks(options),
    { kind: "title", text: "Your distributor", aside: `tested ${timeText(start.startedUtc)}` },
    ...honestBanners(start),
    { kind: "facts", facts: [...jobFacts(card, textMost), ...unitFacts(start, card, textMost)] },
    verdictBlock(endDocumentOf(documents), result, unit),
    ...findingBlocks(documents),
    ...pictureBlocks(pictures, received.length > 0),
    ...tableBlocks(beside ? [travel, marks] : [travel]),
    ...(marks === null || beside ? [] : tableBlocks([marks])),
    { kind: "heading", text: "What was done" },
    { kind: "facts", facts: workFacts(unit, result.dwellDeg, card, textMost) },
    { kind: "heading", text: "What it was judged by" },
    { kind: "facts", facts: [...limitFacts(unit, textMost), rigFact(rig)] },
    { kind: "heading", text: "On the engine" },
    ...settingBlocks(unit.engine, textMost),
    cautions === "full"
      ? { kind: "list", items: ENGINE_CAUTIONS }
      : { kind: "paragraph", text: SHORT_ENGINE_CAUTIONS.join(" ") },
    { kind: "heading", text: "After fitting" },
    { kind: "list", items: [...afterFitting(unit), NOT_TESTED] },
  ];
}

function runsOf(
  { startedUtc, rig }: StartDocument,
  documents: readonly RunDocument[],
  received: readonly EarlierRun[],
): NamedRun[] {
  const name = (what: string, utc: string, isByHand: boolean) =>
    `${what}, ${dateText(utc)}${isByHand ? ", by hand" : ""}`;
  const what = received.length === 0 ? "as measured" : "as returned";
  return [
    ...received.map((run) => ({
      name: name("as received", run.startedUtc, run.isByHand),
      result: run.result,
    })),
    { name: name(what, startedUtc, rig.byHand !== undefined), result: resultOf(documents) },
  ];
}

function unitFacts({ unit }: StartDocument, card: JobCard | null, textMost: number): Fact[] {
  return [
    { label: "Unit", value: clipped(unit.description, textMost) },
    { label: "Stamped number", value: clipped(stampedNumberOf(card, unit), textMost) },
    { label: "Rotation", value: rotationText(unit.rotation) },
  ];
}

/** More than this are on the file's sheet only. */
const FINDINGS_MOST = 4;

/** One line each; the serious ones first, each by itself. */
function findingBlocks(documents: readonly RunDocument[]): Block[] {
  const found = endDocumentOf(documents)?.findings?.found ?? [];
  const serious = found.filter(({ isSerious }) => isSerious);
  const others = found.filter(({ isSerious }) => !isSerious);
  const told = [...serious, ...others].slice(0, FINDINGS_MOST);
  const texts = told.filter(({ isSerious }) => !isSerious).map(findingText);
  const more = found.length - told.length;
  const items = [
    ...texts.map(({ title, details }) => `${title}. ${details[0] ?? ""}`.trimEnd()),
    ...(more === 0 ? [] : [`${more} more on the workshop's sheet.`]),
  ];
  return [
    ...told
      .filter(({ isSerious }) => isSerious)
      .map(findingText)
      .map(({ title, details }): Block => {
        return { kind: "banner", text: title, detail: details[0] ?? "" };
      }),
    ...(items.length === 0 ? [] : [{ kind: "list", items } as const]),
  ];
}

function pictureBlocks(pictures: readonly Picture[], hasReceived: boolean): Block[] {
  if (pictures.length === 0) return [];
  const lines = hasReceived ? "Solid: as returned. Dotted: as received." : "As measured.";
  const [first, ...others] = pictures as [Picture, ...Picture[]];
  const title = `${first.title}. ${lines} Grey: limits.`;
  return [{ kind: "pictures", pictures: [{ ...first, title }, ...others] }];
}

function tableBlocks(tables: readonly Table[]): Block[] {
  const filled = tables.filter(({ rows, columns }) => rows.length > 0 && columns.length > 1);
  return filled.length === 0 ? [] : [{ kind: "tables", tables: filled }];
}

function workFacts(
  unit: Unit,
  dwellDeg: number | null,
  card: JobCard | null,
  textMost: number,
): Fact[] {
  const gap = gapText(card, unit);
  const found = card?.gapFoundMm ?? null;
  const before = found === null ? "" : `, found at ${fixed(found, 2)} mm`;
  const hasContacts = unit.trigger.kind === "contacts";
  const dwell = dwellDeg === null ? "not measured" : dwellText(dwellDeg, unit);
  return [
    { label: "Parts replaced", value: partsText(card, 2 * textMost) },
    ...(gap === null ? [] : [{ label: "Gap as set", value: `${gap}${before}` }]),
    ...(hasContacts || dwellDeg !== null ? [{ label: "Dwell", value: dwell }] : []),
  ];
}

function limitFacts(unit: Unit, textMost: number): Fact[] {
  const short = (band: Band | null) => band && { ...band, source: clipped(band.source, textMost) };
  const facts = specificationFacts({
    speedBand: short(unit.speedBand),
    capsules: unit.capsules.map((one) => ({
      ...one,
      name: clipped(one.name, NAME_LENGTH_MOST),
      band: short(one.band),
    })),
  });
  return facts.length === 0 ? [{ label: "Specification", value: NOT_KNOWN }] : facts;
}

function rigFact(rig: StartDocument["rig"]): Fact {
  return rig.byHand === undefined
    ? checkedFact(rig)
    : { label: "Rig last checked", value: "no rig: read by eye and typed in" };
}

function settingBlocks(settings: EngineSettings | null, textMost: number): Block[] {
  if (settings === null) {
    return [
      {
        kind: "paragraph",
        text: "Initial timing, the speed to set it at and what feeds the capsule are not known here: take them from the engine's manual. Set it with the vacuum line off and plugged unless the manual says otherwise (common practice, no source).",
      },
    ];
  }
  const source = settings.source && clipped(settings.source, textMost);
  const facts = settingFacts({ ...settings, source });
  return [{ kind: "facts", facts }];
}

function ownerMarks(
  unit: Unit,
  settings: EngineSettings,
  documents: readonly RunDocument[],
  vacuumUnit: VacuumUnit,
  most: number,
): Table {
  const conditions = {
    settings,
    capsule: 0,
    unloadedVacuumPa: UNLOADED_VACUUM_PA,
    cruiseVacuumPa: CRUISE_VACUUM_PA,
  };
  const marks = engineMarks(unit, resultOf(documents), conditions);
  const table = marksTable(spreadOver(marks, most), conditions, vacuumUnit, [
    "plugged",
    "specified",
    "unloaded",
  ]);
  const at = settings.atEngineRpm === 0 ? "" : `, set at ${fixed(settings.atEngineRpm, 0)} rpm`;
  return { ...table, caption: `Marks to expect, degrees before top dead centre${at}` };
}

/** So many, the first and the last among them. */
function spreadOver<T>(values: readonly T[], most: number): readonly T[] {
  if (values.length <= most) return values;
  const step = (values.length - 1) / (most - 1);
  return Array.from({ length: most }, (_, i) => values[Math.round(i * step)] as T);
}
