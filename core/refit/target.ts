// How well a changed unit would meet its band: by how many degrees inside, and with what chance.
import { normalCdf } from "../uncertainty/coverage.ts";
import type { Band, BandRow, Branch, Limits } from "../unit.ts";
import type { Stand } from "./cam.ts";
import { AS_IT_IS, type Change, loadAfter, standAfter } from "./change.ts";
import type { Specified } from "./geometry.ts";
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

export interface Forecast {
  /** Rows of the band with a place, both branches where it is judged on both. */
  readonly rows: readonly ForecastRow[];
  /** That every row is met, as far as the forecast's error is known. */
  readonly chance: number;
}

export function forecast(unit: MeasuredUnit, change: Change, band: Band): Forecast {
  return unit.likely.length === 0 ? byShares(unit, change, band) : byLikely(unit, change, band);
}

function targetsOf(band: Band) {
  const branches: readonly Branch[] =
    band.judgedOn === "both" ? ["rising", "falling"] : [band.judgedOn];
  return branches.flatMap((branch) =>
    band.rows.flatMap((row) =>
      placesOf(row).map((place) => ({ ...place, printed: row.printed, branch })),
    ),
  );
}

/** Rows of one curve err together, so that the chance of the worst one stands for all. */
function byShares(unit: MeasuredUnit, change: Change, band: Band): Forecast {
  const [before, after] = [standAfter(unit, AS_IT_IS), standAfter(unit, change)];
  const share = change.isKneeMoved ? KNEE_CHANGE_SHARE : CHANGE_SHARE;
  const rows = targetsOf(band).map(({ printed, x, branch, limits }): ForecastRow => {
    const advanceDeg = after.at(x, branch);
    // Before it moves a cam stands where it stood, and nothing of a forecast can be off.
    const movedDeg = advanceDeg - before.at(x, branch);
    const standardUncertaintyDeg = Math.hypot(
      formDeg(unit, after.at(START_DOUBT * x, branch)),
      share * movedDeg,
    );
    return { printed, x, branch, advanceDeg, standardUncertaintyDeg, limits };
  });
  return { rows, chance: normalCdf(worstMargin(rows)) };
}

/** What is in no geometry, degrees; and of a speed at which advance begins, as a share. Assumptions, no source. */
const LEFT_DEG = 0.06;
const LEFT_SHARE = 0.01;

/** The share of the likely units that meet every row; what is left over makes each one's count a little less sharp. */
function byLikely(unit: MeasuredUnit, change: Change, band: Band): Forecast {
  const targets = targetsOf(band);
  const stands = unit.likely.map((one) => standAfter(one, change));
  const leftDeg = Math.hypot(LEFT_DEG, unit.modelErrorDeg);
  const margin = (stand: Stand, { x, branch, limits: { min, max }, begins }: Target) => {
    if (begins !== null) {
      const late = Math.log(Math.max(1, stand.startRpm(branch)) / x) / LEFT_SHARE;
      return begins === "beyond" ? late : -late;
    }
    const deg = stand.at(x, branch);
    return Math.min(
      max === null ? Number.POSITIVE_INFINITY : (max - deg) / leftDeg,
      min === null ? Number.POSITIVE_INFINITY : (deg - min) / leftDeg,
    );
  };
  const chances = stands.map((stand) =>
    normalCdf(Math.min(...targets.map((target) => margin(stand, target)))),
  );
  const rows = targets.map(({ printed, x, branch, limits }): ForecastRow => {
    const degs = stands.map((stand) => stand.at(x, branch));
    const advanceDeg = mean(degs);
    const spreadDeg = Math.sqrt(mean(degs.map((deg) => (deg - advanceDeg) ** 2)));
    const standardUncertaintyDeg = Math.hypot(spreadDeg, leftDeg);
    return { printed, x, branch, advanceDeg, standardUncertaintyDeg, limits };
  });
  return { rows, chance: mean(chances) };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, one) => sum + one, 0) / values.length;
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

interface Target {
  readonly x: number;
  readonly branch: Branch;
  readonly limits: Limits;
  /** Whether the advance is to begin beyond this speed, or before; null for an advance at it. */
  readonly begins: "beyond" | "before" | null;
}

function placesOf(row: BandRow): readonly Omit<Target, "branch">[] {
  if (row.kind === "start") {
    return [
      { x: row.fromX, limits: { min: null, max: NOT_BEGUN_DEG }, begins: "beyond" },
      { x: row.toX, limits: { min: BEGUN_DEG, max: null }, begins: "before" },
    ];
  }
  return row.x === null ? [] : [{ x: row.x, limits: row.limitsDeg, begins: null }];
}

/** A start is beyond a speed without advance by so much. An assumption, no source. */
const START_BEYOND = 1.1;

/** The largest advance that the band wants, and where it is to begin, in the middle of what it allows. */
export function specified(band: Band): Specified {
  const { min, max } = band.rows.find((row) => row.kind === "end")?.limitsDeg ?? {
    min: null,
    max: null,
  };
  const start = band.rows.find(({ kind }) => kind === "start" || kind === "noneBelow");
  return {
    stopDeg: min === null || max === null ? null : (min + max) / 2,
    startRpm:
      start?.kind === "start"
        ? (start.fromX + start.toX) / 2
        : start?.kind === "noneBelow"
          ? START_BEYOND * start.x
          : null,
  };
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

/** A place in load where a band is cut, so that thousands of springs are gone through by sums alone. */
export interface Cut {
  readonly deg: number;
  /** By what the load there must be off for a degree more or less. */
  readonly slope: number;
  /** The load to be compared with, less what is no spring's; + where the springs' must be more. */
  readonly wanted: number;
  readonly sign: 1 | -1;
}

/** Of a unit whose stop stands right. */
export function cutsOf(unit: MeasuredUnit, change: Change, band: Band): readonly Cut[] {
  const branches: readonly Branch[] =
    band.judgedOn === "both" ? ["rising", "falling"] : [band.judgedOn];
  const stopDeg = unit.stopDeg + change.stopDeg;
  const load = loadAfter(unit, change);
  const cut = (deg: number, wanted: number, sign: 1 | -1, branch: Branch): Cut => {
    const at = Math.max(0, deg);
    const [low, high] = [Math.max(0, at - NEAR_DEG), at + NEAR_DEG];
    const slope = (load(high) - load(low)) / (high - low);
    const gap = branch === "falling" ? unit.gap(Math.min(at, unit.stopDeg), wanted) : 0;
    return { deg: at, slope: Math.max(slope, 1), wanted: wanted + gap - unit.rest(at), sign };
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

const NEAR_DEG = 0.25;

/** The least distance to an edge of the band, degrees; negative outside. Loads of either spring at the cuts. */
export function marginDeg(
  cuts: readonly Cut[],
  first: readonly number[],
  second: readonly number[],
): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < cuts.length; i++) {
    const { sign, wanted, slope } = cuts[i] as Cut;
    const load = (first[i] as number) + (second[i] as number);
    const margin = (sign * (load - wanted)) / slope;
    if (margin < least) least = margin;
  }
  return least;
}
