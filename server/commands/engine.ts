// `bobweight engine`: the marks to expect with a timing light, and the owner's readings against them.
import { type Command, Option } from "commander";
import type { Agreement, JudgedReadings } from "../../core/engine/agreement.ts";
import { type EngineSubject, engineFigures, engineSubject } from "../../core/engine/asked.ts";
import { judgedReadingsCsv, marksCsv } from "../../core/engine/csv.ts";
import {
  CRUISE_VACUUM_PA,
  type EngineConditions,
  UNLOADED_VACUUM_PA,
} from "../../core/engine/marks.ts";
import { engineReadingsFromCsv, READING_COLUMNS } from "../../core/engine/readingsFile.ts";
import { type EngineFigures, engineSheet } from "../../core/engine/sheet.ts";
import { BobweightError } from "../../core/errors.ts";
import { LANGUAGES, type Language } from "../../core/language.ts";
import { hasOwnTarget, OWN_TARGET_WARNING } from "../../core/ownTarget.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import { PAPERS, type Paper } from "../../core/sheet/model.ts";
import { SPEECHES } from "../../core/speech/languages.ts";
import type { PaperSpeech } from "../../core/speech/speech.ts";
import { type EngineSettings, type Unit, VACUUM_PORTS, type VacuumPort } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { pascalsFrom, VACUUM_UNITS, type VacuumUnit } from "../../core/units.ts";
import { readJsonFile, readTextFile } from "../files.ts";
import { keptSettings } from "../settings.ts";
import { DATA_OPTION, openData, recordIdOf } from "./data.ts";
import { decimal, decimals, wholeNumber } from "./numbers.ts";
import { OUT_OPTION, put } from "./output.ts";

interface EngineOptions {
  readonly unit?: string;
  readonly initialTiming?: number;
  readonly setAt?: number;
  readonly vacuumPort?: VacuumPort;
  readonly idle?: number;
  readonly speeds?: readonly number[];
  readonly capsule: number;
  readonly unloadedVacuum?: number;
  readonly cruiseVacuum?: number;
  readonly vacuumUnit: VacuumUnit;
  readonly readings?: string;
  readonly format: "html" | "pdf" | "csv" | "json";
  readonly paper: Paper;
  readonly language?: Language;
  readonly out?: string;
  readonly data?: string;
}

const HELP = `
Initial timing, where it is set, port and speeds come from the unit file's \`engine\` block; options go
before it. With --unit and no record, the marks are those that the specification asks for.

The readings are CSV (RFC 4180) with the columns ${READING_COLUMNS.join(", ")}:
degrees before top dead centre, the line \`plugged\` or \`on\`.

Exit status: 0 written, and with --readings all agree; 1 some do not agree; 2 none disagrees but some
cannot tell; 64 wrong usage; 65 bad input, no such record or no initial timing; 74 storage.`;

export function addEngine(program: Command, exit: (status: number) => void): void {
  program
    .command("engine")
    .description(
      "write the marks to expect with a timing light, or hold the owner's readings against them; without a record, the newest",
    )
    .argument("[record]", "a record's id, or `newest`")
    .option("--unit <file>", "no record: from the specification of this unit file alone")
    .option("--initial-timing <deg>", "crankshaft degrees before top dead centre", decimal(-60, 60))
    .option("--set-at <rpm>", "engine speed at which it is set; 0 at rest", decimal(0, 20_000))
    .addOption(new Option("--vacuum-port <port>", "what feeds the capsule").choices(VACUUM_PORTS))
    .option("--idle <rpm>", "the engine's idle speed", decimal(1, 3000))
    .option("--speeds <rpm,…>", "engine speeds at which the marks are wanted", decimals(1, 20_000))
    .option("--capsule <n>", "which of the unit's capsules the line is on", wholeNumber(1, 9), 1)
    .option(
      "--unloaded-vacuum <n>",
      "in the manifold without load, in --vacuum-unit (default: 17 inHg)",
      decimal(0, 101_325),
    )
    .option(
      "--cruise-vacuum <n>",
      "at a steady cruise, in --vacuum-unit (default: 12 inHg)",
      decimal(0, 101_325),
    )
    .addOption(
      new Option("--vacuum-unit <unit>", "unit of vacuum").choices(VACUUM_UNITS).default("kPa"),
    )
    .option("--readings <file>", "the owner's readings, a CSV file")
    .addOption(
      new Option("--format <format>", "what to write")
        .choices(["html", "pdf", "csv", "json"])
        .default("html"),
    )
    .addOption(new Option("--paper <paper>", "paper of the sheet").choices(PAPERS).default("a4"))
    .addOption(
      new Option(
        "--language <language>",
        "of the sheet and what it says of the readings (default: of the settings, English where none is set)",
      ).choices(LANGUAGES),
    )
    .option(...OUT_OPTION)
    .option(...DATA_OPTION)
    .addHelpText("after", HELP)
    .action(async (record: string | undefined, options: EngineOptions) => {
      const subject =
        options.unit === undefined ? await fromRecord(record, options) : fromUnit(record, options);
      const say = await speechOf(options);
      const figures = figuresOf(subject, options, say);
      put(await written(figures, options, say), options.out);
      for (const sentence of figures.readings?.summary ?? []) {
        process.stderr.write(`${sentence}\n`);
      }
      exit(exitOfReadings(figures.readings));
    });
}

