// What many units of one make come to, row by row and along their curves. Pure.
import type { RowVerdict } from "../documents.ts";
import type { Branch } from "../unit.ts";

/** `x` in rpm or pascals. */
export type CurvePlace = readonly [x: number, advanceDeg: number];

export interface UnitCurve {
  readonly about: "speed" | "vacuum";
  readonly branch: Branch;
  /** In rising order of `x`. */
  readonly points: readonly CurvePlace[];
}

/** One unit as it was measured. */
export interface StudiedUnit {
  readonly rows: readonly RowVerdict[];
  readonly curves: readonly UnitCurve[];
}

export interface Quantiles {
  readonly p5: number;
  readonly p50: number;
  readonly p95: number;
}

export interface RowSpread
  extends Pick<RowVerdict, "about" | "capsule" | "branch" | "printed" | "x" | "limits" | "unit"> {
  readonly within: number;
  readonly outside: number;
  readonly unproven: number;
  readonly shareWithin: Share;
  /** Of the figures, in `unit`; null where no unit gave one. */
  readonly measured: Quantiles | null;
  /** Units without a figure, which have a verdict all the same. */
  readonly withoutFigure: number;
}

/** A share of the drawn units, and between what the share of all of their make lies with 95 %. */
export interface Share {
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

export interface CurveSpread extends Pick<UnitCurve, "about" | "branch"> {
  readonly places: readonly ({ readonly x: number } & Quantiles)[];
}

interface RowSoFar {
  readonly row: RowVerdict;
  readonly verdicts: Record<RowVerdict["verdict"], number>;
  readonly figures: number[];
}

interface CurveSoFar {
  readonly curve: UnitCurve;
  readonly advancesDeg: readonly number[][];
}

/** Keeps a number for each unit, row and place, and nothing else of the units. */
export class Study {
  private readonly rowsSoFar = new Map<string, RowSoFar>();
  private readonly curvesSoFar = new Map<string, CurveSoFar>();

  add({ rows, curves }: StudiedUnit): void {
    for (const row of rows) this.addRow(row);
    for (const curve of curves) this.addCurve(curve);
  }

  get rows(): RowSpread[] {
    return [...this.rowsSoFar.values()].map(spreadOf);
  }

  get curves(): CurveSpread[] {
    return [...this.curvesSoFar.values()].map(
      ({ curve: { about, branch, points }, advancesDeg }) => ({
        about,
        branch,
        places: points.flatMap(([x], i) => {
          const found = quantilesOf(advancesDeg[i] ?? []);
          return found === null ? [] : [{ x, ...found }];
        }),
      }),
    );
  }

  private addRow(row: RowVerdict): void {
    const key = JSON.stringify([row.about, row.capsule, row.branch, row.printed]);
    const known = this.rowsSoFar.get(key) ?? {
      row,
      verdicts: { within: 0, outside: 0, unproven: 0 },
      figures: [],
    };
    this.rowsSoFar.set(key, known);
    known.verdicts[row.verdict]++;
    if (row.measured !== null) known.figures.push(row.measured);
  }

  /** The first unit's readings say at which places the others' curves are read. */
  private addCurve(curve: UnitCurve): void {
    if (curve.points.length === 0) return;
    const key = `${curve.about} ${curve.branch}`;
    const known = this.curvesSoFar.get(key) ?? {
      curve,
      advancesDeg: curve.points.map(() => []),
    };
    this.curvesSoFar.set(key, known);
    known.curve.points.forEach(([x], i) => {
      const advanceDeg = advanceAt(curve.points, x);
      if (advanceDeg !== null) known.advancesDeg[i]?.push(advanceDeg);
    });
  }
}

function spreadOf({ row, verdicts, figures }: RowSoFar): RowSpread {
  const { about, capsule, branch, printed, x, limits, unit } = row;
  const units = verdicts.within + verdicts.outside + verdicts.unproven;
  return {
    ...{ about, capsule, branch, printed, x, limits, unit },
    ...verdicts,
    shareWithin: shareOf(verdicts.within, units),
    measured: quantilesOf(figures),
    withoutFigure: units - figures.length,
  };
}

/** Normal deviate of 95 % coverage. */
const Z = 1.959964;

/** With the score interval of E. B. Wilson, 1927 (from memory), which holds near 0 and 1 too. */
export function shareOf(count: number, of: number): Share {
  const share = count / of;
  const middle = (share + Z ** 2 / (2 * of)) / (1 + Z ** 2 / of);
  const half =
    (Z / (1 + Z ** 2 / of)) * Math.sqrt((share * (1 - share)) / of + Z ** 2 / (4 * of ** 2));
  return { share, low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
}

/** By straight lines between the sorted values (Hyndman and Fan 1996, their seventh; from memory). */
export function quantilesOf(values: readonly number[]): Quantiles | null {
  if (values.length === 0) return null;
  const sorted = values.toSorted((a, b) => a - b);
  const at = (share: number) => {
    const place = share * (sorted.length - 1);
    const low = sorted[Math.floor(place)] as number;
    const high = sorted[Math.ceil(place)] as number;
    return low + (place - Math.floor(place)) * (high - low);
  };
  return { p5: at(0.05), p50: at(0.5), p95: at(0.95) };
}

/** Readings stand a little beside their targets; one so near an end of a curve is taken for the end. */
const NEAR_SHARE = 0.02;

/** On the straight line between two readings; null beyond the ends. */
function advanceAt(points: readonly CurvePlace[], x: number): number | null {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return null;
  const near = NEAR_SHARE * last[0];
  if (x <= first[0]) return first[0] - x <= near ? first[1] : null;
  if (x >= last[0]) return x - last[0] <= near ? last[1] : null;
  const above = points.findIndex(([place]) => place > x);
  const [low, high] = [points[above - 1] as CurvePlace, points[above] as CurvePlace];
  return low[1] + ((x - low[0]) / (high[0] - low[0])) * (high[1] - low[1]);
}
