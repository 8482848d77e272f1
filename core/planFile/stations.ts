// Chooses where a sweep takes its readings: every printed row, and enough between to see the shape.
import type { Band } from "../unit.ts";

export interface SweepWanted {
  readonly band: Band | null;
  /** First and last place, within what unit and rig allow. */
  readonly low: number;
  readonly high: number;
  /** Highest place allowed for printed rows. */
  readonly cap: number;
  readonly onset: number | null;
  readonly count: number;
  /** What rows and fill are rounded to. */
  readonly resolution: number;
  readonly fillResolution: number;
}

/** Gaps around the start of advance count for more, since the curve bends there. */
const ONSET_WEIGHT = 2.5;

/** Rising places, all the rows exactly (to `resolution`) and at least `count` in all where they fit. */
export function stations(wanted: SweepWanted): readonly number[] {
  const { low, high, cap, resolution } = wanted;
  const round = (x: number) => Math.round(x / resolution) / (1 / resolution);
  const rows = printedPlaces(wanted.band).map(round);
  const places = [low, ...rows.filter((x) => x >= low && x <= cap + resolution / 2), high];
  const chosen = [...new Set(places)].sort((a, b) => a - b);
  while (chosen.length < wanted.count) {
    const at = widestGap(chosen, wanted.onset);
    if (at === null) break;
    const [from, to] = [chosen[at - 1] as number, chosen[at] as number];
    const step = wanted.fillResolution;
    const middle = Math.round((from + to) / 2 / step) * step;
    if (middle <= from || middle >= to) break;
    chosen.splice(at, 0, middle);
  }
  return chosen;
}

/** Rows, and a start range in quarters: the bracket around the start is part of its uncertainty. */
export function printedPlaces(band: Band | null): readonly number[] {
  return (band?.rows ?? []).flatMap((row) => {
    if (row.kind !== "start") return row.x === null ? [] : [row.x];
    const { fromX, toX } = row;
    return [0, 0.25, 0.5, 0.75, 1].map((part) => fromX + part * (toX - fromX));
  });
}

/** Index of the upper end of the widest gap; null where there is none. */
function widestGap(places: readonly number[], onset: number | null): number | null {
  let widest: number | null = null;
  let width = 0;
  for (let i = 1; i < places.length; i++) {
    const [from, to] = [places[i - 1] as number, places[i] as number];
    const middle = (from + to) / 2;
    const nearOnset = onset !== null && middle > 0.8 * onset && middle < 1.8 * onset;
    const weighted = (to - from) * (nearOnset ? ONSET_WEIGHT : 1);
    if (weighted > width) [widest, width] = [i, weighted];
  }
  return widest;
}
