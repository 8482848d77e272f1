// `bobweight nearest`: a measured curve against all units on file, and what would turn the unit into the nearest ones.
import { type Command, Option } from "commander";
import { BobweightError } from "../../core/errors.ts";
import { type Conversion, conversion } from "../../core/nearest/conversion.ts";
import { type FurtherReading, furtherReading } from "../../core/nearest/further.ts";
import { type Measured, measuredFrom } from "../../core/nearest/measured.ts";
import { type Compared, nearest, type UnitOnFile } from "../../core/nearest/nearest.ts";
import {
  conversionTexts,
  differenceTexts,
  furtherText,
  LIKENESS_WARNING,
  NOT_TOLD,
  nameOf,
  standingText,
} from "../../core/nearest/wording.ts";
import { seeToFirst, seeToText } from "../../core/refit/seeToFirst.ts";
import { endDocumentOf, startDocumentOf } from "../../core/sheet/curves.ts";
import { VACUUM_UNITS, type VacuumUnit } from "../../core/units.ts";
import { keptSettings } from "../settings.ts";
import { unitsIn, unitsKnown } from "../unitsOnFile.ts";
import { DATA_OPTION, openData, recordIdOf } from "./data.ts";
import { wholeNumber } from "./numbers.ts";
import { DRAWER_OPTION, drawerFrom, FIRST_OPTION, fitted, SECOND_OPTION } from "./springsIn.ts";

interface NearestOptions {
  readonly count: number;
  readonly drawer?: string;
  readonly first?: string;
  readonly second?: string;
  readonly vacuumUnit: VacuumUnit;
  readonly json?: true;
  readonly data?: string;
}

const HELP = `
Measure the unit first with a unit file that says what can be seen: lobes, rotation, trigger, capsules
without rows. A record by hand will do; few readings rule little out.

Without files or folders: unit files (*.unit.json) in the data folder, units added on the page, and those
that records were made with. Cam, direction and capsule rule a unit out; a missed row does unless parts
are worn or changed; a trigger can be exchanged and dwell be set. How likely each is counts only those on
file, taken as sound: the right one may not be among them.

With --drawer and the springs that are in (--first, --second, see \`bobweight refit --help\`) the advice
is chosen among the drawer's springs.

Exit status: 0 the curve passes as a unit on file, 1 it is outside of every one, 2 not all is proved,
64 wrong usage, 65 no such record or file, no readings, or nothing on file to compare with, 74 storage.`;

export function addNearest(program: Command, exit: (status: number) => void): void {
  program
    .command("nearest")
    .description(
      "compare a record's curve with the units on file, and say what would turn it into them",
    )
    .argument("<record>", "a record's id, or `newest`")
    .argument("[units...]", "unit files, or folders of them (*.unit.json)")
    .option(
      "--count <n>",
      "how many of the nearest to show with what to change",
      wholeNumber(1, 20),
      3,
    )
    .option(...DRAWER_OPTION)
    .option(...FIRST_OPTION)
    .option(...SECOND_OPTION)
    .addOption(
      new Option("--vacuum-unit <unit>", "unit of vacuum").choices(VACUUM_UNITS).default("kPa"),
    )
    .option("--json", "print one JSON object on standard output")
    .option(...DATA_OPTION)
    .addHelpText("after", HELP)
    .action(async (record: string, paths: readonly string[], options: NearestOptions) =>
      exit(await compare(record, paths, options)),
    );
}

/** One of the nearest, with what is worth knowing of it alone. */
interface Told extends Compared {
  /** Null for the first, and for one that is told from it. */
  readonly further: { readonly reading: FurtherReading | null } | null;
  readonly conversion: Conversion | null;
}

