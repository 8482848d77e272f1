// The curves as tables: each reading in distributor and in crankshaft figures. Pure.

import type { CapsuleResult, CurvePoint, RunResult } from "../documents.ts";
import { crankshaftFromDistributor, type VacuumUnit } from "../units.ts";
import { fixed, vacuumNumber, vacuumText } from "./figures.ts";
import type { Table } from "./model.ts";

interface Pair {
  readonly targetX: number;
  readonly rising: CurvePoint | null;
  readonly falling: CurvePoint | null;
}

export function speedReadings(speed: RunResult["speed"], driveRatio: number): Table[] {
  const pairs = pairsOf(speed.rising, speed.falling);
  if (pairs.length === 0) return [];
  const table: Table = {
    caption: `Advance over speed. Read within ${fixed(farthestFromTarget(pairs), 1)} rpm of the speed set.`,
    groups: [
      { text: "at the distributor", columns: 4 },
      { text: "at the crankshaft", columns: 4 },
    ],
    columns: [right("rpm set"), ...angleColumns, right("rpm"), ...angleColumns],
    rows: pairs.map((pair) => ({
      cells: [
        fixed(pair.targetX, 0),
        ...angles(pair, 1),
        fixed(crankshaftFromDistributor(pair.targetX, driveRatio), 0),
        ...angles(pair, driveRatio),
      ],
      strong: false,
    })),
  };
  return [table];
}

export function capsuleReadings(
  capsule: CapsuleResult,
  driveRatio: number,
  vacuumUnit: VacuumUnit,
): Table[] {
  const pairs = pairsOf(capsule.rising, capsule.falling);
  if (pairs.length === 0) return [];
  const table: Table = {
    caption: `${capsule.name}: advance over vacuum. Read within ${vacuumText(farthestFromTarget(pairs), vacuumUnit)} of the vacuum set.`,
    groups: [
      { text: "vacuum set", columns: 1 },
      { text: "at the distributor", columns: 3 },
      { text: "at the crankshaft", columns: 3 },
    ],
    columns: [right(vacuumUnit), ...angleColumns, ...angleColumns],
    rows: pairs.map((pair) => ({
      cells: [
        vacuumNumber(pair.targetX, vacuumUnit),
        ...angles(pair, 1),
        ...angles(pair, driveRatio),
      ],
      strong: false,
    })),
  };
  return [table];
}

function right(head: string): Table["columns"][number] {
  return { head, align: "right" };
}

const angleColumns = [right("rising °"), right("falling °"), right("± °")];

/** Rising and falling readings of the same set value in one row. */
function pairsOf(rising: readonly CurvePoint[], falling: readonly CurvePoint[]): Pair[] {
  const targets = new Set([...rising, ...falling].map(({ targetX }) => targetX));
  const at = (points: readonly CurvePoint[], targetX: number) =>
    points.find((point) => point.targetX === targetX) ?? null;
  return [...targets]
    .sort((a, b) => a - b)
    .map((targetX) => ({
      targetX,
      rising: at(rising, targetX),
      falling: at(falling, targetX),
    }));
}

function angles({ rising, falling }: Pair, ratio: number): string[] {
  const expandedDeg = Math.max(
    ...[rising, falling].map((point) =>
      point === null ? 0 : point.coverageFactor * point.standardUncertaintyDeg,
    ),
  );
  const value = (point: CurvePoint | null) =>
    point === null ? "–" : fixed(crankshaftFromDistributor(point.advanceDeg, ratio), 2);
  return [value(rising), value(falling), fixed(crankshaftFromDistributor(expandedDeg, ratio), 2)];
}

function farthestFromTarget(pairs: readonly Pair[]): number {
  const distances = pairs
    .flatMap(({ rising, falling }) => [rising, falling])
    .map((point) => (point === null ? 0 : Math.abs(point.x - point.targetX)));
  return Math.max(...distances);
}
