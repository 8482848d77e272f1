// Composes the sheet for the owner of the car: one page, in plain words, nothing that is not known. Pure.
import type { RunDocument, StartDocument } from "../documents.ts";
import { CRUISE_VACUUM_PA, engineMarks, UNLOADED_VACUUM_PA } from "../engine/marks.ts";
import { marksTable } from "../engine/marksTable.ts";
import { afterFitting, settingFacts } from "../engine/sheet.ts";
import type { JobCard } from "../jobs/card.ts";
import { checkedFact } from "../sheet/conditions.ts";
import { endDocumentOf, resultOf, startDocumentOf } from "../sheet/curves.ts";
import type { EarlierRun } from "../sheet/earlier.ts";
import { dwellText, specificationFacts } from "../sheet/facts.ts";
import { dateText, fixed, rpmText, timeText } from "../sheet/figures.ts";
import { type FindingForm, findingText } from "../sheet/findingWords.ts";
import { verdictBlock } from "../sheet/judgement.ts";
import type { Block, Fact, Picture, Sheet, Table } from "../sheet/model.ts";
import { risingPictures } from "../sheet/pictures.ts";
import { honestBanners, letterheadBlocks, recordFoot, type SheetOptions } from "../sheet/sheet.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import type { Band, EngineSettings, Unit } from "../unit.ts";
import type { VacuumUnit } from "../units.ts";
import { clipped, gapText, jobFacts, partsText, stampedNumberOf } from "./card.ts";
import { hasRoom } from "./room.ts";
import { NAME_LENGTH_MOST, type NamedRun, travelTable } from "./travelTable.ts";

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

export function ownerSheet(subject: OwnerSubject, options: SheetOptions): Sheet {
  const start = startDocumentOf(subject.documents);
  const say = options.say ?? ENGLISH;
  const blocksOf = (fullness: Fullness) => ownerBlocks(subject, options, fullness);
  const fits = (fullness: Fullness) => hasRoom(blocksOf(fullness), options.paper, fullness.print);
  const fullness = FULLNESSES.find(fits) ?? { ...LEAST, print: "smallest" };
  return {
    title: say.papers.owner.documentTitle(start.unit.description),
    language: say.language,
    paper: options.paper,
    print: fullness.print,
    blocks: blocksOf(fullness),
    foot: recordFoot(start, say),
  };
}

function ownerBlocks(
  { documents, earlier, card }: OwnerSubject,
  options: SheetOptions,
  { cautions, lowPictures, textMost, marksMost }: Fullness,
): Block[] {
  const { vacuumUnit, say = ENGLISH } = options;
  const { owner: words, timing } = say.papers;
  const start = startDocumentOf(documents);
  const { unit, rig } = start;
  const result = resultOf(documents);
  const received = earlier.filter(({ name }) => name === "as received");
  const pictures = risingPictures(
    { unit, result, earlier: received },
    vacuumUnit,
    lowPictures,
    say,
  );
  const travel = travelTable(
    runsOf(start, documents, received, say),
    unit.driveRatio,
    vacuumUnit,
    say,
  );
  const marks =
    unit.engine === null
      ? null
      : ownerMarks(unit, unit.engine, documents, { vacuumUnit, most: marksMost, say });
  // As received and as returned take the whole line.
  const beside = marks !== null && received.length === 0;
  return [
    ...letterheadBlocks(options),
    { kind: "title", text: words.title, aside: words.tested(timeText(start.startedUtc, say)) },
    ...honestBanners(start, say),
    {
      kind: "facts",
      facts: [...jobFacts(card, textMost, say), ...unitFacts(start, card, textMost, say)],
    },
    verdictBlock(endDocumentOf(documents), result, unit, say),
    ...findingBlocks(documents, { say, vacuumUnit }),
    ...pictureBlocks(pictures, received.length > 0, say),
    ...tableBlocks(beside ? [travel, marks] : [travel]),
    ...(marks === null || beside ? [] : tableBlocks([marks])),
    { kind: "heading", text: words.done },
    { kind: "facts", facts: workFacts(unit, result.dwellDeg, card, textMost, say) },
    { kind: "heading", text: words.judgedBy },
    { kind: "facts", facts: [...limitFacts(unit, textMost, say), rigFact(rig, say)] },
    { kind: "heading", text: words.engine },
    ...settingBlocks(unit.engine, textMost, say),
    cautions === "full"
      ? { kind: "list", items: say.cautions.engine }
      : { kind: "paragraph", text: say.cautions.shortEngine.join(" ") },
    { kind: "heading", text: words.fitting },
    { kind: "list", items: [...afterFitting(unit, say), timing.notTested] },
  ];
}

function runsOf(
  { startedUtc, rig }: StartDocument,
  documents: readonly RunDocument[],
  received: readonly EarlierRun[],
  say: Speech,
): NamedRun[] {
  const { owner: words, asReceived } = say.papers;
  const name = (what: string, utc: string, isByHand: boolean) =>
    `${what}, ${dateText(utc, say)}${isByHand ? `, ${words.byHand}` : ""}`;
  const what = received.length === 0 ? words.asMeasured : words.asReturned;
  return [
    ...received.map((run) => ({
      name: name(asReceived, run.startedUtc, run.isByHand),
      result: run.result,
    })),
    { name: name(what, startedUtc, rig.byHand !== undefined), result: resultOf(documents) },
  ];
}

