// How far the unit advances as received and as returned: start, middle and end, at both shafts. Pure.
import type { CurvePoint, HoldDocument, RunResult } from "../documents.ts";
import { type Travel, travelOf } from "../sheet/curves.ts";
import { fixed, vacuumText } from "../sheet/figures.ts";
import type { Table } from "../sheet/model.ts";
import { crankshaftFromDistributor, type VacuumUnit } from "../units.ts";
import { clipped } from "./card.ts";

/** One run of the unit, and what it is called. */
export interface NamedRun {
  readonly name: string;
  readonly result: RunResult;
}

/** At the distributor, and at the crankshaft. */
type Cells = readonly [distributor: string, crankshaft: string];

interface Shafts {
  readonly driveRatio: number;
  /** From rpm or pascals at the distributor to text, at either shaft. */
  readonly place: (x: number, ratio: number) => string;
}

/** Of a capsule's name. */
export const NAME_LENGTH_MOST = 20;
const NOT_MEASURED: Cells = ["not measured", ""];

/** `runs`: the oldest first. */
export function travelTable(
  runs: readonly NamedRun[],
  driveRatio: number,
  vacuumUnit: VacuumUnit,
): Table {
  const bySpeed: Shafts = {
    driveRatio,
    place: (rpm, ratio) => `${fixed(crankshaftFromDistributor(rpm, ratio), 0)} rpm`,
  };
  const byVacuum: Shafts = { driveRatio, place: (pascals) => vacuumText(pascals, vacuumUnit) };
  const names = runs.at(-1)?.result.capsules.map(({ name }) => name) ?? [];
  const rows = [
    ...travelRows(
      "speed",
      runs.map(({ result }) => travelCells(result.speed.rising, "speed", bySpeed)),
    ),
    ...names.flatMap((name, index) => {
      const capsules = runs.map(({ result }) => result.capsules[index]);
      const label = clipped(name, NAME_LENGTH_MOST);
      const travels = capsules.map((one) => travelCells(one?.rising ?? [], "vacuum", byVacuum));
      const holds = capsules.map((one) => holdCells(one?.hold ?? null, vacuumUnit));
      return [...travelRows(label, travels), row(`${label}, hold`, holds)];
    }),
  ];
  return {
    caption: "Advance with speed or vacuum rising",
    groups: [{ text: "", columns: 1 }, ...runs.map(({ name }) => ({ text: name, columns: 2 }))],
    columns: [
      { head: "", align: "left" },
      ...runs.flatMap(() => [
        { head: "distributor", align: "left" } as const,
        { head: "crankshaft", align: "left" } as const,
      ]),
    ],
    rows: rows.filter(({ cells }) => cells.some((cell, i) => i > 0 && isKnown(cell))),
  };
}

function isKnown(cell: string): boolean {
  return cell !== "" && cell !== NOT_MEASURED[0];
}

function row(label: string, runs: readonly Cells[]): Table["rows"][number] {
  return { cells: [label, ...runs.flat()], strong: false };
}

/** Start, middle and end of one curve. */
type TravelCells = readonly [start: Cells, middle: Cells, end: Cells];

function travelRows(label: string, runs: readonly TravelCells[]): Table["rows"][number][] {
  return (["start", "middle", "end"] as const).map((place, i) =>
    row(
      `${label}, ${place}`,
      runs.map((cells) => cells[i] ?? NOT_MEASURED),
    ),
  );
}

function travelCells(
  rising: readonly CurvePoint[],
  sweep: "speed" | "vacuum",
  shafts: Shafts,
): TravelCells {
  const travel = travelOf(rising, sweep);
  if (rising.length === 0) return [NOT_MEASURED, NOT_MEASURED, NOT_MEASURED];
  if (travel === null) {
    // Past its start at the lowest reading, or never begun: the figures of the curve's end tell which.
    return [["not told", ""], ["not told", ""], endOf(rising, shafts)];
  }
  return [startCells(travel, shafts), middleCells(travel, shafts), endCells(travel, shafts)];
}

function startCells({ begins }: Travel, shafts: Shafts): Cells {
  const word = begins.kind === "found" ? "" : "by ";
  const at = (ratio: number) => `${word}${shafts.place(begins.x, ratio)}`;
  return [at(1), at(shafts.driveRatio)];
}

function middleCells({ halfwayX, endDeg }: Travel, shafts: Shafts): Cells {
  return halfwayX === null ? ["not told", ""] : advanceCells(endDeg / 2, halfwayX, shafts);
}

function endCells({ endDeg, endX }: Travel, shafts: Shafts): Cells {
  return advanceCells(endDeg, endX, shafts);
}

function endOf(rising: readonly CurvePoint[], shafts: Shafts): Cells {
  const last = rising.at(-1);
  if (last === undefined) return NOT_MEASURED;
  const [own, crankshaft] = advanceCells(last.advanceDeg, last.x, shafts);
  return [`${own}, no farther read`, crankshaft];
}

function advanceCells(advanceDeg: number, x: number, { driveRatio, place }: Shafts): Cells {
  const at = (ratio: number) =>
    `${fixed(crankshaftFromDistributor(advanceDeg, ratio), 1)}° at ${place(x, ratio)}`;
  return [at(1), at(driveRatio)];
}

function holdCells(hold: HoldDocument | null, vacuumUnit: VacuumUnit): Cells {
  if (hold === null) return NOT_MEASURED;
  const { targetPa, reached, startPa, endPa, seconds } = hold;
  const text = reached
    ? `lost ${vacuumText(startPa - endPa, vacuumUnit)} in ${fixed(seconds, 0)} s`
    : `${vacuumText(targetPa, vacuumUnit)} NOT reached`;
  return [text, ""];
}
