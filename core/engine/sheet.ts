// Composes the owner's sheet of engine figures: marks to expect, cautions, and readings where there are any. Pure.
import type { StartDocument } from "../documents.ts";
import { hasRoom } from "../papers/room.ts";
import { roundAxis } from "../sheet/axes.ts";
import { driveFact } from "../sheet/facts.ts";
import { fixed, short, timeText } from "../sheet/figures.ts";
import type { Block, Fact, Paper, Picture, Sheet, Table } from "../sheet/model.ts";
import { honestBanners, recordFoot } from "../sheet/sheet.ts";
import { ENGLISH } from "../speech/english.ts";
import { ENGLISH_ON_PAPER } from "../speech/onPaper.ts";
import type { PaperSpeech, Speech } from "../speech/speech.ts";
import type { EngineSettings, Unit } from "../unit.ts";
import { type VacuumUnit, vacuumFromPascals } from "../units.ts";
import { type JudgedReadings, READING_BAND_CRANKSHAFT_DEG } from "./agreement.ts";
import type { EngineConditions, EngineCurves, EngineMark } from "./marks.ts";
import { ALL_MARKS, marksTable, rangeWithUncertainty, UNKNOWN } from "./marksTable.ts";

export interface EngineFigures {
  readonly unit: Unit;
  /** Null: from the specification alone. */
  readonly record: Pick<StartDocument, "recordId" | "startedUtc" | "rig"> | null;
  readonly curves: EngineCurves;
  readonly conditions: EngineConditions;
  readonly marks: readonly EngineMark[];
  /** Null where the owner has read none yet. */
  readonly readings: JudgedReadings | null;
}

export interface EngineSheetOptions {
  readonly paper: Paper;
  readonly vacuumUnit: VacuumUnit;
  /** Left out: English. */
  readonly say?: PaperSpeech;
}

export function engineSheet(
  figures: EngineFigures,
  { paper, vacuumUnit, say = ENGLISH_ON_PAPER }: EngineSheetOptions,
): Sheet {
  const { unit, record } = figures;
  const { engine: words } = say;
  const blocks = blocksOf(figures, vacuumUnit, say);
  return {
    title: words.documentTitle(unit.description),
    language: say.language,
    paper,
    print: printOf(figures, blocks, paper, say),
    blocks,
    foot: record === null ? words.footSpecification : recordFoot({ ...record, unit }, say),
  };
}

/** What is one page in English takes smaller print for it in a longer language. */
function printOf(
  figures: EngineFigures,
  blocks: readonly Block[],
  paper: Paper,
  { language }: Speech,
): Sheet["print"] {
  const isLonger = language !== "en" && !hasRoom(blocks, paper, "usual");
  return isLonger && isShort(figures) ? "small" : "usual";
}

function blocksOf(figures: EngineFigures, vacuumUnit: VacuumUnit, say: PaperSpeech): Block[] {
  const { unit, record, conditions, marks, readings } = figures;
  const { engine: words } = say;
  return [
    {
      kind: "title",
      text: words.title,
      aside: record === null ? words.fromSpecification : timeText(record.startedUtc, say),
    },
    ...honestBanners({ unit, rig: record?.rig ?? null }, say),
    { kind: "facts", facts: facts(figures, say) },
    { kind: "heading", text: words.before },
    { kind: "list", items: say.cautions.engine },
    { kind: "tables", tables: [marksTable(marks, conditions, vacuumUnit, ALL_MARKS, say)] },
    { kind: "list", items: howToRead(conditions, vacuumUnit, say) },
    ...(readings === null ? [] : readingBlocks(figures, readings, say)),
    { kind: "heading", text: say.papers.owner.fitting },
    { kind: "list", items: afterFitting(unit, say) },
  ];
}

function facts(
  { unit, record, conditions: { settings } }: EngineFigures,
  say: PaperSpeech,
): Fact[] {
  const { label, noneRead, limits } = say.papers;
  const { curve, curveMeasured, curveNone } = say.engine;
  const source = unit.speedBand === null ? curveNone : limits.source(unit.speedBand.source);
  return [
    { label: label.unit, value: unit.description },
    { label: label.stampedNumber, value: unit.stampedNumber ?? noneRead },
    ...settingFacts(settings, say),
    driveFact(unit, say),
    { label: curve, value: record === null ? source : curveMeasured },
  ];
}

/** How the unit is timed, who says so, and what feeds its capsule. */
export function settingFacts(settings: EngineSettings, say: Speech = ENGLISH): Fact[] {
  const { initialTimingCrankshaftDeg, atEngineRpm, vacuumPort, source } = settings;
  const { label, timing } = say.papers;
  const mark = markText(initialTimingCrankshaftDeg, say);
  const set =
    atEngineRpm === 0 ? timing.atRest(mark) : timing.atSpeed(mark, fixed(atEngineRpm, 0, say));
  return [
    { label: label.initialTiming, value: set },
    { label: label.givenBy, value: source ?? timing.user },
    { label: label.capsuleFedBy, value: timing.port(vacuumPort) },
  ];
}