async function fromRecord(
  record: string | undefined,
  { data }: EngineOptions,
): Promise<EngineSubject> {
  const { store } = await openData(data);
  try {
    return engineSubject((await store.record(await recordIdOf(store, record))).documents);
  } finally {
    await store.close();
  }
}

function fromUnit(record: string | undefined, { unit: path }: EngineOptions): EngineSubject {
  if (record !== undefined || path === undefined) {
    throw new BobweightError("USAGE", "Give a record or --unit, not both.");
  }
  return { unit: unitFromFile(readJsonFile(path), path), record: null, curves: null };
}

/** Other programs read English, whatever the workshop speaks. */
async function speechOf({ format, language, data }: EngineOptions): Promise<PaperSpeech> {
  if (format === "csv" || format === "json") return SPEECHES.en;
  if (language !== undefined) return SPEECHES[language];
  const { store } = await openData(data);
  try {
    return SPEECHES[(await keptSettings(store)).language];
  } finally {
    await store.close();
  }
}

function figuresOf(
  subject: EngineSubject,
  options: EngineOptions,
  say: PaperSpeech,
): EngineFigures {
  const { readings: path } = options;
  const readings = path === undefined ? null : engineReadingsFromCsv(readTextFile(path), path);
  return engineFigures(subject, conditionsOf(subject.unit, options), readings, say);
}

function conditionsOf(unit: Unit, options: EngineOptions): EngineConditions {
  const { capsule, vacuumUnit, unloadedVacuum, cruiseVacuum } = options;
  if (capsule > 1 && capsule > unit.capsules.length) {
    throw new BobweightError("USAGE", `The unit has ${unit.capsules.length} capsules.`);
  }
  const pascals = (value: number | undefined, otherwise: number) =>
    value === undefined ? otherwise : pascalsFrom(value, vacuumUnit);
  return {
    settings: settingsOf(unit.engine, options),
    capsule: capsule - 1,
    unloadedVacuumPa: pascals(unloadedVacuum, UNLOADED_VACUUM_PA),
    cruiseVacuumPa: pascals(cruiseVacuum, CRUISE_VACUUM_PA),
  };
}

/** Options before the unit's own figures. @throws FILE_INVALID without initial timing or port */
function settingsOf(engine: EngineSettings | null, options: EngineOptions): EngineSettings {
  const initial = options.initialTiming ?? engine?.initialTimingCrankshaftDeg;
  const vacuumPort = options.vacuumPort ?? engine?.vacuumPort;
  if (initial === undefined || vacuumPort === undefined) {
    throw new BobweightError(
      "FILE_INVALID",
      "The unit file has no `engine` block with initial timing and vacuum port: add it, or give --initial-timing and --vacuum-port.",
    );
  }
  // Another timing is not the one whose place of print the file names.
  const sameTiming = options.initialTiming === undefined && options.setAt === undefined;
  return {
    initialTimingCrankshaftDeg: initial,
    atEngineRpm:
      options.setAt ?? (options.initialTiming === undefined ? engine?.atEngineRpm : 0) ?? 0,
    vacuumPort,
    idleEngineRpm: options.idle ?? engine?.idleEngineRpm ?? null,
    engineSpeedsRpm: options.speeds?.toSorted((a, b) => a - b) ?? engine?.engineSpeedsRpm ?? null,
    source: sameTiming ? (engine?.source ?? null) : null,
  };
}

async function written(
  figures: EngineFigures,
  { format, paper, vacuumUnit }: EngineOptions,
  say: PaperSpeech,
): Promise<string | Uint8Array> {
  const { readings, marks } = figures;
  if (format === "html" || format === "pdf") {
    const sheet = engineSheet(figures, { paper, vacuumUnit, say });
    // Without a record nothing but the printing has a date.
    const createdUtc = figures.record?.startedUtc ?? new Date().toISOString();
    if (format === "html") return sheetHtml(sheet);
    // Loaded where it is wanted: it would be half the start of a command that prints no PDF.
    const { sheetPdf } = await import("../pdf/sheetPdf.ts");
    return sheetPdf(sheet, createdUtc);
  }
  if (format === "csv") return readings === null ? marksCsv(marks) : judgedReadingsCsv(readings);
  const { unit, record, conditions } = figures;
  const report = {
    unit: unit.description,
    invented: unit.invented,
    ownTarget: hasOwnTarget(unit) ? { warning: OWN_TARGET_WARNING } : null,
    recordId: record?.recordId ?? null,
    simulated: record?.rig.simulated ?? null,
    ...conditions,
    capsule: conditions.capsule + 1,
    marks,
    readings: readings?.readings ?? null,
    summary: readings?.summary ?? null,
  };
  return `${JSON.stringify(report, null, 2)}\n`;
}

function exitOfReadings(judged: JudgedReadings | null): number {
  const some = (agreement: Agreement) =>
    judged?.readings.some((reading) => reading.agreement === agreement) ?? false;
  if (some("does not")) return 1;
  return some("cannot tell") ? 2 : 0;
}
