// `bobweight settings`: what the workshop has set once for all, printed and changed.
import type { Command } from "commander";
import { BobweightError } from "../../core/errors.ts";
import { LANGUAGES } from "../../core/language.ts";
import { type Settings, SHOWN_SHAFTS, SHOWN_VACUUM_UNITS } from "../../core/settings/settings.ts";
import { readBytes } from "../files.ts";
import { keepLogo, keepSettings, keptSettings, toldSettings } from "../settings.ts";
import { DATA_OPTION, openData } from "./data.ts";

interface SettingsOptions {
  readonly set: readonly string[];
  readonly logo?: string;
  readonly data?: string;
}

const HELP = `
The settings, each with what it may be:
  language            ${LANGUAGES.join(", ")}: of page and papers
  vacuumUnit          ${SHOWN_VACUUM_UNITS.join(", ")}: on page and papers
  shownShaft          ${SHOWN_SHAFTS.join(", ")}: whose speed and advance the page shows;
                      records and papers stay as they are
  toleranceDeg        distributor degrees either way, up to 5, where a specification prints single figures
                      without limits; the sheet says that it is the workshop's
  holdSeconds         of a hold test where the unit's specification says nothing of it
  holdDropMaxPa       largest drop that passes, in pascals, likewise
  firstRigId          the rig that the page begins with: a rig file's name without .rig.json
  workshop.name, workshop.address, workshop.phone
                      at the head of the papers, up to 80 characters each
Nothing behind the = sets it back, as in --set toleranceDeg=

Prints the settings as they are then, one JSON object.

Exit status: 0 good, 64 wrong usage, 65 bad input, 74 storage.`;

export function addSettings(program: Command, exit: (status: number) => void): void {
  program
    .command("settings")
    .description("print the workshop's settings, or change some of them")
    .option("--set <key=value>", "change one; may be given several times", collected, [])
    .option(
      "--logo <file>",
      "keep this PNG or JPEG (200 kB at most) for the papers; none: take it off",
    )
    .option(...DATA_OPTION)
    .addHelpText("after", HELP)
    .action(async (options: SettingsOptions) => {
      const { store } = await openData(options.data);
      try {
        if (options.set.length > 0) {
          await keepSettings(store, changed(await keptSettings(store), options.set));
        }
        if (options.logo !== undefined) {
          await keepLogo(store, options.logo === "none" ? null : readBytes(options.logo));
        }
        process.stdout.write(`${JSON.stringify(await toldSettings(store), null, 2)}\n`);
      } finally {
        await store.close();
      }
      exit(0);
    });
}

function collected(one: string, before: readonly string[]): readonly string[] {
  return [...before, one];
}

const NUMBERS = ["toleranceDeg", "holdSeconds", "holdDropMaxPa"];
const WORKSHOP = "workshop.";

/** @throws USAGE without a `=`; what no setting may be, the schema refuses */
function changed(settings: Settings, changes: readonly string[]): object {
  const values = new Map<string, unknown>(Object.entries(settings));
  const workshop = new Map<string, unknown>(Object.entries(settings.workshop));
  for (const change of changes) {
    const at = change.indexOf("=");
    if (at < 1) {
      throw new BobweightError("USAGE", `--set ${change} has no key and value with = between.`);
    }
    const [key, text] = [change.slice(0, at).trim(), change.slice(at + 1).trim()];
    if (key.startsWith(WORKSHOP)) workshop.set(key.slice(WORKSHOP.length), text);
    else values.set(key, typedValue(key, text));
  }
  return { ...Object.fromEntries(values), workshop: Object.fromEntries(workshop) };
}

function typedValue(key: string, text: string): unknown {
  if (text === "") return undefined;
  return NUMBERS.includes(key) ? Number(text.replace(",", ".")) : text;
}
