// `bobweight export` and `bobweight import`: records, units and springs to files and from them.
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Command } from "commander";
import { drawerCsv } from "../../core/drawer/drawerFile.ts";
import { BobweightError } from "../../core/errors.ts";
import { parseJsonFile } from "../../core/unitFile/jsonText.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { keepDrawer, keptDrawer } from "../drawer.ts";
import { readTextFile } from "../files.ts";
import {
  bringRecordIn,
  inOrder,
  isRecordFile,
  RECORD_FILE_BYTES_MAX,
  recordFileText,
} from "../recordFile.ts";
import type { Store } from "../store/store.ts";
import { DATA_OPTION, openData, recordIdOf } from "./data.ts";
import { OUT_OPTION, put } from "./output.ts";

const EXPORT_HELP = `
Records are written whole, raw lines included, so that they can be computed again elsewhere (docs/files.md
has the form). Units are written as unit files, each to a file of its own in the folder named; springs as
CSV (RFC 4180).

Exit status: 0 written, 64 wrong usage, 65 no such record or one without end, 74 storage.`;

const IMPORT_HELP = `
What a file holds is told by its content: a record (*.record.json), a unit file (*.unit.json), or springs
(*.csv). A record's fingerprints must hold. Nothing on file is overwritten: the same record again is "there
already", another one with its id is refused. A spring file takes the place of the drawer that is kept; the
one before stays in the store.

Exit status: 0 all brought in or there already, 64 wrong usage, 65 a file was refused and nothing after it
was brought in, 74 storage.`;

type Exit = (status: number) => void;

export function addExport(program: Command, exit: Exit): void {
  const command = program
    .command("export")
    .description("write a record, the units or the springs to files")
    .addHelpText("after", EXPORT_HELP);
  command
    .command("record")
    .argument("[record]", "a record's id, or `newest`")
    .option(...OUT_OPTION)
    .option(...DATA_OPTION)
    .action(async (record: string | undefined, { out, data }: { out?: string; data?: string }) =>
      withStore(
        data,
        async (store) => put(await recordFileText(store, await recordIdOf(store, record)), out),
        exit,
      ),
    );
  command
    .command("springs")
    .option(...OUT_OPTION)
    .option(...DATA_OPTION)
    .action(async ({ out, data }: { out?: string; data?: string }) =>
      withStore(data, async (store) => put(drawerCsv(await keptDrawer(store)), out), exit),
    );
  command
    .command("units")
    .argument("<folder>", "where the unit files go; made where it is not there")
    .option(...DATA_OPTION)
    .action(async (folder: string, { data }: { data?: string }) =>
      withStore(data, (store) => exportUnits(store, folder), exit),
    );
}

export function addImport(program: Command, exit: Exit): void {
  program
    .command("import")
    .description("bring records, units or springs in from files")
    .argument("<files...>", "record files, unit files, spring files")
    .option(...DATA_OPTION)
    .addHelpText("after", IMPORT_HELP)
    .action(async (paths: readonly string[], { data }: { data?: string }) =>
      withStore(data, (store) => importAll(store, paths), exit),
    );
}

async function withStore(
  data: string | undefined,
  action: (store: Store) => Promise<void>,
  exit: Exit,
): Promise<void> {
  const { store } = await openData(data);
  try {
    await action(store);
    exit(0);
  } finally {
    await store.close();
  }
}

async function exportUnits(store: Store, folder: string): Promise<void> {
  mkdirSync(folder, { recursive: true });
  for (const { id, fileText } of await store.units.current()) {
    const path = join(folder, `${id}.unit.json`);
    // A unit's key stands for one text only, so what is there is the same.
    if (!existsSync(path)) writeFileSync(path, fileText);
    process.stdout.write(`${path}\n`);
  }
}

async function importAll(store: Store, paths: readonly string[]): Promise<void> {
  const files = paths.map((path) => {
    const text = readTextFile(path, RECORD_FILE_BYTES_MAX);
    const isCsv = path.toLowerCase().endsWith(".csv");
    return { path, text, content: isCsv ? null : parseJsonFile(text, path) };
  });
  for (const { path, text, content } of inOrder(files)) {
    process.stdout.write(`${path}\t${await importOne(store, path, text, content)}\n`);
  }
}

async function importOne(
  store: Store,
  path: string,
  text: string,
  content: unknown,
): Promise<string> {
  if (content === null) {
    return `${(await keepDrawer(store, text, path)).length} springs`;
  }
  if (isRecordFile(content)) {
    const { recordId, wasThere } = await bringRecordIn(store, content, path);
    return `record ${recordId}${wasThere ? " there already" : ""}`;
  }
  if (typeof content === "object" && content !== null && "bobweightRecord" in content) {
    throw new BobweightError(
      "FILE_INVALID",
      `${path} has a record's figures only, without its raw lines: \`bobweight export record\` writes both.`,
    );
  }
  unitFromFile(content, path);
  return `unit ${await store.units.add(text)}`;
}
