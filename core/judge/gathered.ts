// Sorts a run's documents, however few they are, into the branches that are judged.
import { ownOf } from "../angles/budget.ts";
import type {
  EndDocument,
  HoldDocument,
  PartName,
  PointDocument,
  Reading,
  RunDocument,
  StartDocument,
  StepDocument,
  UncertaintyPart,
} from "../documents.ts";
import type { Plan, SweepChoice } from "../plan.ts";
import { onsetX } from "../planFile/reach.ts";
import type { Branch, Unit } from "../unit.ts";
import { heldAtFarthest } from "./held.ts";
import { inOrder, type RawPoint, type SweepPoint, withSlopeUncertainty } from "./slope.ts";

/** Points of one sweep in rising order, slope uncertainty included, and the places that were planned. */
export interface Sweep {
  readonly branches: Readonly<Record<Branch, readonly SweepPoint[]>>;
  readonly plannedX: readonly number[];
}

interface GatheredCapsule {
  readonly sweep: Sweep;
  /** Readings of the sweep as they came, rising before falling. */
  readonly readings: readonly PointDocument[];
  readonly hold: HoldDocument | null;
}

export interface Gathered {
  readonly start: StartDocument | null;
  readonly plan: Plan | null;
  /** Whether all that was planned has been done: what is missing now will not come. */
  readonly ended: boolean;
  readonly speed: Sweep;
  /** Readings of the speed sweep as they came, rising before falling. */
  readonly speedReadings: readonly PointDocument[];
  readonly capsules: readonly GatheredCapsule[];
  /** Where the spindle turned and no opening came at all, so that there is no reading. */
  readonly sparkless: readonly StepDocument[];
  readonly reference: PointDocument | null;
  readonly atReturn: PointDocument | null;
}

export function gather(unit: Unit, documents: readonly RunDocument[]): Gathered {
  const points = finalPoints(documents);
  const start = documents.find((document) => document.type === "start") ?? null;
  const plan = start?.plan ?? null;
  const speedReadings = latest(
    points.filter(({ sweep }) => sweep === "speed"),
    speedTarget,
  );
  const atReturn = points.findLast(({ sweep }) => sweep === "return") ?? null;
  const end = documents.findLast((document): document is EndDocument => document.type === "end");
  return {
    start,
    plan,
    // What is read by hand is whole when it is typed in.
    ended:
      end === undefined
        ? atReturn !== null || start?.rig.byHand !== undefined
        : end.ending === "completed",
    speed: {
      branches: branches(speedReadings, speedPoint, "speed"),
      plannedX: plannedWith(
        plan?.speedsRpm,
        plan?.speedChoice,
        targets(speedReadings, speedTarget),
      ),
    },
    speedReadings,
    capsules: unit.capsules.map((_, capsule) => {
      const readings = latest(
        points.filter((point) => point.sweep === "vacuum" && point.capsule === capsule),
        vacuumTarget,
      );
      return {
        sweep: vacuumSweep(unit, plan, capsule, readings),
        readings,
        hold:
          (documents.findLast((one) => one.type === "hold" && one.capsule === capsule) as
            | HoldDocument
            | undefined) ?? null,
      };
    }),
    sparkless: sparkless(documents),
    reference: points.findLast(({ sweep }) => sweep === "reference") ?? null,
    atReturn,
  };
}

/** With the readings of the end, where the run came to tell them. */
function finalPoints(documents: readonly RunDocument[]): readonly PointDocument[] {
  const final = documents.find((document) => document.type === "final");
  return documents
    .filter((document) => document.type === "point")
    .map((point, i) => ({ ...point, reading: final?.readings[i] ?? point.reading }));
}

/** A run that goes on without a reading says so after the step that was to give it. */
function sparkless(documents: readonly RunDocument[]): readonly StepDocument[] {
  let step: StepDocument | null = null;
  const found: StepDocument[] = [];
  for (const document of documents) {
    if (document.type === "step") step = document;
    if (document.type === "notice" && document.code === "NO_SPARKS" && step !== null) {
      found.push(step);
    }
  }
  return found;
}

function speedTarget(point: PointDocument): number {
  return point.targetRpm;
}

function vacuumTarget(point: PointDocument): number {
  return point.targetPa ?? 0;
}

