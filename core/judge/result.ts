// Judges a run from its documents: whole or cut short, the same function.
import type { CurvePoint, RowVerdict, RunDocument, RunResult, Verdict } from "../documents.ts";
import { lastX } from "../planFile/reach.ts";
import type { Band, BandRow, Branch, Unit } from "../unit.ts";
import { gravest } from "./decision.ts";
import { type Gathered, gather, type Sweep } from "./gathered.ts";
import {
  type Dwell,
  dwellOf,
  dwellRow,
  holdRow,
  meetsHold,
  returnRow,
  type Scatter,
  scatterOf,
  scatterRow,
  springBackRow,
} from "./limits.ts";
import { judgeRow, type RowOutcome } from "./rows.ts";
import { curvePoint } from "./slope.ts";
import { triggerOf } from "./trigger.ts";

/** Lines of the judgement, and how many printed rows or limits have none. */
interface Judged {
  readonly rows: readonly RowVerdict[];
  readonly notMeasured: number;
}

/** What tells a speed sweep from a capsule's. */
interface SweepKind {
  readonly about: "speed" | "vacuum";
  readonly capsule: number | null;
  readonly unit: "rpm" | "Pa";
  readonly nearby: number;
  /** A reading this far from its target, or a tenth of it, still stands for it. */
  readonly reachedWithin: number;
  readonly startPower: 1 | 2;
  readonly retard: boolean;
}

/** Targets are rounded to 0.1 rpm and 1 Pa; half of it and a little. */
const NEARBY_RPM = 0.06;
const NEARBY_PA = 0.6;
const REACHED_WITHIN_RPM = 5;
const REACHED_WITHIN_PA = 500;
const REACHED_SHARE = 0.1;

/**
 * Everything that can be said of the unit from a run's documents. Total: any part of a run will do,
 * in which case less can be said. Documents in their order.
 */
export function judge(unit: Unit, documents: readonly RunDocument[]): RunResult {
  const gathered = gather(unit, documents);
  const { speed, reference, atReturn } = gathered;
  const readings = gathered.speedReadings.length > 0 ? gathered.speedReadings : [reference];
  const known = readings.filter((point) => point !== null);
  const dwell = dwellOf(known);
  const scatter = scatterOf(known);
  const parts = [
    speedRows(unit, gathered),
    ...unit.capsules.map((_, capsule) => capsuleRows(unit, gathered, capsule)),
    limitRows(unit, gathered, dwell, scatter),
  ];
  const rows = parts.flatMap((part) => part.rows);
  return {
    verdict: wholeVerdict(rows, gathered.ended),
    rows,
    rowsNotMeasured: parts.reduce((sum, part) => sum + part.notMeasured, 0),
    speed: curves(speed),
    capsules: gathered.capsules.map(({ sweep, hold }, i) => ({
      name: unit.capsules[i]?.name ?? "",
      ...curves(sweep),
      hold,
    })),
    dwellDeg: dwell?.dwellDeg ?? null,
    scatterDeg: scatter?.scatterDeg ?? null,
    returnDeg: atReturn?.reading.advanceDeg ?? null,
    trigger: triggerOf(gathered),
  };
}

function curves({ branches }: Sweep): RunResult["speed"] {
  return {
    rising: branches.rising.map(curvePoint),
    falling: branches.falling.map(curvePoint),
  };
}

/**
 * Outside if anything is, even in a run cut short. Else null unless the whole plan was done and told
 * something of the specification, since to pass is to pass everything that was to be measured.
 */
export function wholeVerdict(rows: readonly RowVerdict[], ended: boolean): Verdict | null {
  const worst = gravest(rows.map(({ verdict }) => verdict));
  if (worst === "outside") return worst;
  const anyPrinted = rows.some(({ about }) => about === "speed" || about === "vacuum");
  return ended && anyPrinted ? worst : null;
}

function speedRows(unit: Unit, { speed, ended }: Gathered): Judged {
  return bandRows(unit.speedBand, speed, ended, {
    about: "speed",
    capsule: null,
    unit: "rpm",
    nearby: NEARBY_RPM,
    reachedWithin: REACHED_WITHIN_RPM,
    startPower: 2,
    retard: false,
  });
}

