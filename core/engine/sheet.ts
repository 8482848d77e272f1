// Composes the owner's sheet of engine figures: marks to expect, cautions, and readings where there are any. Pure.
import { ENGINE_CAUTIONS } from "../cautions.ts";
import type { StartDocument } from "../documents.ts";
import { roundAxis } from "../sheet/axes.ts";
import { driveText } from "../sheet/facts.ts";
import { fixed, short, timeText } from "../sheet/figures.ts";
import { VERDICT_WORDS } from "../sheet/judgement.ts";
import type { Block, Fact, Paper, Picture, Sheet, Table } from "../sheet/model.ts";
import { honestBanners, recordFoot } from "../sheet/sheet.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import type { EngineSettings, Unit } from "../unit.ts";
import { type VacuumUnit, vacuumFromPascals } from "../units.ts";
import { AGREEMENT_WORDS, type JudgedReadings, READING_BAND_CRANKSHAFT_DEG } from "./agreement.ts";
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

export function engineSheet(
  figures: EngineFigures,
  { paper, vacuumUnit }: { readonly paper: Paper; readonly vacuumUnit: VacuumUnit },
): Sheet {
  const { unit, record, conditions, marks, readings } = figures;
  return {
    title: `Engine figures: ${unit.description}`,
    language: "en",
    paper,
    print: "usual",
    blocks: [
      {
        kind: "title",
        text: "Marks for the timing light",
        aside: record === null ? "from the specification" : timeText(record.startedUtc),
      },
      ...honestBanners({ unit, rig: record?.rig ?? null }),
      { kind: "facts", facts: facts(figures) },
      { kind: "heading", text: "Before the engine runs" },
      { kind: "list", items: ENGINE_CAUTIONS },
      { kind: "tables", tables: [marksTable(marks, conditions, vacuumUnit, ALL_MARKS)] },
      { kind: "list", items: howToRead(conditions, vacuumUnit) },
      ...(readings === null ? [] : readingBlocks(figures, readings)),
      { kind: "heading", text: "After fitting" },
      { kind: "list", items: afterFitting(unit) },
    ],
    foot:
      record === null
        ? "From the specification alone; no unit was measured"
        : recordFoot({ ...record, unit }),
  };
}

function facts({ unit, record, conditions: { settings } }: EngineFigures): Fact[] {
  return [
    { label: "Unit", value: unit.description },
    { label: "Stamped number", value: unit.stampedNumber ?? "none read" },
    ...settingFacts(settings),
    { label: "Drive", value: driveText(unit.driveRatio) },
    {
      label: "Curve",
      value: record === null ? (unit.speedBand?.source ?? "none") : "as measured",
    },
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
): string[] {
  const { vacuumPort } = settings;
  const unloaded = `about ${fixed(vacuumFromPascals(unloadedVacuumPa, unit), 0)} ${unit} in the manifold without load (common practice, no source)`;
  const onLine = {
    manifold: `Line on: ${unloaded}.`,
    ported: `Line on: almost no vacuum at idle; above it anything up to ${unloaded}, by how far the throttle is open.`,
    none: "No capsule is fed.",
  };
  return [
    "Line plugged: take the vacuum line off the capsule and plug it. Warm engine, speed rising; a speed that falls again may read a little more.",
    onLine[vacuumPort],
    `± is an expanded uncertainty of 95 % coverage of the unit's curve, the initial timing taken as set exactly. A timing light read by eye is good for ± ${READING_BAND_CRANKSHAFT_DEG}° besides (common practice, no source).`,
  ];
}

/** With more rows of marks and readings than this the picture would need a second page. */
const ROWS_BESIDE_PICTURE = 14;

function readingBlocks({ unit, curves, marks }: EngineFigures, judged: JudgedReadings): Block[] {
  const hasRoom = marks.length + judged.readings.length <= ROWS_BESIDE_PICTURE;
  const picture = hasRoom ? readingsPicture(unit, curves, judged) : null;
  return [
    { kind: "heading", text: "Read on the engine" },
    { kind: "list", items: judged.summary },
    ...(picture === null ? [] : [{ kind: "pictures", pictures: [picture] } as const]),
    { kind: "tables", tables: [readingsTable(judged)] },
  ];
}

export function readingsTable({ readings }: JudgedReadings): Table {
  const heads = [
    "engine rpm",
    "line",
    "read °",
    "expected °",
    "",
    "specification",
    "distributor rpm",
    "distributor °",
  ];
  return {
    caption:
      "Readings with the timing light; distributor figures with the line on are weights and capsule together",
    groups: [],
    columns: heads.map((head) => ({ head, align: "left" })),
    rows: readings.map((reading) => ({
      cells: [
        fixed(reading.engineRpm, 0),
        reading.vacuumLine,
        fixed(reading.markCrankshaftDeg, 1),
        reading.expected === null ? UNKNOWN : rangeWithUncertainty(reading.expected),
        AGREEMENT_WORDS[reading.agreement],
        reading.specification === null ? UNKNOWN : VERDICT_WORDS[reading.specification],
        fixed(reading.distributorRpm, 0),
        reading.advanceDistributorDeg === null ? UNKNOWN : fixed(reading.advanceDistributorDeg, 1),
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
): Picture | null {
  const own = readings.flatMap(({ vacuumLine, distributorRpm, advanceDistributorDeg: deg }) =>
    vacuumLine === "on" || deg === null ? [] : [[distributorRpm, deg] as const],
  );
  const bench = (curves?.speed.rising ?? []).map(({ x, advanceDeg }) => [x, advanceDeg] as const);
  if (own.length < 2 || bench.length === 0) return null;
  const all = [...own, ...bench];
  const atCrankshaft = (label: string) => (driveRatio === 1 ? null : { label, factor: driveRatio });
  return {
    shows: [],
    title: "Solid with discs: the bench, speed rising. Dashed with squares: read on the engine.",
    width: "broad",
    low: true,
    x: {
      label: "distributor rpm",
      ...roundAxis(
        all.map(([x]) => x),
        9,
      ),
      crankshaft: atCrankshaft("engine rpm"),
    },
    y: {
      label: "distributor degrees",
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
