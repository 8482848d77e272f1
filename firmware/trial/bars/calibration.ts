// Bar: the rig's own errors, found through the image as the operator goes through the checks.
import { atMost, type Bar, beside } from "../../../accuracy/bar.ts";
import { type CheckChoice, checkOnStandIn } from "../../../accuracy/check.ts";
import { LOCKED, mean } from "../../../accuracy/lockedCam.ts";
import { unitFromFile } from "../../../core/unitFile.ts";
import { checkCoupling, checkDelay, checkPickup } from "../../../server/calibration/checks.ts";
import { checkVacuum } from "../../../server/calibration/vacuumCheck.ts";
import { STAND_IN } from "../../../server/rigFile.ts";
import type { Plant } from "../../../sim/plant.ts";
import { onBench } from "../bench.ts";
import { type ImageEdges, imageBoards, rigFor } from "../images.ts";

/** Standard deviations of the edges of trigger and index, in microseconds. Invented. */
const JITTER = { eventJitterUs: 1.5, indexJitterUs: 1 } as const;
const LIMIT_DEG = 0.02;
const FAST_RPM = 4000;
/** What a delay turns the spark by at the fast speed, degrees for each microsecond. */
const DEG_PER_US = 6e-6 * FAST_RPM;
/** 0.02° of a capsule that loses 0.4° with each kilopascal. */
const LIMIT_PA = 50;

export interface CalibrationResult {
  readonly kind: "delay" | "coupling" | "pickup" | "vacuum";
  readonly edges: ImageEdges;
  /** Found less true: degrees at 4,000 rpm, degrees, degrees, pascals. */
  readonly error: number;
  /** Of the error, as the check tells it. */
  readonly standardUncertainty: number;
}

function choiceFor(edges: ImageEdges, errors: object, lobeAnglesDeg: readonly number[]) {
  const angles = { rotation: "cw", lobeAnglesDeg } as const;
  const unit = unitFromFile(
    { description: "locked cam", ...angles, speedMaxRpm: FAST_RPM },
    "locked cam",
  );
  const rig = { ...rigFor(edges), ...JITTER, ...errors };
  const scenario = { seed: 21, unit: angles, mechanism: LOCKED, rig };
  return { unit, scenario, rig: STAND_IN, makeBoard: imageBoards(edges) } satisfies CheckChoice;
}

/** Other vacuums than those of the check. */
const BETWEEN_PA = [15_000, 30_000, 45_000];
const SETTLE_S = 5;
const LOOKS = 100;
const LOOK_S = 0.02;

const EVEN = [0, 60, 120, 180, 240, 300];
const UNEVEN = [0, 50, 180, 230];

async function delay(edges: ImageEdges): Promise<CalibrationResult> {
  const delayUs = 20;
  const choice = choiceFor(edges, { delayUs }, EVEN);
  const found = await checkOnStandIn(choice, (bench) =>
    checkDelay(bench, choice.unit, [800, 2000, 3000, FAST_RPM]),
  );
  return {
    kind: "delay",
    edges,
    error: DEG_PER_US * (found.delayUs - delayUs),
    standardUncertainty: DEG_PER_US * found.standardUncertaintyUs,
  };
}

async function coupling(edges: ImageEdges): Promise<CalibrationResult> {
  const [runOutDeg, furthestDeg] = [0.4, 70];
  const errors = { couplingRunOutDeg: runOutDeg, couplingRunOutPhaseDeg: furthestDeg };
  const choice = choiceFor(edges, errors, EVEN);
  const found = await checkOnStandIn(choice, (bench) => checkCoupling(bench, choice.unit));
  // Where the shaft is furthest ahead events come earliest, so latest half a turn on.
  const apart = ((found.phaseDeg - furthestDeg - 180) * Math.PI) / 180;
  return {
    kind: "coupling",
    edges,
    error: Math.sqrt(
      found.runOutDeg ** 2 + runOutDeg ** 2 - 2 * found.runOutDeg * runOutDeg * Math.cos(apart),
    ),
    standardUncertainty: found.standardUncertaintyDeg,
  };
}

