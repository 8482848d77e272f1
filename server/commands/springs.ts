// `bobweight springs`: the spring drawer, checked, with rates and loads.
import { type Command, Option } from "commander";
import { DRAWER_COLUMNS, drawerCsv, drawerFromCsv } from "../../core/drawer/drawerFile.ts";
import { listedSprings, listingText } from "../../core/drawer/listing.ts";
import { keepDrawer } from "../drawer.ts";
import { readTextFile } from "../files.ts";
import { DATA_OPTION, openData } from "./data.ts";
import { decimals } from "./numbers.ts";
import { OUT_OPTION, put } from "./output.ts";

interface SpringsOptions {
  readonly stretch: readonly number[];
  readonly json?: true;
  readonly csv?: true;
  readonly keep?: true;
  readonly out?: string;
  readonly data?: string;
}

const HELP = `
The file is CSV (RFC 4180) and its first row names the columns, in any order:
  ${DRAWER_COLUMNS.join("\n  ")}
name, quantity and free_length_mm (inside the loops) are needed, and besides them either the wire, one of
the two diameters and the coils, or a measured rate with its uncertainty (95 % coverage). A measured rate
goes before one computed by G d⁴ / (8 D³ n); G is that of music wire, 79.3 GPa, where the row gives none.
loop_length_mm is how far the posts part before a long loop is taken up.

Exit status: 0 good, 64 wrong usage, 65 bad input, with row and column on standard error,
74 storage.`;

export function addSprings(program: Command, exit: (status: number) => void): void {
  program
    .command("springs")
    .description("check a spring drawer (CSV) and list it with rates and loads")
    .argument("<file>", "the drawer, a CSV file")
    .option(
      "--stretch <mm,…>",
      "list the loads at these lengths above the free length",
      decimals(0, 100),
      [2, 4],
    )
    .addOption(new Option("--json", "print JSON, in metres and newtons").conflicts("csv"))
    .option("--csv", "print the drawer as CSV again, in one unit throughout")
    .option("--keep", "keep it in the data folder as the drawer that refit and nearest go by")
    .option(...OUT_OPTION)
    .option(...DATA_OPTION)
    .addHelpText("after", HELP)
    .action(async (file: string, options: SpringsOptions) => {
      put(written(file, options), options.out);
      if (options.keep) await keep(file, options.data);
      exit(0);
    });
}

async function keep(file: string, data: string | undefined): Promise<void> {
  const { store } = await openData(data);
  try {
    await keepDrawer(store, readTextFile(file), file);
  } finally {
    await store.close();
  }
}

function written(file: string, { stretch, json, csv }: SpringsOptions): string {
  const springs = drawerFromCsv(readTextFile(file), file);
  if (csv) return drawerCsv(springs);
  const listed = listedSprings(
    springs,
    stretch.map((millimetres) => millimetres / 1000),
  );
  return json ? `${JSON.stringify({ springs: listed }, null, 2)}\n` : listingText(listed);
}
