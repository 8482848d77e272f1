// An invented run as a list of documents, for the sheet, the store and the server to be tried on.
import type { RigCalibration } from "../../core/calibration/calibration.ts";
import type {
  CurvePoint,
  EndDocument,
  HoldDocument,
  PointDocument,
  PresentRig,
  RowVerdict,
  RunDocument,
  StartDocument,
} from "../../core/documents.ts";
import type { Branch, Unit } from "../../core/unit.ts";
import { ownBudget, plainReading } from "../reading.ts";

export const RECORD_ID = "0198f3a2-6c11-7d4e-9b52-3f0c1a7be201";

export const inventedUnit: Unit = {
  description: "Four-cylinder unit, contacts, single capsule",
  stampedNumber: "BW 4101 A",
  invented: true,
  lobeAnglesDeg: [0, 90, 180, 270],
  rotation: "ccw",
  driveRatio: 2,
  trigger: { kind: "contacts", firingEdge: "a" },
  speedMaxRpm: 3200,
  capsules: [
    {
      name: "Advance capsule",
      acts: "advance",
      band: {
        rows: [
          { kind: "start", printed: "starts 3 to 5 inHg", fromX: 10159, toX: 16932 },
          { kind: "at", printed: "5 to 7 at 10 inHg", x: 33864, limitsDeg: { min: 5, max: 7 } },
          {
            kind: "end",
            printed: "9 max at 15 inHg",
            x: 50796,
            limitsDeg: { min: null, max: 9 },
          },
        ],
        judgedOn: "rising",
        source: "Invented specification, capsule table",
        workshopToleranceDeg: null,
        scales: null,
      },
      hold: { vacuumPa: 54182, seconds: 30, dropMaxPa: 3386 },
    },
  ],
  dwellLimitsDeg: { min: 57, max: 63 },
  contactSets: null,
  scatterMaxDeg: 1,
  speedBand: {
    rows: [
      { kind: "noneBelow", printed: "0 below 450", x: 450, limitsDeg: { min: -0.5, max: 0.5 } },
      { kind: "at", printed: "3 to 5 at 800", x: 800, limitsDeg: { min: 3, max: 5 } },
      { kind: "at", printed: "7½ at 1200", x: 1200, limitsDeg: { min: 6.5, max: 8.5 } },
      { kind: "at", printed: "10 to 12 at 1800", x: 1800, limitsDeg: { min: 10, max: 12 } },
      { kind: "end", printed: "14 max at 2600", x: 2600, limitsDeg: { min: 12, max: 14 } },
    ],
    judgedOn: "both",
    source: "Invented specification, advance table",
    workshopToleranceDeg: 1,
    scales: null,
  },
  springs: null,
  engine: null,
};

const speedsRpm = [400, 600, 800, 1000, 1200, 1500, 1800, 2200, 2600, 2900];
const risingDeg = [0.02, 1.4, 3.74, 5.61, 7.35, 9.48, 11.22, 12.91, 13.62, 13.64];
const fallingDeg = [0.11, 2.05, 4.31, 6.12, 7.86, 9.97, 11.64, 13.2, 13.63, 13.64];
const vacuumsPa = [5000, 10000, 16932, 25000, 33864, 42000, 50796];
const capsuleRisingDeg = [0, 0.1, 1.62, 4.02, 6.31, 7.74, 8.12];
const capsuleFallingDeg = [0.05, 0.72, 2.45, 4.81, 6.98, 8.05, 8.13];

export const startDocument: StartDocument & { readonly rig: PresentRig } = {
  type: "start",
  recordId: RECORD_ID,
  startedUtc: "2031-03-14T09:26:53.000Z",
  unit: inventedUnit,
  unitFile: { format: "invented", note: "as it was given" },
  plan: {
    referenceRpm: 200,
    speedsRpm,
    capsules: [{ hold: { vacuumPa: 54182, settleS: 5, seconds: 30, dropMaxPa: 3386 }, vacuumsPa }],
    vacuumSweepRpm: 300,
    rampRpmPerS: 100,
    turnsPerReading: 20,
    secondsPerReading: 600,
  },
  rig: {
    name: "Stand-in rig",
    simulated: true,
    scenario: { name: "Sound unit", seed: 17 },
    hello: {
      type: "hello",
      ask: 1,
      version: 1,
      board: "stand-in 1",
      boot: 5,
      tickHz: 1_000_000,
      tickPpm: 50,
      indexesPerTurn: 1,
      edgesPerTurn: 36,
      directions: ["cw", "ccw"],
      speedMinRpm: 60,
      speedMaxRpm: 4500,
      vacuumMinPa: 0,
      vacuumMaxPa: 90_000,
      guardInput: true,
      stopInput: true,
      ambientPa: 101_300,
    },
    calibration: null,
    vacuumSensorStandardUncertaintyPa: 250,
    triggerDelayStandardUncertaintyUs: 2,
    ambientPa: 101_300,
  },
  engineVersion: "0.1.0",
  expectedS: 380,
  afterRecordId: null,
};