async function pickup(edges: ImageEdges): Promise<CalibrationResult> {
  const choice = choiceFor(edges, {}, UNEVEN);
  const knownDeg = UNEVEN[1] as number;
  const known = { knownDeg, standardUncertaintyDeg: 0.001 };
  const found = await checkOnStandIn(choice, (bench) =>
    checkPickup(bench, choice.unit, { from: 1, to: 2 }, known),
  );
  return {
    kind: "pickup",
    edges,
    error: found.measuredDeg - knownDeg,
    standardUncertainty: found.standardUncertaintyDeg,
  };
}

async function vacuum(edges: ImageEdges): Promise<CalibrationResult> {
  const [sensorGain, sensorOffsetPa] = [1.03, 400];
  const choice = choiceFor(edges, { sensorGain, sensorOffsetPa, sensorNoisePa: 25 }, EVEN);
  const gauge = { unit: "kPa", standardUncertaintyPa: 30, resolutionPa: 10 } as const;
  let plant: Plant | null = null;
  const found = await checkOnStandIn(
    {
      ...choice,
      makeBoard: (rigPlant, ...rest) => {
        plant = rigPlant;
        return choice.makeBoard(rigPlant, ...rest);
      },
      typed: () => ((plant?.vacuumPa ?? Number.NaN) / 1000).toFixed(2),
    },
    (bench) => checkVacuum(bench, gauge, null),
  );
  const errors = await onBench(edges, choice.scenario, async (bench) => {
    const { link, vacuums, pause } = bench;
    const token = (await link.command({ type: "arm" })) ?? "";
    link.keepAlive(token, () => true);
    const left: number[] = [];
    for (const vacuumPa of BETWEEN_PA) {
      await link.command({ type: "vacuum", token, vacuumPa });
      await pause(SETTLE_S);
      vacuums.length = 0;
      const truePa: number[] = [];
      for (let i = 0; i < LOOKS; i++) {
        await pause(LOOK_S);
        truePa.push(bench.plant.vacuumPa);
      }
      const sensedPa = mean(vacuums.map((line) => line.vacuumPa));
      left.push(found.offsetPa + found.gain * sensedPa - mean(truePa));
    }
    return left;
  });
  return {
    kind: "vacuum",
    edges,
    error: errors.reduce((worst, one) => (Math.abs(one) > Math.abs(worst) ? one : worst)),
    standardUncertainty: found.standardUncertaintyPa,
  };
}

/** The share of each test run first. */
const JOBS: readonly (() => Promise<CalibrationResult>)[] = [
  () => delay(1),
  () => vacuum(1),
  () => coupling(1),
  () => pickup(1),
  () => delay(36),
  () => coupling(36),
  () => pickup(36),
];

const TOLD = {
  delay: ["delay of 20 µs, at 4,000 rpm", LIMIT_DEG, "°", 4],
  coupling: ["run-out of 0.4° of the coupling", LIMIT_DEG, "°", 4],
  pickup: ["a known angle of 50°", LIMIT_DEG, "°", 4],
  vacuum: ["a sensor 3 % and 400 Pa off, after its check", LIMIT_PA, " Pa", 1],
} as const;

export const calibration: Bar<CalibrationResult> = {
  name: "calibration",
  counts: { short: 1, long: JOBS.length },
  job: (index) => (JOBS[index] as (typeof JOBS)[number])(),
  figures: (results) => [
    ...results.map(({ kind, edges, error }) => {
      const [what, limit, unit, digits] = TOLD[kind];
      const through = `${edges} pickup edge${edges === 1 ? "" : "s"} a turn`;
      return atMost(`${what}, ${through}: error left`, Math.abs(error), limit, 1, unit, digits);
    }),
    beside(
      "… errors within twice the check's own standard uncertainty",
      `${results.filter((one) => Math.abs(one.error) <= 2 * one.standardUncertainty).length} of ${results.length}`,
      results.length,
    ),
  ],
};