function capsuleRows(unit: Unit, gathered: Gathered, capsule: number): Judged {
  const { band, hold: holdLimits, acts } = unit.capsules[capsule] ?? {};
  const { sweep, hold } = gathered.capsules[capsule] ?? {};
  const judged =
    sweep === undefined
      ? { rows: [], notMeasured: 0 }
      : bandRows(band ?? null, sweep, gathered.ended, {
          about: "vacuum",
          capsule,
          unit: "Pa",
          nearby: NEARBY_PA,
          reachedWithin: REACHED_WITHIN_PA,
          startPower: 1,
          retard: acts === "retard",
        });
  const planned = gathered.plan?.capsules[capsule]?.hold ?? null;
  const done = planned !== null && (gathered.ended || (hold ?? null) !== null);
  const sensorPa = gathered.start?.rig.vacuumSensorStandardUncertaintyPa ?? 0;
  const rows = done ? [holdRow(capsule, planned, hold ?? null, sensorPa)] : [];
  const asSpecified = !holdLimits || (done && meetsHold(planned, holdLimits));
  return {
    rows: [...judged.rows, ...rows],
    notMeasured: judged.notMeasured + (asSpecified ? 0 : 1),
  };
}

function bandRows(band: Band | null, sweep: Sweep, ended: boolean, kind: SweepKind): Judged {
  if (band === null) return { rows: [], notMeasured: 0 };
  const onBranches: readonly Branch[] =
    band.judgedOn === "both" ? ["rising", "falling"] : [band.judgedOn];
  const last = lastX(band) ?? sweep.plannedX.at(-1) ?? 0;
  const lines = band.rows.map((row) =>
    onBranches.map((branch) => {
      const points = sweep.branches[branch].filter((point) => isReached(point, kind));
      const outcome = judgeRow(row, { ...kind, points, plannedX: sweep.plannedX, ended }, last);
      return outcome === null ? null : bandRowVerdict(row, branch, outcome, kind);
    }),
  );
  return {
    rows: onBranches.flatMap((_, i) => lines.flatMap((line) => line[i] ?? [])),
    notMeasured: lines.filter((line) => line.includes(null)).length,
  };
}

/** A vacuum that would not build leaves a reading far below its target, which says nothing of the row. */
function isReached({ x, targetX }: CurvePoint, { reachedWithin }: SweepKind): boolean {
  return Math.abs(x - targetX) <= Math.max(reachedWithin, REACHED_SHARE * targetX);
}

function bandRowVerdict(
  row: BandRow,
  branch: Branch,
  outcome: RowOutcome,
  { about, capsule, unit }: SweepKind,
): RowVerdict {
  const common = { about, capsule, branch, printed: row.printed };
  if (row.kind === "start") {
    return { ...common, x: null, limits: { min: row.fromX, max: row.toX }, unit, ...outcome };
  }
  return { ...common, x: row.x, limits: row.limitsDeg, unit: "deg", ...outcome };
}

function limitRows(
  unit: Unit,
  { start, ended, atReturn, speedReadings }: Gathered,
  dwell: Dwell | null,
  scatter: Scatter | null,
): Judged {
  const rows: RowVerdict[] = [];
  let notMeasured = 0;
  const measured = ended || speedReadings.length > 0;
  if (unit.dwellLimitsDeg !== null) {
    if (measured) rows.push(dwellRow(dwell, unit.dwellLimitsDeg));
    else notMeasured++;
  }
  if (unit.scatterMaxDeg !== null) {
    if (measured) rows.push(scatterRow(scatter, unit.scatterMaxDeg));
    else notMeasured++;
  }
  if (atReturn !== null) rows.push(returnRow(atReturn.reading));
  const byHand = start?.rig.byHand;
  const springBack = byHand === undefined ? null : springBackRow(byHand);
  if (springBack !== null) rows.push(springBack);
  return { rows, notMeasured };
}
