// Builds the documents of a run from curves given as functions, for the judge's tests.
import type {
  HoldDocument,
  PointDocument,
  Reading,
  RunDocument,
  StartDocument,
} from "../../core/documents.ts";
import type { Plan } from "../../core/plan.ts";
import type { RigReach } from "../../core/planFile.ts";
import type { Branch, Unit } from "../../core/unit.ts";
import { plainReading } from "../reading.ts";

export const REACH: RigReach = {
  speedMinRpm: 60,
  speedMaxRpm: 6000,
  vacuumMaxPa: 100000,
  ambientPa: 101325,
};

export interface Behaviour {
  /** Distributor degrees at rpm. */
  readonly weights: (rpm: number, branch: Branch) => number;
  /** Distributor degrees at pascals, by each capsule. */
  readonly capsules: readonly ((pa: number, branch: Branch) => number)[];
  readonly dwellDeg: number | null;
  readonly lobeDeviationsDeg: readonly number[];
  readonly returnDeg: number;
  readonly standardUncertaintyDeg: number;
  /** How far the readings are off their targets. */
  readonly speedOffRpm: number;
  readonly vacuumOffPa: number;
  readonly holdDropPa: number;
  readonly holdReached: boolean;
}

/** Weights and capsule in the middle of the everyday unit's specification. */
export const SOUND: Behaviour = {
  weights: (rpm) =>
    through(rpm, [
      [320, 0],
      [500, 3],
      [800, 7],
      [1200, 9.5],
      [1800, 12.5],
      [2300, 14],
    ]),
  capsules: [
    (pa) =>
      through(pa, [
        [12500, 0],
        [20000, 4],
        [30000, 9],
        [38000, 11],
      ]),
  ],
  dwellDeg: 51,
  lobeDeviationsDeg: [0.1, -0.2, 0.2, -0.1],
  returnDeg: 0.02,
  standardUncertaintyDeg: 0.05,
  speedOffRpm: 0,
  vacuumOffPa: 0,
  holdDropPa: 300,
  holdReached: true,
};

/** Straight between the pairs, level outside them. */
export function through(x: number, pairs: readonly (readonly [number, number])[]): number {
  let [fromX, fromY] = pairs[0] as [number, number];
  if (x <= fromX) return fromY;
  for (const [toX, toY] of pairs) {
    if (x <= toX) return fromY + ((x - fromX) / (toX - fromX)) * (toY - fromY);
    [fromX, fromY] = [toX, toY];
  }
  return fromY;
}

export function documentsOf(unit: Unit, plan: Plan, behaviour: Behaviour): RunDocument[] {
  const { speedOffRpm, vacuumOffPa, weights } = behaviour;
  const reading = (speedRpm: number, vacuumPa: number, advanceDeg: number): Reading =>
    plainReading({
      speedRpm,
      speedStandardUncertaintyRpm: 0.01,
      vacuumPa,
      vacuumStandardUncertaintyPa: 100,
      advanceDeg,
      standardUncertaintyDeg: behaviour.standardUncertaintyDeg,
      dwellDeg: behaviour.dwellDeg,
      lobeDeviationsDeg: behaviour.lobeDeviationsDeg,
    });
  const point = (
    sweep: PointDocument["sweep"],
    branch: Branch | null,
    targetRpm: number,
    taken: Reading,
    capsule: number | null = null,
    targetPa: number | null = null,
  ): PointDocument => ({
    type: "point",
    sweep,
    capsule,
    branch,
    targetRpm,
    targetPa,
    reading: taken,
  });
  const speed = (branch: Branch) => (rpm: number) =>
    point("speed", branch, rpm, reading(rpm + speedOffRpm, 0, weights(rpm + speedOffRpm, branch)));
  const vacuum = (capsule: number, branch: Branch) => (pa: number) => {
    const moves = behaviour.capsules[capsule] ?? (() => 0);
    const nowPa = pa === 0 ? 0 : pa + vacuumOffPa;
    // The speed only rose to get there.
    const advance = moves(nowPa, branch) + weights(plan.vacuumSweepRpm, "rising");
    const taken = reading(plan.vacuumSweepRpm, nowPa, advance);
    return point("vacuum", branch, plan.vacuumSweepRpm, taken, capsule, pa);
  };
  const capsules = plan.capsules.flatMap(({ hold, vacuumsPa }, i): RunDocument[] => [
    ...(hold === null ? [] : [holdDocument(i, hold.vacuumPa, hold.seconds, behaviour)]),
    ...vacuumsPa.map(vacuum(i, "rising")),
    ...[...vacuumsPa].reverse().map(vacuum(i, "falling")),
  ]);
  return [
    startDocument(unit, plan),
    point("reference", null, plan.referenceRpm, reading(plan.referenceRpm, 0, 0)),
    ...capsules,
    ...plan.speedsRpm.map(speed("rising")),
    ...[...plan.speedsRpm].reverse().map(speed("falling")),
    point("return", null, plan.referenceRpm, reading(plan.referenceRpm, 0, behaviour.returnDeg)),
  ];
}

function holdDocument(
  capsule: number,
  targetPa: number,
  seconds: number,
  { holdDropPa, holdReached }: Behaviour,
): HoldDocument {
  const startPa = holdReached ? targetPa : 4000;
  const trace = Array.from(
    { length: 50 },
    // A steady fall with a sensor that flickers by 10 Pa.
    (_, i) => [i / 2, startPa - (holdDropPa * i) / 49 + (i % 2) * 10] as const,
  );
  return {
    type: "hold",
    capsule,
    targetPa,
    reached: holdReached,
    startPa,
    endPa: startPa - holdDropPa,
    seconds,
    pumpEffort: 0.4,
    trace,
    fromTick: 0,
  };
}

function startDocument(unit: Unit, plan: Plan): StartDocument {
  return {
    type: "start",
    recordId: "record",
    startedUtc: "2024-01-01T00:00:00.000Z",
    unit,
    unitFile: {},
    plan,
    rig: {
      name: "test",
      simulated: true,
      scenario: null,
      hello: {
        type: "hello",
        ask: 1,
        version: 1,
        board: "test",
        boot: 1,
        tickHz: 1000000,
        tickPpm: 50,
        indexesPerTurn: 1,
        edgesPerTurn: 1,
        directions: ["cw", "ccw"],
        speedMinRpm: 60,
        speedMaxRpm: 6000,
        vacuumMinPa: 0,
        vacuumMaxPa: 100000,
        guardInput: true,
        stopInput: true,
        ambientPa: 101325,
      },
      calibration: null,
      vacuumSensorStandardUncertaintyPa: 100,
      triggerDelayStandardUncertaintyUs: 0,
      ambientPa: 101325,
    },
    engineVersion: "0.0.0",
    expectedS: 1,
    afterRecordId: null,
  };
}
