// Bar: with much travel and lobes close together or uneven, no lobe is taken for another.

import { Table } from "../../sim/advance.ts";
import type { Bar, Figure } from "../bar.ts";
import { Draw } from "../draw.ts";
import { measureReadings } from "../standIn.ts";

const WEIGHTS_DEG = 20;
const CAPSULE_DEG = 15;
const CAPSULE_FROM_KPA = 8;
const CAPSULE_TO_KPA = 40;
/** A lobe taken for another is out by a spacing, 30° at the least. */
const MISTAKEN_DEG = 3;

const ARRANGEMENTS = [
  { name: "8 even", lobes: 8 },
  { name: "12 even", lobes: 12 },
  { name: "45/75", lobeAnglesDeg: [0, 45, 120, 165, 240, 285] },
  { name: "uneven 8", lobeAnglesDeg: [0, 50, 90, 140, 180, 230, 270, 320] },
  { name: "staggered 8", lobes: 8, staggered: true },
] as const;

export interface LobesResult {
  readonly arrangement: string;
  readonly mistaken: boolean;
}

/** Vacuum is swept beyond the weights' stop, so both travels add to 35°. */
async function job(index: number): Promise<LobesResult> {
  const draw = new Draw("lobes", index);
  const { name, ...choice } = ARRANGEMENTS[
    index % ARRANGEMENTS.length
  ] as (typeof ARRANGEMENTS)[number];
  const { staggered, ...lobes } = { staggered: false, ...choice };
  const count = "lobes" in lobes ? lobes.lobes : lobes.lobeAnglesDeg.length;
  const rotation = draw.oneOf(["cw", "ccw"]);
  const startRpm = draw.uniform(250, 500);
  const stopRpm = startRpm + draw.uniform(200, 900);
  const speed = [
    [0, 0],
    [startRpm, 0],
    [stopRpm, WEIGHTS_DEG],
  ] as [number, number][];
  const vacuum = [
    [0, 0],
    [CAPSULE_FROM_KPA, 0],
    [CAPSULE_TO_KPA, CAPSULE_DEG],
  ] as [number, number][];
  const unit = {
    description: "much travel",
    ...lobes,
    rotation,
    speedMaxRpm: 2200,
    capsules: [{ name: "capsule", vacuum: "kPa" }],
  };
  const scenario = {
    seed: draw.seed(),
    unit: { ...lobes, rotation, dwellDeg: 0.5 * (300 / count) },
    mechanism: { speedTable: speed, vacuumTable: vacuum },
    pulses: {
      lobeErrorsDeg: Array.from({ length: count }, () => draw.normal(0.4)),
      ...(staggered
        ? { secondSet: { arrangement: "staggered", offsetDeg: draw.normal(0.5) } }
        : {}),
    },
    rig: {
      pickupEdges: draw.oneOf([1, 36]),
      couplingDeg: draw.uniform(0, 359.9),
      eventJitterUs: 2,
      indexJitterUs: 1,
      falseEventShare: draw.oneOf([0, 0.02]),
      missingEventShare: draw.oneOf([0, 0.005]),
    },
  };
  const plan = {
    speedsRpm: [300, 450, 650, 900, 1300, 1900],
    vacuums: { unit: "kPa", values: [10, 20, 30, 38, 45] },
    hold: false,
    secondsPerReading: 1,
    vacuumSweepRpm: 1900,
    rampRpmPerS: draw.oneOf([300, 1000]),
  };
  const { end } = await measureReadings({ unit, scenario, plan });
  const speedTable = new Table(speed);
  const vacuumTable = new Table(vacuum);
  const { speed: curve, capsules, scatterDeg } = end.result;
  const errors = [
    ...[...curve.rising, ...curve.falling].map((p) => p.advanceDeg - speedTable.at(p.x)),
    ...(capsules[0] === undefined ? [] : [...capsules[0].rising, ...capsules[0].falling]).map(
      (p) => p.advanceDeg - vacuumTable.at(p.x / 1000),
    ),
  ];
  const complete = errors.length === 2 * 6 + 2 * 6;
  const wrong = errors.some((error) => !(Math.abs(error) < MISTAKEN_DEG));
  // Lobes exchanged among each other leave the mean right and show in the deviations.
  return {
    arrangement: name,
    mistaken: wrong || !complete || !((scatterDeg ?? 90) < MISTAKEN_DEG),
  };
}

function figures(results: readonly LobesResult[]): readonly Figure[] {
  return ARRANGEMENTS.map(({ name }) => {
    const own = results.filter(({ arrangement }) => arrangement === name);
    const mistaken = own.filter((one) => one.mistaken).length;
    return {
      what: `runs with a lobe mistaken, 35° of travel, ${name}`,
      measured: String(mistaken),
      limit: "0",
      count: own.length,
      met: mistaken === 0,
    };
  }).filter(({ count }) => count > 0);
}

export const lobes: Bar<LobesResult> = {
  name: "lobes",
  counts: { short: 1000, long: 3000 },
  job,
  figures,
};
