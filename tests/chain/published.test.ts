// Advance tables printed in service literature, through the whole chain: table → pulses → bytes → link → angles.
// Rig without ripple, delay or sensor error. D: distributor degrees and rpm.
import { describe, expect, it } from "vitest";
import { pascalsFrom } from "../../core/units.ts";
import { measureOnStandIn } from "./standIn.ts";

/** 0.05° at every printed row, rising. */
const LIMIT_DEG = 0.05;

interface Published {
  readonly source: string;
  readonly speed: readonly (readonly [number, number])[];
  /** mmHg, D°. */
  readonly vacuum: readonly (readonly [number, number])[];
}

const PUBLISHED: readonly Published[] = [
  {
    source: "Lotus Europa workshop manual, four-cylinder, non-emission engine, advance table",
    speed: [
      [550, 0],
      [920, 7.8],
      [1000, 8],
      [2000, 13],
      [3000, 18],
    ],
    vacuum: [
      [100, 1.5],
      [200, 4.6],
      [300, 6.5],
      [400, 7],
    ],
  },
  {
    source: "Datsun 210 (1979) service manual p. EE-32, type -19",
    speed: [
      [550, 0],
      [2300, 14],
    ],
    vacuum: [
      [105, 0],
      [250, 9],
    ],
  },
  {
    source: "Datsun Pick-up (1977) service manual p. EE-34, manual gearbox",
    speed: [
      [550, 0],
      [2300, 11],
    ],
    vacuum: [
      [150, 0],
      [250, 3],
    ],
  },
];

const mmHg = (value: number) => pascalsFrom(value, "mmHg");

describe.each([36, 1])("published curves on a rig with %i pickup edges", (pickupEdges) => {
  it.each(PUBLISHED)("$source", async ({ source, speed, vacuum }) => {
    const unit = {
      description: source,
      lobes: 4,
      rotation: "cw",
      speed: {
        degrees: "distributor",
        rpm: "distributor",
        judgedOn: "rising",
        source,
        rows: speed.map(([rpm, deg]) => ({ at: rpm, degrees: deg })),
      },
      capsules: [
        {
          name: "capsule",
          acts: "advance",
          vacuum: "mmHg",
          degrees: "distributor",
          judgedOn: "rising",
          source,
          rows: vacuum.map(([at, deg]) => ({ at, degrees: deg })),
        },
      ],
    };
    const scenario = {
      mechanism: {
        speedTable: [[0, 0], ...speed],
        vacuumTable: [[0, 0], ...vacuum.map(([at, deg]) => [mmHg(at) / 1000, deg])],
      },
      rig: { pickupEdges },
    };
    const { end } = await measureOnStandIn(unit, scenario);
    expect(end.ending).toBe("completed");
    const { rows } = end.result;
    for (const [rpm, deg] of speed) {
      const row = rows.find((one) => one.about === "speed" && one.x === rpm);
      expect(Math.abs((row?.measured ?? Number.NaN) - deg)).toBeLessThanOrEqual(LIMIT_DEG);
    }
    for (const [at, deg] of vacuum) {
      const row = rows.find(
        (one) => one.about === "vacuum" && Math.abs((one.x ?? 0) - mmHg(at)) < 1,
      );
      expect(Math.abs((row?.measured ?? Number.NaN) - deg)).toBeLessThanOrEqual(LIMIT_DEG);
    }
    expect(end.result.verdict).toBe("within");
  });
});