function point(
  sweep: PointDocument["sweep"],
  branch: Branch | null,
  speedRpm: number,
  vacuumPa: number | null,
  advanceDeg: number,
): PointDocument {
  return {
    type: "point",
    sweep,
    capsule: sweep === "vacuum" ? 0 : null,
    branch,
    targetRpm: speedRpm,
    targetPa: vacuumPa,
    reading: plainReading({
      speedRpm: speedRpm + 0.6,
      speedStandardUncertaintyRpm: 0.05,
      vacuumPa: vacuumPa ?? 0,
      vacuumStandardUncertaintyPa: 250,
      advanceDeg,
      standardUncertaintyDeg: 0.06,
      spreadDeg: 0.11,
      turns: 20,
      dwellDeg: 60.4,
      lobeDeviationsDeg: [0.12, -0.21, 0.3, -0.21],
      fromTick: 1000,
      toTick: 5_001_000,
    }),
  };
}

export const holdDocument: HoldDocument = {
  type: "hold",
  capsule: 0,
  targetPa: 54_182,
  reached: true,
  startPa: 54_120,
  endPa: 52_480,
  seconds: 30,
  pumpEffort: 0.41,
  fromTick: 0,
  trace: Array.from({ length: 61 }, (_, i): readonly [number, number] => [
    i / 2,
    54_120 - Math.round((1640 * i) / 60),
  ]),
};

function curve(xs: readonly number[], advancesDeg: readonly number[]): CurvePoint[] {
  return xs.map((x, i) => ({
    x: x + 0.6,
    targetX: x,
    advanceDeg: advancesDeg[i] as number,
    standardUncertaintyDeg: 0.06,
    coverageFactor: 2,
    budget: ownBudget(0.06),
  }));
}

function speedRow(
  branch: Branch,
  row: number,
  measured: number,
  verdict: RowVerdict["verdict"],
): RowVerdict {
  const band = inventedUnit.speedBand?.rows[row];
  if (band === undefined || band.kind === "start") throw new Error("no such row with limits");
  return {
    about: "speed",
    capsule: null,
    branch,
    printed: band.printed,
    x: band.x,
    measured,
    expandedUncertainty: 0.12,
    limits: band.limitsDeg,
    unit: "deg",
    verdict,
  };
}

const vacuumRows: RowVerdict[] = [
  {
    about: "vacuum",
    capsule: 0,
    branch: "rising",
    printed: "starts 3 to 5 inHg",
    x: null,
    measured: 11_800,
    expandedUncertainty: 620,
    limits: { min: 10_159, max: 16_932 },
    unit: "Pa",
    verdict: "within",
  },
  {
    about: "vacuum",
    capsule: 0,
    branch: "rising",
    printed: "5 to 7 at 10 inHg",
    x: 33_864,
    measured: 6.31,
    expandedUncertainty: 0.27,
    limits: { min: 5, max: 7 },
    unit: "deg",
    verdict: "within",
  },
  {
    about: "vacuum",
    capsule: 0,
    branch: "rising",
    printed: "9 max at 15 inHg",
    x: 50_796,
    measured: 8.12,
    expandedUncertainty: 0.14,
    limits: { min: null, max: 9 },
    unit: "deg",
    verdict: "within",
  },
];

