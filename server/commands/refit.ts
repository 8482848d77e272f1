// `bobweight refit`: what to change on a measured unit's springs and stop, from the workshop's drawer.
import type { Command } from "commander";
import type { RunResult, StartDocument } from "../../core/documents.ts";
import type { DrawerSpring } from "../../core/drawer/drawer.ts";
import { BobweightError } from "../../core/errors.ts";
import type { Finding } from "../../core/findings/finding.ts";
import { hiddenBy } from "../../core/findings/hiding.ts";
import { OWN_TARGET_WARNING, type TypedTarget } from "../../core/ownTarget.ts";
import { type Advice, advise, type Refit } from "../../core/refit/advise.ts";
import { adviseCapsule, type CapsuleAdvice } from "../../core/refit/capsule.ts";
import type { Curve } from "../../core/refit/geometry.ts";
import type { Fitted, Installed } from "../../core/refit/installed.ts";
import { measuredUnit } from "../../core/refit/measuredUnit.ts";
import { specified } from "../../core/refit/target.ts";
import {
  capsuleText,
  chanceText,
  forecastText,
  stepText,
  wantedText,
} from "../../core/refit/wording.ts";
import { endDocumentOf, resultOf, startDocumentOf } from "../../core/sheet/curves.ts";
import type { Band, Unit } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import type { Store } from "../store/store.ts";
import { DATA_OPTION, openData, recordIdOf } from "./data.ts";
import { seeToFirst, seeToText } from "./seeToFirst.ts";
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
  const drawer = drawerFrom(options.drawer);
  const target = typedTarget(options);
  const { store } = await openData(options.data);
  try {
    const id = recordIdOf(store, record);
    const { documents } = store.record(id);
    const start = startDocumentOf(documents);
    const { unit, plan } = start;
    const speedBand = bandWanted(start, target);
    if (speedBand === null) {
      throw new BobweightError(
        "CURVE_UNTOLD",
        "The unit has no specification over speed. Give a target of your own by --target, or compare it with the units on file by `bobweight nearest`.",
      );
    }
    const installed = {
      first: fitted(options.first, drawer),
      second: fitted(options.second, drawer),
    };
    const result = resultOf(documents);
    const { rising, falling } = result.speed;
    const earlier = (options.earlier ?? []).map((text) =>
      earlierState(text, store, drawer, installed),
    );
    const { referenceRpm } = plan;
    const states = [{ rising, falling, installed, referenceRpm }, ...earlier];
    const measured = measuredUnit(states, specified(speedBand));
    const findings = endDocumentOf(documents)?.findings?.found ?? [];
    const seeTo = seeToFirst(findings);
    if (measured === null) {
      throw new BobweightError(
        "CURVE_UNTOLD",
        seeTo[0] === undefined
          ? "The weights hardly move, or too few readings lie between start and stop."
          : `${seeTo[0].title}.`,
      );
    }
    const found = advise(measured, speedBand, drawer, installed);
    const capsules = capsuleAdvice(unit, result, findings);
    if (options.json) {
      process.stdout.write(
        `${JSON.stringify({ recordId: id, target: targetReport(speedBand), seeToFirst: seeTo, ...found, capsules }, null, 2)}\n`,
      );
    } else {
      process.stdout.write(targetText(speedBand));
      for (const one of seeTo) process.stdout.write(`${seeToText(one)}\n`);
      process.stdout.write(adviceText(found));
      for (const one of capsules) process.stdout.write(`${capsuleText(one.name, one)}\n`);
    }
    return found.advice.some(({ chance }) => chance >= LIKELY) ? 0 : 1;
  } finally {
    store.close();
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

/** Null where the specification is a maker's. */
function targetReport({ isOwnTarget, source, rows }: Band) {
  return isOwnTarget === true ? { own: true, warning: OWN_TARGET_WARNING, source, rows } : null;
}

function targetText({ isOwnTarget, rows }: Band): string {
  if (isOwnTarget !== true) return "";
  const printed = rows.map((row) => row.printed).join("; ");
  return `The user's own target: ${printed}.\n${OWN_TARGET_WARNING}\n`;
}

/** Of each capsule that has a specification, and that nothing else is wrong with first. */
function capsuleAdvice(
  { capsules }: Unit,
  result: RunResult,
  findings: readonly Finding[],
): readonly (CapsuleAdvice & { readonly name: string })[] {
  if (findings.some(({ kind }) => hiddenBy(kind).includes("capsule-spring-wrong"))) return [];
  return capsules.flatMap(({ name, band }, i) => {
    const rising = result.capsules[i]?.rising ?? [];
    const advice = band === null ? null : adviseCapsule(rising, band);
    return advice === null ? [] : [{ name, ...advice }];
  });
}

const LIKELY = 0.9;
/** Below this chance an advice is no more than the nearest there is. */
const WORTH_TRYING = 0.5;

function adviceText({ advice, wanted }: Refit): string {
  const lines = advice.flatMap((one: Advice, i) => [
    `${i + 1}. ${one.steps.map(stepText).join("; ") || "Leave it as it is"}. ${chanceText(one.chance)}.`,
    ...one.forecast.map((row) => `   ${forecastText(row)}`),
  ]);
  const bestChance = advice[0]?.chance ?? 0;
  const springs = wanted === null ? "" : wantedText(wanted);
  if (bestChance < WORTH_TRYING) {
    const none = `Nothing that is known is likely to do. ${springs}`.trim();
    return `${[none, ...(lines.length > 0 ? ["The nearest to it:"] : []), ...lines].join("\n")}\n`;
  }
  const isSurer = wanted !== null && wanted.chance > bestChance;
  return `${[...lines, ...(isSurer ? [`Surer than any of these: ${springs}`] : [])].join("\n")}\n`;
}

/** The same posts with the springs of an earlier record. */
function earlierState(
  text: string,
  store: Store,
  drawer: readonly DrawerSpring[],
  { first, second }: Installed,
): Curve {
  const [record, springs = ""] = text.split("=");
  const [firstName, secondName] = springs.split("+");
  const { documents } = store.record(recordIdOf(store, record));
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