/** One point for each branch and place, the last one taken; rising first. */
function latest(
  points: readonly PointDocument[],
  target: (point: PointDocument) => number,
): readonly PointDocument[] {
  const byPlace = new Map(points.map((point) => [`${point.branch} ${target(point)}`, point]));
  const kept = [...byPlace.values()];
  return [
    ...kept.filter(({ branch }) => branch === "rising"),
    ...kept.filter(({ branch }) => branch === "falling"),
  ];
}

function targets(
  points: readonly PointDocument[],
  target: (point: PointDocument) => number,
): readonly number[] {
  return [...new Set(points.map(target))].sort((a, b) => a - b);
}

/** Listed places; those that a sweep chose belong to its plan once they are read. */
function plannedWith(
  listed: readonly number[] | undefined,
  choice: SweepChoice | undefined,
  read: readonly number[],
): readonly number[] {
  if (listed === undefined) return read;
  if (choice === undefined) return listed;
  return [...new Set([...listed, ...read])].sort((a, b) => a - b);
}

function branches(
  points: readonly PointDocument[],
  convert: (point: PointDocument) => RawPoint,
  by: "speed" | "vacuum",
): Sweep["branches"] {
  const one = (branch: Branch) =>
    inOrder(points.filter((point) => point.branch === branch).map(convert));
  const rising = one("rising");
  const falling = one("falling");
  return {
    rising: withSlopeUncertainty(heldAtFarthest(rising, falling), by),
    falling: withSlopeUncertainty(heldAtFarthest(falling, rising), by),
  };
}

function speedPoint({ targetRpm, reading }: PointDocument): RawPoint {
  return {
    x: reading.speedRpm,
    targetX: targetRpm,
    advanceDeg: reading.advanceDeg,
    budget: reading.budget,
    xStandardUncertainty: reading.speedStandardUncertaintyRpm,
    farthestX: reading.farthestRpm,
  };
}

function vacuumSweep(
  unit: Unit,
  plan: Plan | null,
  capsule: number,
  points: readonly PointDocument[],
): Sweep {
  const capsulePlan = plan?.capsules[capsule];
  const plannedX = plannedWith(
    capsulePlan?.vacuumsPa,
    capsulePlan?.vacuumChoice,
    targets(points, vacuumTarget),
  );
  const zero = zeroOf(unit, plan, points);
  if (zero === null) return { branches: { rising: [], falling: [] }, plannedX };
  const convert = ({ targetPa, reading }: PointDocument): RawPoint => ({
    x: reading.vacuumPa ?? Number.NaN,
    targetX: targetPa ?? Number.NaN,
    advanceDeg: reading.advanceDeg - zero.advanceDeg,
    budget: zero === ZERO ? reading.budget : differenceOf(reading.budget, zero.budget),
    xStandardUncertainty: reading.vacuumStandardUncertaintyPa,
    farthestX: null,
  });
  return { branches: branches(points, convert, "vacuum"), plannedX };
}

const ZERO: Pick<Reading, "advanceDeg" | "budget"> = { advanceDeg: 0, budget: [] };

/** Both were taken at one speed against one reference, whose errors and the delay's stand in both alike. */
const ALIKE_AT_ONE_SPEED: readonly PartName[] = ["reference", "delay", "zero"];

function differenceOf(
  one: readonly UncertaintyPart[],
  other: readonly UncertaintyPart[],
): readonly UncertaintyPart[] {
  return [...one.filter(({ name }) => !ALIKE_AT_ONE_SPEED.includes(name)), ...ownOf(other)];
}

/**
 * What the weights add at the speed of a vacuum sweep: nothing below their start, else the reading
 * without vacuum; null where that is missing and nothing can be said of the capsule.
 */
function zeroOf(
  unit: Unit,
  plan: Plan | null,
  points: readonly PointDocument[],
): Pick<Reading, "advanceDeg" | "budget"> | null {
  const measured = points.find((point) => point.targetPa === 0)?.reading;
  if (measured !== undefined) return measured;
  const onset = onsetX(unit.speedBand);
  const speedRpm = plan?.vacuumSweepRpm ?? points[0]?.targetRpm ?? 0;
  const moved = onset !== null && speedRpm > onset;
  return moved ? null : ZERO;
}