export const endDocument: EndDocument = {
  type: "end",
  endedUtc: "2031-03-14T09:33:21.000Z",
  restConfirmed: true,
  findings: null,
  mechanism: null,
  ending: "completed",
  reason: null,
  link: {
    linesGood: 41_200,
    linesBad: 0,
    turnsGood: 6310,
    turnsSetAside: 2,
    turnsMissing: 0,
    commandRepeats: 0,
  },
  result: {
    verdict: "unproven",
    rows: [
      speedRow("rising", 0, 0.02, "within"),
      speedRow("rising", 1, 3.74, "within"),
      speedRow("rising", 2, 7.35, "within"),
      speedRow("rising", 3, 11.22, "within"),
      speedRow("rising", 4, 13.62, "within"),
      speedRow("falling", 4, 13.63, "within"),
      speedRow("falling", 3, 11.94, "unproven"),
      speedRow("falling", 2, 7.86, "within"),
      speedRow("falling", 1, 4.31, "within"),
      speedRow("falling", 0, 0.11, "within"),
      ...vacuumRows,
      {
        about: "dwell",
        capsule: null,
        branch: null,
        printed: "60 ± 3",
        x: null,
        measured: 60.4,
        expandedUncertainty: 0.2,
        limits: { min: 57, max: 63 },
        unit: "deg",
        verdict: "within",
      },
      {
        about: "scatter",
        capsule: null,
        branch: null,
        printed: "± 1",
        x: null,
        measured: 0.3,
        expandedUncertainty: 0.12,
        limits: { min: null, max: 1 },
        unit: "deg",
        verdict: "within",
      },
      {
        about: "hold",
        capsule: 0,
        branch: null,
        printed: "1 inHg in 30 s from 16 inHg",
        x: null,
        measured: 1640,
        expandedUncertainty: 500,
        limits: { min: null, max: 3386 },
        unit: "Pa",
        verdict: "within",
      },
    ],
    speed: { rising: curve(speedsRpm, risingDeg), falling: curve(speedsRpm, fallingDeg) },
    capsules: [
      {
        name: "Advance capsule",
        rising: curve(vacuumsPa, capsuleRisingDeg),
        falling: curve(vacuumsPa, capsuleFallingDeg),
        hold: holdDocument,
      },
    ],
    rowsNotMeasured: 0,
    dwellDeg: 60.4,
    scatterDeg: 0.3,
    returnDeg: 0.08,
    trigger: {
      dwell: {
        atRpm: 400.6,
        lobesDeg: [60.4, 60.2, 60.6, 60.4],
        lobeExpandedUncertaintyDeg: 0.2,
        overSpeed: {
          low: { x: 400.6, valueDeg: 60.4, expandedUncertaintyDeg: 0.1 },
          change: {
            high: { x: 2900.6, valueDeg: 57.3, expandedUncertaintyDeg: 0.12 },
            changeDeg: -3.1,
            expandedUncertaintyDeg: 0.16,
            isClear: true,
          },
        },
        overVacuum: [null],
      },
      bounce: null,
      missing: { overSpeed: null, overVacuum: [null] },
      scatter: null,
    },
  },
};

export const runDocuments: readonly RunDocument[] = [
  startDocument,
  point("reference", null, 200, null, 0),
  holdDocument,
  ...vacuumsPa.map((pa, i) => point("vacuum", "rising", 300, pa, capsuleRisingDeg[i] as number)),
  ...speedsRpm.map((rpm, i) => point("speed", "rising", rpm, null, risingDeg[i] as number)),
  point("return", null, 200, null, 0.08),
  endDocument,
];

/** An invented rig checked in every way. */
export const fullCalibration: RigCalibration = {
  delay: {
    checkedUtc: "2031-11-02T09:26:00.000Z",
    delayUs: 20,
    standardUncertaintyUs: 0.4,
    degreesOfFreedom: 9,
  },
  pickup: {
    checkedUtc: "2031-09-01T00:00:00.000Z",
    knownDeg: 90,
    measuredDeg: 90.02,
    standardUncertaintyDeg: 0.02,
    degreesOfFreedom: null,
  },
  coupling: {
    checkedUtc: "2031-09-02T00:00:00.000Z",
    runOutDeg: 0.2,
    phaseDeg: 40,
    standardUncertaintyDeg: 0.02,
    degreesOfFreedom: 5,
  },
  vacuum: {
    checkedUtc: "2031-10-12T23:59:00.000Z",
    offsetPa: 200,
    gain: 1.01,
    standardUncertaintyPa: 130,
    degreesOfFreedom: 3,
    gaugeStandardUncertaintyPa: 100,
    lowestPa: 10_000,
    highestPa: 60_000,
  },
};
