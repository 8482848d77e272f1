// Small random measurements of sound units: soon done, and nothing in them that the run could rightly complain of.
import type { Draw } from "../../accuracy/draw.ts";

const WRAP = 2 ** 32;
/** The tick counter wraps somewhere within the first so many seconds. */
const WRAPS_WITHIN_S = 60;

export interface DrawnRun {
  /** Contents of a unit file, a scenario file and a plan file. */
  readonly unit: unknown;
  readonly scenario: Readonly<Record<string, unknown>>;
  readonly plan: unknown;
  readonly lobes: number;
  readonly dwellDeg: number | null;
  readonly tickHz: number;
}

export function drawRun(draw: Draw): DrawnRun {
  const lobes = draw.oneOf([4, 4, 6, 8, 8, 12]);
  const rotation = draw.oneOf(["cw", "ccw"]);
  const contacts = draw.chance(0.6);
  const dwellDeg = contacts ? (360 / lobes) * draw.uniform(0.45, 0.68) : null;
  const trigger = { kind: contacts ? "contacts" : "hall", firingEdge: contacts ? "a" : "b" };
  const shape = { lobes, rotation, trigger };
  const hasCapsule = draw.chance(0.6);
  const tickHz = draw.oneOf([250_000, 1_000_000, 1_000_000, 2_000_000]);
  const edges = draw.oneOf([1, 1, 2, 12, 36]);
  const topRpm = draw.uniform(900, 2500);
  return {
    lobes,
    dwellDeg,
    tickHz,
    unit: {
      description: "drawn unit",
      invented: true,
      ...shape,
      speedMaxRpm: 3000,
      ...(hasCapsule ? { capsules: [{ name: "capsule", vacuum: "kPa" }] } : {}),
    },
    scenario: {
      name: "drawn unit",
      seed: draw.seed(),
      unit: { ...shape, ...(dwellDeg === null ? {} : { dwellDeg }) },
      mechanism: drawTables(draw, topRpm, hasCapsule),
      rig: {
        pickupEdges: edges,
        tickHz,
        firstTick: WRAP - 1 - Math.floor(draw.uniform(0, WRAPS_WITHIN_S) * tickHz),
        couplingDeg: draw.uniform(0, 359),
        sensorNoisePa: draw.uniform(0, 40),
        eventJitterUs: draw.uniform(0, 4),
        linkBytesPerS: draw.oneOf([null, null, 12_000, 50_000]),
      },
    },
    plan: drawPlan(draw, topRpm, hasCapsule),
  };
}

function drawTables(draw: Draw, topRpm: number, hasCapsule: boolean): unknown {
  const startRpm = draw.uniform(250, 600);
  const mostDeg = draw.uniform(4, 14);
  const plateDeg = draw.uniform(3, 12);
  const fullKPa = draw.uniform(20, 45);
  return {
    speedTable: [
      [0, 0],
      [startRpm, 0],
      [startRpm + draw.uniform(0.3, 1) * topRpm, mostDeg],
      [6000, mostDeg],
    ],
    ...(hasCapsule
      ? {
          vacuumTable: [
            [0, 0],
            [draw.uniform(5, 15), 0],
            [fullKPa, plateDeg],
            [100, plateDeg],
          ],
        }
      : {}),
  };
}

function drawPlan(draw: Draw, topRpm: number, hasCapsule: boolean): unknown {
  const chooses = draw.chance(0.1);
  const hold = { unit: "kPa", vacuum: draw.uniform(15, 50), dropMax: 3, settleS: 1, seconds: 2 };
  return {
    referenceRpm: draw.uniform(80, 200),
    ...(chooses
      ? {
          chooseSpeeds: {
            knownWithinDeg: 0.5,
            readingsMax: 8,
            secondsMax: 60,
            lowestRpm: 300,
            highestRpm: topRpm,
          },
        }
      : { speedsRpm: [topRpm, ...draw.some([350, 500, 650, 800], draw.whole(0, 2))] }),
    ...(hasCapsule
      ? {
          vacuums: { unit: "kPa", values: draw.some([8, 16, 24, 32, 40], draw.whole(1, 2)) },
          hold: draw.chance(0.5) ? hold : false,
        }
      : {}),
    vacuumSweepRpm: draw.uniform(300, 1200),
    rampRpmPerS: draw.uniform(200, 800),
    turnsPerReading: draw.whole(6, 20),
    secondsPerReading: draw.uniform(1, 3),
    ...(draw.chance(0.3) ? { repeatsWithinDeg: 0.05 } : {}),
  };
}

/** Mishaps of the rig itself, for some runs: each ends it, at a moment within `spanS`. */
export function drawIncidents(draw: Draw, spanS: number): readonly object[] {
  if (!draw.chance(0.25)) return [];
  const atS = draw.uniform(0, spanS);
  return [
    draw.oneOf([
      { what: "boardReboots", atS },
      { what: "boardReboots", atS },
      { what: "guardOpens", atS, shutAfterS: 2 },
      { what: "stopPressed", atS, releasedAfterS: 1 },
      { what: "spindleJams", atS },
      { what: "sensorFails", atS },
      { what: "boardFallsSilent", atS },
    ]),
  ];
}
