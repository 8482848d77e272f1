// One drawn case measured on the stand-in rig, and what its findings said against what was made wrong.
import { measure } from "../accuracy/standIn.ts";
import type { RunResult } from "../core/documents.ts";
import type { FindingKind } from "../core/findings/finding.ts";
import type { Unit } from "../core/unit.ts";
import { parseScenario, type Scenario } from "../sim/scenario.ts";
import { centrifugalAdvanceDeg } from "../sim/truth.ts";
import { type Choice, drawCase } from "./drawn/case.ts";
import { SHORT_PLAN } from "./drawn/ground.ts";
import type { FaultKind } from "./drawn/kinds.ts";
import type { DrawnFault } from "./drawn/solve.ts";

/** Plain data, so that it goes from a worker to the main thread. */
export interface Diagnosed {
  readonly index: number;
  readonly faults: readonly DrawnFault[];
  readonly found: readonly Told[];
  readonly notTestable: readonly FindingKind[];
  readonly verdict: RunResult["verdict"];
  /** Null where the specification has no limit of the travel. */
  readonly travel: Travel | null;
}

export interface Travel {
  /** By the scenario's physics, in distributor degrees. */
  readonly trueDeg: number;
  readonly limitDeg: number;
  /** Whether every printed row of the largest advance was judged to be met. */
  readonly passed: boolean;
}

export interface Told {
  readonly kind: FindingKind;
  readonly subject: string;
  readonly strength: number;
  readonly alike: readonly FindingKind[];
}

export async function diagnosed(name: string, index: number, choice: Choice): Promise<Diagnosed> {
  const drawn = drawCase(name, index, choice);
  const { unitFile, scenario, rig } = drawn;
  const run = await measure({ unit: unitFile, scenario, rig, plan: SHORT_PLAN });
  const start = run.documents.find((document) => document.type === "start");
  const { findings } = run.end;
  if (start === undefined || findings === null) throw new Error("the run told nothing");
  return {
    index,
    faults: drawn.faults,
    found: findings.found.map(({ kind, subject, strength, alike }) => ({
      kind,
      subject,
      strength,
      alike,
    })),
    notTestable: findings.notTestable.flatMap(({ what }) => what),
    verdict: run.end.result.verdict,
    travel: travelOf(start.unit, run.end.result, parseScenario(scenario, "case")),
  };
}

/** Beyond every stop. */
const MOST_RPM = 10_000;

function travelOf(unit: Unit, { rows }: RunResult, scenario: Scenario): Travel | null {
  const end = unit.speedBand?.rows.find((row) => row.kind === "end");
  const limitDeg = end?.limitsDeg.max ?? null;
  if (end === undefined || limitDeg === null) return null;
  const judged = rows.filter(({ about, printed }) => about === "speed" && printed === end.printed);
  return {
    trueDeg: centrifugalAdvanceDeg(scenario, MOST_RPM, "rising"),
    limitDeg,
    passed: judged.length > 0 && judged.every(({ verdict }) => verdict === "within"),
  };
}

/** The finding that names a fault: of two that read alike there is one. */
export function findingFor(kind: FaultKind): FindingKind {
  return kind === "plate-stuck" || kind === "link-off" ? "plate-not-following" : kind;
}

/**
 * What no reading tells apart is named together: a bent shaft and a run-out of the coupling, until
 * the coupling is turned; weights stuck fast and weights that no spring holds in, until the cam is
 * turned by hand.
 */
export function names({ kind, subject, alike }: Told, fault: FaultKind): boolean {
  if (fault === "first-spring-missing" && kind === "weights-stuck" && alike.includes(fault)) {
    return true;
  }
  const isOnceAround = (one: string) => one === "shaft-bent" || one === "coupling-runout";
  if (isOnceAround(fault) && isOnceAround(kind)) {
    return kind === fault || subject === "unit or rig";
  }
  return kind === findingFor(fault);
}
