// Bar: a unit measured without its specification is found among the units on file.
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { measure } from "../../accuracy/standIn.ts";
import { measuredFrom } from "../../core/nearest/measured.ts";
import {
  nearest as nearestOf,
  type Standing,
  type UnitOnFile,
} from "../../core/nearest/nearest.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { drawCase } from "../drawn/case.ts";
import { type File, SHORT_PLAN } from "../drawn/ground.ts";
import { drawWording, specificationOf } from "../drawn/specification.ts";
import type { DrawnUnit } from "../drawn/unit.ts";
import { shareAtLeast, shareBeside } from "../shares.ts";

const FOUND_MIN = 0.95;
const ON_FILE = 30;
/** Good units, some of them a little used. */
const GOOD = { kinds: [], clarity: "clear" } as const;

/**
 * `mixed`: units as they come. `same form`: all with the cam, the direction and the trigger of the one
 * on the bench, so that the curves alone tell. `near`: its own mechanism with other springs and stop,
 * some so like it that no reading tells them apart.
 */
const FILES = ["mixed", "same form", "near"] as const;
type OnFile = (typeof FILES)[number];

export interface Sought {
  readonly index: number;
  readonly file: OnFile;
  /** Counted from 0 by likeness. */
  readonly rank: number;
  readonly isAlikeFirst: boolean;
  readonly standing: Standing;
  /** Probability given to the right one; 0 where it was ruled out. */
  readonly share: number;
  /** Units that are not told from the first, itself included. */
  readonly alike: number;
  /** Those that cam, direction and capsule leave. */
  readonly sameForm: number;
}

export function nearestJob(name: string, index: number): Promise<Sought> {
  return sought(name, index, FILES[index % FILES.length] as OnFile);
}

async function sought(name: string, index: number, file: OnFile): Promise<Sought> {
  const { unitFile, scenario, rig } = drawCase(name, index, GOOD);
  const { documents } = await measure({ unit: bare(unitFile), scenario, rig, plan: SHORT_PLAN });
  const draw = new Draw(`${name} near`, index);
  const others = Array.from({ length: ON_FILE - 1 }, (_, i) => {
    if (file === "near") return nearTo(draw, scenario, unitFile);
    const { unitFile: other } = drawCase(`${name} file`, ON_FILE * index + i, GOOD);
    return file === "mixed" ? other : withFormOf(other, unitFile);
  });
  const units = [...others, unitFile].map(
    (content, i): UnitOnFile => ({ place: `${i}`, unit: unitFromFile(content, `unit ${i}`) }),
  );
  const found = nearestOf(measuredFrom(documents), units);
  const rank = found.findIndex(({ onFile }) => onFile.place === `${others.length}`);
  const right = found[rank];
  if (right === undefined) throw new Error("the unit is not on file");
  return {
    index,
    file,
    rank,
    isAlikeFirst: right.isAlikeFirst,
    standing: right.standing,
    share: right.share ?? 0,
    alike: found.filter(({ isAlikeFirst }) => isAlikeFirst).length,
    sameForm: found.filter(({ standing }) => standing !== "other").length,
  };
}

/** Other springs and another stop, in ratios and degrees either way. */
const NEAR = { springs: 0.4, stopDeg: 3 } as const;
const TRIES = 1000;

/** @throws where no change leaves a unit that works, which would be a fault of the ranges */
function nearTo(draw: Draw, scenario: File, unitFile: File): File {
  const { unit, ...rest } = scenario;
  const mechanism = scenario.mechanism as DrawnUnit["mechanism"];
  const capsules = scenario.capsules as readonly DrawnUnit["capsule"][];
  for (let i = 0; i < TRIES; i++) {
    const ratio = Math.exp(draw.uniform(-NEAR.springs, NEAR.springs));
    const springs = mechanism.springs.map((spring) => ({
      ...spring,
      rateNPerMm: ratio * spring.rateNPerMm,
    }));
    const stopDeg = mechanism.stopDeg + draw.uniform(-NEAR.stopDeg, NEAR.stopDeg);
    const changed = { ...mechanism, springs, stopDeg };
    const drawn = {
      ...(unit as DrawnUnit),
      dwellDeg: null,
      mechanism: changed,
      capsule: capsules[0] ?? null,
    };
    try {
      const parsed = parseScenario({ ...rest, unit, mechanism: changed }, "near unit");
      const near = specificationOf(draw, drawn, parsed, drawWording(draw));
      if (near !== null) return withFormOf(near, unitFile);
    } catch {
      // The mechanism has no room for that stop.
    }
  }
  throw new Error("no unit near to this one works");
}

/** What can be seen of an unmarked unit: its cam, its direction, its trigger, and whether it has a capsule. */
function bare({ lobeAnglesDeg, rotation, driveRatio, trigger, capsules }: File): File {
  return {
    description: "unmarked unit",
    lobeAnglesDeg,
    rotation,
    driveRatio,
    trigger,
    ...(Array.isArray(capsules)
      ? { capsules: capsules.map(({ acts }: { acts?: string }) => ({ name: "capsule", acts })) }
      : {}),
  };
}

function withFormOf({ dwell: _, ...other }: File, form: File): File {
  const { lobeAnglesDeg, rotation, trigger } = form;
  return { ...other, lobeAnglesDeg, rotation, trigger };
}

export const nearest: Bar<Sought> = {
  name: "nearest",
  counts: { short: 150, long: 600 },
  job: (index) => nearestJob("nearest", index),
  figures: (results): readonly Figure[] => FILES.flatMap((file) => figuresOf(file, results)),
};

function figuresOf(file: OnFile, results: readonly Sought[]): readonly Figure[] {
  const own = results.filter((one) => one.file === file);
  const count = (is: (one: Sought) => boolean) => own.filter(is).length;
  const mean = (value: (one: Sought) => number) =>
    (own.reduce((sum, one) => sum + value(one), 0) / own.length).toFixed(1);
  return [
    shareAtLeast(
      `${file} file of ${ON_FILE}: right unit first, or not told from the first`,
      count(({ isAlikeFirst }) => isAlikeFirst),
      own.length,
      FOUND_MIN,
    ),
    shareBeside(
      "… first",
      count(({ rank }) => rank === 0),
      own.length,
    ),
    shareBeside(
      "… the only one not told from the first",
      count(({ rank, alike }) => rank === 0 && alike === 1),
      own.length,
    ),
    beside(
      "… units not told from the first, on average",
      mean(({ alike }) => alike),
      own.length,
    ),
    beside(
      "… units of the same form, on average",
      mean(({ sameForm }) => sameForm),
      own.length,
    ),
    beside(
      "… probability given to the right one, on average",
      `${mean(({ share }) => 100 * share)} %`,
      own.length,
    ),
    shareBeside(
      "… a printed row of the right one missed",
      count(({ standing }) => standing === "outside"),
      own.length,
    ),
    ...own
      .filter(({ isAlikeFirst }) => !isAlikeFirst)
      .map(({ index, rank, share, standing }) =>
        beside(
          "… not found",
          `unit ${index}: place ${rank + 1}, ${standing}, ${(100 * share).toFixed(1)} %`,
          1,
        ),
      ),
  ];
}