async function compare(
  record: string,
  paths: readonly string[],
  options: NearestOptions,
): Promise<number> {
  const { store, folder } = await openData(options.data);
  try {
    const drawer = await drawerFrom(options.drawer, store);
    const installed = {
      first: fitted(options.first, drawer),
      second: fitted(options.second, drawer),
    };
    const id = await recordIdOf(store, record);
    const { documents } = await store.record(id);
    const measured = measuredFrom(documents);
    if (measured.speed.rising.length === 0 && measured.capsules.length === 0) {
      throw new BobweightError("CURVE_UNTOLD", "The record has no readings to compare.");
    }
    const settings = await keptSettings(store);
    const { units, passedOver } =
      paths.length > 0 ? unitsIn(paths, settings) : await unitsKnown(folder, store, settings);
    for (const complaint of passedOver) process.stderr.write(`Passed over: ${complaint}\n`);
    const found = nearest(measured, units);
    if (found.length === 0) {
      throw new BobweightError(
        "NO_UNITS",
        "There is no unit with a specification on file to compare with.",
      );
    }
    const told = found.map((one, i): Told => {
      const isShown = i < options.count && one.standing !== "other";
      return {
        ...one,
        further: furtherOf(measured, found[0] as Compared, one),
        conversion: isShown ? conversion(measured, one.onFile.unit, drawer, installed) : null,
      };
    });
    const start = startDocumentOf(documents);
    const seeTo = seeToFirst(endDocumentOf(documents)?.findings?.found ?? []);
    process.stdout.write(
      options.json
        ? `${JSON.stringify({ recordId: id, unit: start.unit.description, simulated: start.rig.simulated, byHand: start.rig.byHand !== undefined, seeToFirst: seeTo, ...reportOf(told) }, null, 2)}\n`
        : textOf(
            seeTo.map((one) => seeToText(one)),
            `${start.unit.description}, record ${id}${start.rig.simulated ? " (simulated)" : ""}`,
            measured,
            told,
            options,
          ),
    );
    return statusOf(found);
  } finally {
    await store.close();
  }
}

function furtherOf(measured: Measured, first: Compared, one: Compared): Told["further"] {
  if (one === first || !one.isAlikeFirst) return null;
  return { reading: furtherReading(measured, first.onFile.unit, one.onFile.unit) };
}

function statusOf(found: readonly Compared[]): number {
  if (found.some(({ standing }) => standing === "passes")) return 0;
  return found.some(({ standing }) => standing === "open") ? 2 : 1;
}

function reportOf(told: readonly Told[]) {
  return {
    warning: LIKENESS_WARNING,
    units: told.map(({ onFile, further, ...one }) => ({
      ...fileOf(onFile),
      ...one,
      further: further?.reading ?? null,
    })),
    notTold: NOT_TOLD,
  };
}

function fileOf({ place, unit }: UnitOnFile) {
  const { description, stampedNumber, invented } = unit;
  return { place, description, stampedNumber, invented };
}

function textOf(
  seeTo: readonly string[],
  subject: string,
  measured: Measured,
  told: readonly Told[],
  { count, vacuumUnit }: NearestOptions,
): string {
  const like = told.filter(({ standing }) => standing !== "other");
  const others = told.filter(({ standing }) => standing === "other");
  const shown = like.filter((one, i) => i < count || one.isAlikeFirst || one.standing === "passes");
  const direction = measured.isByHand
    ? " Direction and cam are as the record's unit file has them."
    : "";
  return [
    ...seeTo,
    `${subject}: ${told.length} units on file, ${like.length} with its cam, direction and capsule.${direction}`,
    ...shown.flatMap((one, i) => unitLines(one, i, vacuumUnit)),
    ...(like.length > shown.length
      ? [
          `Farther off: ${like
            .slice(shown.length)
            .map(({ onFile }) => nameOf(onFile))
            .join("; ")}.`,
        ]
      : []),
    ...others.map((one) => `Not ${nameOf(one.onFile)}: ${differenceTexts(one).join("; ")}.`),
    `What no curve tells: ${NOT_TOLD.join("; ")}.`,
    LIKENESS_WARNING,
    "",
  ].join("\n");
}

function unitLines(one: Told, i: number, vacuumUnit: VacuumUnit): string[] {
  const changes = one.conversion === null ? [] : conversionTexts(one.conversion, vacuumUnit);
  const differences = differenceTexts(one);
  return [
    `${i + 1}. ${nameOf(one.onFile)}`,
    `   ${standingText(one, i === 0, vacuumUnit)}`,
    ...(one.further === null ? [] : [`   ${furtherText(one.further.reading, vacuumUnit)}`]),
    ...(differences.length === 0 ? [] : [`   Differs: ${differences.join("; ")}.`]),
    ...(changes.length === 0
      ? []
      : ["   To turn it into this one:", ...changes.map((line) => `     ${line}`)]),
  ];
}
