// How well a changed unit would meet its band: by how many degrees inside, and with what chance.
import { normalCdf } from "../uncertainty/coverage.ts";
import type { Band, BandRow, Branch, Limits } from "../unit.ts";
import { AS_IT_IS, advanceAfter, type Change, loadAfter } from "./change.ts";
import type { MeasuredUnit } from "./measuredUnit.ts";

/**
 * The forecast's own error, degrees: of the readings and the form, and as a share of what a change
 * moves. Read off the simulated mechanism by changing springs in it (npm run evaluate -- --only refit).
 */
const FORM_DEG = 0.15;
const CHANGE_SHARE = 0.12;
/** Where the second spring takes up is known least: levers that bend the curve look like it. */
const KNEE_CHANGE_SHARE = 0.5;

export interface ForecastRow {
  readonly printed: string;
  readonly x: number;
  readonly branch: Branch;
  readonly advanceDeg: number;
  readonly standardUncertaintyDeg: number;
  readonly limits: Limits;
}

/** Rows of the band with a place, both branches where it is judged on both. */
export function forecastRows(
  unit: MeasuredUnit,
  change: Change,
  band: Band,
): readonly ForecastRow[] {
  const branches: readonly Branch[] =
    band.judgedOn === "both" ? ["rising", "falling"] : [band.judgedOn];
  return branches.flatMap((branch) =>
    band.rows.flatMap((row): ForecastRow[] => {
      return placesOf(row).map((place) => {
        const advanceDeg = advanceAfter(unit, change, place.x, branch);
        // Before it moves a cam stands where it stood, and nothing of a forecast can be off.
        const movedDeg = advanceDeg - advanceAfter(unit, AS_IT_IS, place.x, branch);
        return {
          printed: row.printed,
          x: place.x,
          branch,
          advanceDeg,
          standardUncertaintyDeg: Math.hypot(
            formDeg(unit, advanceAfter(unit, change, START_DOUBT * place.x, branch)),
            (change.kneeDeg === 0 ? CHANGE_SHARE : KNEE_CHANGE_SHARE) * movedDeg,
          ),
          limits: place.limits,
        };
      });
    }),
  );
}

/** Speeds of a forecast may be off by so much. */
const START_DOUBT = 1.03;
const LEAST_FORM_DEG = 0.05;

/** Where nothing moves, not even a little faster, little can be off. */
function formDeg({ modelErrorDeg }: MeasuredUnit, alittleFasterDeg: number): number {
  const most = Math.hypot(FORM_DEG, modelErrorDeg);
  return Math.min(most, Math.max(LEAST_FORM_DEG, alittleFasterDeg));
}

/** Advance that has not begun, and that has. */
const NOT_BEGUN_DEG = 0.15;
const BEGUN_DEG = 0.02;

function placesOf(row: BandRow): readonly { readonly x: number; readonly limits: Limits }[] {
  if (row.kind === "start") {
    return [
      { x: row.fromX, limits: { min: null, max: NOT_BEGUN_DEG } },
      { x: row.toX, limits: { min: BEGUN_DEG, max: null } },
    ];
  }
  return row.x === null ? [] : [{ x: row.x, limits: row.limitsDeg }];
}

/** The largest advance that the band wants, in its middle; null where it does not say. */
export function specifiedStopDeg(band: Band): number | null {
  const { min, max } = band.rows.find((row) => row.kind === "end")?.limitsDeg ?? {
    min: null,
    max: null,
  };
  return min === null || max === null ? null : (min + max) / 2;
}

/** Of the row that is nearest to its limit or farthest beyond: in standard uncertainties, negative outside. */
export function worstMargin(rows: readonly ForecastRow[]): number {
  return Math.min(
    ...rows.flatMap(({ advanceDeg, standardUncertaintyDeg, limits: { min, max } }) => [
      max === null ? Number.POSITIVE_INFINITY : (max - advanceDeg) / standardUncertaintyDeg,
      min === null ? Number.POSITIVE_INFINITY : (advanceDeg - min) / standardUncertaintyDeg,
    ]),
  );
}

/** Chance that every row is met: rows of one curve err together, so that of the worst one stands for all. */
export function chanceOf(rows: readonly ForecastRow[]): number {
  return normalCdf(worstMargin(rows));
}

/** Places in load where a band is cut, so that thousands of springs are gone through by sums alone. */
export interface Cut {
  readonly firstRest: number;
  readonly first: number;
  readonly second: number;
  readonly slope: number;
  /** The load to be compared with, + where ours must be more. */
  readonly wanted: number;
  readonly sign: 1 | -1;
}

/** Of a unit whose stop stands right. */
export function cutsOf(unit: MeasuredUnit, change: Change, band: Band): readonly Cut[] {
  const branches: readonly Branch[] =
    band.judgedOn === "both" ? ["rising", "falling"] : [band.judgedOn];
  const stopDeg = unit.stopDeg + change.stopDeg;
  const cut = (deg: number, wanted: number, sign: 1 | -1, branch: Branch): Cut => {
    const at = Math.max(0, deg);
    const near = 0.25;
    const slope =
      (loadAfter(unit, change, at + near) - loadAfter(unit, change, Math.max(0, at - near))) /
      (at + near - Math.max(0, at - near));
    return {
      firstRest: unit.first(0),
      first: unit.first(at) - unit.first(0),
      second: unit.second(Math.max(0, at - change.kneeDeg)),
      slope: Math.max(slope, 1),
      wanted: wanted + (branch === "falling" ? unit.gap(Math.min(at, unit.stopDeg)) : 0),
      sign,
    };
  };
  return branches.flatMap((branch) =>
    band.rows.flatMap((row): Cut[] => {
      if (row.kind === "start") {
        return [cut(0, row.fromX ** 2, 1, branch), cut(0, row.toX ** 2, -1, branch)];
      }
      if (row.x === null) return [];
      const { min, max } = row.limitsDeg;
      return [
        ...(max === null || max >= stopDeg ? [] : [cut(max, row.x ** 2, 1, branch)]),
        ...(min === null || min <= 0 || min >= stopDeg ? [] : [cut(min, row.x ** 2, -1, branch)]),
      ];
    }),
  );
}

/** The least distance to an edge of the band, degrees; negative outside. */
export function marginDeg(
  cuts: readonly Cut[],
  { firstRate, firstLoad, secondRate }: Pick<Change, "firstRate" | "firstLoad" | "secondRate">,
): number {
  let least = Number.POSITIVE_INFINITY;
  for (const { firstRest, first, second, slope, wanted, sign } of cuts) {
    const load = firstRest + firstLoad + firstRate * first + secondRate * second;
    const margin = (sign * (load - wanted)) / slope;
    if (margin < least) least = margin;
  }
  return least;
}
