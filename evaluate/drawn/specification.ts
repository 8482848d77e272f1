// Unit files as manuals might print them: rows round the curve of a good unit, in one of many wordings.

import type { Draw } from "../../accuracy/draw.ts";
import { capsuleEndPa, capsuleStartPa, installedCapsule } from "../../accuracy/truth.ts";
import { type VacuumUnit, vacuumFromPascals } from "../../core/units.ts";
import type { Scenario } from "../../sim/scenario.ts";
import {
  centrifugalAdvanceDeg,
  centrifugalStartRpm,
  centrifugalStopRpm,
  vacuumAdvanceDeg,
} from "../../sim/truth.ts";
import type { DrawnUnit } from "./unit.ts";

/** A good unit stands so far from its row's middle at most, as a share of the tolerance. */
const OFF_SHARE = 0.25;
/** And at least this share of the tolerance within its row, both ways of sweeping. */
const MARGIN_SHARE = 0.25;
/** In the degrees of the manual. */
const PRINTED_STEP_DEG = 0.5;
/** As manuals print them (common practice, no source): distributor degrees, either way. */
const TOLERANCES_DEG = [1, 1, 1, 1.5, 0.75];
/** What vacuums are rounded to, in their own unit. */
const VACUUM_STEPS: Readonly<Partial<Record<VacuumUnit, number>>> = {
  kPa: 0.5,
  mbar: 5,
  inHg: 0.25,
  mmHg: 5,
};
/** Beyond this speed every drawn unit stands at its stop. */
const MOST_RPM = 10_000;

type Row = Readonly<Record<string, unknown>>;

/** How one manual words a curve. */
export interface Wording {
  readonly judgedOn: "rising" | "both";
  readonly degrees: "distributor" | "crankshaft";
  readonly rpm: "distributor" | "crankshaft";
  readonly vacuum: "kPa" | "mbar" | "inHg" | "mmHg";
  readonly driveRatio: 1 | 2;
  /** In the wording's degrees; 0: not included. */
  readonly initial: number;
  /** Distributor degrees. */
  readonly toleranceDeg: number;
  readonly prints: "tolerance" | "limits" | "range";
  readonly start: "range" | "none below";
  /** Whether the last row is said to be the end of the travel, or is a figure as any other. */
  readonly saysEnd: boolean;
}

export function drawWording(draw: Draw): Wording {
  const crankshaft = draw.chance(0.4);
  return {
    judgedOn: draw.oneOf(["rising", "both"]),
    degrees: crankshaft ? "crankshaft" : "distributor",
    rpm: crankshaft || draw.chance(0.1) ? "crankshaft" : "distributor",
    vacuum: draw.oneOf(["kPa", "mbar", "inHg", "mmHg"]),
    driveRatio: draw.oneOf([2, 2, 2, 1]),
    initial: draw.chance(0.2) ? draw.whole(4, 12) : 0,
    toleranceDeg: draw.oneOf(TOLERANCES_DEG),
    prints: draw.oneOf(["tolerance", "limits", "range"]),
    start: draw.oneOf(["range", "none below"]),
    saysEnd: draw.chance(0.7),
  };
}

/** Content of the unit file; null where rounding leaves the good unit too near the edge of a row. */
export function specificationOf(
  draw: Draw,
  unit: DrawnUnit,
  scenario: Scenario,
  wording: Wording,
): Readonly<Record<string, unknown>> | null {
  const speed = speedOf(draw, scenario, wording);
  const capsule = unit.capsule === null ? null : capsuleOf(draw, scenario, wording);
  if (speed === null || (unit.capsule !== null && capsule === null)) return null;
  return {
    description: "drawn unit",
    invented: true,
    lobeAnglesDeg: unit.lobeAnglesDeg,
    rotation: unit.rotation,
    driveRatio: wording.driveRatio,
    trigger: unit.trigger,
    ...(unit.dwellDeg === null ? {} : { dwell: { degrees: `${unit.dwellDeg.toFixed(0)} ± 3` } }),
    scatterMaxDeg: 1,
    // Whoever opens a unit sees them; an owner with a manual alone does not say.
    ...(draw.chance(0.7) ? { springs: unit.mechanism.springs.length } : {}),
    speed,
    ...(capsule === null ? {} : { capsules: [capsule] }),
  };
}

/** One sweep in the words of a manual. */
interface Sweep {
  /** Distributor degrees, retard positive. */
  readonly advanceDeg: (x: number, branch: "rising" | "falling") => number;
  readonly fromX: (printed: number) => number;
  readonly toPrinted: (x: number) => number;
  readonly step: number;
  readonly startX: readonly [falling: number, rising: number];
  readonly endX: number;
  /** How far the printed range of the start reaches beyond the true one. */
  readonly startSpare: number;
  readonly includes: number;
}

function speedOf(draw: Draw, scenario: Scenario, wording: Wording): Row | null {
  const ratio = wording.rpm === "crankshaft" ? wording.driveRatio : 1;
  const rows = rowsOf(draw, wording, {
    advanceDeg: (rpm, branch) => centrifugalAdvanceDeg(scenario, rpm, branch, MOST_RPM),
    fromX: (printed) => printed / ratio,
    toPrinted: (rpm) => rpm * ratio,
    step: 10 * ratio,
    startX: [
      centrifugalStartRpm(scenario, "falling") ?? 0,
      centrifugalStartRpm(scenario, "rising") ?? 0,
    ],
    endX: centrifugalStopRpm(scenario, "rising") ?? 0,
    startSpare: 50,
    includes: wording.initial,
  });
  if (rows === null) return null;
  const { degrees, rpm, judgedOn, initial } = wording;
  return {
    degrees,
    rpm,
    judgedOn,
    source: "drawn",
    ...(initial === 0 ? {} : { includesInitialDeg: initial }),
    ...toleranceOf(wording),
    rows,
  };
}

