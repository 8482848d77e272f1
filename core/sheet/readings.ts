// The curves as tables: each reading in distributor and in crankshaft figures. Pure.

import type { CapsuleResult, CurvePoint, RunResult } from "../documents.ts";
import type { PaperSpeech } from "../speech/speech.ts";
import { crankshaftFromDistributor, type VacuumUnit } from "../units.ts";
import { fixed, vacuumNumber, vacuumText } from "./figures.ts";
import type { Table } from "./model.ts";

interface Pair {
  readonly targetX: number;
  readonly rising: CurvePoint | null;
  readonly falling: CurvePoint | null;
}

export function speedReadings(
  speed: RunResult["speed"],
  driveRatio: number,
  say: PaperSpeech,
): Table[] {
  const pairs = pairsOf(speed.rising, speed.falling);
  if (pairs.length === 0) return [];
  const { readingsTable: words } = say.sheet;
  const columns = angleColumns(say);
  const table: Table = {
    caption: words.speed(`${fixed(farthestFromTarget(pairs), 1, say)} ${say.rpm}`),
    groups: [
      { text: words.atDistributor, columns: 4 },
      { text: words.atCrankshaft, columns: 4 },
    ],
    columns: [right(words.rpmSet), ...columns, right(say.rpm), ...columns],
    rows: pairs.map((pair) => ({
      cells: [
        fixed(pair.targetX, 0, say),
        ...angles(pair, 1, say),
        fixed(crankshaftFromDistributor(pair.targetX, driveRatio), 0, say),
        ...angles(pair, driveRatio, say),
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
  say: PaperSpeech,
): Table[] {
  const pairs = pairsOf(capsule.rising, capsule.falling);
  if (pairs.length === 0) return [];
  const { readingsTable: words } = say.sheet;
  const columns = angleColumns(say);
  const table: Table = {
    caption: words.vacuum(capsule.name, vacuumText(farthestFromTarget(pairs), vacuumUnit, say)),
    groups: [
      { text: words.vacuumSet, columns: 1 },
      { text: words.atDistributor, columns: 3 },
      { text: words.atCrankshaft, columns: 3 },
    ],
    columns: [right(vacuumUnit), ...columns, ...columns],
    rows: pairs.map((pair) => ({
      cells: [
        vacuumNumber(pair.targetX, vacuumUnit, say),
        ...angles(pair, 1, say),
        ...angles(pair, driveRatio, say),
      ],
      strong: false,
    })),
  };
  return [table];
}

function right(head: string): Table["columns"][number] {
  return { head, align: "right" };
}

function angleColumns({ sheet: { readingsTable: words } }: PaperSpeech): Table["columns"] {
  return [right(words.rising), right(words.falling), right("± °")];
}

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

function angles({ rising, falling }: Pair, ratio: number, say: PaperSpeech): string[] {
  const expandedDeg = Math.max(
    ...[rising, falling].map((point) =>
      point === null ? 0 : point.coverageFactor * point.standardUncertaintyDeg,
    ),
  );
  const value = (point: CurvePoint | null) =>
    point === null ? "–" : fixed(crankshaftFromDistributor(point.advanceDeg, ratio), 2, say);
  return [
    value(rising),
    value(falling),
    fixed(crankshaftFromDistributor(expandedDeg, ratio), 2, say),
  ];
}

function farthestFromTarget(pairs: readonly Pair[]): number {
  const distances = pairs
    .flatMap(({ rising, falling }) => [rising, falling])
    .map((point) => (point === null ? 0 : Math.abs(point.x - point.targetX)));
  return Math.max(...distances);
}
