// `bobweight sheet`: the test sheet or the figures of a record on file.
import { type Command, Option } from "commander";
import { BobweightError } from "../../core/errors.ts";
import { cardSchema } from "../../core/jobs/cardSchema.ts";
import { LANGUAGES, type Language } from "../../core/language.ts";
import { budgetText } from "../../core/sheet/budgetText.ts";
import { curvesCsv } from "../../core/sheet/csv.ts";
import { startDocumentOf } from "../../core/sheet/curves.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import { recordJson } from "../../core/sheet/json.ts";
import { PAPERS, type Paper } from "../../core/sheet/model.ts";
import { parseShape } from "../../core/unitFile/place.ts";
import { VACUUM_UNITS, type VacuumUnit } from "../../core/units.ts";
import { readJsonFile } from "../files.ts";
import { READERS, type Reader, sheetFor } from "../papers.ts";
import type { Store } from "../store/store.ts";
import { DATA_OPTION, openData, recordIdOf } from "./data.ts";
import { decimal } from "./numbers.ts";
import { OUT_OPTION, put } from "./output.ts";

interface SheetCommandOptions {
  readonly list?: true;
  readonly for: Reader;
  readonly card?: string;
  readonly paper: Paper;
  readonly format: "html" | "pdf" | "csv" | "json" | "budget";
  readonly at?: number;
  readonly vacuumUnit?: VacuumUnit;
  readonly language?: Language;
  readonly out?: string;
  readonly data?: string;
}

export function addSheet(program: Command, exit: (status: number) => void): void {
  program
    .command("sheet")
    .description("write the test sheet, or the figures, of a record; without a record, the newest")
    .argument("[record]", "a record's id, or `newest`")
    .option("--list", "list the records on file, newest first")
    .addOption(
      new Option("--for <reader>", "the owner's page, a tag for the unit, or the file's sheet")
        .choices(READERS)
        .default("file"),
    )
    .option("--card <file>", "another card than the job's for owner's page and tag, a JSON file")
    .addOption(new Option("--paper <paper>", "paper of the sheet").choices(PAPERS).default("a4"))
    .addOption(
      new Option("--format <format>", "what to write")
        .choices(["html", "pdf", "csv", "json", "budget"])
        .default("html"),
    )
    .addOption(
      new Option(
        "--vacuum-unit <unit>",
        "unit of vacuum on the sheet (default: of the settings, kPa where none is set)",
      ).choices(VACUUM_UNITS),
    )
    .addOption(
      new Option(
        "--language <language>",
        "of the sheet (default: of the settings, English where none is set)",
      ).choices(LANGUAGES),
    )
    .option(
      "--at <rpm>",
      "with --format budget: of the reading nearest to this distributor rpm (default: of the one known worst)",
      decimal(0, 20_000),
    )
    .option(...OUT_OPTION)
    .option(...DATA_OPTION)
    .action(async (record: string | undefined, options: SheetCommandOptions) => {
      const { store } = await openData(options.data);
      try {
        const content = options.list ? await listed(store) : await written(store, record, options);
        put(content, options.out);
      } finally {
        await store.close();
      }
      exit(0);
    });
}

async function written(
  store: Store,
  record: string | undefined,
  options: SheetCommandOptions,
): Promise<string | Uint8Array> {
  const { format, at } = options;
  const { documents } = await store.record(await recordIdOf(store, record));
  if (format === "html" || format === "pdf") {
    const { for: reader, card: path, paper, vacuumUnit, language } = options;
    const card = path === undefined ? undefined : parseShape(cardSchema, readJsonFile(path), path);
    const sheet = await sheetFor(store, documents, reader, { paper, vacuumUnit, language }, card);
    const { startedUtc } = startDocumentOf(documents);
    if (format === "html") return sheetHtml(sheet);
    // Loaded where it is wanted: it would be half the start of a command that prints no PDF.
    const { sheetPdf } = await import("../pdf/sheetPdf.ts");
    return sheetPdf(sheet, startedUtc);
  }
  if (options.for !== "file") {
    throw new BobweightError("USAGE", "Owner's page and tag are printed as html or pdf.");
  }
  if (format === "csv") return curvesCsv(documents);
  if (format === "json") return recordJson(documents);
  return budgetText(documents, at ?? null);
}

async function listed(store: Store): Promise<string> {
  const heads = await store.heads({ limit: 200, before: null });
  return heads
    .map((head) => {
      const verdict =
        head.ownTarget && head.verdict !== null ? `${head.verdict} (own target)` : head.verdict;
      const outcome = verdict ?? head.ending ?? "not ended";
      const rig = head.simulated ? "simulated" : head.rigName;
      const bench = head.benchName ?? "";
      return [head.id, head.startedUtc, outcome, rig, head.unitDescription, bench].join("\t");
    })
    .map((line) => `${line}\n`)
    .join("");
}
