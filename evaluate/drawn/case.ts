// One case of the evaluation: a good unit, a specification that fits it, and what was made wrong with them.
import { Draw } from "../../accuracy/draw.ts";
import { drawRig } from "../../accuracy/drawn/rig.ts";
import type { RunChoice } from "../../accuracy/standIn.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { centrifugalAdvanceDeg, vacuumAdvanceDeg } from "../../sim/truth.ts";
import { withChanges } from "./change.ts";
import { type File, type Ground, groundOf } from "./ground.ts";
import { type FaultKind, needsOf } from "./kinds.ts";
import { type Clarity, type DrawnFault, solved } from "./solve.ts";
import { drawWording, specificationOf } from "./specification.ts";
import { drawGoodUnit, scenarioOf } from "./unit.ts";

/** Kinds of faults wanted, none for a good unit on a sound rig, and how far they are to show. */
export interface Choice {
  readonly kinds: readonly FaultKind[];
  readonly clarity: Clarity;
}

/** Plain data, so that it goes from a worker to the main thread. */
export interface DrawnCase {
  readonly choice: Choice;
  /** Content of the unit file, of the scenario file, and what is known of the rig: `measure` takes all three. */
  readonly unitFile: File;
  readonly scenario: File;
  readonly rig: NonNullable<RunChoice["rig"]>;
  /** In the order of the kinds wanted. */
  readonly faults: readonly DrawnFault[];
  readonly healthy: Healthy;
}

/** The same unit without the faults, at the places of the plan that its right unit file asks for. */
export interface Healthy {
  readonly unitFile: File;
  readonly scenario: File;
  readonly referenceRpm: number;
  /** Distributor degrees from the mechanism's rest. */
  readonly speed: readonly CurvePlace[];
  /** By pascals below ambient. */
  readonly vacuum: readonly CurvePlace[];
}

export interface CurvePlace {
  readonly at: number;
  readonly risingDeg: number;
  readonly fallingDeg: number;
}

const TRIES = 400;

/**
 * The case of this name and number, always the same one.
 * @throws where no drawn unit shows the faults as wanted, which would be a fault of the ranges
 */
export function drawCase(name: string, index: number, choice: Choice): DrawnCase {
  const draw = new Draw(name, index);
  for (let i = 0; i < TRIES; i++) {
    const found = attempt(draw, choice);
    if (found !== null) return found;
  }
  throw new Error(`no unit shows ${choice.kinds.join(" and ")} ${choice.clarity}ly`);
}

function attempt(draw: Draw, choice: Choice): DrawnCase | null {
  const unit = drawGoodUnit(draw, needsOf(choice.kinds));
  const wording = drawWording(draw);
  const bare = parseScenario(scenarioOf(unit), "drawn unit");
  const unitFile = specificationOf(draw, unit, bare, wording);
  if (unitFile === null) return null;
  const rig = drawRig(draw, unit.lobeAnglesDeg.length);
  const ground = groundOf(unit, wording, unitFile, rig, draw.seed());
  const found = choice.kinds.map((kind) => solved(kind, draw, ground, choice.clarity));
  if (found.includes(null)) return null;
  const all = found as Exclude<(typeof found)[number], null>[];
  return {
    choice,
    unitFile: all.find((one) => one.unitFile !== null)?.unitFile ?? unitFile,
    scenario: withChanges(
      ground.content,
      all.map(({ change }) => change),
    ),
    rig: rig.stated,
    faults: all.map(({ fault }) => fault),
    healthy: healthyOf(ground),
  };
}

function healthyOf({ unitFile, content, scenario, bench }: Ground): Healthy {
  const { referenceRpm, speedsRpm, capsules } = bench.plan;
  const topRpm = Math.max(...speedsRpm);
  const vacuumsPa = capsules[0]?.vacuumsPa ?? [];
  return {
    unitFile,
    scenario: content,
    referenceRpm,
    speed: speedsRpm.map((at) => ({
      at,
      risingDeg: centrifugalAdvanceDeg(scenario, at, "rising"),
      fallingDeg: centrifugalAdvanceDeg(scenario, at, "falling", topRpm),
    })),
    vacuum: vacuumsPa.map((at) => ({
      at,
      risingDeg: vacuumAdvanceDeg(scenario, at, "rising"),
      fallingDeg: vacuumAdvanceDeg(scenario, at, "falling"),
    })),
  };
}
