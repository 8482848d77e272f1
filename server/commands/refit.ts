// `bobweight refit`: what to change on a measured unit's springs and stop, from the workshop's drawer.
import type { Command } from "commander";
import type { StartDocument } from "../../core/documents.ts";
import type { DrawerSpring } from "../../core/drawer/drawer.ts";
import { OWN_TARGET_WARNING, type TypedTarget } from "../../core/ownTarget.ts";
import type { Advice } from "../../core/refit/advise.ts";
import type { Curve } from "../../core/refit/geometry.ts";
import type { Fitted, Installed } from "../../core/refit/installed.ts";
import { LIKELY, type RefitReport, refitReport } from "../../core/refit/report.ts";
import { seeToText } from "../../core/refit/seeToFirst.ts";
import {
  capsuleText,
  chanceText,
  forecastText,
  stepsText,
  wordsAround,
} from "../../core/refit/wording.ts";
import { resultOf, startDocumentOf } from "../../core/sheet/curves.ts";
import type { Band, BandRow } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import type { Store } from "../store/store.ts";
import { DATA_OPTION, openData, recordIdOf } from "./data.ts";
import {
  DRAWER_OPTION,
  drawerFrom,
  FIRST_OPTION,
  fitted,
  SECOND_OPTION,
  springNamed,
} from "./springsIn.ts";
import {
  addTargetOptions,
  TARGET_HELP,
  type TargetOptions,
  typedTarget,
  withTarget,
} from "./target.ts";

interface RefitOptions extends TargetOptions {
  readonly drawer?: string;
  readonly first?: string;
  readonly second?: string;
  readonly earlier?: readonly string[];
  readonly json?: true;
  readonly data?: string;
}

const HELP = `
--first and --second name the springs that are in the unit, as the drawer lists them, and the lengths
between their posts: NAME@REST or NAME@REST..STOP in millimetres, with the weights at rest and with the
cam turned to its stop. Without them only posts and stop are advised.
Without --drawer the drawer is the one that \`bobweight springs --keep\` or the page has kept.

With both lengths of every spring that is in, the unit's levers are read off its curve, and a forecast
counts what calliper and spring balance leave open.

Measure again after each change: the next advice goes by the new curve, and with --earlier learns from
what the springs before it did on the same posts. Records are never changed.

Exit status: 0 an advice is likely to do, 1 none is, 64 wrong usage, 65 no such record, drawer or spring,
or a curve that tells too little, 74 storage.`;

export function addRefit(program: Command, exit: (status: number) => void): void {
  const command = program
    .command("refit")
    .description("work out which spring, post or stop to change; without a record, the newest")
    .argument("[record]", "a record's id, or `newest`")
    .option(...DRAWER_OPTION)
    .option(...FIRST_OPTION)
    .option(...SECOND_OPTION)
    .option(
      "--earlier <record...>",
      "records of the same unit with other springs, RECORD=FIRST+SECOND by the drawer's names",
    )
    .option("--json", "print one JSON object on standard output")
    .option(...DATA_OPTION);
  addTargetOptions(command)
    .addHelpText("after", TARGET_HELP)
    .addHelpText("after", HELP)
    .action(async (record: string | undefined, options: RefitOptions) =>
      exit(await refit(record, options)),
    );
}

async function refit(record: string | undefined, options: RefitOptions): Promise<number> {
  const target = typedTarget(options);
  const { store } = await openData(options.data);
  try {
    const drawer = await drawerFrom(options.drawer, store);
    const id = await recordIdOf(store, record);
    const { documents } = await store.record(id);
    const installed = {
      first: fitted(options.first, drawer),
      second: fitted(options.second, drawer),
    };
    const band = bandWanted(startDocumentOf(documents), target);
    const earlier: Curve[] = [];
    for (const text of options.earlier ?? []) {
      earlier.push(await earlierState(text, store, drawer, installed));
    }
    const report = refitReport(documents, { band, drawer, installed, earlier });
    process.stdout.write(
      options.json ? `${JSON.stringify(report, null, 2)}\n` : reportText(report),
    );
    return report.advice.some(({ chance }) => chance >= LIKELY) ? 0 : 1;
  } finally {
    await store.close();
  }
}

/** The target where one is given, else the record's own specification, which stays what it is. */
function bandWanted({ unit, unitFile }: StartDocument, target: TypedTarget | null): Band | null {
  if (target === null) return unit.speedBand;
  const connected = unit.contactSets?.connected ?? null;
  const name = "the record's unit file";
  const { content } = withTarget({ name, content: unitFile }, target, connected);
  return unitFromFile(content, name, connected).speedBand;
}

function reportText(report: RefitReport): string {
  const { target, seeToFirst, capsules } = report;
  const lines = [
    ...(target === null ? [] : [targetText(target.rows), OWN_TARGET_WARNING]),
    ...seeToFirst.map((one) => seeToText(one)),
    ...adviceLines(report),
    ...capsules.map((one) => capsuleText(one.name, one)),
  ];
  return lines.map((line) => `${line}\n`).join("");
}

function targetText(rows: readonly BandRow[]): string {
  return `The user's own target: ${rows.map((row) => row.printed).join("; ")}.`;
}

function adviceLines({ advice, wanted }: RefitReport): string[] {
  const lines = advice.flatMap((one: Advice, i) => [
    `${i + 1}. ${stepsText(one.steps)}. ${chanceText(one.chance)}.`,
    ...one.forecast.map((row) => `   ${forecastText(row)}`),
  ]);
  const { before, after } = wordsAround({ advice, wanted });
  return [...before, ...lines, ...after];
}

/** The same posts with the springs of an earlier record. */
async function earlierState(
  text: string,
  store: Store,
  drawer: readonly DrawerSpring[],
  { first, second }: Installed,
): Promise<Curve> {
  const [record, springs = ""] = text.split("=");
  const [firstName, secondName] = springs.split("+");
  const { documents } = await store.record(await recordIdOf(store, record));
  const { rising, falling } = resultOf(documents).speed;
  const { referenceRpm } = startDocumentOf(documents).plan;
  const was = (fittedNow: Fitted | null, name: string | undefined): Fitted | null => {
    if (name === undefined || name === "") return null;
    const { restLengthM = null, stopLengthM = null } = fittedNow ?? {};
    return { spring: springNamed(name, drawer), restLengthM, stopLengthM };
  };
  return {
    rising,
    falling,
    referenceRpm,
    installed: { first: was(first, firstName), second: was(second, secondName) },
  };
}