function capsuleOf(draw: Draw, scenario: Scenario, wording: Wording): Row | null {
  const capsule = installedCapsule(scenario);
  if (capsule === null) return null;
  const { vacuum, degrees, judgedOn } = wording;
  const pascals = 1 / vacuumFromPascals(1, vacuum);
  const rows = rowsOf(draw, wording, {
    advanceDeg: (pa, branch) => Math.abs(vacuumAdvanceDeg(scenario, pa, branch)),
    fromX: (printed) => printed * pascals,
    toPrinted: (pa) => pa / pascals,
    step: VACUUM_STEPS[vacuum] ?? 1,
    startX: [capsuleStartPa(capsule, "falling"), capsuleStartPa(capsule, "rising")],
    endX: capsuleEndPa(capsule),
    startSpare: 1500,
    includes: 0,
  });
  if (rows === null) return null;
  const hold = {
    vacuum: rounded((capsuleEndPa(capsule) * 1.1) / pascals, VACUUM_STEPS[vacuum] ?? 1),
    seconds: draw.oneOf([10, 15, 20]),
    dropMax: Number((1500 / pascals).toPrecision(2)),
  };
  return {
    name: "capsule",
    acts: capsule.acts,
    vacuum,
    degrees,
    judgedOn,
    source: "drawn",
    ...toleranceOf(wording),
    rows,
    ...(draw.chance(0.6) ? { hold } : {}),
  };
}

function rowsOf(draw: Draw, wording: Wording, sweep: Sweep): readonly Row[] | null {
  const { startX, endX, startSpare, step, toPrinted, fromX } = sweep;
  const from = Math.floor(toPrinted(startX[0] - startSpare) / step) * step;
  const to = Math.ceil(toPrinted(startX[1] + startSpare) / step) * step;
  const end = Math.ceil(toPrinted(1.04 * endX) / step) * step;
  if (from < step || end - to < 4 * step) return null;
  const shares = draw.oneOf([[0.3, 0.65], [0.5], [0.2, 0.45, 0.75]]);
  const places = shares.map((share) => rounded(to + share * (end - to), step));
  if (new Set([to, ...places, end]).size < shares.length + 2) return null;
  const middle = places.map((at) => valueRow(draw, wording, sweep, { at }, fromX(at)));
  const last = valueRow(
    draw,
    wording,
    sweep,
    wording.saysEnd ? { endBy: end } : { at: end },
    Math.max(fromX(end), sweep.endX * 1.001),
  );
  if (last === null || middle.includes(null)) return null;
  const first = wording.start === "range" ? { start: `${from} to ${to}` } : { noneBelow: from };
  return [first, ...(middle as Row[]), last];
}

/** A row round the true figure, off by a little as units are; null where rounding takes too much of the tolerance. */
function valueRow(draw: Draw, wording: Wording, sweep: Sweep, place: Row, x: number): Row | null {
  const { judgedOn, degrees, driveRatio, toleranceDeg, prints } = wording;
  const truths = (
    judgedOn === "both" ? (["rising", "falling"] as const) : (["rising"] as const)
  ).map((branch) => sweep.advanceDeg(x, branch));
  const scale = degrees === "crankshaft" ? driveRatio : 1;
  const truth = truths.reduce((sum, deg) => sum + deg, 0) / truths.length;
  const off = draw.uniform(-OFF_SHARE, OFF_SHARE) * toleranceDeg;
  const printed = rounded(scale * (truth + off) + sweep.includes, PRINTED_STEP_DEG);
  const middleDeg = (printed - sweep.includes) / scale;
  const farthest = Math.max(...truths.map((deg) => Math.abs(deg - middleDeg)));
  if (middleDeg < toleranceDeg || farthest > (1 - MARGIN_SHARE) * toleranceDeg) return null;
  const tolerance = toleranceDeg * scale;
  const [min, max] = [printed - tolerance, printed + tolerance];
  if (prints === "limits") return { ...place, min, max };
  return { ...place, degrees: prints === "range" ? `${min} to ${max}` : printed };
}

/**
 * Expanded uncertainty (95 %) of where a good unit stands against its rows' middles, in distributor
 * degrees: off evenly within the share of the tolerance, and by rounding to half a printed degree.
 */
export function roundingDeg({ toleranceDeg, degrees, driveRatio }: Wording): number {
  const scale = degrees === "crankshaft" ? driveRatio : 1;
  return (2 / Math.sqrt(3)) * Math.hypot(OFF_SHARE * toleranceDeg, PRINTED_STEP_DEG / 2 / scale);
}

/** For rows of one figure, and for "no advance below". */
function toleranceOf({ toleranceDeg, degrees, driveRatio }: Wording): Row {
  return { toleranceDeg: toleranceDeg * (degrees === "crankshaft" ? driveRatio : 1) };
}

function rounded(value: number, step: number): number {
  return Number((Math.round(value / step) * step).toFixed(6));
}