/** `6° before top dead centre`. */
function markText(crankshaftDeg: number, say: Speech): string {
  const { before, after } = say.papers.timing;
  const mark = `${short(Math.abs(crankshaftDeg), say)}°`;
  return crankshaftDeg < 0 ? after(mark) : before(mark);
}

export function howToRead(
  { settings, unloadedVacuumPa }: EngineConditions,
  unit: VacuumUnit,
  say: Speech,
): string[] {
  const { engine: words } = say;
  const unloaded = `${fixed(vacuumFromPascals(unloadedVacuumPa, unit), 0, say)} ${unit}`;
  const onLine = {
    manifold: words.manifold(unloaded),
    ported: words.ported(unloaded),
    none: words.notFed,
  };
  return [
    words.plugged,
    onLine[settings.vacuumPort],
    words.uncertainty(`${READING_BAND_CRANKSHAFT_DEG}°`),
  ];
}

/** With more rows of marks and readings than this the picture would need a second page. */
const ROWS_BESIDE_PICTURE = 14;

function isShort({ marks, readings }: EngineFigures): boolean {
  return marks.length + (readings?.readings.length ?? 0) <= ROWS_BESIDE_PICTURE;
}

function readingBlocks(figures: EngineFigures, judged: JudgedReadings, say: Speech): Block[] {
  const { unit, curves } = figures;
  const picture = isShort(figures) ? readingsPicture(unit, curves, judged, say) : null;
  return [
    { kind: "heading", text: say.engine.read.heading },
    { kind: "list", items: judged.summary },
    ...(picture === null ? [] : [{ kind: "pictures", pictures: [picture] } as const]),
    { kind: "tables", tables: [readingsTable(judged, say)] },
  ];
}

export function readingsTable({ readings }: JudgedReadings, say: Speech): Table {
  const { read: words, agreement } = say.engine;
  const heads = [
    say.papers.marks.engineRpm,
    words.line,
    words.mark,
    words.expected,
    "",
    words.specification,
    say.verdicts.picture.distributorRpm,
    words.distributorDeg,
  ];
  return {
    caption: words.caption,
    groups: [],
    columns: heads.map((head) => ({ head, align: "left" })),
    rows: readings.map((reading) => ({
      cells: [
        fixed(reading.engineRpm, 0, say),
        words.onLine(reading.vacuumLine),
        fixed(reading.markCrankshaftDeg, 1, say),
        reading.expected === null ? UNKNOWN : rangeWithUncertainty(reading.expected, say),
        agreement(reading.agreement),
        reading.specification === null ? UNKNOWN : say.verdicts.word(reading.specification),
        fixed(reading.distributorRpm, 0, say),
        reading.advanceDistributorDeg === null
          ? UNKNOWN
          : fixed(reading.advanceDistributorDeg, 1, say),
      ],
      strong: reading.agreement === "does not",
    })),
  };
}

/** Bench curve and readings with the line plugged, at the distributor; null without two readings to join. */
function readingsPicture(
  { driveRatio }: Unit,
  curves: EngineCurves,
  { readings }: JudgedReadings,
  say: Speech,
): Picture | null {
  const { decimalMark, papers, verdicts } = say;
  const own = readings.flatMap(({ vacuumLine, distributorRpm, advanceDistributorDeg: deg }) =>
    vacuumLine === "on" || deg === null ? [] : [[distributorRpm, deg] as const],
  );
  const bench = (curves?.speed.rising ?? []).map(({ x, advanceDeg }) => [x, advanceDeg] as const);
  if (own.length < 2 || bench.length === 0) return null;
  const all = [...own, ...bench];
  const atCrankshaft = (label: string) => (driveRatio === 1 ? null : { label, factor: driveRatio });
  return {
    shows: [],
    title: say.engine.read.picture,
    width: "broad",
    low: true,
    x: {
      label: verdicts.picture.distributorRpm,
      decimalMark,
      ...roundAxis(
        all.map(([x]) => x),
        9,
      ),
      crankshaft: atCrankshaft(papers.marks.engineRpm),
    },
    y: {
      label: verdicts.picture.distributorDegrees,
      decimalMark,
      ...roundAxis(
        all.map(([, y]) => y),
        5,
      ),
      crankshaft: null,
    },
    lines: [
      { look: "rising", points: bench },
      { look: "falling", points: own },
    ],
    bars: [],
    marks: [],
  };
}

export function afterFitting({ trigger }: Unit, say: Speech = ENGLISH): string[] {
  const { timing } = say.papers;
  const retime = trigger.kind === "contacts" ? timing.retime : timing.retimeAir;
  return [retime, timing.vacuumLine, timing.rules];
}
