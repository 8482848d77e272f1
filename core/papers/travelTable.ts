// How far the unit advances as received and as returned: start, middle and end, at both shafts. Pure.
import type { CurvePoint, HoldDocument, RunResult } from "../documents.ts";
import { type Travel, travelOf } from "../sheet/curves.ts";
import { fixed, rpmText, vacuumText } from "../sheet/figures.ts";
import type { Table } from "../sheet/model.ts";
import type { Speech } from "../speech/speech.ts";
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
  readonly say: Speech;
  readonly driveRatio: number;
  /** From rpm or pascals at the distributor to text, at either shaft. */
  readonly place: (x: number, ratio: number) => string;
}

/** Of a capsule's name. */
export const NAME_LENGTH_MOST = 20;

/** `runs`: the oldest first. */
export function travelTable(
  runs: readonly NamedRun[],
  driveRatio: number,
  vacuumUnit: VacuumUnit,
  say: Speech,
): Table {
  const { travel: words } = say.papers;
  const bySpeed: Shafts = {
    say,
    driveRatio,
    place: (rpm, ratio) => rpmText(crankshaftFromDistributor(rpm, ratio), say),
  };
  const byVacuum: Shafts = {
    say,
    driveRatio,
    place: (pascals) => vacuumText(pascals, vacuumUnit, say),
  };
  const names = runs.at(-1)?.result.capsules.map(({ name }) => name) ?? [];
  const rows = [
    ...travelRows(
      words.speed,
      say,
      runs.map(({ result }) => travelCells(result.speed.rising, "speed", bySpeed)),
    ),
    ...names.flatMap((name, index) => {
      const capsules = runs.map(({ result }) => result.capsules[index]);
      const label = clipped(name, NAME_LENGTH_MOST);
      const travels = capsules.map((one) => travelCells(one?.rising ?? [], "vacuum", byVacuum));
      const holds = capsules.map((one) => holdCells(one?.hold ?? null, vacuumUnit, say));
      return [...travelRows(label, say, travels), row(words.hold(label), holds)];
    }),
  ];
  return {
    caption: words.caption,
    groups: [{ text: "", columns: 1 }, ...runs.map(({ name }) => ({ text: name, columns: 2 }))],
    columns: [
      { head: "", align: "left" },
      ...runs.flatMap(() => [
        { head: words.distributor, align: "left" } as const,
        { head: words.crankshaft, align: "left" } as const,
      ]),
    ],
    rows: rows.filter(({ cells }) => cells.some((cell, i) => i > 0 && isKnown(cell, say))),
  };
}

function isKnown(cell: string, { papers }: Speech): boolean {
  return cell !== "" && cell !== papers.notMeasured;
}

function row(label: string, runs: readonly Cells[]): Table["rows"][number] {
  return { cells: [label, ...runs.flat()], strong: false };
}

/** Start, middle and end of one curve. */
type TravelCells = readonly [start: Cells, middle: Cells, end: Cells];

function travelRows(
  label: string,
  { papers }: Speech,
  runs: readonly TravelCells[],
): Table["rows"][number][] {
  const { travel, notMeasured } = papers;
  return (["start", "middle", "end"] as const).map((place, i) =>
    row(
      travel[place](label),
      runs.map((cells) => cells[i] ?? [notMeasured, ""]),
    ),
  );
}

function travelCells(
  rising: readonly CurvePoint[],
  sweep: "speed" | "vacuum",
  shafts: Shafts,
): TravelCells {
  const travel = travelOf(rising, sweep);
  const { notMeasured, travel: words } = shafts.say.papers;
  const none: Cells = [notMeasured, ""];
  if (rising.length === 0) return [none, none, none];
  if (travel === null) {
    // Past its start at the lowest reading, or never begun: the figures of the curve's end tell which.
    const notTold: Cells = [words.notTold, ""];
    return [notTold, notTold, endOf(rising, shafts)];
  }
  return [startCells(travel, shafts), middleCells(travel, shafts), endCells(travel, shafts)];
}

function startCells({ begins }: Travel, shafts: Shafts): Cells {
  const { travel } = shafts.say.papers;
  const at = (ratio: number) => {
    const place = shafts.place(begins.x, ratio);
    return begins.kind === "found" ? place : travel.by(place);
  };
  return [at(1), at(shafts.driveRatio)];
}

function middleCells({ halfwayX, endDeg }: Travel, shafts: Shafts): Cells {
  return halfwayX === null
    ? [shafts.say.papers.travel.notTold, ""]
    : advanceCells(endDeg / 2, halfwayX, shafts);
}

function endCells({ endDeg, endX }: Travel, shafts: Shafts): Cells {
  return advanceCells(endDeg, endX, shafts);
}

function endOf(rising: readonly CurvePoint[], shafts: Shafts): Cells {
  const last = rising.at(-1);
  if (last === undefined) return [shafts.say.papers.notMeasured, ""];
  const [own, crankshaft] = advanceCells(last.advanceDeg, last.x, shafts);
  return [shafts.say.papers.travel.noFarther(own), crankshaft];
}

function advanceCells(advanceDeg: number, x: number, shafts: Shafts): Cells {
  const { say, driveRatio, place } = shafts;
  const at = (ratio: number) =>
    say.papers.travel.at(
      `${fixed(crankshaftFromDistributor(advanceDeg, ratio), 1, say)}°`,
      place(x, ratio),
    );
  return [at(1), at(driveRatio)];
}

function holdCells(hold: HoldDocument | null, vacuumUnit: VacuumUnit, say: Speech): Cells {
  const { travel, notMeasured } = say.papers;
  if (hold === null) return [notMeasured, ""];
  const { targetPa, reached, startPa, endPa, seconds } = hold;
  const text = reached
    ? travel.lost(vacuumText(startPa - endPa, vacuumUnit, say), fixed(seconds, 0, say))
    : travel.notReached(vacuumText(targetPa, vacuumUnit, say));
  return [text, ""];
}
