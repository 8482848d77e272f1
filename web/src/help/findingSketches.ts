// How each finding shows, as lines to draw: the invented unit with the fault in it, beside the sound one. Pure.
import type { FindingKind } from "../../../core/findings/finding.ts";
import {
  CAPSULE_FAULTS,
  type CapsuleFault,
  demoCapsule,
  demoWeights,
  WEIGHTS_FAULTS,
  type WeightsFault,
} from "./demoUnit.ts";
import { type Branches, holdTrace, type Point, speedCurve, vacuumCurve } from "./unitMotion.ts";

/** Lines over speed, vacuum, seconds of the hold test, or the plate's vacuum against openings seen. */
export interface LineSketch {
  readonly over: "speed" | "vacuum" | "hold" | "dwell" | "openings";
  readonly sound: readonly Point[];
  readonly rising: readonly Point[];
  /** Empty where there is no second branch. */
  readonly falling: readonly Point[];
}

/** What each lobe is off, in degrees, in one turn or in several. */
export interface LobesSketch {
  readonly over: "lobes";
  readonly turns: readonly (readonly number[])[];
}

export type Sketch = LineSketch | LobesSketch;

export function sketchOf(kind: FindingKind): Sketch {
  if (kind === "capsule-leak") return leak();
  if (isWeightsFault(kind)) {
    return over("speed", soundSpeed(), speedCurve(demoWeights(kind)));
  }
  if (isCapsuleFault(kind)) {
    return over("vacuum", vacuumCurve(demoCapsule(null)).rising, vacuumCurve(demoCapsule(kind)));
  }
  return OTHERS[kind]();
}

type OtherKind = Exclude<FindingKind, WeightsFault | CapsuleFault>;

/** Sizes are our own, large enough to be seen. */
const OTHERS: Readonly<Record<OtherKind, () => Sketch>> = {
  "shaft-bent": () => ({ over: "lobes", turns: [[0.8, 0, -0.8, 0]] }),
  "coupling-runout": () => ({ over: "lobes", turns: [[0.4, -0.4, -0.4, 0.4]] }),
  "cam-worn": () => ({ over: "lobes", turns: [[0.2, 0.2, -0.6, 0.2]] }),
  "shaft-bush-worn": () => ({
    over: "lobes",
    turns: [
      [0.5, -0.1, 0.3, -0.7],
      [-0.2, 0.6, -0.4, 0],
      [0.1, -0.5, 0.7, -0.3],
    ],
  }),
  "contact-spring-weak": () => ({
    over: "dwell",
    sound: SPEEDS_RPM.map((rpm) => [rpm, 51]),
    rising: SPEEDS_RPM.map((rpm) => [rpm, 51 - weakDeg(rpm)]),
    falling: [],
  }),
  "plate-lead-breaking": () => ({
    over: "openings",
    sound: VACUUMS_PA.map((pa) => [pa, 100]),
    rising: VACUUMS_PA.map((pa) => [pa, pa >= 21_000 && pa <= 28_000 ? 35 : 100]),
    falling: [],
  }),
  "condenser-left-on": () => late(140),
  "uncorrected-delay": () => late(100),
  "specification-misread": () => changed((_, deg) => deg / 2),
  "curve-unexplained": () => changed((rpm, deg) => deg - 3 * Math.sin((Math.PI * rpm) / 1300)),
};

const VACUUMS_PA = Array.from({ length: 61 }, (_, i) => i * 1000);
const SPEEDS_RPM = Array.from({ length: 27 }, (_, i) => i * 100);

/** The contacts shut later by 0.2 ms for each 1000 rpm above 1600 rpm. */
function weakDeg(rpm: number): number {
  return rpm * 6 * (Math.max(0, rpm - 1600) / 1000) * 200e-6;
}

function isWeightsFault(kind: FindingKind): kind is WeightsFault {
  return kind in WEIGHTS_FAULTS;
}

function isCapsuleFault(kind: FindingKind): kind is CapsuleFault {
  return kind in CAPSULE_FAULTS;
}

let soundOnce: readonly Point[] | null = null;
function soundSpeed(): readonly Point[] {
  soundOnce ??= speedCurve(demoWeights(null)).rising;
  return soundOnce;
}

function over(axis: "speed" | "vacuum", sound: readonly Point[], faulty: Branches): LineSketch {
  return { over: axis, sound, ...faulty };
}

function changed(deg: (rpm: number, soundDeg: number) => number): LineSketch {
  const rising = soundSpeed().map(([rpm, was]): Point => [rpm, deg(rpm, was)]);
  return { over: "speed", sound: soundSpeed(), rising, falling: [] };
}

/** A delay of so many microseconds: degrees at n rpm are 6 · n · seconds. */
function late(us: number): LineSketch {
  return changed((rpm, deg) => deg - 6 * rpm * us * 1e-6);
}

function leak(): LineSketch {
  const { leaks } = demoCapsule("capsule-leak");
  return { over: "hold", sound: holdTrace([]), rising: holdTrace(leaks), falling: [] };
}
