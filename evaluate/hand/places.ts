// Where a man without a rig takes his six readings: one fixed rule, by the rows of the specification alone.
import type { Band, Branch } from "../../core/unit.ts";

export interface HandPlace {
  readonly branch: Branch;
  /** Distributor rpm or pascals. */
  readonly x: number;
}

/**
 * Speed: rising at the lowest printed place, at two between, and a tenth above the last, where a stop
 * that is worn shows;
 * then falling at the middle and at the lowest again. With the pump: rising at three places, falling at
 * the middle and with the hose off; his sixth is the hold. Where there are too few rows he halves
 * the widest gap.
 */
export function sixSpeeds(band: Band): readonly HandPlace[] {
  const [low, one, two, top] = spread(printedPlaces(band), 4) as [number, number, number, number];
  const middle = printedMiddle(one, two, low, top);
  return [
    ...[low, one, two, 1.1 * top].map((x) => ({ branch: "rising" as const, x })),
    { branch: "falling", x: middle },
    { branch: "falling", x: low },
  ];
}

export function fiveVacuums(band: Band): readonly HandPlace[] {
  const [, low, middle, top] = spread([0, ...printedPlaces(band)], 4) as [
    number,
    number,
    number,
    number,
  ];
  return [
    ...[low, middle, top].map((x) => ({ branch: "rising" as const, x })),
    { branch: "falling", x: middle },
    { branch: "falling", x: 0 },
  ];
}

/** Of the two between, the one nearer to half way. */
function printedMiddle(one: number, two: number, low: number, top: number): number {
  const half = (low + top) / 2;
  return Math.abs(one - half) <= Math.abs(two - half) ? one : two;
}

function printedPlaces({ rows }: Band): readonly number[] {
  const places = rows.flatMap((row) =>
    row.kind === "start" ? [row.fromX] : row.x === null ? [] : [row.x],
  );
  return [...new Set(places)].sort((a, b) => a - b);
}

/** That many of them, the ends kept; the widest gap halved where they are too few. */
function spread(printed: readonly number[], count: number): readonly number[] {
  const places = [...printed];
  while (places.length < count) {
    const gaps = places.slice(1).map((place, i) => place - (places[i] as number));
    const at = gaps.indexOf(Math.max(...gaps));
    places.splice(at + 1, 0, ((places[at] as number) + (places[at + 1] as number)) / 2);
  }
  const last = places.length - 1;
  return Array.from(
    { length: count },
    (_, i) => places[Math.round((i * last) / (count - 1))] as number,
  );
}