function unitFacts(
  { unit }: StartDocument,
  card: JobCard | null,
  textMost: number,
  say: Speech,
): Fact[] {
  const { label, rotation } = say.papers;
  return [
    { label: label.unit, value: clipped(unit.description, textMost) },
    { label: label.stampedNumber, value: clipped(stampedNumberOf(card, unit, say), textMost) },
    { label: label.rotation, value: rotation(unit.rotation) },
  ];
}

/** More than this are on the file's sheet only. */
const FINDINGS_MOST = 4;

/** One line each; the serious ones first, each by itself. */
function findingBlocks(documents: readonly RunDocument[], form: FindingForm): Block[] {
  const found = endDocumentOf(documents)?.findings?.found ?? [];
  const serious = found.filter(({ isSerious }) => isSerious);
  const others = found.filter(({ isSerious }) => !isSerious);
  const told = [...serious, ...others].slice(0, FINDINGS_MOST);
  const texts = told.filter(({ isSerious }) => !isSerious).map((one) => findingText(one, form));
  const more = found.length - told.length;
  const items = [
    ...texts.map(({ title, details }) => `${title}. ${details[0] ?? ""}`.trimEnd()),
    ...(more === 0 ? [] : [form.say.papers.owner.more(more)]),
  ];
  return [
    ...told
      .filter(({ isSerious }) => isSerious)
      .map((one) => findingText(one, form))
      .map(({ title, details }): Block => {
        return { kind: "banner", text: title, detail: details[0] ?? "" };
      }),
    ...(items.length === 0 ? [] : [{ kind: "list", items } as const]),
  ];
}

function pictureBlocks(
  pictures: readonly Picture[],
  hasReceived: boolean,
  { papers: { owner: words } }: Speech,
): Block[] {
  if (pictures.length === 0) return [];
  const [first, ...others] = pictures as [Picture, ...Picture[]];
  const title = `${first.title}. ${hasReceived ? words.linesBoth : words.lines}`;
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
  say: Speech,
): Fact[] {
  const { label, notMeasured, owner: words } = say.papers;
  const gap = gapText(card, unit, say);
  const found = card?.gapFoundMm ?? null;
  const before = found === null ? "" : words.gapFound(`${fixed(found, 2, say)} mm`);
  const hasContacts = unit.trigger.kind === "contacts";
  const dwell = dwellDeg === null ? notMeasured : dwellText(dwellDeg, unit, say);
  return [
    { label: label.parts, value: partsText(card, 2 * textMost, say) },
    ...(gap === null ? [] : [{ label: label.gapAsSet, value: `${gap}${before}` }]),
    ...(hasContacts || dwellDeg !== null ? [{ label: label.dwell, value: dwell }] : []),
  ];
}

function limitFacts(unit: Unit, textMost: number, say: Speech): Fact[] {
  const short = (band: Band | null) => band && { ...band, source: clipped(band.source, textMost) };
  const { label, notKnown } = say.papers;
  const shown = {
    speedBand: short(unit.speedBand),
    capsules: unit.capsules.map((one) => ({
      ...one,
      name: clipped(one.name, NAME_LENGTH_MOST),
      band: short(one.band),
    })),
  };
  const facts = specificationFacts(shown, say);
  return facts.length === 0 ? [{ label: label.specification, value: notKnown }] : facts;
}

function rigFact(rig: StartDocument["rig"], say: Speech): Fact {
  const { label, owner: words } = say.papers;
  return rig.byHand === undefined
    ? checkedFact(rig, say)
    : { label: label.rigChecked, value: words.noRig };
}

function settingBlocks(settings: EngineSettings | null, textMost: number, say: Speech): Block[] {
  if (settings === null) {
    return [{ kind: "paragraph", text: say.papers.owner.timingUnknown }];
  }
  const source = settings.source && clipped(settings.source, textMost);
  const facts = settingFacts({ ...settings, source }, say);
  return [{ kind: "facts", facts }];
}

interface MarksForm {
  readonly vacuumUnit: VacuumUnit;
  /** Rows. */
  readonly most: number;
  readonly say: Speech;
}

function ownerMarks(
  unit: Unit,
  settings: EngineSettings,
  documents: readonly RunDocument[],
  { vacuumUnit, most, say }: MarksForm,
): Table {
  const conditions = {
    settings,
    capsule: 0,
    unloadedVacuumPa: UNLOADED_VACUUM_PA,
    cruiseVacuumPa: CRUISE_VACUUM_PA,
  };
  const marks = engineMarks(unit, resultOf(documents), conditions);
  const columns = ["plugged", "specified", "unloaded"] as const;
  const table = marksTable(spreadOver(marks, most), conditions, vacuumUnit, columns, say);
  const { owner: words } = say.papers;
  const { atEngineRpm } = settings;
  const caption = atEngineRpm === 0 ? words.marks : words.marksSetAt(rpmText(atEngineRpm, say));
  return { ...table, caption };
}

/** So many, the first and the last among them. */
function spreadOver<T>(values: readonly T[], most: number): readonly T[] {
  if (values.length <= most) return values;
  const step = (values.length - 1) / (most - 1);
  return Array.from({ length: most }, (_, i) => values[Math.round(i * step)] as T);
}
