// Advance tables printed in service literature, over a real pseudo-terminal: table → pulses → bytes → serial → angles.
// Three rigs at once, in real time; distributor rpm and degrees, mmHg.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { pascalsFrom } from "../../core/units.ts";
import { LIMIT_DEG, SERVICE_TABLES } from "../chain/serviceTables.ts";
import { firstLine, freshFolder, run, start } from "./process.ts";

const kPa = (mmHg: number) => pascalsFrom(mmHg, "mmHg") / 1000;

it.skipIf(process.platform === "win32").each(SERVICE_TABLES)(
  "$source",
  { concurrent: true },
  async ({ source, speed, vacuum }) => {
    const folder = freshFolder();
    const file = (name: string, content: object) => {
      writeFileSync(join(folder, name), JSON.stringify(content));
      return join(folder, name);
    };
    const scenario = file("table.scenario.json", {
      mechanism: {
        speedTable: [[0, 0], ...speed],
        vacuumTable: [[0, 0], ...vacuum.map(([mmHg, deg]) => [kPa(mmHg), deg])],
      },
    });
    const unit = file("table.unit.json", {
      description: source,
      lobes: 4,
      rotation: "cw",
      speedMaxRpm: 3000,
      capsules: [{ name: "capsule", vacuum: "mmHg" }],
    });
    const plan = file("table.plan.json", {
      speedsRpm: speed.map(([rpm]) => rpm),
      vacuums: { unit: "mmHg", values: vacuum.map(([mmHg]) => mmHg) },
      vacuumSweepRpm: 500,
      hold: false,
      rampRpmPerS: 1000,
      turnsPerReading: 8,
    });
    const rig = start(["simulate", "--scenario", scenario, "--pty"]);
    try {
      const args = ["--unit", unit, "--plan", plan, "--json", "--no-record"];
      const { status, out } = await run("measure", "--rig", await firstLine(rig), ...args);
      // Nothing to judge by: the figures are what counts here.
      expect(status).toBe(2);
      const report = JSON.parse(out);
      expect(report.ending).toBe("completed");
      const close = (entries: { advanceDeg: number }[], wanted: readonly (readonly number[])[]) => {
        expect(entries).toHaveLength(wanted.length);
        entries.forEach(({ advanceDeg }, i) => {
          expect(Math.abs(advanceDeg - (wanted[i]?.[1] ?? Number.NaN))).toBeLessThanOrEqual(
            LIMIT_DEG,
          );
        });
      };
      close(report.speed.rising, speed);
      // Without a specification a reading without vacuum comes first.
      close(report.vacuum.rising.slice(1), vacuum);
    } finally {
      rig.kill("SIGTERM");
    }
  },
);
