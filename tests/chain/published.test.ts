// Advance tables printed in service literature, through the whole chain: table → pulses → bytes → link → angles.
// Rig without ripple, delay or sensor error. D: distributor degrees and rpm.
import { describe, expect, it } from "vitest";
import { pascalsFrom } from "../../core/units.ts";
import { LIMIT_DEG, SERVICE_TABLES } from "./serviceTables.ts";
import { measureOnStandIn } from "./standIn.ts";

const mmHg = (value: number) => pascalsFrom(value, "mmHg");

describe.each([36, 1])("published curves on a rig with %i pickup edges", (pickupEdges) => {
  it.each(SERVICE_TABLES)("$source", async ({ source, speed, vacuum }) => {
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
